"""Quantity and price of a line, and the net that they give."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from filmbuild.money import Currency, Exact, Money, minor_units
from filmbuild.quotations.ubl.prices import line_price


def money(amount: str, currency: str = "USD") -> Money:
    return Money(Exact(amount), Currency(currency))


@pytest.mark.parametrize(
    ("quantity", "net", "price"),
    [
        ("1", "1436.50", "1436.50"),
        ("3", "100.00", "33.333"),
        ("318.5", "1000.00", "3.13972"),
        ("2", "0.01", "0.005"),
    ],
)
def test_a_price_has_as_many_decimals_as_its_quantity_needs(
    quantity: str, net: str, price: str
) -> None:
    """Algebra: the coarsest p with |p q - net| below half a cent; 3 x 33.33 is 99.99."""
    found = line_price(Decimal(quantity), "MTK", money(net))
    assert (str(found.amount), str(found.per), found.unit) == (price, "1", "MTK")


def test_where_no_such_price_is_fine_enough_it_is_for_the_quantity() -> None:
    found = line_price(Decimal("1234567.89"), "MTK", money("0.01"))
    assert (found.amount, found.per) == (Decimal("0.01"), Decimal("1234567.89"))


@pytest.mark.parametrize(("quantity", "net"), [("0", "5.00"), ("-2", "5.00"), ("2", "-5.00")])
def test_a_quantity_that_cannot_carry_the_sign_is_one_lump_sum(quantity: str, net: str) -> None:
    found = line_price(Decimal(quantity), "MTK", money(net))
    assert found.unit == "LS"
    assert found.quantity * found.amount == Decimal(net)
    assert found.amount > 0


def test_nothing_for_nothing() -> None:
    found = line_price(Decimal(0), "MTK", money("0.00"))
    assert (str(found.quantity), str(found.amount), str(found.per)) == ("0", "0", "1")


@given(
    st.decimals(min_value=-999_999, max_value=999_999, places=2),
    st.integers(-(10**11), 10**11),
    st.sampled_from(["JPY", "USD", "KWD"]),
)
def test_quantity_times_price_is_the_net(quantity: Decimal, units: int, currency: str) -> None:
    """Exactly so where the price is of the quantity, else within half a minor unit."""
    step = Decimal(1).scaleb(-minor_units(currency))
    net = money(str(units * step), currency)
    found = line_price(quantity, "MTK", net)
    assert found.amount >= 0
    if found.per == 1:
        assert abs(found.amount * found.quantity - net.amount) < step / 2
    else:
        assert abs(found.quantity) == found.per
        assert found.amount == abs(net.amount)
