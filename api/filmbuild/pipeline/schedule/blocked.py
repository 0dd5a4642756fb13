"""What is said where the weather never lets a product be placed: how near it came, what opens it."""

from filmbuild.errors import Faults
from filmbuild.pipeline.climate import Breach
from filmbuild.pipeline.results import Activity
from filmbuild.pipeline.schedule.sentences import Closed, clock, state
from filmbuild.pipeline.schedule.weathered import PlacingGate
from filmbuild.pipeline.timetable import TOLERANCE
from filmbuild.pipeline.workdays import NoWorkingTimeError, WorkingCalendar

_MOST_STARTS = 1_000
_HELPS = {
    ("air_temperature", "at_least"): "heat the air to at least {} degC",
    ("air_temperature", "at_most"): "cool the air to at most {} degC",
    ("surface_temperature", "at_least"): "heat the floor to at least {} degC",
    ("surface_temperature", "at_most"): "cool or shade the floor to at most {} degC",
    ("relative_humidity", "at_most"): "dehumidify to at most {} %",
}


def add_gate_fault(
    activity: Activity,
    gate: PlacingGate | None,
    since: float,
    calendar: WorkingCalendar,
    faults: Faults,
) -> None:
    """`faults` is rooted at the job."""
    if gate is None:
        return
    nearest = _nearest(activity, gate, since, calendar)
    detail = (
        f"{activity.name} with {gate.product.id} finds no window from "
        f"{clock(since, calendar)} on: its limits are to be met while it is placed and until it "
        "takes another coat. "
    )
    if nearest is None:
        detail += "The forecast ends before one does: give a longer one, months, or conditions"
    else:
        start, closed = nearest
        shown = [_shown(one, calendar) for one in _worst(closed)]
        detail += (
            f"Nearest is a start at {clock(start, calendar)}, where {'; '.join(shown)}. "
            "Or use a product with other limits"
        )
    faults.add("no-climate-window", detail, "forecast")


def _nearest(
    activity: Activity, gate: PlacingGate, since: float, calendar: WorkingCalendar
) -> tuple[float, list[Closed]] | None:
    """The start with the fewest steps in which something is not met."""
    best: tuple[float, list[Closed]] | None = None
    try:
        for number, start in enumerate(gate.starts(since, calendar)):
            begin = start
            if activity.one_shift:
                fitting = calendar.next_start_fitting(start, activity.duration)
                begin = start if fitting is None else fitting
            finish = begin + activity.duration
            if not activity.one_shift:
                finish = calendar.add_working_time(begin, activity.duration)
            closed = list(gate.closed(begin, finish))
            if closed and (best is None or len(closed) < len(best[1])):
                best = begin, closed
            if number > _MOST_STARTS:
                break
    except NoWorkingTimeError:
        return best
    return best


def _worst(closed: list[Closed]) -> list[Closed]:
    """Of each limit the moment at which it is missed by most."""
    found: dict[str, Closed] = {}
    for one in closed:
        known = found.get(one.breach.condition)
        if known is None or _missed_by(one.breach) > _missed_by(known.breach) + TOLERANCE:
            found[one.breach.condition] = one
    return list(found.values())


def _missed_by(breach: Breach) -> float:
    return abs(breach.actual - breach.limit)


def _shown(closed: Closed, calendar: WorkingCalendar) -> str:
    breach = closed.breach
    ways = [
        _HELPS[one.measure, one.bound].format(f"{one.value:.1f}")
        for one in breach.opens
        if (one.measure, one.bound) in _HELPS
    ]
    return f"{state(breach)} at {clock(closed.moment, calendar)}: {' or '.join(ways)}"
