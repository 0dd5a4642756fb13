"""What the crew takes along: all of a job but its prices."""

from collections.abc import Iterator, Mapping
from datetime import date

import msgspec

from filmbuild.pipeline.drawing import takeoff_drawing
from filmbuild.pipeline.requests import EstimateRequest
from filmbuild.pipeline.results import (
    AreaOpen,
    EstimateDocument,
    LoadingList,
    MixingSheet,
    ScheduleDocument,
)
from filmbuild.pipeline.results.base import Moment
from filmbuild.pipeline.sheets import loading_list, mixing_sheet
from filmbuild.pipeline.specification import Catalogue
from filmbuild.pipeline.timeline import schedule_chart
from filmbuild.pipeline.timeline.rows import Row, Timeline, timeline_of
from filmbuild.pipeline.trace import Caution, Note

NOTES = frozenset(
    (
        "mixes-too-large-for-conditions",
        "mix-cut-by-section",
        "section-joints-to-be-found",
        "conditions-constant",
        "forecast-moves-dates-only",
    )
)
"""What an estimate says of itself that those who mix and place must know."""


class _Part(msgspec.Struct, frozen=True, kw_only=True):
    """Base of the parts of a job pack; readers pass over fields they do not know."""


class CrewActivity(_Part, frozen=True, kw_only=True):
    """A piece of work on one day; `goes_on` says that it is not done by `finish`."""

    id: str
    name: str
    start: Moment
    finish: Moment
    goes_on: bool
    why: str


class CrewDay(_Part, frozen=True, kw_only=True):
    """A day on site, with the most people that are at work at once."""

    date: date
    visit: int
    people: int
    activities: tuple[CrewActivity, ...]


class Openings(_Part, frozen=True, kw_only=True):
    """Until when the whole floor is kept off, and until when each area is."""

    foot_traffic_from: Moment
    vehicle_traffic_from: Moment
    full_cure_at: Moment
    areas: tuple[AreaOpen, ...]


class JobPack(_Part, frozen=True, kw_only=True):
    """Drawing and chart are whole SVG documents; `areas` are names by id."""

    reference: str | None
    site: str
    system: str
    units: str
    time_zone: str
    catalogue_revision: int
    first_day: date
    last_day: date
    areas: dict[str, str]
    drawing: str
    chart: str
    days: tuple[CrewDay, ...]
    openings: Openings
    loading_list: LoadingList
    mixing_sheet: MixingSheet
    cautions: tuple[Caution, ...]
    notes: tuple[Note, ...]


def job_pack(request: EstimateRequest, document: EstimateDocument, catalogue: Catalogue) -> JobPack:
    """The estimate of this request, made on this catalogue."""
    schedule, takeoff, materials = document.schedule, document.takeoff, document.materials
    book = catalogue.rate_books[document.basis.rate_book]
    on_days = msgspec.structs.replace(
        document.labour,
        tasks=(*document.labour.tasks, *schedule.tasks),
        equipment=schedule.equipment,
        consumables=schedule.consumables,
    )
    return JobPack(
        reference=request.reference,
        site=takeoff.site,
        system=catalogue.systems[materials.system].name,
        units=request.units,
        time_zone=schedule.time_zone,
        catalogue_revision=catalogue.revision,
        first_day=schedule.first_day,
        last_day=schedule.last_day,
        areas={one.id: one.name for one in takeoff.areas},
        drawing=takeoff_drawing(request.site, takeoff, request.units),
        chart=schedule_chart(document),
        days=tuple(_days(document)),
        openings=Openings(
            foot_traffic_from=schedule.foot_traffic_from,
            vehicle_traffic_from=schedule.vehicle_traffic_from,
            full_cure_at=schedule.full_cure_at,
            areas=schedule.areas,
        ),
        loading_list=loading_list(takeoff, materials, on_days, catalogue, book),
        mixing_sheet=mixing_sheet(takeoff, materials, catalogue),
        cautions=document.cautions,
        notes=tuple(one for one in document.notes if one.code in NOTES),
    )


def _days(document: ScheduleDocument) -> Iterator[CrewDay]:
    timeline = timeline_of(document)
    by_day: dict[date, list[CrewActivity]] = {}
    for row in timeline.rows:
        for day, activity in _stretches(row, timeline):
            by_day.setdefault(day, []).append(activity)
    visits, people = _worked(document)
    for day in sorted(by_day):
        yield CrewDay(
            date=day,
            visit=visits.get(day, 1),
            people=people.get(day, 0),
            activities=tuple(sorted(by_day[day], key=lambda one: one.start)),
        )


def _worked(document: ScheduleDocument) -> tuple[Mapping[date, int], Mapping[date, int]]:
    days = document.schedule.days
    return {one.date: one.visit for one in days}, {one.date: one.people for one in days}


def _stretches(row: Row, timeline: Timeline) -> Iterator[tuple[date, CrewActivity]]:
    """Work that began the evening before stands with the day on which its shift began."""
    last = len(row.work) - 1
    for place, (start, finish) in enumerate(row.work):
        begun = timeline.local(start)
        yield (
            begun.date(),
            CrewActivity(
                id=row.found.activity,
                name=row.found.name,
                start=begun,
                finish=timeline.local(finish),
                goes_on=place < last,
                why=row.found.bound_by,
            ),
        )
