"""The schedule as comma-separated values."""

import csv
import io
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from timeline_cases import CASES, case

from filmbuild.pipeline.timeline import schedule_table

FORMAT = "%Y-%m-%d %H:%M:%S"


def lines(name: str) -> list[dict[str, str]]:
    text = schedule_table(case(name))
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


@pytest.mark.parametrize("name", CASES)
def test_each_activity_has_its_line_in_order(name: str) -> None:
    schedule = case(name).schedule
    zone = schedule.time_zone
    work = [one for one in lines(name) if one["kind"] == "work"]
    assert [one["activity"] for one in work] == [one.activity for one in schedule.activities]
    for line, one in zip(work, schedule.activities, strict=True):
        start = datetime.strptime(line["start [UTC]"], FORMAT).replace(tzinfo=UTC)
        finish = datetime.strptime(line["finish [UTC]"], FORMAT).replace(tzinfo=UTC)
        assert abs(start - one.start) <= timedelta(seconds=1)
        assert abs(finish - one.finish) <= timedelta(seconds=1)
        assert line[f"start [{zone}]"] == start.astimezone(ZoneInfo(zone)).strftime(FORMAT)
        assert float(line["float [h]"]) == pytest.approx(one.float_time / 3600, abs=1e-4)
        assert line["critical"] == ("yes" if one.critical else "no")
        assert line["on critical path"] == (
            "yes" if one.activity in schedule.critical_path else "no"
        )
        assert line["bound by"] == one.bound_by


def test_what_the_site_is_closed_to_comes_last() -> None:
    closed = lines("studio")[-3:]
    assert [one["activity"] for one in closed] == ["foot", "vehicles", "cured"]
    opens = datetime.strptime(closed[0]["finish [UTC]"], FORMAT).replace(tzinfo=UTC)
    early = opens - case("studio").schedule.foot_traffic_from
    assert timedelta(0) <= early < timedelta(seconds=1)


def test_cure_and_drying_have_lines_of_their_own() -> None:
    kinds = {one["kind"] for one in lines("studio")}
    assert kinds == {"work", "cure", "drying", "closed"}
