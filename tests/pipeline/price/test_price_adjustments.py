"""Discounts, the minimum charge, rounding, work bought in, and prices too large to write."""

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from price_cases import crew_costs, priced, refused, tax

from filmbuild.pipeline.results import Price


def steps(price: Price) -> list[tuple[str, str]]:
    return [(one.kind, str(one.amount.amount)) for one in price.adjustments]


def test_discounts_are_taken_off_the_price_before_any_of_them() -> None:
    discounts = [
        {"reason": "Fourth floor this year", "percent": "10"},
        {"reason": "Samples paid for", "amount": "35.50"},
        {"reason": "Winter", "percent": "2.5"},
    ]
    price = priced("1000", markup_percent="20", discounts=discounts)
    assert price.by_terms is not None
    assert price.by_terms.amount == Decimal(1200)
    assert steps(price) == [("discount", "-120.00"), ("discount", "-35.50"), ("discount", "-30.00")]
    assert price.net.amount == Decimal("1014.50")
    assert [one.reason for one in price.adjustments] == [one["reason"] for one in discounts]
    other_way = priced("1000", markup_percent="20", discounts=discounts[::-1])
    assert other_way.net == price.net
    # 14.50 gained on a cost of 1000
    assert (price.markup_percent, price.margin_percent) == (Decimal("1.45"), Decimal("1.43"))


def test_a_discount_of_all_of_it_leaves_nothing() -> None:
    price = priced(
        "80", tax("sale", "7"), discounts=[{"reason": "Our own fault", "percent": "100"}]
    )
    assert price.net.amount == price.total.amount == 0
    assert price.margin_percent == 0


def test_a_discount_beyond_the_price_is_refused_where_it_goes_beyond() -> None:
    discounts = [
        {"reason": "One", "percent": "60"},
        {"reason": "Two", "amount": "39.99"},
        {"reason": "Three", "amount": "0.02"},
    ]
    assert refused(discounts=discounts) == {"/job/terms/discounts/2": "discount-beyond-price"}
    assert priced("100", discounts=discounts[:2]).net.amount == Decimal("0.01")


def test_a_discount_is_a_percentage_or_a_sum_that_can_be_paid() -> None:
    both = {"reason": "Both", "percent": "1", "amount": "1"}
    fine = {"reason": "Finer than a cent", "amount": "1.005"}
    assert refused(discounts=[both, {"reason": "Neither"}, fine], rounding={"step": "0.025"}) == {
        "/job/terms/discounts/0/percent": "exactly-one",
        "/job/terms/discounts/1/percent": "exactly-one",
        "/job/terms/discounts/2/amount": "too-precise",
        "/job/terms/rounding/step": "too-precise",
    }


@pytest.mark.parametrize(("currency", "minimum"), [("USD", "480.005"), ("JPY", "480.5")])
def test_a_minimum_charge_can_be_paid(currency: str, minimum: str) -> None:
    assert refused(currency=currency, minimum_charge=minimum) == {
        "/job/terms/minimum_charge": "too-precise"
    }


def test_no_discount_goes_under_the_minimum_charge() -> None:
    price = priced(
        "400",
        markup_percent="25",
        minimum_charge="480",
        discounts=[{"reason": "Neighbour", "percent": "10"}],
    )
    assert steps(price) == [("discount", "-50.00"), ("minimum", "30.00")]
    assert price.net.amount == Decimal(480)


@pytest.mark.parametrize(
    ("cost", "rounding", "net"),
    [
        ("1012.50", {"step": "25"}, "1025.00"),
        ("1012.49", {"step": "25"}, "1000.00"),
        ("1000.01", {"step": "25", "mode": "up"}, "1025.00"),
        ("1000.00", {"step": "25", "mode": "up"}, "1000.00"),
        ("999.97", {"step": "0.05"}, "999.95"),
        ("1234.56", {"step": "7.50"}, "1237.50"),
    ],
)
def test_the_net_price_comes_to_a_step(cost: str, rounding: dict[str, str], net: str) -> None:
    """Halves up; arithmetic."""
    price = priced(cost, markup_percent="0", rounding=rounding)
    assert price.net.amount == Decimal(net)


def test_rounding_keeps_to_the_minimum_charge() -> None:
    price = priced("100", minimum_charge="455", rounding={"step": "50"})
    assert price.net.amount == Decimal(500)
    assert steps(price) == [("minimum", "355.00"), ("rounding", "45.00")]


def test_a_step_that_leaves_nothing_is_refused() -> None:
    assert refused(rounding={"step": "500"}) == {"/job/terms/rounding/step": "rounded-to-nothing"}
    assert priced("100", rounding={"step": "500", "mode": "up"}).net.amount == Decimal(500)


