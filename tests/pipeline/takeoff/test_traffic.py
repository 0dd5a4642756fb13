"""The crew's way: a simulated crew and networkx judge every order; small sites by hand."""

from typing import Any

import networkx as nx
import pytest
from doorway_cases import Measured, doorway, faults_of, room
from hypothesis import given, settings
from hypothesis import strategies as st

from filmbuild.errors import InvalidInput
from filmbuild.pipeline.takeoff.order import Floors, placing_order


def walks_off(graph: "nx.Graph[int]", exits: set[int], ranks: list[int]) -> bool:
    """Whether a crew that places areas in this order can leave after each, over dry floor."""
    wet: set[int] = set()
    for area in sorted(graph, key=lambda one: ranks[one]):
        dry = graph.subgraph(set(graph) - wet)
        if not any(nx.has_path(dry, area, out) for out in exits - wet):
            return False
        wet.add(area)
    return True


@st.composite
def floors(draw: st.DrawFn) -> tuple["nx.Graph[int]", set[int], list[list[int]]]:
    count = draw(st.integers(1, 9))
    numbers = st.integers(0, count - 1)
    pairs = draw(st.sets(st.tuples(numbers, numbers).filter(lambda pair: pair[0] < pair[1])))
    graph = nx.Graph(pairs)
    graph.add_nodes_from(range(count))
    exits = draw(st.sets(numbers))
    before: list[list[int]] = [[] for _ in range(count)]
    for first, second in draw(st.sets(st.tuples(numbers, numbers), max_size=4)):
        if first != second:
            before[first].append(second)
    return graph, exits, before


def asked(graph: "nx.Graph[int]", exits: set[int], before: list[list[int]] | None = None) -> Floors:
    neighbours = [list(graph[area]) for area in range(len(graph))]
    return Floors(
        neighbours, [area in exits for area in range(len(graph))], before or [[]] * len(graph)
    )


@given(floors())
@settings(max_examples=200, deadline=None)
def test_the_crew_always_finds_a_dry_way_out(
    drawn: tuple["nx.Graph[int]", set[int], list[list[int]]],
) -> None:
    graph, exits, _ = drawn
    order = placing_order(asked(graph, exits))
    assert sorted(order.ranks) == list(range(1, len(graph) + 1))
    assert walks_off(graph, exits | set(order.doors), order.ranks)
    reachable = {area for out in exits for area in nx.node_connected_component(graph, out)}
    # A door is taken for granted once in each part of the site that has no exit, nowhere else.
    parts = [part for part in nx.connected_components(graph) if not part & reachable]
    assert sorted(len(part & set(order.doors)) for part in parts) == [1] * len(parts)
    assert not reachable & set(order.doors)
    if exits:
        farthest_first = sorted(reachable, key=lambda area: order.ranks[area])
        lengths = nx.multi_source_dijkstra_path_length(graph, exits, weight=None)
        crossings = [lengths[area] for area in farthest_first]
        assert crossings == sorted(crossings, reverse=True)


@given(floors())
@settings(max_examples=200, deadline=None)
def test_what_is_to_be_placed_before_is_or_no_order_exists(
    drawn: tuple["nx.Graph[int]", set[int], list[list[int]]],
) -> None:
    graph, exits, before = drawn
    later = nx.DiGraph([(area, other) for area, own in enumerate(before) for other in own])
    if not nx.is_directed_acyclic_graph(later):
        return
    order = placing_order(asked(graph, exits, before))
    reachable = {area for out in exits for area in nx.node_connected_component(graph, out)}
    if all(order.ranks):
        assert sorted(order.ranks) == list(range(1, len(graph) + 1))
        assert walks_off(graph, exits | set(order.doors), order.ranks)
        assert all(order.ranks[one] < order.ranks[two] for one, two in later.edges)
        assert not reachable & set(order.doors)
        return
    # By search over all orders, with a door wherever no exit can be reached.
    doors = exits | (set(graph) - reachable)
    assert not some_order(graph, doors, later, frozenset())


def some_order(
    graph: "nx.Graph[int]", exits: set[int], later: "nx.DiGraph[int]", wet: frozenset[int]
) -> bool:
    seen: set[frozenset[int]] = set()

    def search(wet: frozenset[int]) -> bool:
        if len(wet) == len(graph):
            return True
        if wet in seen:
            return False
        seen.add(wet)
        dry = graph.subgraph(set(graph) - wet)
        for area in dry:
            waits = area in later and not set(later.predecessors(area)) <= wet
            if waits or not any(nx.has_path(dry, area, out) for out in exits - wet):
                continue
            if search(wet | {area}):
                return True
        return False

    return search(wet)


def ring(*exits: int, **of_third: Any) -> Measured:
    """Six rooms in a ring, each with a doorway into the next."""
    areas = []
    for number in range(6):
        doors = [doorway(1, to=f"r{(number + 1) % 6}", door=True)]
        if number in exits:
            doors.append(doorway(3, exit=True, door=True))
        more = of_third if number == 3 else {}
        areas.append(room(f"r{number}", "5 m", "4 m", doorways=doors, **more))
    return Measured(*areas)


