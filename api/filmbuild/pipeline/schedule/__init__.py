"""Schedule: from activities to dates."""

from filmbuild.pipeline.schedule.stage import plan_schedule

__all__ = ["plan_schedule"]
