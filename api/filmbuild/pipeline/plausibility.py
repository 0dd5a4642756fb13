"""What a job says that cannot be, or hardly is: a fault for the one, a note for the other."""

from collections.abc import Iterator
from decimal import Decimal

from filmbuild.errors import Faults
from filmbuild.pipeline.job import Conditions, Job, Terms, WorkCalendar
from filmbuild.pipeline.schedule.weather import AIR, SURFACE
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.trace import Note

MOST_PEOPLE = 30
"""More are rarely on one floor (common practice, no source)."""
LONGEST_SHIFT_HOURS = 13.0
"""What a daily rest of 11 hours leaves: Directive 2003/88/EC, article 3."""
DRIEST_PERCENT = 5.0
"""Air indoors and out is moister almost anywhere (common practice, no source)."""
FARTHEST_SURFACE = 25.0
"""[K] A floor is rarely so much colder or warmer than its air (common practice, no source)."""
MOST_TIMES_A_WAGE = 10
"""One class of a crew rarely earns so many times another (common practice, no source)."""
LONGEST_PRICES_DAYS = 366
_MOST_PERCENT = {
    "overhead_percent": 100,
    "contingency_percent": 100,
    "markup_percent": 200,
    "margin_percent": 80,
}
"""Terms are rarely above these (common practice, no source)."""


def check_conditions(job: Job, faults: Faults) -> None:
    """Adds a fault for what no floor is laid in; `faults` is rooted at the job."""
    given = job.conditions
    if given is None:
        return
    for field, (least, most) in (("air_temperature", AIR), ("surface_temperature", SURFACE)):
        if not least <= getattr(given, field) <= most:
            detail = f"give a temperature from {least:g} to {most:g} degC"
            faults.add("conditions-out-of-range", detail, "conditions", field)


def implausible(job: Job, selection: Selection) -> Iterator[Note]:
    """Notes on what is possible and still may be a slip of the pen."""
    if selection.workers > MOST_PEOPLE:
        yield Note("implausible-crew", f"A crew of {selection.workers} people: is that meant?")
    yield from _wages(selection)
    hours = shift_hours(job.calendar)
    if hours > LONGEST_SHIFT_HOURS:
        yield Note(
            "implausible-shift",
            f"A shift of {hours:g} hours leaves less than 11 hours of rest: is that meant?",
        )
    yield from _conditions(selection.conditions)
    yield from _terms(job.terms)
    if job.start is not None and job.priced_on is not None:
        apart = abs((job.start - job.priced_on).days)
        if apart > LONGEST_PRICES_DAYS:
            yield Note(
                "implausible-day-of-prices",
                f"Prices of {job.priced_on} for work from {job.start} on: is that meant?",
            )


def shift_hours(calendar: WorkCalendar) -> float:
    """By the clock, past midnight where the shift ends before it starts."""
    start, end = (
        60 * int(clock[:2]) + int(clock[3:]) for clock in (calendar.shift_start, calendar.shift_end)
    )
    return (end - start) % (24 * 60) / 60


def _wages(selection: Selection) -> Iterator[Note]:
    wages = {one.name: Decimal(one.wage) for one, _ in selection.crew}
    unpaid = [name for name, wage in wages.items() if not wage]
    if unpaid:
        yield Note("implausible-wage", f"{', '.join(unpaid)} without a wage: is that meant?")
    paid = sorted((wage, name) for name, wage in wages.items() if wage)
    if paid and paid[-1][0] > MOST_TIMES_A_WAGE * paid[0][0]:
        (least, poorest), (most, richest) = paid[0], paid[-1]
        yield Note(
            "implausible-wage",
            f"{richest} at {most:f} an hour beside {poorest} at {least:f}: is that meant?",
        )


def _conditions(conditions: Conditions) -> Iterator[Note]:
    humidity = conditions.relative_humidity_percent
    if humidity < DRIEST_PERCENT:
        yield Note(
            "implausible-humidity",
            f"Air of {humidity:g} % relative humidity is drier than a desert: is that meant?",
        )
    air, surface = conditions.air_temperature, conditions.surface_temperature
    if abs(air - surface) > FARTHEST_SURFACE:
        yield Note(
            "implausible-surface-temperature",
            f"A surface of {surface:g} degC in air of {air:g} degC: is that meant?",
        )


def _terms(terms: Terms) -> Iterator[Note]:
    for field, most in _MOST_PERCENT.items():
        value = getattr(terms, field)
        if value is not None and value > most:
            yield Note("implausible-terms", f"{field} of {value:f}: is that meant?")
