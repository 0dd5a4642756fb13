"""Moisture readings against a system's limits, method by method."""

from collections.abc import Sequence

import msgspec

from filmbuild.pipeline.specification import MoistureLimits
from filmbuild.pipeline.substrate import MoistureReading


class Judgement(msgspec.Struct, frozen=True, kw_only=True):
    """Readings of one method, in its own unit: [kg/(s m2)] for emission, [%] for humidity.

    `over` are the places in the list of those above the limit; without a limit there are none.
    """

    method: str
    count: int
    mean: float
    highest: float
    limit: float | None
    over: tuple[int, ...]

    @property
    def exceeds(self) -> bool:
        """One reading above the limit counts, however low the mean is."""
        return bool(self.over)

    @property
    def mean_exceeds(self) -> bool:
        return self.limit is not None and self.mean > self.limit


def judgements(
    readings: Sequence[MoistureReading], limits: MoistureLimits
) -> tuple[Judgement, ...]:
    """One for each method that was read: ASTM F1869, ASTM F2170. They do not convert."""
    emission = [(place, one.emission) for place, one in enumerate(readings)]
    humidity = [(place, one.relative_humidity_percent) for place, one in enumerate(readings)]
    both = (
        _judged("ASTM F1869", emission, limits.emission),
        _judged("ASTM F2170", humidity, limits.relative_humidity_percent),
    )
    return tuple([one for one in both if one is not None])


def _judged(
    method: str, readings: Sequence[tuple[int, float | None]], limit: float | None
) -> Judgement | None:
    read = [(place, value) for place, value in readings if value is not None]
    if not read:
        return None
    values = [value for _, value in read]
    return Judgement(
        method=method,
        count=len(values),
        mean=sum(values) / len(values),
        highest=max(values),
        limit=limit,
        over=tuple([place for place, value in read if limit is not None and value > limit]),
    )


def exceeds(readings: Sequence[MoistureReading], limits: MoistureLimits) -> bool:
    """Whether any reading is above the limit of its method: the failing one counts."""
    return any(one.exceeds for one in judgements(readings, limits))
