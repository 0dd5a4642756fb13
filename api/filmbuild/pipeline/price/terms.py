"""The job's terms, checked, with what they leave open settled."""

from datetime import date
from decimal import Decimal

import msgspec

from filmbuild.errors import Faults
from filmbuild.money import Currency, Money, rounded
from filmbuild.pipeline.job import Job, Terms
from filmbuild.pipeline.specification import Catalogue, TaxRule
from filmbuild.pipeline.trace import Note

HUNDRED = Decimal(100)


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
        return self.money(base * percent / HUNDRED)


def settle(job: Job, catalogue: Catalogue, faults: Faults, notes: list[Note]) -> Settled:
    """`faults` is rooted at the job. Raises InvalidInput."""
    terms = job.terms
    at = faults.at("terms")
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
    taxes = _taxes_of_place(terms, catalogue, at)
    faults.raise_if_any()
    if terms.markup_percent is None and terms.margin_percent is None:
        notes.append(Note("no-profit-asked", "Neither markup nor margin was given: 0 % is taken."))
    if terms.tax_place is None:
        notes.append(Note("no-tax-place", "No tax place was given: the price is without tax."))
    return Settled(terms, job.currency, taxes, catalogue)


def _taxes_of_place(terms: Terms, catalogue: Catalogue, at: Faults) -> tuple[TaxRule, ...]:
    if terms.tax_place is None:
        return ()
    of_place = [rule for rule in catalogue.taxes if rule.place == terms.tax_place]
    if not of_place:
        places = ", ".join(sorted({rule.place for rule in catalogue.taxes})) or "none"
        at.add("unknown-tax-place", f"the catalogue has tax rules for: {places}", "tax_place")
        return ()
    in_force = tuple(rule for rule in of_place if _in_force(rule, catalogue.priced_on))
    if not in_force:
        at.add(
            "no-tax-rule",
            f"no tax rule of {terms.tax_place} is in force on {catalogue.priced_on}",
            "tax_place",
        )
    return in_force


def _in_force(rule: TaxRule, day: date) -> bool:
    return rule.effective_from <= day and (rule.effective_to is None or day <= rule.effective_to)
