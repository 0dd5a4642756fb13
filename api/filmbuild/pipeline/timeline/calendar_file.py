"""The schedule as an iCalendar file (RFC 5545)."""

from collections.abc import Iterator
from datetime import UTC, datetime, time
from hashlib import sha256

import msgspec

from filmbuild.pipeline.results import ScheduleDocument
from filmbuild.pipeline.timeline.icalendar_text import Property, calendar_text, text_value
from filmbuild.pipeline.timeline.rows import (
    Row,
    Timeline,
    second_after,
    second_near,
    timeline_of,
    utc,
)

_PRODUCT = "-//filmbuild//schedule//EN"


class _Event(msgspec.Struct, frozen=True):
    """`key` names it among the events of its job, whatever the dates; `finish` may be `start`."""

    key: str
    start: float
    finish: float
    summary: str
    description: str
    category: str
    is_work: bool = False


class _File(msgspec.Struct, frozen=True):
    """What all events of one file share."""

    job: str
    stamp: str
    site: str

    def properties(self, event: _Event) -> list[Property]:
        found = [
            ("UID", sha256(f"{self.job}\n{event.key}".encode()).hexdigest()[:32]),
            ("DTSTAMP", self.stamp),
            ("DTSTART", _moment(event.start)),
        ]
        if event.finish > event.start:
            found.append(("DTEND", _moment(event.finish)))
        return [
            *found,
            ("SUMMARY", text_value(event.summary)),
            ("DESCRIPTION", text_value(event.description)),
            ("LOCATION", text_value(self.site)),
            ("CATEGORIES", text_value(event.category)),
            ("TRANSP", "OPAQUE" if event.is_work else "TRANSPARENT"),
        ]


def schedule_calendar(document: ScheduleDocument) -> str:
    """An event for each day's work on an activity, each coat's cure, and each opening of the site.

    Times are in UTC. The same document is always the same text: DTSTAMP is the day of its prices.
    UIDs hold for the site's name and floors and the system, whatever the dates, so that a later
    plan of the same job replaces the earlier one where both are imported.
    """
    timeline = timeline_of(document)
    file = _File(_job(document), _stamp(document), timeline.site)
    name = text_value(f"{timeline.site}: {timeline.system}")
    head = [
        ("VERSION", "2.0"),
        ("PRODID", _PRODUCT),
        ("CALSCALE", "GREGORIAN"),
        ("NAME", name),
        ("X-WR-CALNAME", name),
    ]
    events = sorted(_events(timeline), key=lambda one: (one.start, one.finish))
    return calendar_text(head, map(file.properties, events))


def _job(document: ScheduleDocument) -> str:
    areas = [(area.id, round(area.floor, 3)) for area in document.takeoff.areas]
    return repr((document.takeoff.site, areas, document.basis.system))


def _stamp(document: ScheduleDocument) -> str:
    day = document.priced_on or document.schedule.first_day
    return _moment(datetime.combine(day, time(), UTC).timestamp())


def _moment(moment: float) -> str:
    return f"{utc(moment):%Y%m%dT%H%M%SZ}"


def _events(timeline: Timeline) -> Iterator[_Event]:
    for row in timeline.rows:
        yield from _work(row)
        yield from _rest(row, timeline)
    for opening in timeline.openings:
        moment = second_after(opening.moment)
        yield _Event(
            key=f"open {opening.id}",
            start=moment,
            finish=moment,
            summary=f"Open to {opening.name}",
            description=f"Closed until {_local(moment, timeline)}.",
            category="OPEN",
        )


def _work(row: Row) -> Iterator[_Event]:
    one, parts = row.found, len(row.work)
    for number, (start, finish) in enumerate(row.work, 1):
        yield _Event(
            key=f"work {one.activity} {number}",
            start=second_near(start),
            finish=second_near(finish),
            summary=one.name if parts == 1 else f"{one.name} ({number} of {parts})",
            description=_reason(row),
            category="WORK",
            is_work=True,
        )


def _reason(row: Row) -> str:
    spare = (
        "Critical: a delay of it delays the end of the work or misses a recoat window."
        if row.found.critical
        else f"May begin {row.found.float_time / 3600:.1f} h of working time later."
    )
    return f"Start: {row.found.bound_by}.\n{spare}"


def _rest(row: Row, timeline: Timeline) -> Iterator[_Event]:
    rest = row.rest
    if rest is None:
        return
    until = second_after(rest.until)
    state = "dries" if rest.is_drying else "cures"
    yield _Event(
        key=f"rest {row.found.activity}",
        start=second_near(row.finish),
        finish=until,
        summary=f"{row.found.name} {state}: stay off",
        description=f"Nothing may be laid on it before {_local(until, timeline)}.",
        category="CURE",
    )


def _local(moment: float, timeline: Timeline) -> str:
    zone = timeline.document.schedule.time_zone
    return f"{timeline.local(moment):%Y-%m-%d %H:%M:%S} {zone}"
