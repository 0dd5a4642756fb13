"""The mixing sheet and the loading list: what was computed, as the crew needs it."""

from filmbuild.pipeline.sheets.loading import loading_list
from filmbuild.pipeline.sheets.mixing import mixing_sheet
from filmbuild.pipeline.sheets.tables import loading_table, mixing_table

__all__ = ["loading_list", "loading_table", "mixing_sheet", "mixing_table"]
