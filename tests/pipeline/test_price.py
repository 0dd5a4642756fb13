"""From cost to an offer, against published roundings and the algebra of margin and markup."""

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from price_cases import crew_costs, priced, refused, tax

from filmbuild.money import Currency, Percent, rounded
from filmbuild.pipeline.job import Terms
from filmbuild.pipeline.labour.costs import paid_hours
from filmbuild.pipeline.trace import Note
from filmbuild.quantities import Hours


@pytest.mark.parametrize(
    ("base", "rate", "amount"),
    [
        # CEN EN 16931 example ubl-tc434-example2: exact 365.125, rounded half up.
        ("1460.50", "25", "365.13"),
        # CEN EN 16931 example ubl-tc434-example1.
        ("183.23", "6", "10.99"),
        ("46.37", "21", "9.74"),
    ],
)
def test_published_taxes_are_rounded_half_up(base: str, rate: str, amount: str) -> None:
    price = priced(base, tax("sale", rate))
    assert price.taxes[0].amount.amount == Decimal(amount)
    assert price.total.amount == Decimal(base) + Decimal(amount)


@pytest.mark.parametrize(
    ("margin", "markup"),
    # markup = margin / (1 - margin).
    [("20", "25"), ("25", "33.33"), ("33.33", "49.99"), ("40", "66.67"), ("50", "100")],
)
def test_margin_and_markup_are_two_names_of_one_gain(margin: str, markup: str) -> None:
    price = priced("100000", margin_percent=margin)
    assert price.markup_percent == Decimal(markup)
    assert price.margin_percent == Decimal(margin)


def test_margin_divides_and_markup_multiplies() -> None:
    # cost 1250: 35 % margin on price is 1923.08, 35 % markup on cost 1687.50.
    assert priced("1250", margin_percent="35").net.amount == Decimal("1923.08")
    assert priced("1250", markup_percent="35").net.amount == Decimal("1687.50")


def test_overhead_is_taken_on_cost_and_contingency() -> None:
    price = priced("1000", contingency_percent="10", overhead_percent="20", markup_percent="0")
    assert price.contingency.amount == Decimal(100)
    assert price.overhead.amount == Decimal(220)
    assert price.cost.amount == price.net.amount == Decimal(1320)


def test_lines_add_up_to_the_direct_cost() -> None:
    price = priced(
        "812.35", work=crew_costs("USD", hours="6.25", rate="41.337", days=2, travel="80")
    )
    assert {line.group for line in price.lines} == {
        "materials",
        "consumables",
        "labour",
        "equipment",
        "travel",
    }
    total = sum(line.amount.amount for line in price.lines)
    assert total == price.direct_cost.amount == Decimal("812.35") + Decimal("526.61")
    for line in price.lines:
        exact = rounded(line.quantity * line.unit_cost.amount, Currency("USD"))
        assert line.amount == exact


def test_only_the_used_share_is_charged_when_asked() -> None:
    assert priced("500", used="320.40").direct_cost.amount == Decimal(500)
    price = priced("500", used="320.40", materials="used_share")
    assert price.direct_cost.amount == Decimal("320.40")
    packs = price.lines[0].trace.inputs["packs"]
    # The kit holds two litres of a and one of b.
    assert packs["kit"]["volume_share"] == pytest.approx({"a": 2 / 3, "b": 1 / 3})


def test_a_tax_on_materials_is_a_cost_of_the_contractor() -> None:
    price = priced("1000", tax("materials_cost", "6.5"), markup_percent="10")
    assert price.taxes == ()
    assert price.direct_cost.amount == Decimal(1065)
    assert price.total.amount == Decimal("1171.50")


def test_a_job_is_never_offered_under_the_minimum_charge() -> None:
    price = priced("100", markup_percent="20", minimum_charge="450")
    assert price.net.amount == Decimal(450)
    (added,) = price.adjustments
    assert (added.kind, added.amount.amount) == ("minimum", Decimal(330))
    # Both are as achieved: 350 gained on 100 of cost, of 450 of price.
    assert (price.markup_percent, price.margin_percent) == (Decimal(350), Decimal("77.78"))


