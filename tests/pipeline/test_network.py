from itertools import pairwise

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from filmbuild.pipeline.network import (
    Activity,
    CycleError,
    Link,
    NetworkError,
    critical_path_dates,
)


@st.composite
def networks(draw: st.DrawFn) -> tuple[list[Activity], list[Link]]:
    """Activities in a shuffled order, with links along a hidden one."""
    count = draw(st.integers(1, 12))
    durations = draw(st.lists(st.integers(0, 20), min_size=count, max_size=count))
    pairs = [(before, after) for after in range(count) for before in range(after)]
    chosen = draw(st.lists(st.sampled_from(pairs), max_size=25)) if pairs else []
    links = [Link(f"t{before}", f"t{after}", draw(st.integers(0, 9))) for before, after in chosen]
    activities = [Activity(f"t{place}", duration) for place, duration in enumerate(durations)]
    return draw(st.permutations(activities)), links


def longest_path(activities: list[Activity], links: list[Link]) -> float:
    """Finish by networkx: activities are arcs between their start and finish events."""
    events = nx.MultiDiGraph()
    for activity in activities:
        events.add_edge((activity.id, "start"), (activity.id, "finish"), weight=activity.duration)
    for link in links:
        events.add_edge(
            (link.predecessor, "finish"), (link.successor, "start"), weight=link.minimum_lag
        )
    return float(nx.dag_longest_path_length(events, weight="weight"))


def test_a_textbook_network_of_nine_activities() -> None:
    # Hendrickson, Project Management for Construction, table 10-2 and section 10.3: durations,
    # event times 0, 4, 12, 21, 24, 30 and critical path A-C-E-G-I or A-C-F-I of 30.
    durations = {"A": 4, "B": 3, "C": 8, "D": 7, "E": 9, "F": 12, "G": 2, "H": 5, "I": 6}
    before = {"C": "A", "D": "A", "E": "BC", "F": "BC", "G": "DE", "H": "DE", "I": "FG"}
    result = critical_path_dates(
        [Activity(name, duration) for name, duration in durations.items()],
        [Link(name, after) for after, names in before.items() for name in names],
    )
    found = {
        dates.id: (
            dates.earliest_start,
            dates.earliest_finish,
            dates.latest_start,
            dates.latest_finish,
            dates.total_float,
            dates.free_float,
        )
        for dates in result.activities
    }
    # Dates and floats by the forward and backward pass of the same section.
    assert found == {
        "A": (0, 4, 0, 4, 0, 0),
        "B": (0, 3, 9, 12, 9, 9),
        "C": (4, 12, 4, 12, 0, 0),
        "D": (4, 11, 15, 22, 11, 10),
        "E": (12, 21, 13, 22, 1, 0),
        "F": (12, 24, 12, 24, 0, 0),
        "G": (21, 23, 22, 24, 1, 1),
        "H": (21, 26, 25, 30, 4, 4),
        "I": (24, 30, 24, 30, 0, 0),
    }
    assert result.finish == 30
    assert result.critical_path == ("A", "C", "F", "I")
    assert [dates.id for dates in result.activities if dates.critical] == ["A", "C", "F", "I"]


def test_a_textbook_network_of_six_activities() -> None:
    # Texas A&M CVEN 349, lecture 14: earliest starts and finishes.
    durations = {"1": 2, "2": 4, "3": 6, "4": 5, "5": 2, "6": 8}
    links = [("1", "2"), ("2", "3"), ("1", "4"), ("2", "5"), ("4", "5"), ("3", "6"), ("5", "6")]
    result = critical_path_dates(
        [Activity(name, duration) for name, duration in durations.items()],
        [Link(*pair) for pair in links],
    )
    earliest = [(dates.earliest_start, dates.earliest_finish) for dates in result.activities]
    assert earliest == [(0, 2), (2, 6), (6, 12), (2, 7), (7, 9), (12, 20)]
    assert result.finish == 20
    # Floats by the backward pass from 20.
    floats = {dates.id: dates.total_float for dates in result.activities}
    assert floats == {"1": 0, "2": 0, "3": 0, "4": 3, "5": 3, "6": 0}


