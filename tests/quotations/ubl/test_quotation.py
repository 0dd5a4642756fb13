"""The quotation as UBL 2.1: its schema, and sums that no published rules look at."""

import re
from datetime import date
from decimal import Decimal
from typing import Any

import msgspec
import pytest
import ubl_schemas
from hypothesis import given, settings
from hypothesis import strategies as st
from invoice_cases import DEPOSIT_PLAN, accepted, content, line, offer, option, tax
from litestar import Litestar
from litestar.testing import TestClient
from lxml import etree
from open_gate import OPEN_GATE

from filmbuild.edge.http import handlers, routing_failed
from filmbuild.edge.operations import Answer, Call, NoQuery, Operation
from filmbuild.errors import Conflict
from filmbuild.pipeline.unit_codes import UNITS
from filmbuild.quotations.content import Decision, QuotationContent, Texts
from filmbuild.quotations.ubl.quotation import quotation_xml
from filmbuild.quotations.ubl.representation import ubl_representation

S20, S6, OUTSIDE = tax("S", "20"), tax("S", "6"), tax("O", "0")
OFFER = offer(
    [
        line("1234.56", S20, quantity="98.7", unit="MTK"),
        line("-100.00", S20),
        line("33.35", S6, quantity="12", unit="MTR"),
    ],
    [S20, S6],
    DEPOSIT_PLAN,
    [option("cove", line("50.00", S20)), option("stripes", line("70.00", S6))],
)
CAC = "{urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2}"
CBC = "{urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2}"


def amount(element: Any, path: str) -> Decimal:
    found = element.find(path)
    assert found is not None, path
    return Decimal(found.text)


def broken(document: bytes) -> list[str]:
    """What our own rules say against it; no rules for quotations are published."""
    tree: Any = etree.fromstring(document)
    totals = tree.find(f"{CAC}QuotedMonetaryTotal")
    lines = tree.findall(f"{CAC}QuotationLine/{CAC}LineItem")
    found = []
    net = sum(amount(one, f"{CBC}LineExtensionAmount") for one in lines)
    if net != amount(totals, f"{CBC}LineExtensionAmount"):
        found.append("lines")
    taxes = tree.find(f"{CAC}TaxTotal")
    due = Decimal(0) if taxes is None else amount(taxes, f"{CBC}TaxAmount")
    parts = tree.iterfind(f"{CAC}TaxTotal/{CAC}TaxSubtotal")
    if sum(amount(one, f"{CBC}TaxAmount") for one in parts) != due:
        found.append("taxes")
    if net + due != amount(totals, f"{CBC}PayableAmount"):
        found.append("payable")
    for one in lines:
        price = amount(one, f"{CAC}Price/{CBC}PriceAmount")
        base = one.find(f"{CAC}Price/{CBC}BaseQuantity")
        per = Decimal(1) if base is None else Decimal(base.text)
        exact = price / per * amount(one, f"{CBC}Quantity")
        if abs(exact - amount(one, f"{CBC}LineExtensionAmount")) > Decimal("0.005"):
            found.append("price")
    currencies = {one.get("currencyID") for one in tree.iter() if one.get("currencyID")}
    if currencies != {tree.findtext(f"{CBC}PricingCurrencyCode")}:
        found.append("currency")
    period = tree.find(f"{CAC}ValidityPeriod")
    if period.findtext(f"{CBC}EndDate") < period.findtext(f"{CBC}StartDate"):
        found.append("period")
    if {one.get("unitCode") for one in tree.iter() if one.get("unitCode")} - UNITS.keys():
        found.append("units")
    if int(tree.findtext(f"{CBC}LineCountNumeric")) != len(lines):
        found.append("count")
    return found


def right(document: bytes) -> bytes:
    assert ubl_schemas.faults(document) == []
    assert broken(document) == []
    return document


def test_it_keeps_the_schema_and_adds_up() -> None:
    document = right(quotation_xml(content(OFFER)))
    assert b"<cbc:ID>Q-0012</cbc:ID>" in document
    assert b"<cbc:EndDate>2026-08-31</cbc:EndDate>" in document
    assert b"<cbc:Note>cove: 50.00 EUR</cbc:Note>" in document
    assert document == quotation_xml(content(OFFER))


@pytest.mark.parametrize(
    ("was", "becomes", "rule"),
    [
        (">-100.00</cbc:LineExtensionAmount>", ">-101.00</cbc:LineExtensionAmount>", "lines"),
        (">226.91</cbc:TaxAmount>", ">226.92</cbc:TaxAmount>", "taxes"),
        ("</cbc:PayableAmount>", "1</cbc:PayableAmount>", "payable"),
        ('"EUR">-100.00<', '"USD">-100.00<', "currency"),
        ("<cbc:EndDate>2026-08-31", "<cbc:EndDate>2026-07-31", "period"),
        ('unitCode="MTK"', 'unitCode="SQFT"', "units"),
        ("<cbc:LineCountNumeric>3<", "<cbc:LineCountNumeric>4<", "count"),
        ('unitCode="MTK">98.7<', 'unitCode="MTK">89.7<', "price"),
    ],
)
def test_our_rules_notice_what_the_schema_does_not(was: str, becomes: str, rule: str) -> None:
    document = quotation_xml(content(OFFER)).decode()
    assert was in document
    spoilt = document.replace(was, becomes).encode()
    assert ubl_schemas.faults(spoilt) == []
    assert rule in broken(spoilt)


