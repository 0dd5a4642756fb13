"""The bar chart of a schedule, read as the picture that it is."""

import re
from datetime import date, timedelta
from itertools import pairwise
from xml.etree.ElementTree import Element, fromstring

import pytest
from timeline_cases import CASES, case, mondays, planned

from filmbuild.pipeline.results import ScheduleDocument
from filmbuild.pipeline.timeline import schedule_chart

SVG = "{http://www.w3.org/2000/svg}"
BLACK, WHITE = "#000", "#fff"


def drawn(document: ScheduleDocument) -> Element:
    return fromstring(schedule_chart(document))  # noqa: S314 - the service's own


def texts(svg: Element) -> list[str]:
    return [one.text or "" for one in svg.iter(f"{SVG}text")]


def groups(svg: Element, name: str) -> list[Element]:
    return [one for one in svg.iter(f"{SVG}g") if one.get("class") == name]


def bars(group: Element, fill: str) -> list[tuple[float, float]]:
    found = [one for one in group.iter(f"{SVG}rect") if one.get("fill") == fill]
    return [(float(one.get("x", "")), float(one.get("width", ""))) for one in found]


def work(group: Element) -> list[tuple[float, float]]:
    return bars(group, BLACK) + bars(group, WHITE)


@pytest.mark.parametrize("name", CASES)
def test_every_activity_has_a_row_with_its_reason(name: str) -> None:
    document = case(name)
    rows = groups(drawn(document), "activity")
    told = [row.findtext(f"{SVG}title") for row in rows]
    assert told == [f"{one.name}: {one.bound_by}" for one in document.schedule.activities]
    assert all(work(row) for row in rows)


@pytest.mark.parametrize("name", ["three days", "three weeks", "over a change of clocks"])
def test_bars_stand_where_their_times_are(name: str) -> None:
    """Two bars give the scale; all others must agree with it."""
    document = case(name)
    rows = groups(drawn(document), "activity")
    moments = [one.start.timestamp() for one in document.schedule.activities]
    lefts = [min(left for left, _ in work(row)) for row in rows]
    scale = (lefts[-1] - lefts[0]) / (moments[-1] - moments[0])
    assert scale > 0
    for moment, left in zip(moments, lefts, strict=True):
        assert left == pytest.approx(lefts[0] + (moment - moments[0]) * scale, abs=0.01)


def test_what_has_no_float_is_black_and_bold() -> None:
    document = case("studio")
    svg = drawn(document)
    bold = [one.text for one in svg.iter(f"{SVG}text") if one.get("font-weight") == "bold"]
    for row, one in zip(groups(svg, "activity"), document.schedule.activities, strict=True):
        assert bool(bars(row, BLACK)) == one.critical
        assert any((text or "").rstrip("\u2026") in one.name for text in bold if text) or (
            not one.critical
        )


def test_kinds_of_time_are_told_apart_by_hatch_or_line() -> None:
    svg = drawn(case("studio"))
    patterns = {
        one.get("id"): "".join(path.get("d", "") for path in one)
        for one in svg.iter(f"{SVG}pattern")
    }
    assert len(set(patterns.values())) == len(patterns) == 3
    used = set(re.findall(r"url\(#(\w+)\)", schedule_chart(case("studio"))))
    assert used == set(patterns)
    colours = set(re.findall(r"#[0-9a-f]{3}(?:[0-9a-f]{3})?\b", schedule_chart(case("studio"))))
    assert all(len(set(one[1:])) == 1 for one in colours), "greys alone"


def test_the_critical_path_is_an_arrow_from_each_to_the_next() -> None:
    document = case("three weeks")
    (group,) = groups(drawn(document), "critical-path")
    assert len(group) == 2 * (len(document.schedule.critical_path) - 1)


def test_cure_lasts_until_the_next_coat_may_come() -> None:
    document = case("studio")
    schedule = document.schedule
    rows = dict(
        zip(
            [one.activity for one in schedule.activities],
            groups(drawn(document), "activity"),
            strict=True,
        )
    )
    coat = schedule.coats[0]
    (hatched,) = bars(rows[f"coat:{coat.layer}"], "url(#rest)")
    (placed,) = work(rows[f"coat:{coat.layer}"])
    finish = next(one for one in schedule.activities if one.activity == f"coat:{coat.layer}")
    per_second = placed[1] / (finish.finish - finish.start).total_seconds()
    cure = (coat.recoat_from - finish.finish).total_seconds()
    assert hatched[1] == pytest.approx(cure * per_second, rel=0.01)


def test_days_and_dates_stand_on_top() -> None:
    found = texts(drawn(case("three days")))
    schedule = case("three days").schedule
    for offset in range((schedule.last_day - schedule.first_day).days + 1):
        day = schedule.first_day + timedelta(offset)
        assert str(day.day) in found
        assert f"{day:%a}" in found
    assert f"{schedule.first_day:%b %Y}" in found


def test_weeks_have_each_day_and_its_number() -> None:
    found = texts(drawn(case("three weeks")))
    assert found.count("Mon") >= 3
    assert {"15", "22", "29"} <= set(found)


def test_an_opening_beyond_the_chart_is_dated_all_the_same() -> None:
    document = case("studio")
    rows = groups(drawn(document), "opening")
    assert len(rows) == 3
    moment = document.schedule.full_cure_at + timedelta(seconds=59, microseconds=999_000)
    assert f"{moment:%a} {moment.day} {moment:%b %H:%M}" in texts(drawn(document))
    assert rows[-1].find(f"{SVG}path") is not None


def test_long_work_is_lettered_by_what_there_is_room_for() -> None:
    months = texts(drawn(case("one day a week")))
    assert {"Jul 2026", "Aug 2026"} <= set(months)
    assert "15" in months, "a Monday"
    assert "18" not in months, "never a Monday"
    years = texts(drawn(case("over the years")))
    assert {"2027", "2028"} <= set(years)
    assert not {"Jul", "Jul 2027"} & set(years)


def test_hours_out_of_the_shift_are_marked_and_whole_days_on_a_long_chart() -> None:
    def closed(name: str) -> int:
        (path,) = [
            one for one in drawn(case(name)).iter(f"{SVG}path") if one.get("class") == "closed"
        ]
        return path.get("d", "").count("M")

    days = case("three days").schedule
    assert closed("three days") > (days.last_day - days.first_day).days
    assert closed("one day a week") > 20


def test_a_calendar_that_closes_for_good_after_the_work_is_drawn() -> None:
    closed = mondays(date(2026, 8, 10), 530)
    calendar = {"working_days": ["mon"], "closed_dates": closed}
    document = planned(CASES["three days"]["site"], system="harbour-thin-film", calendar=calendar)
    assert groups(drawn(document), "activity")


def test_the_same_document_is_the_same_drawing() -> None:
    assert schedule_chart(case("studio")) == schedule_chart(planned())


def test_the_section_of_a_coat_is_not_cut_off() -> None:
    document = case("in sections")
    found = texts(drawn(document))
    names = [one.name for one in document.schedule.activities if "section" in one.name]
    assert names
    assert set(names) <= set(found)


def test_rows_do_not_touch() -> None:
    rows = groups(drawn(case("studio")), "activity")
    tops = [min(float(one.get("y", "")) for one in row.iter(f"{SVG}rect")) for row in rows]
    assert all(after - before > 3.0 for before, after in pairwise(tops))
