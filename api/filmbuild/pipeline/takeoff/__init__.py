"""From what was measured to what must be prepared and coated."""

from filmbuild.pipeline.takeoff.stage import take_off
from filmbuild.pipeline.takeoff.table import takeoff_table

__all__ = ["take_off", "takeoff_table"]
