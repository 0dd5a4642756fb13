"""Everything that two estimates differ in."""

from collections.abc import Iterable, Iterator
from datetime import date
from decimal import Decimal
from itertools import chain

from filmbuild.errors import Fault, InvalidInput
from filmbuild.money import Money, rounded
from filmbuild.pipeline.differences.lines import line_differences
from filmbuild.pipeline.differences.parts import subtracted
from filmbuild.pipeline.differences.records import (
    BasisDifference,
    CausedAmount,
    DayDifference,
    EstimateDifferences,
)
from filmbuild.pipeline.differences.terms import sum_differences, term_differences
from filmbuild.pipeline.results import EstimateDocument


def differences_between(was: EstimateDocument, now: EstimateDocument) -> EstimateDifferences:
    """Lines, terms and dates that differ, and on what the two were computed.

    The amounts of the lines and terms add up to the difference of the totals to the minor unit; an
    estimate differs from itself in nothing; and the other way about every amount has the other
    sign. Raises InvalidInput where the currencies differ.
    """
    if was.price.currency != now.price.currency:
        detail = f"one is in {was.price.currency}, the other in {now.price.currency}"
        fault = Fault("", "different-currencies", detail)
        raise InvalidInput("Amounts in different currencies have no difference.", (fault,))
    lines = tuple(line_differences(was, now))
    terms = tuple(term_differences(was.price, now.price))
    total = subtracted(now.price.total, was.price.total)
    return EstimateDifferences(
        currency=total.currency,
        total=total,
        basis=tuple(_basis(was, now)),
        lines=lines,
        terms=terms,
        sums=tuple(sum_differences(was.price, now.price)),
        by_cause=_by_cause(
            chain(*(one.parts for one in lines), *(one.parts for one in terms)), total
        ),
        days=tuple(_days(was, now)),
    )


def _basis(was: EstimateDocument, now: EstimateDocument) -> Iterator[BasisDifference]:
    for (name, old), (_, new) in zip(_computed_on(was), _computed_on(now), strict=True):
        if old != new:
            yield BasisDifference(name=name, was=_text(old), now=_text(new))


def _computed_on(document: EstimateDocument) -> tuple[tuple[str, object], ...]:
    return (
        ("engine_version", document.engine_version),
        ("catalogue_revision", document.catalogue_revision),
        ("priced_on", document.priced_on),
        ("system", document.basis.system),
        ("rate_book", document.basis.rate_book),
    )


def _text(value: object) -> str | None:
    return None if value is None else str(value)


def _by_cause(parts: Iterable[CausedAmount], total: Money) -> dict[str, Money]:
    sums: dict[str, Decimal] = {}
    for part in parts:
        sums[part.cause] = sums.get(part.cause, Decimal(0)) + part.amount.amount
    return {cause: rounded(amount, total.currency) for cause, amount in sums.items() if amount}


def _days(was: EstimateDocument, now: EstimateDocument) -> Iterator[DayDifference]:
    pairs: tuple[tuple[str, date, date], ...] = (
        ("first_day", was.schedule.first_day, now.schedule.first_day),
        ("last_day", was.schedule.last_day, now.schedule.last_day),
    )
    for name, old, new in pairs:
        if old != new:
            yield DayDifference(name=name, was=old, now=new, days=(new - old).days)
