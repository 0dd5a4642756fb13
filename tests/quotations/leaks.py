"""Looks for what work costs its seller in what customers are shown."""

import re
from collections.abc import Iterator
from decimal import Decimal
from typing import Any

import msgspec

# what the customer is told of the price, and what is no money
_TOLD = frozenset(
    (
        "net",
        "taxes",
        "total",
        "per_square_foot",
        "per_square_metre",
        "per_running_foot",
        "per_running_metre",
        "by_terms",
        "materials_net",
        "adjustments",
    )
)
_WORDS = ("margin", "markup", "cost", "overhead", "wage", "contingency", "burden", "profit")
_FEWEST_DIGITS = 4
_PERCENTS = ("margin_percent", "markup_percent", "burden_percent")


def assert_no_costs(content: bytes, estimate_document: Any) -> None:
    """No figure of the estimate that only its seller knows is in the content, however written.

    `content` is JSON or text; of a PDF give the text in it. `estimate_document` is the estimate's
    document as plain data. Figures of less than four digits stand for too many things to be looked
    for. Names in JSON must not speak of costs either.
    """
    text = content.decode()
    figures = cost_figures(estimate_document)
    assert figures
    for figure in figures:
        found = re.search(rf"(?<![0-9.,]){_written(figure)}(?![0-9]|[.,][0-9])", text)
        assert found is None, f"{figure} is a cost: ...{_near(text, found)}..."
    if text.lstrip().startswith(("{", "[")):
        told = [name for name in _names(msgspec.json.decode(content)) if _speaks_of_costs(name)]
        assert told == []


def cost_figures(document: Any) -> set[Decimal]:
    """Amounts of money, and rates of profit, but for those that are the customer's too."""
    known = {one.normalize() for one in _told(document["price"])}
    for option in document.get("options", ()):
        known |= {one.normalize() for one in _told(option)}
    return {one for one in _amounts(document) if one.normalize() not in known and _is_telling(one)}


def _told(price: dict[str, Any]) -> Iterator[Decimal]:
    for name, value in price.items():
        if name in _TOLD:
            yield from _amounts({name: value})
    for share in price.get("shares", ()):
        yield from _amounts(share)


def _amounts(value: Any) -> Iterator[Decimal]:
    if isinstance(value, dict):
        if {"amount", "currency"} <= value.keys() and isinstance(value["amount"], str):
            yield Decimal(value["amount"])
        for name, one in value.items():
            if name in _PERCENTS and isinstance(one, str):
                yield Decimal(one)
            yield from _amounts(one)
    elif isinstance(value, list | tuple):
        for one in value:
            yield from _amounts(one)


def _is_telling(figure: Decimal) -> bool:
    return len(figure.normalize().as_tuple().digits) >= _FEWEST_DIGITS


def _written(figure: Decimal) -> str:
    """A pattern of the figure with any marks for thousands and decimals, and trailing zeros."""
    whole, _, part = f"{abs(figure.normalize()):f}".partition(".")
    groups = re.sub(r"(?<=\d)(?=(?:\d{3})+$)", "[.,' \u00a0\u202f]?", whole)
    return groups + (rf"[.,]{part}0*" if part else r"(?:[.,]0+)?")


def _near(text: str, found: re.Match[str] | None) -> str:
    return "" if found is None else text[max(found.start() - 60, 0) : found.end() + 60]


def _names(value: Any) -> Iterator[str]:
    if isinstance(value, dict):
        for name, one in value.items():
            yield name
            yield from _names(one)
    elif isinstance(value, list):
        for one in value:
            yield from _names(one)


def _speaks_of_costs(name: str) -> bool:
    return any(word in name.lower() for word in _WORDS)
