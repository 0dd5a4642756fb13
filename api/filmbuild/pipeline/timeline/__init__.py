"""The schedule as others read it: a calendar to import, a bar chart to hang up, and a table."""

from filmbuild.pipeline.timeline.calendar_file import schedule_calendar
from filmbuild.pipeline.timeline.chart import schedule_chart
from filmbuild.pipeline.timeline.table import schedule_table

__all__ = ["schedule_calendar", "schedule_chart", "schedule_table"]
