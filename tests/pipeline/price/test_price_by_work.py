"""What each kind of work costs, and what the price comes to by area and by running length."""

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from offer_cases import STUDIO, asked, estimated, summed

from filmbuild.pipeline.results import EstimateDocument


def of(document: EstimateDocument) -> dict[str, Decimal]:
    return {one.work: one.cost.amount for one in document.price.shares if one.item is None}


def hall(**work: Any) -> dict[str, Any]:
    outline = {"kind": "rectangle", "length": "9 m", "width": "6 m"}
    return {"name": "Hall", "areas": [{"id": "hall", "outline": outline, **work}]}


BARE = hall()
WALLS = hall(base_walls=[{"height": "150 mm"}])
CRACKS = hall(cracks=[{"length": "9 m", "width": "6 mm", "depth": "12 mm"}])
JOINTS = hall(joints=[{"length": "6 m", "width": "8 mm", "depth": "20 mm"}])


def test_shares_add_up_to_the_cost_and_to_the_price_by_the_terms() -> None:
    price = estimated(asked()).price
    assert price.by_terms is not None
    assert summed(one.cost.amount for one in price.shares) == price.direct_cost.amount
    assert summed(one.by_terms.amount for one in price.shares) == price.by_terms.amount


@pytest.mark.parametrize(
    ("site", "works"),
    [
        (BARE, {"floor", "preparation"}),
        (WALLS, {"floor", "preparation", "verticals"}),
        (CRACKS, {"floor", "preparation", "repairs"}),
        (JOINTS, {"floor", "preparation", "joints", "repairs"}),
    ],
)
def test_a_kind_of_work_that_is_not_there_costs_nothing(
    site: dict[str, Any], works: set[str]
) -> None:
    """Filled joints are ground flush with the repairs."""
    assert set(of(estimated(asked(site=site)))) == works


def test_a_floor_without_linear_work_has_no_price_by_running_length() -> None:
    price = estimated(asked(site=BARE)).price
    assert (price.running, price.per_running_metre, price.per_running_foot) == (0.0, None, None)
    whole = price.net.amount / Decimal(54)
    assert price.per_square_metre.amount == pytest.approx(whole, abs=Decimal("0.005"))


def test_base_walls_are_told_by_their_run() -> None:
    """Two walls of 9 m and two of 6 m; a metre of them is dearer the higher they are."""
    price = estimated(asked(site=WALLS)).price
    assert price.running == pytest.approx(30.0)
    assert price.per_running_metre is not None
    assert price.per_running_foot is not None
    per_foot = float(price.per_running_metre.amount) * 0.3048
    assert float(price.per_running_foot.amount) == pytest.approx(per_foot, abs=0.01)
    higher = estimated(asked(site=hall(base_walls=[{"height": "300 mm"}]))).price
    assert higher.per_running_metre is not None
    assert higher.per_running_metre.amount > price.per_running_metre.amount


def test_both_rates_together_make_up_the_net_price() -> None:
    document = estimated(asked())
    price = document.price
    assert price.per_running_metre is not None
    floor = price.per_square_metre.amount * Decimal(document.takeoff.totals.floor)
    linear = price.per_running_metre.amount * Decimal(price.running)
    # each rate is rounded to a cent: half of one on 100 m2 and on 64.8 m
    assert floor + linear == pytest.approx(price.net.amount, abs=Decimal("0.83"))


def test_running_length_is_by_the_run_of_each_kind_of_linear_work() -> None:
    """A curb of 2 m, a flight of 4 risers 1.2 m wide, 30 m of cove, 6 m of joint: 42.8 m."""
    site = hall(
        curbs=[{"length": "2 m", "height": "100 mm", "width": "100 mm"}],
        steps=[{"risers": 4, "width": "1.2 m", "rise": "170 mm"}],
        coves=[{"radius": "25 mm"}],
        joints=[{"length": "6 m", "width": "8 mm", "depth": "20 mm"}],
    )
    document = estimated(asked(site=site))
    assert document.takeoff.totals.running_length == pytest.approx(36.8)
    assert document.price.running == pytest.approx(42.8)


def test_labour_alone_goes_by_the_hours_of_its_tasks() -> None:
    """With materials from stock and no machines, verticals bear their share of the hours."""
    document = estimated(asked(site=WALLS))
    hours: dict[str, float] = {}
    for task in document.labour.tasks:
        hours[task.code] = hours.get(task.code, 0.0) + task.labour
    assert hours["place_vertical"] > 0
    share = of(document)["verticals"] / document.price.direct_cost.amount
    own = hours["place_vertical"] / sum(hours.values())
    assert 0 < share < 1
    assert own < 0.5


@given(
    length=st.floats(3, 20),
    growth=st.floats(0, 10),
    height=st.sampled_from(["100 mm", "200 mm"]),
)
@settings(max_examples=15, deadline=None)
def test_more_floor_never_takes_less_material(length: float, growth: float, height: str) -> None:
    def bought(size: float) -> Decimal:
        outline = {"kind": "rectangle", "length": f"{size:.3f} m", "width": "6 m"}
        area = {"id": "hall", "outline": outline, "base_walls": [{"height": height}]}
        price = estimated(asked(site={"areas": [area]})).price
        assert summed(one.cost.amount for one in price.shares) == price.direct_cost.amount
        return summed(line.amount.amount for line in price.lines if line.group == "materials")

    assert bought(length + growth) >= bought(length)


def test_the_order_of_the_rooms_moves_no_share() -> None:
    areas = STUDIO["site"]["areas"]
    turned = {**STUDIO["site"], "areas": areas[::-1]}
    one, other = estimated(asked()).price, estimated(asked(site=turned)).price
    assert {(each.work, each.by_terms) for each in one.shares} == {
        (each.work, each.by_terms) for each in other.shares
    }
    assert (one.per_running_foot, one.per_square_foot) == (
        other.per_running_foot,
        other.per_square_foot,
    )
