"""Two tasks at once: each with people and machines of its own, and only where that is sooner."""

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from labour_cases import HOUR, PRODUCTIONS, Case, area_rate, replaced

from filmbuild.pipeline.results import Labour
from filmbuild.pipeline.specification import Production
from filmbuild.quantities import Duration


def hand_grind(**given: object) -> Production:
    one = next(one for one in PRODUCTIONS if one.task == "hand_grind")
    return msgspec.structs.replace(one, beside=("machine_grind",), **given)


def both(**given: object) -> Case:
    return Case(productions=replaced(PRODUCTIONS, hand_grind(**given)))


def grinding(labour: Labour) -> dict[str, tuple[float, int]]:
    return {
        one.code: (one.duration / HOUR, one.workers)
        for one in labour.tasks
        if one.code in ("machine_grind", "hand_grind")
    }


def test_edges_are_ground_by_hand_beside_the_machine() -> None:
    """90 m2 at 30 m2/h and half an hour are 3.5 h of one; 10 m2 at 5 m2/h are 2 h of the other."""
    labour = both().labour()
    assert grinding(labour) == {"machine_grind": (3.5, 1), "hand_grind": (2.0, 1)}
    activity = next(one for one in labour.activities if one.side_by_side)
    assert activity.id == "machine_grind+hand_grind"
    assert activity.duration / HOUR == pytest.approx(3.5)
    tasks = {one.code: one for one in labour.tasks}
    assert tasks["hand_grind"].beside == ("machine_grind",)
    assert tasks["machine_grind"].beside == ("hand_grind",)


def test_what_follows_waits_for_both() -> None:
    activities = {one.id: one for one in both().labour().activities}
    assert activities["vacuum"].after == ("machine_grind+hand_grind",)


def test_a_rate_book_that_says_nothing_lets_nothing_go_beside() -> None:
    assert not any(one.side_by_side for one in Case().labour().activities)


def test_a_machine_is_not_in_two_places() -> None:
    labour = both(equipment=("extractor",)).labour()
    assert not any(one.side_by_side for one in labour.activities)


def test_one_person_does_one_after_the_other() -> None:
    case = both()
    productions = tuple(msgspec.structs.replace(one, workers=1) for one in case.productions)
    labour = case.but(productions=productions).people(1).labour()
    assert not any(one.side_by_side for one in labour.activities)


def test_it_is_not_done_where_all_hands_at_one_after_the_other_are_sooner() -> None:
    """90 m2 at 3,600 m2/h and then 1 h of two at the edges, where one alone takes 2 h."""
    ground = next(one for one in PRODUCTIONS if one.task == "machine_grind")
    quick = msgspec.structs.replace(ground, set_up=Duration(0.0), area_rate=area_rate(3_600))
    case = both()
    labour = case.but(productions=replaced(case.productions, quick)).labour()
    assert not any(one.side_by_side for one in labour.activities)


@given(st.integers(2, 9))
def test_more_people_are_never_later_and_never_more_than_there_are(people: int) -> None:
    few, more = both().people(people).labour(), both().people(people + 1).labour()
    assert sum(one.duration for one in more.activities) <= sum(
        one.duration for one in few.activities
    )
    beside = [one.workers for one in few.tasks if one.beside]
    assert sum(beside) <= people


def test_dated_days_count_the_people_of_both() -> None:
    schedule = both().people(3).schedule()
    together = [day for day in schedule.days if "machine_grind+hand_grind" in day.activities]
    assert together
    assert {day.people for day in together} >= {3}
