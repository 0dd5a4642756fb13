"""The days on which the crew works: how long, for how much pay, and in which visit."""

from collections.abc import Mapping
from datetime import date

import msgspec

from filmbuild.pipeline.labour.crew_time import CrewTime, paid_day, summed
from filmbuild.pipeline.results import WorkedDay
from filmbuild.pipeline.schedule.placing import Placed
from filmbuild.pipeline.specification import RateBook
from filmbuild.pipeline.timetable import TOLERANCE
from filmbuild.pipeline.trace import Trace
from filmbuild.pipeline.workdays import to_millisecond
from filmbuild.quantities import Duration


class Days(msgspec.Struct, frozen=True):
    """Crew time [s] by day and activity, in the order of the days."""

    by_day: Mapping[date, Mapping[str, float]]

    def of(self, activities: set[str]) -> int:
        """On how many days any of some activities is worked on."""
        return sum(not activities.isdisjoint(found) for found in self.by_day.values())


def days_of(placed: Placed) -> Days:
    """A coat is worked through on the day of its shift; other work stops for breaks and nights."""
    calendar = placed.calendar
    whole = {one.id for one in placed.activities if one.one_shift}
    found: dict[date, dict[str, float]] = {}
    for one in placed.timetable.placements:
        if one.finish - one.start <= TOLERANCE:
            continue
        if one.id in whole:
            parts = [(calendar.local_time(one.start).date(), one.finish - one.start)]
        else:
            parts = calendar.days_worked(one.start, one.finish)
        for day, time in parts:
            found.setdefault(day, {})[one.id] = to_millisecond(time)
    return Days(dict(sorted(found.items())))


def worked_days(
    days: Days, book: RateBook, revision: int
) -> tuple[tuple[WorkedDay, ...], CrewTime]:
    found = []
    totals = []
    visit, last = 1, None
    longest = book.travel.visit_ends_after_idle_days
    for day, activities in days.by_day.items():
        worked = to_millisecond(sum(activities.values()))
        paid, overtime = paid_day(worked, book)
        totals.append((worked, paid, overtime))
        if last is not None and longest is not None and (day - last).days > longest:
            visit += 1
        last = day
        found.append(
            WorkedDay(
                date=day,
                visit=visit,
                activities=tuple(activities),
                worked=Duration(worked),
                paid=Duration(paid),
                overtime=Duration(overtime),
                trace=Trace(
                    "schedule.worked-day",
                    {
                        "worked": Duration(worked),
                        "minimum_paid_day": book.minimum_paid_day,
                        "standard_day": book.standard_day,
                    },
                    revision,
                ),
            )
        )
    return tuple(found), summed(totals, visit)
