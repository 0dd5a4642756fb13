"""The days on which the crew works: how long, for how much pay, and in which visit."""

from collections.abc import Iterable, Mapping
from datetime import date
from typing import NamedTuple

import msgspec

from filmbuild.pipeline.labour.crew_time import CrewTime, missing_call_out, paid_day, summed
from filmbuild.pipeline.results import Task, WorkedDay
from filmbuild.pipeline.schedule.placing import Placed
from filmbuild.pipeline.specification import RateBook
from filmbuild.pipeline.timetable import TOLERANCE
from filmbuild.pipeline.trace import Trace
from filmbuild.pipeline.workdays import to_millisecond
from filmbuild.quantities import Duration, Hours


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
            parts = [(calendar.shift_day(one.start), one.finish - one.start)]
        else:
            parts = calendar.days_worked(one.start, one.finish)
        for day, time in parts:
            found.setdefault(day, {})[one.id] = to_millisecond(time)
    return Days(dict(sorted(found.items())))


class People(NamedTuple):
    """Of one activity: the time that all its people spend on it, and the most at once."""

    labour: float
    most: int


def people_of(tasks: Iterable[Task]) -> dict[str, People]:
    found: dict[str, People] = {}
    for one in tasks:
        known = found.get(one.activity, People(0.0, 0))
        found[one.activity] = People(
            known.labour + to_millisecond(one.labour),
            known.most + one.workers if one.beside else max(known.most, one.workers),
        )
    return found


def worked_days(
    days: Days, people: Mapping[str, People], book: RateBook, revision: int
) -> tuple[tuple[WorkedDay, ...], CrewTime]:
    found = []
    totals = []
    whole: dict[str, float] = {}
    for parts in days.by_day.values():
        for name, time in parts.items():
            whole[name] = whole.get(name, 0.0) + time
    visit, last = 1, None
    by_visit: dict[int, float] = {}
    longest = book.travel.visit_ends_after_idle_days
    for day, activities in days.by_day.items():
        worked = to_millisecond(sum(activities.values()))
        paid, overtime = paid_day(worked, book)
        totals.append((worked, paid, overtime))
        if last is not None and longest is not None and (day - last).days > longest:
            visit += 1
        last = day
        by_visit[visit] = by_visit.get(visit, 0.0) + paid
        shares = {
            name: to_millisecond(people[name].labour * time / whole[name])
            for name, time in activities.items()
            if name in people
        }
        found.append(
            WorkedDay(
                date=day,
                visit=visit,
                activities=tuple(activities),
                worked=Duration(worked),
                paid=Duration(paid),
                overtime=Duration(overtime),
                people=max((people[name].most for name in shares), default=0),
                labour=Hours(to_millisecond(sum(shares.values()))),
                trace=Trace(
                    "schedule.worked-day",
                    {
                        "worked": Duration(worked),
                        "minimum_paid_day": book.minimum_paid_day,
                        "standard_day": book.standard_day,
                        "labour": {name: Hours(time) for name, time in shares.items()},
                        "people": {name: people[name].most for name in shares},
                    },
                    revision,
                ),
            )
        )
    return tuple(found), summed(totals, visit, missing_call_out(by_visit.values(), book))
