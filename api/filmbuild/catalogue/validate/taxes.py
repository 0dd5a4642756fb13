"""Tax rules: what their category says must agree with rate, reason and each other."""

from collections.abc import Sequence
from datetime import date
from itertools import pairwise

from filmbuild.catalogue.validate.common import check_order, check_unique
from filmbuild.errors import Faults
from filmbuild.pipeline.specification import TaxCode, TaxRule

_NOTHING_DUE: frozenset[TaxCode] = frozenset(("Z", "E", "AE", "K", "G", "O"))
_WITH_REASON: frozenset[TaxCode] = _NOTHING_DUE - {"Z"}
"""EN 16931-1, business rules BR-E-10, BR-AE-10, BR-IC-10, BR-G-10 and BR-O-10; not BR-Z-10."""


def check_taxes(rules: Sequence[TaxRule], faults: Faults) -> None:
    check_unique(rules, lambda one: one.id, faults, "id")
    for index, rule in enumerate(rules):
        here = faults.at(index)
        check_order(rule, "effective_from", "effective_to", here)
        if rule.code is not None:
            _check_code(rule, rule.code, here)
        elif rule.exemption_reason is not None:
            detail = "a reason goes with a category of UNTDID 5305: give its code"
            here.add("code-missing", detail, "exemption_reason")
    _check_one_vat(rules, faults)


def _check_code(rule: TaxRule, code: TaxCode, faults: Faults) -> None:
    if code in _NOTHING_DUE and rule.rate_percent:
        detail = f"nothing is due in category {code}: its rate is 0"
        faults.add("rate-not-zero", detail, "rate_percent")
    if code == "S" and not rule.rate_percent:
        detail = "the standard category has a rate above 0; a zero rate is category Z"
        faults.add("rate-zero", detail, "rate_percent")
    if code in _WITH_REASON and rule.exemption_reason is None:
        detail = f"category {code} says why nothing is due"
        faults.add("reason-missing", detail, "exemption_reason")
    if code not in _WITH_REASON and rule.exemption_reason is not None:
        detail = f"category {code} is no exemption: leave the reason out"
        faults.add("reason-without-exemption", detail, "exemption_reason")


def _check_one_vat(rules: Sequence[TaxRule], faults: Faults) -> None:
    """A sale falls under one rule of VAT, where the job names none; in order of place and day."""
    sales = sorted(
        (rule.place, rule.effective_from, index)
        for index, rule in enumerate(rules)
        if rule.scheme == "vat" and rule.base != "materials_cost" and not rule.on_request
    )
    for (place, _, first), (other_place, start, second) in pairwise(sales):
        if place == other_place and start <= (rules[first].effective_to or date.max):
            detail = (
                f"{rules[first].id} holds there at that time too: let one end before the other "
                "begins, or make one hold on request"
            )
            faults.add("overlapping-vat", detail, second, "effective_from")
