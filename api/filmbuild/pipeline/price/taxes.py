"""Which tax rules hold for a sale, and what they take of it."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from decimal import Decimal

from filmbuild.errors import Faults
from filmbuild.money import Money, tax_of
from filmbuild.pipeline.job import TaxExemption, Terms
from filmbuild.pipeline.results import TaxLine
from filmbuild.pipeline.specification import Catalogue, TaxCode, TaxRule
from filmbuild.pipeline.trace import Note, Trace

_WORDS: dict[str, TaxCode] = {
    "zero": "Z",
    "zero rate": "Z",
    "zero rated": "Z",
    "exempt": "E",
    "reverse charge": "AE",
    "export": "G",
    "out of scope": "O",
    "outside scope": "O",
}
"""What a catalogue may have said in words before it said it by a code."""


def category_code(rule: TaxRule) -> TaxCode:
    """UNTDID 5305, for rules that state none too."""
    if rule.code is not None:
        return rule.code
    if rule.rate_percent > 0:
        return "S"
    return _WORDS.get(rule.category.lower().replace("-", " "), "Z")


def taxes_of_place(
    terms: Terms, catalogue: Catalogue, at: Faults, notes: list[Note]
) -> tuple[TaxRule, ...]:
    """The rules that hold; `at` is rooted at the terms."""
    if terms.tax_place is None:
        _refuse_without_place(terms, at)
        return ()
    of_place = [rule for rule in catalogue.taxes if rule.place == terms.tax_place]
    if not of_place:
        places = ", ".join(sorted({rule.place for rule in catalogue.taxes})) or "none"
        at.add("unknown-tax-place", f"the catalogue has tax rules for: {places}", "tax_place")
        return ()
    day = terms.taxed_on or catalogue.priced_on
    if terms.tax_rules:
        held = _named(terms.tax_rules, of_place, day, at)
    else:
        held = tuple(rule for rule in of_place if not rule.on_request and in_force(rule, day))
        if not held:
            at.add("no-tax-rule", _none_in_force(terms.tax_place, of_place, day), "tax_place")
    _refuse_rivals(held, at)
    if terms.exemption is not None and not any(rule.base != "materials_cost" for rule in held):
        detail = (
            f"{terms.tax_place} takes no tax on the sale: the buyer's exemption changes nothing."
        )
        notes.append(Note("exemption-without-effect", detail))
    return held


def in_force(rule: TaxRule, day: date) -> bool:
    return rule.effective_from <= day and (rule.effective_to is None or day <= rule.effective_to)


def _refuse_without_place(terms: Terms, at: Faults) -> None:
    for field in ("tax_rules", "taxed_on", "exemption"):
        if getattr(terms, field):
            at.add("tax-place-missing", "say by tax_place where the sale is taxed", field)


def _none_in_force(place: str, of_place: Iterable[TaxRule], day: date) -> str:
    asked = ", ".join(rule.id for rule in of_place if rule.on_request and in_force(rule, day))
    known = f"; on request, by tax_rules: {asked}" if asked else ""
    return f"no tax rule of {place} is in force on {day}{known}"


def _named(
    names: Sequence[str], of_place: Sequence[TaxRule], day: date, at: Faults
) -> tuple[TaxRule, ...]:
    by_id = {rule.id: rule for rule in of_place}
    found: list[TaxRule] = []
    for index, name in enumerate(names):
        rule = by_id.get(name)
        if rule is None:
            known = ", ".join(sorted(by_id))
            at.add("unknown-tax-rule", f"rules of this place: {known}", "tax_rules", index)
        elif not in_force(rule, day):
            at.add("no-tax-rule", f"{name} is not in force on {day}", "tax_rules", index)
        elif rule in found:
            at.add("duplicate", f"{name} is named already", "tax_rules", index)
        else:
            found.append(rule)
    return tuple(found)


def _refuse_rivals(held: Sequence[TaxRule], at: Faults) -> None:
    """EN 16931 knows one VAT category and rate for each line."""
    rivals = [rule.id for rule in held if rule.scheme == "vat" and rule.base != "materials_cost"]
    if rivals[1:]:
        detail = f"one sale falls under one VAT rule: name one of {', '.join(rivals)}"
        at.add("several-vat-rules", detail, "tax_rules")


def sale_taxes(
    net: Money,
    materials_net: Money,
    rules: Iterable[TaxRule],
    exemption: TaxExemption | None,
    revision: int,
) -> tuple[TaxLine, ...]:
    """One line per rule on the sum that it taxes; `materials_net` is what of it is for materials."""
    return tuple(_sale_taxes(net, materials_net, rules, exemption, revision))


def _sale_taxes(
    net: Money,
    materials_net: Money,
    rules: Iterable[TaxRule],
    exemption: TaxExemption | None,
    revision: int,
) -> Iterator[TaxLine]:
    for rule in rules:
        if rule.base == "materials_cost":
            continue
        of_materials = rule.base == "sale_of_materials"
        base = materials_net if of_materials else net
        rate = Decimal(0) if exemption is not None else rule.rate_percent
        inputs: dict[str, object] = {"base": base, "rate_percent": rate, "place": rule.place}
        if exemption is not None:
            inputs["exemption"] = exemption.code
        yield TaxLine(
            rule=rule.id,
            name=rule.name,
            category=rule.category if exemption is None else exemption.reason,
            base=base,
            rate_percent=rate,
            amount=Money(tax_of(base.amount, rate, base.currency), base.currency),
            trace=Trace("price.sale-tax", inputs, revision),
            code=category_code(rule) if exemption is None else exemption.code,
            scheme=rule.scheme,
            of_materials=of_materials,
            exemption_reason=_reason(rule, exemption),
        )


def _reason(rule: TaxRule, exemption: TaxExemption | None) -> str | None:
    if exemption is None:
        return rule.exemption_reason
    if exemption.certificate is None:
        return exemption.reason
    return f"{exemption.reason} ({exemption.certificate})"
