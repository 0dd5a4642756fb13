"""The job's terms, checked, with what they leave open settled."""

from decimal import Context, Decimal

import msgspec

from filmbuild.errors import Faults
from filmbuild.money import Currency, Money, exact_text, minor_units, rounded, tax_of
from filmbuild.pipeline.job import Job, Terms
from filmbuild.pipeline.price.taxes import taxes_of_place
from filmbuild.pipeline.specification import Catalogue, TaxRule
from filmbuild.pipeline.trace import Note

HUNDRED = Decimal(100)
WIDE = Context(prec=60)
"""No product of two decimals that are accepted loses a digit in it before it is rounded."""
_BEYOND = Decimal(10) ** 12


class Settled(msgspec.Struct, frozen=True):
    terms: Terms
    currency: Currency
    taxes: tuple[TaxRule, ...]
    catalogue: Catalogue

    @property
    def revision(self) -> int:
        return self.catalogue.revision

    def money(self, amount: Decimal) -> Money:
        return rounded(amount, self.currency)

    def share(self, base: Decimal, percent: Decimal) -> Money:
        return Money(tax_of(base, percent, self.currency), self.currency)


def settle(job: Job, catalogue: Catalogue, faults: Faults, notes: list[Note]) -> Settled:
    """`faults` is rooted at the job. Raises InvalidInput."""
    terms = job.terms
    at = faults.at("terms")
    _check_gain(terms, at)
    _check_discounts(terms, job.currency, at)
    if terms.minimum_charge is not None:
        _check_payable(terms.minimum_charge, job.currency, at, "minimum_charge")
    _check_subcontracts(job, faults)
    taxes = taxes_of_place(terms, catalogue, at, notes)
    faults.raise_if_any()
    if terms.markup_percent is None and terms.margin_percent is None:
        notes.append(Note("no-profit-asked", "Neither markup nor margin was given: 0 % is taken."))
    if terms.tax_place is None:
        notes.append(Note("no-tax-place", "No tax place was given: the price is without tax."))
    return Settled(terms, job.currency, taxes, catalogue)


def check_size(amount: Decimal, currency: Currency, faults: Faults) -> None:
    """An amount is written with at most 12 digits before the point. Raises InvalidInput.

    Faults of earlier checks are raised with it.
    """
    if amount >= _BEYOND:
        detail = (
            f"the price comes to more than 12 digits before the point in {currency}: divide the "
            "work into several jobs, or check unit costs and percentages"
        )
        faults.add("price-too-large", detail)
    faults.raise_if_any()


def _check_gain(terms: Terms, at: Faults) -> None:
    if terms.markup_percent is not None and terms.margin_percent is not None:
        at.add(
            "markup-and-margin",
            "give either a markup on cost or a margin on price, not both",
            "margin_percent",
        )
    if terms.margin_percent is not None and terms.margin_percent >= HUNDRED:
        at.add(
            "margin-too-large", "a margin on price is below 100 per cent of it", "margin_percent"
        )


def _check_discounts(terms: Terms, currency: Currency, at: Faults) -> None:
    for index, one in enumerate(terms.discounts):
        here = at.at("discounts", index)
        if (one.percent is None) == (one.amount is None):
            here.add("exactly-one", "give exactly one of percent and amount", "percent")
        if one.amount is not None:
            _check_payable(one.amount, currency, here, "amount")
    if terms.rounding is not None:
        _check_payable(terms.rounding.step, currency, at.at("rounding"), "step")


def _check_payable(amount: Decimal, currency: Currency, at: Faults, field: str) -> None:
    if rounded(amount, currency).amount != amount:
        detail = (
            f"{currency} amounts have {minor_units(currency)} decimals; {exact_text(amount)} has "
            "more"
        )
        at.add("too-precise", detail, field)


def _check_subcontracts(job: Job, faults: Faults) -> None:
    seen: set[str] = set()
    for index, one in enumerate(job.subcontracts):
        if one.id in seen:
            detail = "another subcontract has this id: give each its own"
            faults.add("duplicate-id", detail, "subcontracts", index, "id")
        seen.add(one.id)
