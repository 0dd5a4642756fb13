"""Exact figures among a trace's inputs, which are text once an answer has been written and read."""

from decimal import Decimal, InvalidOperation

from filmbuild.money import Money


def exact(value: object) -> Decimal | None:
    """Of a decimal, its text, or an amount of money in either form; None of anything else."""
    if isinstance(value, Money):
        return Decimal(value.amount)
    if isinstance(value, dict):
        return exact(value.get("amount"))
    if not isinstance(value, Decimal | str):
        return None
    try:
        return Decimal(value)
    except InvalidOperation:
        return None
