"""Comparing figures that have been on the wire, and saying where they do not agree."""

from collections.abc import Iterable
from decimal import Decimal

import msgspec

from filmbuild.errors import Faults, Token
from filmbuild.money import Money, UnitPrice, rounded
from filmbuild.quantities import Duration, Quantity, UnitSystem, format_text, to_unit

RELATIVE = 5e-9
"""Answers are written to nine significant digits at least: each figure is off by 5e-10 at most."""
MILLISECOND = 1e-3
"""[s] Durations are written to the millisecond, half of one off at most."""


def close(found: Quantity, expected: float, scale: float = 0.0) -> bool:
    """Whether two figures are the same but for rounding; `scale` is of what they were made from."""
    difference = abs(found - expected)
    if difference <= RELATIVE * max(abs(found), abs(expected), scale):
        return True
    return difference <= type(found).measure.smallest


class Marks(msgspec.Struct, frozen=True):
    """Adds faults at places of the document handed in, with figures in the caller's units."""

    faults: Faults
    units: UnitSystem

    def at(self, *tokens: Token) -> "Marks":
        return Marks(self.faults.at(*tokens), self.units)

    def add(self, code: str, detail: str, *tokens: Token) -> None:
        self.faults.add(code, detail, *tokens)

    def shown(self, kind: type[Quantity], value: float) -> str:
        if issubclass(kind, Duration):
            return format_text(kind(value), self.units)
        number, unit = to_unit(kind(value), self.units)
        return f"{number:.10g} {unit}"

    def same(
        self,
        found: Quantity,
        expected: float,
        code: str,
        rule: str,
        *tokens: Token,
        scale: float = 0.0,
    ) -> None:
        """`rule` says what the figure has to be."""
        if not close(found, expected, scale):
            kind = type(found)
            detail = f"{rule}: {self.shown(kind, expected)}, and not {self.shown(kind, found)}"
            self.add(code, detail, *tokens)

    def unique(self, names: Iterable[object], *tokens: Token, field: str) -> None:
        """`tokens` lead to the list, and `field` is what names each of its members."""
        first: dict[object, int] = {}
        for index, name in enumerate(names):
            if first.setdefault(name, index) != index:
                detail = f"{name} stands here already at {first[name]}; each is named once"
                self.add("duplicate-id", detail, *tokens, index, field)

    def currency(self, money: Money | UnitPrice, expected: str, *tokens: Token) -> bool:
        if money.currency == expected:
            return True
        detail = f"the document is in {expected}, and this amount in {money.currency}"
        self.add("currency-mismatch", detail, *tokens, "currency")
        return False

    def paid(self, money: Money, expected: str, *tokens: Token) -> None:
        if self.currency(money, expected, *tokens) and money.amount < 0:
            self.add("negative", "an amount to be paid is zero or more", *tokens, "amount")

    def counted(
        self, amount: Money, price: UnitPrice, count: int, currency: str, *tokens: Token
    ) -> None:
        """A line of so many at a price each; `tokens` lead to the line."""
        fits = self.currency(price, currency, *tokens, "unit_price")
        if not (self.currency(amount, currency, *tokens, "amount") and fits):
            return
        expected = rounded(price.amount * count, amount.currency).amount
        if amount.amount != expected:
            self.add(
                "amount-mismatch",
                f"{count} at {price.amount:f} are {expected:f}, and not {amount.amount:f}",
                *tokens,
                "amount",
                "amount",
            )


def minor_unit(money: Money) -> Decimal:
    """The smallest amount that can be paid in its currency."""
    return Decimal(1).scaleb(int(money.amount.as_tuple().exponent))
