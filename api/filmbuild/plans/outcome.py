"""What a process that reads a drawing is asked, and what it answers."""

import msgspec

from filmbuild.pipeline.site import CoordinateUnit
from filmbuild.plans.wire import PlanReading


class Asked(msgspec.Struct, frozen=True, kw_only=True):
    layers: tuple[str, ...] | None = None
    islands: str | None = None
    names: str | None = None
    unit: CoordinateUnit | None = None


class Outcome(msgspec.Struct, frozen=True, kw_only=True):
    """Either a reading, or why there is none."""

    reading: PlanReading | None = None
    code: str = ""
    detail: str = ""
