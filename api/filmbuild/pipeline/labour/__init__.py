"""Labour: tasks from quantities, the activities they form, and what people and machines cost."""

from filmbuild.pipeline.labour.abrasion import abrasion_before
from filmbuild.pipeline.labour.crew_choice import choose_crew
from filmbuild.pipeline.labour.sequence import REPAIR_PRODUCTS
from filmbuild.pipeline.labour.shift import shift_length
from filmbuild.pipeline.labour.stage import plan_labour

__all__ = ["REPAIR_PRODUCTS", "abrasion_before", "choose_crew", "plan_labour", "shift_length"]