def test_the_schema_notices_what_is_missing() -> None:
    document = quotation_xml(content(OFFER))
    spoilt = re.sub(b"<cbc:IssueDate>.*?</cbc:IssueDate>", b"", document)
    assert ubl_schemas.faults(spoilt)


def test_what_was_accepted_has_its_options_among_the_lines() -> None:
    taken = accepted(OFFER, ["stripes"])
    document = right(quotation_xml(taken.content, taken.decision))
    assert document.count(b"<cac:QuotationLine>") == 4
    assert b"<cbc:Note>stripes" not in document
    assert b"<cbc:Note>cove: 50.00 EUR</cbc:Note>" in document


def test_alternates_that_were_not_chosen_are_told_by_their_totals() -> None:
    first = content(OFFER)
    better = msgspec.structs.replace(first.alternates[0], id="b", label="Quartz")
    both = msgspec.structs.replace(first, alternates=(first.alternates[0], better))
    document = right(quotation_xml(both))
    assert f"<cbc:Note>Quartz: {OFFER.total.amount} EUR</cbc:Note>".encode() in document
    chosen = msgspec.structs.replace(accepted(OFFER).decision, alternate="b")
    assert b"<cbc:Note>Thin film: " in right(quotation_xml(both, chosen))
    nothing = msgspec.structs.replace(chosen, alternate="c")
    with pytest.raises(Conflict):
        quotation_xml(both, nothing)


def test_a_draft_has_no_such_document() -> None:
    with pytest.raises(Conflict):
        quotation_xml(content(OFFER, number=None, issued_on=None))


def test_what_is_outside_of_the_tax_shows_no_numbers_for_it() -> None:
    document = right(quotation_xml(content(offer([line("5.00", OUTSIDE)], [OUTSIDE]))))
    assert b"PartyTaxScheme" not in document
    assert b"Percent" not in document


def test_a_change_order_names_what_it_changes() -> None:
    change = content(
        offer([line("-5.00", S20)], [S20]), kind="change_order", changes="Q-0011", place=None
    )
    document = right(quotation_xml(change))
    assert b"<cac:AdditionalDocumentReference>" in document
    assert b">-6.00</cbc:PayableAmount>" in document


TEXTS = st.text(st.characters(codec=None), min_size=1, max_size=50)


@given(TEXTS, TEXTS, st.dates(date(2026, 8, 1), date(2027, 12, 31)))
@settings(max_examples=80)
def test_whatever_people_write_it_can_be_read(site: str, paragraph: str, until: date) -> None:
    shown = content(
        OFFER, site=site, valid_until=until, texts=Texts(conditions=(paragraph, "]]>&amp;<"))
    )
    document = right(quotation_xml(shown))
    assert etree.fromstring(document).findtext(f"{CBC}IssueDate") == "2026-08-01"


def test_markup_in_texts_is_text() -> None:
    shown = content(OFFER, site="<script>&\"'", texts=Texts(conditions=("]]>",)))
    tree = etree.fromstring(right(quotation_xml(shown)))
    assert tree.findtext(f"{CBC}Note") == "<script>&\"'"


def test_it_is_one_of_the_forms_of_a_quotation() -> None:
    """Over HTTP; a draft is a conflict there."""

    async def show(call: Call[None, NoQuery]) -> tuple[QuotationContent, Decision | None]:
        draft = call.path["quotation_id"] == "draft"
        return content(OFFER, number=None if draft else "Q-0012"), None

    async def plain(_call: Call[None, NoQuery]) -> Answer:
        return Answer(b"{}")

    operation = Operation(
        method="GET",
        path="/v1/quotations/{quotation_id}",
        id="getQuotation",
        tag="quotations",
        summary="One quotation",
        description="",
        handler=plain,
        query=NoQuery,
        answer=QuotationContent,
        failures=("conflict",),
        representations=(ubl_representation(show),),
    )
    routes = handlers((operation,), 1 << 20, OPEN_GATE)
    app = Litestar(routes, exception_handlers={Exception: routing_failed}, openapi_config=None)
    accept = {"accept": "application/xml, application/problem+json"}
    with TestClient(app) as client:
        answer = client.get("/v1/quotations/issued", headers=accept)
        assert answer.headers["content-type"] == "application/xml"
        assert answer.content == quotation_xml(content(OFFER))
        assert client.get("/v1/quotations/draft", headers=accept).status_code == 409


def test_no_external_entities_or_document_type_are_written() -> None:
    assert b"<!" not in quotation_xml(content(OFFER))