@given(networks())
def test_the_finish_is_the_longest_path(network: tuple[list[Activity], list[Link]]) -> None:
    activities, links = network
    result = critical_path_dates(activities, links)
    assert result.finish == longest_path(activities, links)


@given(networks())
def test_total_float_is_exactly_what_an_activity_may_slip(
    network: tuple[list[Activity], list[Link]],
) -> None:
    activities, links = network
    result = critical_path_dates(activities, links)
    for dates in result.activities:
        for delay, finish in [
            (dates.total_float, result.finish),
            (dates.total_float + 1, result.finish + 1),
        ]:
            slipped = [
                Activity(each.id, each.duration + (delay if each.id == dates.id else 0))
                for each in activities
            ]
            assert longest_path(slipped, links) == finish
        assert 0 <= dates.free_float <= dates.total_float
        assert dates.critical is (dates.total_float == 0)


@given(networks())
def test_the_critical_path_is_unbroken_and_as_long_as_the_project(
    network: tuple[list[Activity], list[Link]],
) -> None:
    activities, links = network
    result = critical_path_dates(activities, links)
    dates = {each.id: each for each in result.activities}
    path = result.critical_path
    assert all(dates[name].critical for name in path)
    assert dates[path[0]].earliest_start == 0
    assert dates[path[-1]].earliest_finish == result.finish
    for before, after in pairwise(path):
        lag = max(
            link.minimum_lag
            for link in links
            if (link.predecessor, link.successor) == (before, after)
        )
        assert dates[before].earliest_finish + lag == dates[after].earliest_start


@given(networks(), st.data())
def test_more_lag_never_finishes_earlier(
    network: tuple[list[Activity], list[Link]], data: st.DataObject
) -> None:
    activities, links = network
    if not links:
        return
    chosen = data.draw(st.integers(0, len(links) - 1))
    longer = list(links)
    longer[chosen] = Link(
        links[chosen].predecessor, links[chosen].successor, links[chosen].minimum_lag + 5
    )
    before, after = (critical_path_dates(activities, each).finish for each in (links, longer))
    assert before <= after <= before + 5


def test_a_broken_maximum_lag_is_reported_and_nothing_moves() -> None:
    # A second coat waits for the slower room; the first coat's recoat window closes meanwhile.
    activities = [Activity("coat-1", 2), Activity("other-room", 9), Activity("coat-2", 2)]
    links = [Link("coat-1", "coat-2", 1, 4), Link("other-room", "coat-2", 0, 8)]
    result = critical_path_dates(activities, links)
    assert [dates.earliest_start for dates in result.activities] == [0, 0, 9]
    (violation,) = result.violations
    assert (violation.predecessor, violation.successor) == ("coat-1", "coat-2")
    assert (violation.limit, violation.actual) == (4, 7)


@pytest.mark.parametrize(
    ("pairs", "members"),
    [
        ([("b", "c"), ("c", "d"), ("d", "b"), ("a", "b"), ("d", "e")], ("b", "c", "d")),
        ([("e", "e")], ("e",)),
        ([("a", "b"), ("b", "a"), ("b", "c"), ("c", "d")], ("a", "b")),
    ],
)
def test_a_cycle_is_reported_with_its_members_in_order(
    pairs: list[tuple[str, str]], members: tuple[str, ...]
) -> None:
    activities = [Activity(name, 1) for name in "abcde"]
    with pytest.raises(CycleError) as refused:
        critical_path_dates(activities, [Link(*pair) for pair in pairs])
    assert refused.value.members == members


def test_every_fault_of_a_network_is_reported_at_once() -> None:
    with pytest.raises(NetworkError) as refused:
        critical_path_dates(
            [Activity("a", 1), Activity("a", 2), Activity("b", 2)],
            [Link("a", "x"), Link("y", "b"), Link("a", "b", 3, 2)],
        )
    assert refused.value.faults == (
        "activity a is named more than once",
        "a link names activity x, which is not in the network",
        "a link names activity y, which is not in the network",
        "the link a -> b allows at most 2 and at least 3",
    )


def test_a_network_of_nothing_takes_no_time() -> None:
    result = critical_path_dates([], [])
    assert (result.finish, result.activities, result.critical_path) == (0, (), ())
