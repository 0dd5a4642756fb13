"""Quantity and price of a line, such that they give its net exactly once rounded.

The price of an EN 16931 line is never negative (BR-27), so the sign stands with the quantity; and it
is not rounded to what can be paid, so it gets as many decimals as its quantity needs.
"""

from decimal import Decimal

import msgspec

from filmbuild.money import Exact, Money, minor_units
from filmbuild.pipeline.unit_codes import LUMP_SUM

FINEST = 6
_WIDEST = Decimal(10) ** 12


class LinePrice(msgspec.Struct, frozen=True, kw_only=True):
    """`amount` is the price of `per` units."""

    quantity: Decimal
    unit: str
    amount: Exact
    per: Decimal


def line_price(quantity: Decimal, unit: str, net: Money) -> LinePrice:
    """A quantity that cannot carry the net's sign is billed as one lump sum of it.

    Where no price of up to six decimals gives the net, the price is the net, per the quantity.
    """
    if net.amount and (not quantity or (quantity < 0) != (net.amount < 0)):
        quantity, unit = Decimal(1).copy_sign(net.amount), LUMP_SUM
    counted, amount = abs(quantity), abs(Decimal(net.amount))
    if not counted:
        return LinePrice(quantity=Decimal(0), unit=unit, amount=Exact(0), per=Decimal(1))
    price = _single(amount, counted, minor_units(net.currency))
    if price is None:
        return LinePrice(quantity=quantity, unit=unit, amount=Exact(amount), per=counted)
    return LinePrice(quantity=quantity, unit=unit, amount=price, per=Decimal(1))


def _single(amount: Decimal, quantity: Decimal, decimals: int) -> Exact | None:
    """The coarsest price of one whose product is within half a minor unit of the amount."""
    tolerance = Decimal(5).scaleb(-decimals - 1)
    exact = amount / quantity
    if exact >= _WIDEST:
        return None
    for digits in range(decimals, FINEST + 1):
        price = round(exact, digits)
        if abs(price * quantity - amount) < tolerance:
            return Exact(price)
    return None
