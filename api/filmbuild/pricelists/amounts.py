"""Whether the cells of a row are what they should be, and how they are kept."""

import re
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from functools import cache

from filmbuild.money import NonNegativeExact, minor_units, parse_currency, round_money
from filmbuild.pipeline.specification import PriceBreak
from filmbuild.pricelists.entries import MOST_BREAKS, Steps, shown

TIER = re.compile(r"([A-Za-z0-9][A-Za-z0-9._-]{0,63})?")
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_FEWEST, _MOST = 2, 1_000

Problem = tuple[str, str, str]
"""Column, code and detail."""


@cache
def amount_form(currency: str) -> re.Pattern[str]:
    """Amounts that can be paid, as they are kept: no digit more or less than the minor unit has."""
    decimals = minor_units(currency)
    fraction = rf"\.[0-9]{{{decimals}}}" if decimals else ""
    return re.compile(rf"(?:0|[1-9][0-9]{{0,11}}){fraction}")


def as_kept(amount: str, currency: str) -> str | None:
    """None where it is not an amount of the currency."""
    if amount_form(currency).fullmatch(amount):
        return amount
    decimals = minor_units(currency)
    loose = rf"[0-9]{{1,12}}(?:\.[0-9]{{1,{decimals}}})?" if decimals else "[0-9]{1,12}"
    if re.fullmatch(loose, amount) is None:
        return None
    return f"{round_money(Decimal(amount), currency):f}"


def amount_problem(amount: str, currency: str) -> tuple[str, str]:
    """Code and detail of what is wrong with one that is not."""
    decimals = minor_units(currency)
    accepted = f'accepted: text such as "{round_money(Decimal("12.5"), currency):f}"'
    if not amount:
        return "missing-amount", accepted
    if re.fullmatch(r"-[0-9]+(\.[0-9]+)?", amount):
        return "negative", f"{shown(amount)} is less than zero"
    if re.fullmatch(rf"[0-9]{{1,12}}\.[0-9]{{{decimals + 1},}}", amount):
        return "too-precise", f"{currency} amounts have {decimals} decimals"
    return "not-an-amount", f'"{shown(amount)}": {accepted}'


def list_problems(currency: str, tier: str, day: str) -> Iterator[Problem]:
    """What is wrong with the list and the day that a row names."""
    if not currency:
        yield (
            "currency",
            "missing-currency",
            "no currency is given, in the row or for the whole file (`currency`)",
        )
    elif not _is_currency(currency):
        detail = f'"{shown(currency)}": accepted: an ISO 4217 code in capitals such as "USD"'
        yield "currency", "unknown-currency", detail
    if TIER.fullmatch(tier) is None:
        detail = f'"{shown(tier)}": at most 64 letters, digits, dots, dashes and underscores'
        yield "tier", "invalid-tier", detail
    if day_of(day) is None:
        detail = f'"{shown(day)}": accepted: a day such as 2026-09-01'
        yield "effective_from", "not-a-day", detail


def _is_currency(text: str) -> bool:
    try:
        parse_currency(text)
    except ValueError:
        return False
    return True


def day_of(text: str) -> date | None:
    if _DAY.fullmatch(text) is None:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None


def breaks_of(steps: Steps, amount: str, currency: str) -> tuple[PriceBreak, ...] | str:
    """The breaks in the form in which they are kept, or what is wrong with them."""
    if len(steps) > MOST_BREAKS:
        return f"at most {MOST_BREAKS} breaks"
    found = []
    before, price = 1, Decimal(amount)
    for packs, text in steps:
        kept = as_kept(text, currency)
        if kept is None:
            return amount_problem(text, currency)[1]
        if not max(_FEWEST, before + 1) <= packs <= _MOST:
            return f"breaks begin at rising numbers of packs, from {_FEWEST} to {_MOST}"
        if Decimal(kept) >= price:
            return f"more packs cost less each: less than {price:f}"
        found.append(PriceBreak(from_packs=packs, amount=NonNegativeExact(kept)))
        before, price = packs, Decimal(kept)
    return tuple(found)