@pytest.mark.parametrize(
    ("currency", "net"),
    # ISO 4217 minor units: 0 for JPY, 2 for USD, 3 for KWD
    [("JPY", "1476"), ("USD", "1476.92"), ("KWD", "1476.924")],
)
def test_discounts_have_the_minor_units_of_the_currency(currency: str, net: str) -> None:
    """1000 / 0.65 is 1538.4615...; less 4 per cent of what that is rounded to.

    In yen 1538 less 62, as 61.52 is rounded.
    """
    discounts = [{"reason": "Repeat", "percent": "4"}]
    price = priced("1000", currency=currency, margin_percent="35", discounts=discounts)
    assert str(price.net.amount) == net


def crane(**changed: Any) -> dict[str, Any]:
    given = {"quantity": "3.5", "unit": "HUR", "unit_cost": "148.125"}
    return {"id": "crane", "description": "Crane with driver", **given, **changed}


def test_work_bought_in_is_a_cost_like_any_other() -> None:
    price = priced("1000", subcontracts=[crane()], overhead_percent="10", markup_percent="20")
    (line,) = [one for one in price.lines if one.group == "subcontract"]
    assert (line.item, line.quantity, line.unit) == ("crane", Decimal("3.5"), "HUR")
    # 3.5 x 148.125 is 518.4375
    assert line.amount.amount == Decimal("518.44")
    assert price.direct_cost.amount == Decimal("1518.44")
    # (1518.44 + 151.84) x 1.2
    assert price.net.amount == Decimal("2004.34")


def test_work_bought_in_is_in_no_price_by_area() -> None:
    alone = priced("1000", markup_percent="20")
    with_crane = priced("1000", subcontracts=[crane()], markup_percent="20")
    assert with_crane.per_square_metre == alone.per_square_metre
    shares = {one.item: one.by_terms.amount for one in with_crane.shares if one.item}
    assert shares == {"crane": Decimal("622.13")}


def test_each_subcontract_has_an_id_of_its_own() -> None:
    found = refused(subcontracts=[crane(), crane(id="lift"), crane()])
    assert found == {"/job/subcontracts/2/id": "duplicate-id"}


@pytest.mark.parametrize(
    ("terms", "where"),
    [
        ({}, "/job"),
        ({"overhead_percent": "1000"}, "/job"),
        ({"margin_percent": "99.999999"}, "/job"),
        ({"markup_percent": "1000"}, "/job"),
    ],
)
def test_a_price_that_cannot_be_written_is_refused(terms: dict[str, str], where: str) -> None:
    """Amounts have at most 12 digits before the point; a trillion has 13."""
    large = crane(quantity="999999999999", unit_cost="999999999999.999999")
    if terms:
        large = crane(quantity="1", unit_cost="900000000000")
    assert refused(subcontracts=[large], **terms) == {where: "price-too-large"}


def test_a_tax_can_make_it_too_large_to_write() -> None:
    large = crane(quantity="1", unit_cost="999999999000")
    assert priced("100", subcontracts=[large]).total.amount > Decimal(999_999_999_000)
    assert refused(tax("sale", "25"), subcontracts=[large]) == {"/job": "price-too-large"}


@given(
    cost=st.decimals("0.01", "900000", places=2),
    first=st.integers(0, 60),
    second=st.integers(0, 40),
    minimum=st.integers(0, 2_000),
    step=st.sampled_from(["0.01", "0.05", "1", "25"]),
    mode=st.sampled_from(["nearest", "up"]),
)
@settings(max_examples=150, deadline=None)
def test_laws_of_adjustments(
    cost: Decimal, first: int, second: int, minimum: int, step: str, mode: str
) -> None:
    discounts = [{"reason": "a", "percent": str(first)}, {"reason": "b", "percent": str(second)}]
    terms: dict[str, Any] = {"margin_percent": "30", "discounts": discounts}
    if minimum:
        terms["minimum_charge"] = str(minimum)
    plain = priced(str(cost), **terms)
    assert plain.by_terms is not None
    added = sum((one.amount.amount for one in plain.adjustments), Decimal(0))
    assert plain.by_terms.amount + added == plain.net.amount >= minimum
    if plain.net.amount >= Decimal(step) / 2 or mode == "up":
        brought = priced(str(cost), **terms, rounding={"step": step, "mode": mode})
        assert brought.net.amount % Decimal(step) == 0
        assert brought.net.amount >= minimum
        assert abs(brought.net.amount - plain.net.amount) < Decimal(step)
        assert mode == "nearest" or brought.net.amount >= plain.net.amount


def test_all_kinds_of_cost_reach_the_direct_cost() -> None:
    work = crew_costs("USD", hours="6.25", rate="41.337", days=2, travel="80")
    price = priced("812.35", work=work, subcontracts=[crane()])
    by_group = price.traces["direct_cost"].inputs["groups"]
    assert by_group["subcontract"].amount == Decimal("518.44")
    assert sum(one.amount for one in by_group.values()) == price.direct_cost.amount
