"""What a tax rule says of its category agrees with rate, reason and the rules beside it."""

from typing import Any

import catalogue_cases as cases
import pytest

from filmbuild.catalogue.validate import validate
from filmbuild.errors import InvalidInput

VAT = {
    "id": "vat",
    "name": "VAT",
    "place": "Lakeshore",
    "category": "standard",
    "base": "sale",
    "rate_percent": "21",
    "effective_from": "2026-01-01",
    "code": "S",
    "scheme": "vat",
}


def faults_of(*rules: dict[str, Any]) -> dict[str, str]:
    document = cases.document()
    document["taxes"] = list(rules)
    try:
        validate(cases.authored(document).file)
    except InvalidInput as refused:
        return {fault.pointer: fault.code for fault in refused.faults}
    return {}


@pytest.mark.parametrize(
    ("changed", "faults"),
    [
        ({"rate_percent": "0"}, {"/taxes/0/rate_percent": "rate-zero"}),
        ({"code": "Z"}, {"/taxes/0/rate_percent": "rate-not-zero"}),
        ({"code": "E", "rate_percent": "0"}, {"/taxes/0/exemption_reason": "reason-missing"}),
        ({"code": "AE", "rate_percent": "0"}, {"/taxes/0/exemption_reason": "reason-missing"}),
        (
            {"code": "O", "rate_percent": "5"},
            {
                "/taxes/0/rate_percent": "rate-not-zero",
                "/taxes/0/exemption_reason": "reason-missing",
            },
        ),
        (
            {"code": "Z", "rate_percent": "0", "exemption_reason": "Old"},
            {"/taxes/0/exemption_reason": "reason-without-exemption"},
        ),
        ({"exemption_reason": "Old"}, {"/taxes/0/exemption_reason": "reason-without-exemption"}),
        (
            {"code": None, "exemption_reason": "Old"},
            {"/taxes/0/exemption_reason": "code-missing"},
        ),
        ({}, {}),
        ({"code": None}, {}),
        ({"code": "Z", "rate_percent": "0"}, {}),
        ({"code": "E", "rate_percent": "0", "exemption_reason": "School"}, {}),
        ({"code": "L", "rate_percent": "7"}, {}),
    ],
)
def test_category_rate_and_reason_agree(changed: dict[str, Any], faults: dict[str, str]) -> None:
    """EN 16931-1, business rules BR-S-05, BR-Z-05, BR-E-05, BR-E-10, BR-Z-10 and their like."""
    assert faults_of({**VAT, **changed}) == faults


def test_one_rule_of_vat_holds_at_a_time() -> None:
    later = {**VAT, "id": "later", "effective_from": "2026-07-01", "rate_percent": "22"}
    assert faults_of(VAT, later) == {"/taxes/1/effective_from": "overlapping-vat"}
    ended = {**VAT, "effective_to": "2026-06-30"}
    assert faults_of(later, ended) == {}
    assert faults_of({**VAT, "effective_to": "2026-07-01"}, later) == {
        "/taxes/1/effective_from": "overlapping-vat"
    }
    assert faults_of(VAT, {**later, "on_request": True}) == {}
    assert faults_of(VAT, {**later, "place": "Hillside"}) == {}
    assert faults_of(VAT, {**later, "scheme": "sales_tax"}) == {}


def test_rules_written_before_there_were_codes_go_on_being_read() -> None:
    words = {name: VAT[name] for name in VAT if name not in ("code", "scheme")}
    assert faults_of(words) == {}
    document = cases.document()
    document["taxes"] = [words]
    (rule,) = cases.authored(document).file.taxes
    assert (rule.code, rule.scheme, rule.on_request) == (None, "sales_tax", False)