def test_each_sum_of_the_price_names_what_it_adds_up() -> None:
    """Every trace holds what its rule's equation asks for."""
    terms: dict[str, Any] = {
        "contingency_percent": "3",
        "overhead_percent": "12",
        "margin_percent": "32",
    }
    work = crew_costs("USD", hours="6.25", rate="41.337", days=2, travel="80")
    price = priced("812.35", tax("sale", "7.25"), work=work, **terms)
    found = {name: trace.inputs for name, trace in price.traces.items()}
    groups = found["direct_cost"]["groups"].values()
    assert sum(one.amount for one in groups) == price.direct_cost.amount
    direct, contingency = found["overhead"]["direct_cost"], found["overhead"]["contingency"]
    base = direct.amount + contingency.amount
    usd = Currency("USD")
    assert rounded(base * found["overhead"]["percent"] / 100, usd) == price.overhead
    parts = found["cost"].values()
    assert sum(one.amount for one in parts) == price.cost.amount
    kept = 1 - found["by_terms"]["margin_percent"] / 100
    assert rounded(found["by_terms"]["cost"].amount / kept, usd) == price.by_terms == price.net
    assert sum(one.amount for one in found["total"].values()) == price.total.amount
    area = Decimal(found["per_square_metre"]["floor"])
    assert rounded(found["per_square_metre"]["net"].amount / area, usd) == price.per_square_metre
    for line in price.lines:
        if line.trace.rule == "price.line":
            inputs = line.trace.inputs
            exact = inputs["quantity"] * inputs["unit_cost"].amount
            assert rounded(exact, usd) == line.amount, line


def test_hours_are_billed_to_six_decimals() -> None:
    assert paid_hours(Hours(1200.0)) == Decimal("0.333333")
    assert paid_hours(Hours(36_000.0)) == Decimal(10)


@pytest.mark.parametrize(
    ("currency", "net"),
    # ISO 4217 minor units: 0 for JPY, 2 for USD, 3 for KWD.
    [("JPY", "1538"), ("USD", "1538.46"), ("KWD", "1538.462")],
)
def test_amounts_have_the_minor_units_of_the_currency(currency: str, net: str) -> None:
    price = priced("1000", currency=currency, margin_percent="35")
    assert str(price.net.amount) == net


def test_the_price_of_the_floor_by_area() -> None:
    price = priced("5000", markup_percent="0")
    assert price.per_square_metre.amount == Decimal(100)
    # 1 m2 is 1 / 0.3048^2 ft2, exact by the definition of the foot.
    assert price.per_square_foot.amount == Decimal("9.29")


def test_what_was_left_open_is_said() -> None:
    notes: list[Note] = []
    priced("100", notes=notes)
    assert {note.code for note in notes} == {"no-profit-asked", "no-tax-place"}


def test_terms_that_cannot_hold_are_refused_together() -> None:
    assert refused(markup_percent="10", margin_percent="100", tax_place="Nowhere") == {
        "/job/terms/margin_percent": "margin-too-large",
        "/job/terms/tax_place": "unknown-tax-place",
    }
    ended = tax("sale", "5", effective_to="2026-03-31")
    assert refused(ended) == {"/job/terms/tax_place": "no-tax-rule"}


@given(
    cost=st.decimals("0.01", "900000", places=2),
    more=st.decimals("0", "90000", places=2),
    margin=st.integers(0, 90),
    overhead=st.integers(0, 60),
    rate=st.integers(0, 25),
)
@settings(max_examples=100, deadline=None)
def test_laws_of_a_price(
    cost: Decimal, more: Decimal, margin: int, overhead: int, rate: int
) -> None:
    terms: dict[str, Any] = {"margin_percent": str(margin), "overhead_percent": str(overhead)}
    price = priced(str(cost), tax("sale", str(rate)), **terms)
    assert price.total.amount == price.net.amount + sum(one.amount.amount for one in price.taxes)
    assert price.net.amount >= price.cost.amount >= price.direct_cost.amount
    dearer = priced(str(cost + more), tax("sale", str(rate)), **terms)
    assert dearer.total.amount >= price.total.amount
    achieved = (price.net.amount - price.cost.amount) / price.net.amount * 100
    assert abs(achieved - margin) <= Decimal("0.5") / price.net.amount + Decimal("0.000001")


def test_percentages_are_exact_decimals() -> None:
    assert Terms(markup_percent=Percent("12.5")).markup_percent == Decimal("12.5")
