"""Schedule: from activities to dates."""

from filmbuild.pipeline.schedule.forecast import check_forecast
from filmbuild.pipeline.schedule.stage import plan_schedule
from filmbuild.pipeline.schedule.working_rules import check_calendar, check_start

__all__ = ["check_calendar", "check_forecast", "check_start", "plan_schedule"]
