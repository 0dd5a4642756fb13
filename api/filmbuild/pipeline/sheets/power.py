"""What the machines draw that run at once: power from the building, and air from the dust."""

from collections.abc import Iterable, Iterator, Mapping

import msgspec

from filmbuild.pipeline.results import Circuits, Labour, SiteExtraction, SitePower, Task
from filmbuild.pipeline.specification import Equipment, RateBook
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import AirFlow, Power


class Running(msgspec.Struct, frozen=True):
    """Machines that run at once: so many of each."""

    activity: str
    machines: Mapping[str, int]


def gangs_of(tasks: Iterable[Task]) -> int:
    """Machines of one kind: each gang of the busiest task has one of its own."""
    return max([task.gangs for task in tasks], default=0)


def running(labour: Labour) -> Iterator[Running]:
    """By activity: its tasks are done together, so that all of their machines run at once."""
    found: dict[str, dict[str, int]] = {}
    for task in labour.tasks:
        machines = found.setdefault(task.activity, {})
        for name in task.equipment:
            machines[name] = max(machines.get(name, 0), task.gangs)
    for activity, counts in found.items():
        if counts:
            yield Running(activity, counts)


def site_power(labour: Labour, book: RateBook, revision: int) -> SitePower | None:
    """At its peak; None where no machine states its power."""
    known = {one.id: one for one in book.equipment}
    peak = max(running(labour), key=lambda one: _sum(one, _powers(known)), default=Running("", {}))
    power = _sum(peak, _powers(known))
    if not power > 0:
        return None
    return SitePower(
        activity=peak.activity,
        power=Power(power),
        circuits=tuple(_circuits(peak, known)),
        unstated=tuple(
            sorted({name for one in running(labour) for name in one.machines} - set(_powers(known)))
        ),
        trace=Trace("loading.power", _inputs(peak, _powers(known), Power), revision),
    )


def site_extraction(labour: Labour, book: RateBook, revision: int) -> SiteExtraction | None:
    """At its peak; None where no machine states what must be drawn off."""
    needs = {one.id: one.extraction for one in book.equipment if one.extraction is not None}
    draws = {one.id: one.air_flow for one in book.equipment if one.air_flow is not None}
    peak = max(running(labour), key=lambda one: _sum(one, needs), default=Running("", {}))
    needed, drawn = _sum(peak, needs), _sum(peak, draws)
    if not needed > 0:
        return None
    inputs = {"needed": _inputs(peak, needs, AirFlow), "drawn": _inputs(peak, draws, AirFlow)}
    return SiteExtraction(
        activity=peak.activity,
        needed=AirFlow(needed),
        drawn=AirFlow(drawn),
        lacking=AirFlow(max(needed - drawn, 0.0)),
        trace=Trace("loading.extraction", inputs, revision),
    )


def _powers(known: Mapping[str, Equipment]) -> dict[str, float]:
    return {name: one.power for name, one in known.items() if one.power is not None}


def _sum(one: Running, each: Mapping[str, float]) -> float:
    return sum([count * each[name] for name, count in one.machines.items() if name in each])


def _inputs(
    one: Running, each: Mapping[str, float], kind: type[Power | AirFlow]
) -> dict[str, object]:
    return {
        name: {"machines": count, "each": kind(each[name])}
        for name, count in one.machines.items()
        if name in each
    }


def _circuits(peak: Running, known: Mapping[str, Equipment]) -> Iterator[Circuits]:
    """By voltage, the highest first."""
    found: dict[tuple[int, int], tuple[int, float]] = {}
    for name, count in peak.machines.items():
        machine = known.get(name)
        if machine is not None and machine.power is not None and machine.volts is not None:
            key = (machine.volts, machine.phases)
            circuits, power = found.get(key, (0, 0.0))
            found[key] = (circuits + count * machine.circuits, power + count * machine.power)
    for (volts, phases), (circuits, power) in sorted(found.items(), reverse=True):
        yield Circuits(volts=volts, phases=phases, circuits=circuits, power=Power(power))
