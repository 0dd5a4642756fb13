"""Which tax rules hold for a sale, on what, and what nothing is due on."""

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from price_cases import crew_costs, priced, refused, tax

from filmbuild.pipeline.price.taxes import category_code
from filmbuild.pipeline.specification import TaxRule
from filmbuild.pipeline.trace import Note


def vat(name: str, rate: str, code: str = "S", **rest: Any) -> TaxRule:
    given = {"id": name, "code": code, "scheme": "vat", "category": "as coded", **rest}
    return tax("sale", rate, **given)


STANDARD = vat("standard", "21")
REDUCED = vat("reduced", "9", on_request=True)
REVERSE = vat("reverse", "0", "AE", on_request=True, exemption_reason="Reverse charge")
EVERY = (STANDARD, REDUCED, REVERSE)


@pytest.mark.parametrize(
    ("names", "rate", "code", "total"),
    [
        ([], "21", "S", "1210.00"),
        (["reduced"], "9", "S", "1090.00"),
        (["reverse"], "0", "AE", "1000.00"),
    ],
)
def test_a_rule_on_request_takes_the_place_of_those_that_hold_for_any_sale(
    names: list[str], rate: str, code: str, total: str
) -> None:
    price = priced("1000", *EVERY, tax_rules=names)
    (line,) = price.taxes
    assert (line.rate_percent, line.code, line.scheme) == (Decimal(rate), code, "vat")
    assert price.total.amount == Decimal(total)
    assert line.exemption_reason == ("Reverse charge" if code == "AE" else None)


def test_rules_are_named_of_the_place_and_in_force_and_once() -> None:
    ended = vat("ended", "19", effective_from="2020-01-01", effective_to="2025-12-31")
    elsewhere = vat("elsewhere", "25", place="Farshore")
    rules = (*EVERY, ended, elsewhere)
    assert refused(*rules, tax_rules=["ended", "elsewhere", "nowhere", "reduced", "reduced"]) == {
        "/job/terms/tax_rules/0": "no-tax-rule",
        "/job/terms/tax_rules/1": "unknown-tax-rule",
        "/job/terms/tax_rules/2": "unknown-tax-rule",
        "/job/terms/tax_rules/4": "duplicate",
    }


def test_a_sale_falls_under_one_rule_of_vat() -> None:
    found = refused(*EVERY, tax_rules=["standard", "reduced"])
    assert found == {"/job/terms/tax_rules": "several-vat-rules"}


def test_sales_taxes_of_one_place_add_up() -> None:
    """State and county both tax the sale, each on the whole of it."""
    price = priced("1000", tax("sale", "4.5"), tax("sale", "1.125"))
    assert [line.amount.amount for line in price.taxes] == [Decimal(45), Decimal("11.25")]
    assert price.total.amount == Decimal("1056.25")


def test_a_place_with_nothing_but_rules_on_request_needs_one_named() -> None:
    assert refused(REDUCED) == {"/job/terms/tax_place": "no-tax-rule"}


def test_the_day_of_the_tax_may_be_another_than_that_of_the_prices() -> None:
    before = tax("sale", "20", effective_from="2020-01-01", effective_to="2026-12-31")
    after = tax("sale", "22", effective_from="2027-01-01")
    assert priced("100", before, after).total.amount == Decimal(120)
    assert priced("100", before, after, taxed_on="2027-01-01").total.amount == Decimal(122)
    found = refused(before, after, taxed_on="2019-12-31")
    assert found == {"/job/terms/tax_place": "no-tax-rule"}


def test_what_is_said_of_tax_needs_a_place() -> None:
    terms: dict[str, Any] = {
        "tax_rules": ["x"],
        "taxed_on": "2026-01-01",
        "exemption": {"reason": "School"},
    }
    assert refused(**terms) == dict.fromkeys(
        ("/job/terms/tax_rules", "/job/terms/taxed_on", "/job/terms/exemption"),
        "tax-place-missing",
    )


def test_a_buyer_who_is_exempt_pays_no_tax_and_is_told_why() -> None:
    exemption = {"reason": "Public school", "certificate": "PS-1142"}
    price = priced("1000", tax("sale", "7.25"), exemption=exemption)
    (line,) = price.taxes
    assert (line.amount.amount, line.rate_percent, line.code) == (Decimal(0), Decimal(0), "E")
    assert line.exemption_reason == "Public school (PS-1142)"
    assert line.base == price.net == price.total


def test_an_exemption_is_not_for_what_the_contractor_consumes() -> None:
    notes: list[Note] = []
    exempt = {"reason": "Public school"}
    price = priced("1000", tax("materials_cost", "6.5"), exemption=exempt, notes=notes)
    assert price.direct_cost.amount == Decimal(1065)
    assert "exemption-without-effect" in {note.code for note in notes}


def test_a_tax_on_the_materials_of_a_sale_is_taken_on_their_share_of_the_price() -> None:
    """900 of materials and 100 of labour, sold for 1250: 1125 of it is for materials."""
    work = crew_costs("USD", hours="4", rate="25")
    price = priced("900", tax("sale_of_materials", "8"), work=work, margin_percent="20")
    assert price.net.amount == Decimal(1250)
    (line,) = price.taxes
    assert line.base.amount == Decimal(1125)
    assert line.of_materials
    assert price.total.amount == Decimal(1340)


@pytest.mark.parametrize(
    ("category", "rate", "code"),
    [
        ("standard", "7.25", "S"),
        ("reduced", "6", "S"),
        ("zero", "0", "Z"),
        ("Exempt", "0", "E"),
        ("reverse-charge", "0", "AE"),
        ("out of scope", "0", "O"),
        ("something else", "0", "Z"),
    ],
)
def test_rules_that_were_kept_in_words_have_a_code(category: str, rate: str, code: str) -> None:
    """UNTDID 5305, for rules written down before they stated one."""
    assert category_code(tax("sale", rate, category=category)) == code


@given(
    cost=st.decimals("0.01", "900000", places=2),
    hours=st.integers(0, 60),
    rate=st.decimals("0", "30", places=3),
    of_materials=st.decimals("0", "30", places=3),
)
@settings(max_examples=100, deadline=None)
def test_a_tax_is_within_half_a_cent_of_its_rate(
    cost: Decimal, hours: int, rate: Decimal, of_materials: Decimal
) -> None:
    rules = (tax("sale", str(rate)), tax("sale_of_materials", str(of_materials)))
    work = crew_costs("USD", hours=str(hours), rate="31.07")
    price = priced(str(cost), *rules, work=work, markup_percent="17")
    for line in price.taxes:
        exact = line.base.amount * line.rate_percent / 100
        assert abs(line.amount.amount - exact) <= Decimal("0.005")
    whole, materials = price.taxes
    assert 0 <= materials.base.amount <= whole.base.amount == price.net.amount
