"""Amounts as people of a place write them."""

import copy
import re
from decimal import Decimal
from functools import cache

from babel import Locale
from babel.numbers import NumberPattern

from filmbuild.money import minor_units

_TOO_CLOSE = re.compile(r"(?<=[A-Z])(?=[0-9])")
"""Where a code in letters meets a figure (CLDR's currency spacing, which babel leaves out)."""


def money_text(amount: Decimal, currency: str, locale: Locale) -> str:
    """To the minor unit of ISO 4217, which is not always what the locale data would show."""
    pattern = _pattern(locale, minor_units(currency))
    text = pattern.apply(amount, locale, currency=currency, currency_digits=False)
    return _TOO_CLOSE.sub("\u00a0", text)


@cache
def _pattern(locale: Locale, digits: int) -> NumberPattern:
    pattern: NumberPattern = copy.copy(locale.currency_formats["standard"])
    pattern.frac_prec = (digits, digits)
    return pattern
