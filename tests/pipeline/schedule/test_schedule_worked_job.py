"""The hall of `labour_cases` on the calendar, worked by hand. It begins on Monday 15 June 2026.

    Mon  8:00 set up 1 h; 9:00 machine grind 3.5; 12:30 hand grind 1; 13:30 vacuum 0.5;
         14:00 chase 1; 15:00 fill 0.5, to be worked on from 16:30
    Tue  8:00 grind repairs 0.5; 8:30 mask 0.5; 9:00 body coat 3, recoat from midnight
    Wed  8:00 abrade 2; 10:00 top coat 3; 13:00 pull tape 0.5; 13:30 demobilise 1, done 14:30
Latest starts, from the end: all of Wednesday as it is. The body coat is due 12 h before Wednesday
8:00, that is by the end of Tuesday's shift: it may start at 13:00, 4 h later, and so may mask and
grind repairs. Filling is due 1 h before grinding repairs at 12:00: it may start on Tuesday at
10:30, which is 1 h of Monday and 2.5 h of Tuesday later.
Top coat from Wednesday 13:00: foot traffic after 24 h, vehicles 72 h, cured 168 h.
"""

from datetime import UTC, datetime

import pytest
from labour_cases import HOUR, Case

from filmbuild.pipeline.results import Schedule, Scheduled
from filmbuild.pipeline.rules.schedule import RULES


@pytest.fixture(scope="module")
def schedule() -> Schedule:
    return Case().schedule()


def june(day: int, hour: int, minute: int = 0) -> datetime:
    return datetime(2026, 6, day, hour, minute, tzinfo=UTC)


def one_of(schedule: Schedule, activity: str) -> Scheduled:
    return next(one for one in schedule.activities if one.activity == activity)


def test_starts_and_finishes(schedule: Schedule) -> None:
    assert {one.activity: (one.start, one.finish) for one in schedule.activities} == {
        "set_up": (june(15, 8), june(15, 9)),
        "machine_grind": (june(15, 9), june(15, 12, 30)),
        "hand_grind": (june(15, 12, 30), june(15, 13, 30)),
        "vacuum": (june(15, 13, 30), june(15, 14)),
        "chase_cracks": (june(15, 14), june(15, 15)),
        "fill_cracks": (june(15, 15), june(15, 15, 30)),
        "grind_repairs": (june(16, 8), june(16, 8, 30)),
        "mask": (june(16, 8, 30), june(16, 9)),
        "coat:body": (june(16, 9), june(16, 12)),
        "abrade:top": (june(17, 8), june(17, 10)),
        "coat:top": (june(17, 10), june(17, 13)),
        "pull_tape": (june(17, 13), june(17, 13, 30)),
        "demobilise": (june(17, 13, 30), june(17, 14, 30)),
    }
    assert (schedule.first_day, schedule.last_day) == (june(15, 0).date(), june(17, 0).date())


def test_latest_starts_and_float(schedule: Schedule) -> None:
    body, filling = one_of(schedule, "coat:body"), one_of(schedule, "fill_cracks")
    assert body.latest_start == june(16, 13)
    assert body.float_time / HOUR == pytest.approx(4.0)
    assert filling.latest_start == june(16, 10, 30)
    assert filling.float_time / HOUR == pytest.approx(3.5)
    critical = [one.activity for one in schedule.activities if one.critical]
    assert critical == ["abrade:top", "coat:top", "pull_tape", "demobilise"]
    assert schedule.critical_path == tuple(one.activity for one in schedule.activities)


def test_what_each_waits_for_is_said_in_words(schedule: Schedule) -> None:
    assert one_of(schedule, "set_up").bound_by == "starts the job"
    assert one_of(schedule, "mask").bound_by == "follows Grind repairs flush"
    assert one_of(schedule, "abrade:top").bound_by == (
        "waits for recoat of body until 2026-06-17 00:00, then for the next shift: 2026-06-17 08:00"
    )


def test_when_the_floor_is_ready(schedule: Schedule) -> None:
    body, top = schedule.coats
    assert (body.recoat_from, body.recoat_until) == (june(17, 0), june(19, 12))
    assert (top.recoat_from, top.recoat_until) == (june(17, 23), None)
    assert body.full_cure == june(23, 12)
    assert schedule.foot_traffic_from == top.foot_traffic == june(18, 13)
    assert schedule.vehicle_traffic_from == top.vehicle_traffic == june(20, 13)
    assert schedule.full_cure_at == top.full_cure == june(24, 13)


def test_the_dew_point_stands_beside_each_coat(schedule: Schedule) -> None:
    """9.3 degC at 20 degC and 50 % (Alduchov and Eskridge 1996, equation for water)."""
    for coat in schedule.coats:
        assert coat.dew_point == pytest.approx(9.26, abs=0.05)
        assert coat.surface_above_dew_point == pytest.approx(20.0 - coat.dew_point)


def test_traces_name_published_rules(schedule: Schedule) -> None:
    used = {one.trace.rule for one in schedule.activities}
    used |= {one.trace.rule for one in schedule.coats}
    assert used <= {rule.id for rule in RULES}
