"""Moisture readings against a system's limits, method by method."""

from collections.abc import Iterable, Iterator, Sequence

import msgspec

from filmbuild.pipeline.specification import MoistureLimits
from filmbuild.pipeline.substrate import MoistureReading
from filmbuild.pipeline.trace import Note
from filmbuild.quantities import MoistureEmission, UnitSystem, format_text

MOST_NAMED = 5


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


def judged(
    areas: Iterable[tuple[str, tuple[MoistureReading, ...]]],
    limits: MoistureLimits,
    units: UnitSystem,
) -> Iterator[Note]:
    """The judgement in words, once for all areas that share their readings."""
    sharing: dict[tuple[MoistureReading, ...], list[str]] = {}
    for name, readings in areas:
        if readings:
            sharing.setdefault(readings, []).append(name)
    for readings, names in sharing.items():
        more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
        where = ", ".join(names[:MOST_NAMED]) + more
        for one in judgements(readings, limits):
            yield Note("moisture-judged", f"{where}: {_words(one, units)}.")


def _words(one: Judgement, units: UnitSystem) -> str:
    def shown(value: float) -> str:
        if one.method == "ASTM F2170":
            return f"{value:.3g} %"
        return format_text(MoistureEmission(value), units)

    read = f"{one.method}, {one.count} read, mean {shown(one.mean)}, highest {shown(one.highest)}"
    if one.limit is None:
        return f"{read}; the system states no limit for this method"
    if not one.over:
        return f"{read}; none is above the system's limit of {shown(one.limit)}"
    mean = "the mean is too" if one.mean_exceeds else "the mean is not, but each one counts"
    return f"{read}; {len(one.over)} above the system's limit of {shown(one.limit)}, {mean}"
