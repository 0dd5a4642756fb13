"""Laws that hold for whatever is measured beside the plain floor."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from takeoff_cases import FOOT, measured, rectangle

from filmbuild.pipeline.results import Totals

KINDS: dict[str, dict[str, Any]] = {
    "base_walls": {"height": "LENGTH", "side": 1},
    "steps": {
        "risers": 3,
        "width": "LENGTH",
        "rise": "170 mm",
        "going": "280 mm",
        "treads": "added",
        "open_sides": 2,
    },
    "coves": {"radius": "25 mm", "height": "LENGTH"},
    "curbs": {"length": "LENGTH", "height": "LENGTH", "width": "100 mm"},
    "slopes": {"rise": "LENGTH", "run": "30 m", "plan_area": "3 m2"},
    "pits": {"width": "LENGTH", "depth": "LENGTH"},
    "cracks": {"length": "LENGTH", "width": "5 mm", "depth": "10 mm"},
    "spalls": {"area": "1 m2", "depth": "LENGTH"},
    "fills": {"area": "1 m2", "depth": "LENGTH"},
    "joints": {"length": "LENGTH", "width": "10 mm", "depth": "20 mm"},
    "openings": {"width": "LENGTH", "height": "LENGTH"},
    "covers": {"width": "LENGTH", "length": "LENGTH"},
    "existing_coatings": {"area": "1 m2", "thickness": "1 mm"},
    "collars": {"diameter": "LENGTH", "height": "LENGTH"},
    "drains": {"width": "LENGTH"},
}
TAKE_FLOOR = {"collars", "drains"}
OF_FLOOR = {"floor", "machine_grind", "field", "hand_grind", "cut_in"}


def worked(kind: str, length: str) -> dict[str, Any]:
    filled = {field: length if value == "LENGTH" else value for field, value in KINDS[kind].items()}
    return {kind: [filled]}


def several(kind: str, *works: dict[str, Any]) -> dict[str, Any]:
    return {kind: list(works)}


def values(totals: Totals) -> dict[str, float]:
    return {
        field: value
        for field in totals.__struct_fields__
        if isinstance(value := getattr(totals, field), float)
    }


@pytest.mark.parametrize("kind", KINDS)
@given(size=st.integers(26, 1000))
@settings(max_examples=15, deadline=None)
def test_more_work_is_never_less_of_anything(kind: str, size: int) -> None:
    before = values(measured(rectangle()).totals)
    after = values(measured(rectangle(**worked(kind, f"{size} mm"))).totals)
    given_up = OF_FLOOR if kind in TAKE_FLOOR else {"machine_grind", "field"} & OF_FLOOR
    lowered = {field for field in before if after[field] < before[field] - 1e-9}
    assert lowered <= given_up
    assert any(after[field] > before[field] for field in before)


@pytest.mark.parametrize("kind", KINDS)
@given(inches=st.integers(2, 39))
@settings(max_examples=10, deadline=None)
def test_feet_and_inches_or_metres_move_no_total(kind: str, inches: int) -> None:
    feet, rest = divmod(inches, 12)
    in_feet = values(measured(rectangle(**worked(kind, f"{feet} ft {rest} in"))).totals)
    in_metres = values(measured(rectangle(**worked(kind, f"{inches / 12 * FOOT:.12f} m"))).totals)
    assert in_feet == pytest.approx(in_metres, rel=1e-9)


@given(order=st.permutations(list(KINDS)), turn=st.booleans())
@settings(max_examples=20, deadline=None)
def test_the_order_of_the_work_moves_no_total(order: list[str], turn: bool) -> None:
    def area(kinds: list[str]) -> dict[str, Any]:
        both: dict[str, Any] = {}
        for kind in kinds:
            (small,), (large,) = worked(kind, "30 mm")[kind], worked(kind, "70 mm")[kind]
            both[kind] = [large, small] if turn else [small, large]
        return rectangle(**both)

    plain: dict[str, Any] = {
        kind: [worked(kind, "30 mm")[kind][0], worked(kind, "70 mm")[kind][0]] for kind in KINDS
    }
    expected = values(measured(rectangle(**plain)).totals)
    assert values(measured(area(order)).totals) == pytest.approx(expected, rel=1e-12)


@given(count=st.integers(1, 20), size=st.integers(30, 200))
@settings(max_examples=20, deadline=None)
def test_so_many_at_once_are_so_many_listed(count: int, size: int) -> None:
    for kind in ("drains", "collars", "pits", "covers"):
        (one,) = worked(kind, f"{size} mm")[kind]
        together = values(measured(rectangle(**several(kind, {**one, "count": count}))).totals)
        listed = values(measured(rectangle(**several(kind, *[one] * count))).totals)
        assert together == pytest.approx(listed, rel=1e-12)
