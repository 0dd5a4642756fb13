"""The calendar file as a calendar program reads it: parsed whole by an outside library."""

from datetime import UTC, date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import icalendar
import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from timeline_cases import CASES, case, hall, planned

from filmbuild.pipeline.results import ScheduleDocument
from filmbuild.pipeline.timeline import schedule_calendar
from filmbuild.pipeline.timeline.icalendar_text import calendar_text, text_value

SECOND = timedelta(seconds=1)
LONGEST_LINE = 75


def events(document: ScheduleDocument) -> list[Any]:
    """As the library reads them, whose values have many types."""
    calendar = icalendar.Calendar.from_ical(schedule_calendar(document))
    assert isinstance(calendar, icalendar.Calendar)
    assert calendar.errors == []
    assert all(one.errors == [] for one in calendar.walk())
    return list(calendar.walk("VEVENT"))


def of_category(found: list[Any], category: str) -> list[Any]:
    return [one for one in found if one["CATEGORIES"].to_ical().decode() == category]


def end_of(event: Any) -> datetime:
    end = event["DTEND"].dt
    assert isinstance(end, datetime)
    return end


@pytest.mark.parametrize("name", CASES)
def test_lines_are_those_of_the_format(name: str) -> None:
    """RFC 5545 section 3.1: CR LF, and 75 octets at most."""
    text = schedule_calendar(case(name))
    assert text.endswith("END:VCALENDAR\r\n")
    lines = text.removesuffix("\r\n").split("\r\n")
    assert not any("\n" in line or "\r" in line for line in lines)
    assert max(len(line.encode()) for line in lines) <= LONGEST_LINE


@pytest.mark.parametrize("name", CASES)
def test_each_event_has_what_the_format_demands(name: str) -> None:
    """RFC 5545 sections 3.6 and 3.6.1."""
    document = case(name)
    calendar = icalendar.Calendar.from_ical(schedule_calendar(document))
    assert calendar["VERSION"] == "2.0"
    assert calendar["PRODID"]
    found = events(document)
    assert len({one["UID"] for one in found}) == len(found)
    for one in found:
        assert one["DTSTART"].dt.tzinfo is not None
        assert "DTEND" not in one or end_of(one) > one["DTSTART"].dt
        assert one["DTSTAMP"].dt == datetime(2026, 1, 5, tzinfo=UTC)


@pytest.mark.parametrize("name", CASES)
def test_the_work_of_each_activity_is_there_from_its_start_to_its_finish(name: str) -> None:
    document = case(name)
    work = of_category(events(document), "WORK")
    starts = {one["DTSTART"].dt for one in work}
    finishes = {end_of(one) for one in work if "DTEND" in one}
    for one in document.schedule.activities:
        assert any(abs(start - one.start) <= SECOND for start in starts), one.name
        if one.finish - one.start > SECOND:
            assert any(abs(finish - one.finish) <= SECOND for finish in finishes), one.name


def test_work_over_a_night_is_an_event_a_day() -> None:
    document = case("three weeks")
    grinding = next(one for one in document.schedule.activities if "machine_grind" in one.activity)
    assert grinding.finish.date() > grinding.start.date()
    work = of_category(events(document), "WORK")
    parts = [one for one in work if str(one["SUMMARY"]).startswith(f"{grinding.name} (")]
    zone = ZoneInfo(document.schedule.time_zone)
    clock = [
        (one["DTSTART"].dt.astimezone(zone).time(), end_of(one).astimezone(zone).time())
        for one in parts
    ]
    assert len(parts) == 2
    assert clock[0][1].isoformat() == "16:00:00"
    assert clock[1][0].isoformat() == "08:00:00"


@pytest.mark.parametrize("name", CASES)
def test_openings_are_never_early(name: str) -> None:
    document = case(name)
    schedule = document.schedule
    found = [one["DTSTART"].dt for one in of_category(events(document), "OPEN")]
    moments = (schedule.foot_traffic_from, schedule.vehicle_traffic_from, schedule.full_cure_at)
    assert len(found) == len(moments)
    for event, moment in zip(found, sorted(moments), strict=True):
        assert timedelta(0) <= event - moment < SECOND


def test_a_coat_is_kept_off_until_it_takes_the_next() -> None:
    document = case("studio")
    first = document.schedule.coats[0]
    ends = [end_of(one) for one in of_category(events(document), "CURE")]
    assert any(timedelta(0) <= end - first.recoat_from < SECOND for end in ends)
    last = document.schedule.coats[-1]
    assert any(timedelta(0) <= end - last.foot_traffic < SECOND for end in ends)


def test_a_shift_keeps_its_local_hours_over_a_change_of_clocks() -> None:
    """Lisbon's clocks went back on 25 October 2026 (IANA tz: EU rules, last Sunday of October)."""
    document = case("over a change of clocks")
    lisbon = ZoneInfo("Europe/Lisbon")
    work = of_category(events(document), "WORK")
    days = {one["DTSTART"].dt.astimezone(lisbon).date() for one in work}
    assert min(days) < date(2026, 10, 25) <= max(days)
    firsts = [
        min(one["DTSTART"].dt for one in work if one["DTSTART"].dt.astimezone(lisbon).date() == day)
        for day in days
    ]
    assert {first.astimezone(lisbon).hour for first in firsts} == {8}
    assert {first.hour for first in firsts} == {7, 8}


def test_the_same_document_is_the_same_text() -> None:
    assert schedule_calendar(case("studio")) == schedule_calendar(planned())


def test_uids_stay_when_dates_move_and_differ_between_jobs() -> None:
    def uids(document: ScheduleDocument) -> set[str]:
        return {str(one["UID"]) for one in events(document)}

    asked = hall("6 m")
    first, later = planned(asked), planned(asked, start="2026-08-03")
    assert first.schedule.first_day != later.schedule.first_day
    assert uids(first) == uids(later)
    assert uids(first).isdisjoint(uids(planned(hall("7 m"))))
    assert uids(first).isdisjoint(uids(planned(hall("6 m", "Another hall"))))


@given(st.text(max_size=200))
def test_any_text_comes_back_but_for_what_no_line_may_hold(text: str) -> None:
    written = calendar_text([("VERSION", "2.0")], [[("SUMMARY", text_value(text))]])
    assert max(len(line.encode()) for line in written.split("\r\n")) <= LONGEST_LINE
    (event,) = icalendar.Calendar.from_ical(written).walk("VEVENT")
    plain = text.replace("\r\n", "\n").replace("\r", "\n")
    kept = "".join(one for one in plain if one in "\t\n" or (one >= " " and one != "\x7f"))
    assert str(event["SUMMARY"]) == kept


@pytest.mark.parametrize("name", ["a, b; c\\d", "line\r\nBEGIN:VEVENT", "caf\u00e9 \u6e2f" * 30])
def test_no_name_breaks_out_of_its_line(name: str) -> None:
    document = case("three days")
    takeoff = msgspec.structs.replace(document.takeoff, site=name)
    renamed = msgspec.structs.replace(document, takeoff=takeoff)
    found = events(renamed)
    assert len(found) == len(events(document))
    assert {str(one["LOCATION"]) for one in found} == {name.replace("\r\n", "\n")}
