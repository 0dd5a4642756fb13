"""A price as a range of figures that do not pretend to be exact."""

from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from filmbuild.enquiries.form import FormRange
from filmbuild.money import Currency, Exact, Money, minor_units

_STEPS_IN_TEN = 200
"""A price of four digits is told in fifties, one of five in five hundreds."""


def range_of(price: Money, around: FormRange) -> tuple[Money, Money]:
    """From the largest sensible figure that is not above the low end, to the like of the high."""
    low = Decimal(price.amount) * (1 - Decimal(around.below_percent) / 100)
    high = Decimal(price.amount) * (1 + Decimal(around.above_percent) / 100)
    return _told(low, ROUND_FLOOR, price.currency), _told(high, ROUND_CEILING, price.currency)


def _told(amount: Decimal, rounding: str, currency: Currency) -> Money:
    """A larger amount is never told as a smaller one."""
    if amount <= 0:
        return Money(Exact(0), currency)
    smallest = Decimal(1).scaleb(-minor_units(currency))
    step = max(Decimal(10).scaleb(amount.adjusted()) / _STEPS_IN_TEN, smallest)
    return Money(Exact((amount / step).to_integral_value(rounding) * step), currency)