def test_a_ring_of_rooms_is_coated_from_both_sides_towards_the_exit() -> None:
    found = ring(0)
    # From the exit in r0: r1 and r5 are one doorway away, r2 and r4 two, r3 three.
    assert found.order == ["r3", "r2", "r4", "r1", "r5", "r0"]
    assert (
        found.reasons["r3"] == "left by doorway D4 into r2, then through 2 more areas to the exit"
    )
    assert found.reasons["r5"] == "left by doorway D7 into r0, then the exit"
    assert len(found.takeoff.doorways) == 7
    assert "no-exit" not in found.noted


def test_a_ring_with_two_exits_ends_at_both() -> None:
    found = ring(0, 2)
    assert found.order == ["r4", "r1", "r3", "r5", "r0", "r2"]


def test_a_room_with_two_exits_is_left_by_the_first_given() -> None:
    doors = [doorway(0, exit=True, door=True, id="yard"), doorway(2, exit=True, door=True)]
    found = Measured(room("hall", "9 m", "7 m", "0 m", doorways=doors))
    assert found.reasons == {"hall": "left by doorway yard, an exit"}
    assert found.area("hall").exits_through == "doorway yard"
    assert found.area("hall").wall_length == pytest.approx(32 - 1.8)
    traffic = found.takeoff.traffic
    assert traffic is not None
    (step,) = traffic.steps
    assert step.ends_at is not None
    assert step.starts_at is not None
    # Out at (0.45, 0); the far corner is the one opposite.
    assert (step.ends_at.x, step.ends_at.y) == pytest.approx((0.45, 0))
    assert (step.starts_at.x, step.starts_at.y) == pytest.approx((9, 7))


def test_a_constraint_that_can_be_kept_is() -> None:
    # r3 before r4: r3 is as far from the exit anyway.
    found = ring(0, place_before=["r4"])
    assert found.order.index("r3") < found.order.index("r4")
    areas = [
        room(f"c{number}", "5 m", "4 m", doorways=[doorway(1, to=f"c{number + 1}", door=True)])
        for number in range(2)
    ]
    areas[0]["place_before"] = ["side"]
    side = room("side", "5 m", "4 m", doorways=[doorway(0, to="c2", door=True)])
    last = room("c2", "5 m", "4 m", doorways=[doorway(2, exit=True, door=True)])
    assert Measured(*areas, last, side).order == ["c0", "c1", "side", "c2"]


def test_an_impossible_order_is_refused_with_what_would_free_it() -> None:
    corridor = room(
        "corridor",
        "8 m",
        "2 m",
        doorways=[doorway(0, to="store"), doorway(3, exit=True, door=True)],
        place_before=["store"],
    )
    store = room("store", "4 m", "3 m")
    assert faults_of(corridor, store) == {"/areas/0/place_before/0": "order-impossible"}
    with pytest.raises(InvalidInput, match="give store an exit") as caught:
        Measured(corridor, store)
    assert "let store be coated before corridor" in str(caught.value)
    yard = {**store, "doorways": [doorway(2, exit=True, door=True)]}
    assert Measured(corridor, yard).order == ["corridor", "store"]


@pytest.mark.parametrize(
    ("before", "expected"),
    [
        ((["b"], ["a"]), {"/areas/0/place_before/0": "order-in-a-circle"}),
        ((["x"], []), {"/areas/0/place_before/0": "unknown-area"}),
        ((["a"], []), {"/areas/0/place_before/0": "unknown-area"}),
    ],
)
def test_constraints_that_make_no_sense_are_refused(
    before: tuple[list[str], list[str]], expected: dict[str, str]
) -> None:
    first, second = before
    assert (
        faults_of(
            room("a", "5 m", "4 m", place_before=first),
            room("b", "5 m", "4 m", place_before=second),
        )
        == expected
    )


def test_what_has_no_way_out_is_said() -> None:
    alone = Measured(room("a", "5 m", "4 m"), room("b", "5 m", "4 m"))
    assert alone.noted == {"no-exit"}
    assert alone.order == ["a", "b"]
    assert alone.takeoff.traffic is None
    out = room("c", "5 m", "4 m", doorways=[doorway(0, exit=True, door=True)])
    found = Measured(room("a", "5 m", "4 m"), out)
    assert found.noted == {"no-way-to-exit"}
    assert "from a," in found.notes[0].detail
    assert found.reasons["a"] == "no way to an exit is given: taken to have a door of its own"


def test_a_floor_cut_in_strips_ends_at_the_exit() -> None:
    strips = [room(f"s{number}", "4 m", "9 m", f"{4 * number} m") for number in range(5)]
    strips[1]["edges"] = [{"side": 0, "kind": "open", "length": "2 m", "exit": True}]
    joins = [{"between": [f"s{number}", f"s{number + 1}"]} for number in range(4)]
    found = Measured(*strips, joins=joins)
    assert found.order == ["s4", "s3", "s0", "s2", "s1"]
    assert found.reasons["s1"] == "left by side 0, an exit"
    assert found.reasons["s2"] == "left by the floor they share into s1, then the exit"
