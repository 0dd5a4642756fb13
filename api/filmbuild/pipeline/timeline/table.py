"""The schedule as a table: a line for each activity, each cure, and each opening of the site."""

from collections.abc import Iterator

from filmbuild.pipeline.csv_text import Cell, csv_text
from filmbuild.pipeline.results import ScheduleDocument
from filmbuild.pipeline.timeline.rows import (
    Row,
    Timeline,
    second_after,
    second_near,
    timeline_of,
    utc,
)


def schedule_table(document: ScheduleDocument) -> str:
    """Comma-separated values; times by the site's clock, and again in UTC, to the second.

    Work is in the order in which it is done, and what opens again comes last.
    """
    timeline = timeline_of(document)
    zone = document.schedule.time_zone
    header = [
        "kind",
        "activity",
        "name",
        f"start [{zone}]",
        f"finish [{zone}]",
        "start [UTC]",
        "finish [UTC]",
        f"latest start [{zone}]",
        "float [h]",
        "critical",
        "on critical path",
        "bound by",
    ]
    return csv_text(header, _lines(timeline))


def _lines(timeline: Timeline) -> Iterator[list[Cell]]:
    for row in timeline.rows:
        yield _work(row, timeline)
        if row.rest is not None:
            kind = "drying" if row.rest.is_drying else "cure"
            times = _times(second_near(row.finish), second_after(row.rest.until), timeline)
            yield [kind, row.found.activity, row.found.name, *times, *[None] * 5]
    for opening in timeline.openings:
        times = _times(second_near(timeline.start), second_after(opening.moment), timeline)
        yield ["closed", opening.id, f"closed to {opening.name}", *times, *[None] * 5]


def _work(row: Row, timeline: Timeline) -> list[Cell]:
    one = row.found
    latest = second_near(one.latest_start.timestamp())
    return [
        "work",
        one.activity,
        one.name,
        *_times(second_near(row.start), second_near(row.finish), timeline),
        timeline.local(latest),
        round(one.float_time / 3600, 4),
        _yes(one.critical),
        _yes(row.on_path),
        one.bound_by,
    ]


def _times(start: float, finish: float, timeline: Timeline) -> list[Cell]:
    local = [timeline.local(start), timeline.local(finish)]
    return [*local, utc(start), utc(finish)]


def _yes(value: bool) -> str:
    return "yes" if value else "no"
