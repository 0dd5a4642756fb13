"""What invoices add up to: published examples, and laws over offers of every shape."""

from collections import defaultdict
from decimal import Decimal
from typing import Any

import msgspec
import pytest
import ubl_schemas
from hypothesis import given, settings
from invoice_cases import DEPOSIT_PLAN, accepted, line, offer, option, request, tax
from invoice_strategies import jobs
from lxml import etree

from filmbuild.edge.decoding import dec_hook
from filmbuild.edge.encoding import encode
from filmbuild.money import Exact, Money, PositiveExact, round_money
from filmbuild.pipeline.results.offer import Offer
from filmbuild.quotations.accepted import AcceptedQuotation, accepted_offer
from filmbuild.quotations.invoices.listing import lines_to_invoice
from filmbuild.quotations.invoices.making import invoice_of, plan_of
from filmbuild.quotations.invoices.records import Invoice
from filmbuild.quotations.invoices.xml import invoice_xml

Totals = dict[str, str]


def texts(document: bytes, name: str, within: str = "LegalMonetaryTotal") -> list[str]:
    """Of the elements of that name anywhere under another."""
    path = f"//*[local-name()='{within}']//*[local-name()='{name}']/text()"
    tree: Any = etree.fromstring(document)
    return [str(one) for one in tree.xpath(path)]


def one(given: Offer, **asked: Any) -> Invoice:
    return invoice_of(accepted(given), [0], request(**asked), "INV-0001")


def euros(text: str) -> Money:
    return Money(Exact(text), round_currency)


round_currency = line("0.00").net.currency


def test_a_tie_is_rounded_up_as_in_the_second_example_of_cen() -> None:
    """CEN/TC 434 validation artefacts, ubl-tc434-example2.xml: tax 365.13 on 1460.50 at 25 %.

    The example's allowance and charge on the whole document are lines here, with the same sums.
    """
    s25, s15, zero = tax("S", "25"), tax("S", "15"), tax("Z", "0")
    nets = [("1460.50", s25), ("1.00", s15), ("-25.00", zero), ("-100.00", s25), ("100.00", s25)]
    made = one(
        offer([line(net, rule) for net, rule in nets], [s25, s15, zero]),
        prepaid=euros("1000.00"),
    )
    assert made.net == euros("1436.50")
    assert [str(one.amount.amount) for one in made.taxes] == ["365.13", "0.15", "0.00"]
    assert (made.tax, made.total) == (euros("365.28"), euros("1801.78"))
    assert made.amount_due == euros("801.78")
    document = invoice_xml(made)
    assert texts(document, "PayableAmount") == ["801.78"]
    assert texts(document, "PrepaidAmount") == ["1000.00"]


def test_two_rates_as_in_the_first_example_of_cen() -> None:
    """ubl-tc434-example1.xml: 10.99 on 183.23 at 6 %, and 9.74 on 46.37 at 21 %."""
    s6, s21 = tax("S", "6"), tax("S", "21")
    made = one(offer([line("183.23", s6), line("46.37", s21)], [s6, s21]))
    assert [str(one.amount.amount) for one in made.taxes] == ["10.99", "9.74"]
    assert (made.net, made.tax, made.total) == (euros("229.60"), euros("20.73"), euros("250.33"))


def test_what_is_due_is_rounded_to_a_step() -> None:
    """Peppol BIS Billing 3.0, calculation of totals: 999.81 to be paid as 1000 has +0.19."""
    zero = tax("Z", "0")
    made = one(offer([line("999.81", zero)], [zero]), due_step=PositiveExact("1"))
    assert (made.rounding, made.amount_due) == (euros("0.19"), euros("1000.00"))
    assert texts(invoice_xml(made), "PayableRoundingAmount") == ["0.19"]


def test_lines_that_cancel_out_come_to_exactly_nothing() -> None:
    """CEN/TC 434 unit test CII-BR-CO-10-RoundingIssue.xml: floats would leave a remainder."""
    zero = tax("Z", "0")
    lines = [line(net, zero) for net in ("720.81", "0.01", "-720.81", "-0.01")]
    made = one(offer(lines, [zero]))
    assert (made.net, made.total) == (euros("0.00"), euros("0.00"))
    assert made.kind == "invoice"
    assert ubl_schemas.faults(invoice_xml(made)) == []


def test_a_deposit_a_final_invoice_and_the_retention_in_figures() -> None:
    """30, 65 and 5 % of 1000.01 are 300.003, 950.0095 so far and 1000.01; tax of each sum so far.

    By hand, halves up: 300.00, 650.01, 50.00; and 60.00, 130.00, 10.00 of 200.00.
    """
    s20 = tax("S", "20")
    given = accepted(offer([line("1000.01", s20)], [s20], DEPOSIT_PLAN))
    made = [invoice_of(given, [place], request(), "INV") for place in range(3)]
    assert [str(one.net.amount) for one in made] == ["300.00", "650.01", "50.00"]
    assert [str(one.tax.amount) for one in made] == ["60.00", "130.00", "10.00"]
    assert [one.lines[0].description for one in made] == ["Deposit", "Final", "Retention"]
    assert [one.due_on.isoformat() for one in made] == ["2026-09-01", "2026-09-15", "2026-11-30"]


def test_a_plan_that_was_rounded_otherwise_is_billed_to_its_own_sums() -> None:
    """The largest set of lines takes what the plan's net differs by."""
    s20, s6 = tax("S", "20"), tax("S", "6")
    plain = offer([line("100.00", s20), line("10.00", s6)], [s20, s6], DEPOSIT_PLAN)
    moved = (euros("33.02"), euros("71.48"), euros("5.50"))
    payments = tuple(
        msgspec.structs.replace(stage, net=net)
        for stage, net in zip(plain.payments, moved, strict=True)
    )
    given = accepted(msgspec.structs.replace(plain, payments=payments))
    made = [invoice_of(given, [place], request(), "INV") for place in range(3)]
    assert [one.net for one in made] == list(moved)
    assert [str(one.lines[1].net.amount) for one in made] == ["3.00", "6.50", "0.50"]
    assert sum(one.lines[0].net.amount for one in made) == 100


def test_options_that_were_ticked_are_billed_and_others_are_not() -> None:
    s20 = tax("S", "20")
    options = [option("cove", line("50.00", s20)), option("stripes", line("70.00", s20))]
    base = offer([line("100.00", s20)], [s20], (), options)
    made = invoice_of(accepted(base, ["stripes"]), [0], request(), "INV")
    assert (made.net, made.total) == (euros("170.00"), euros("204.00"))


def test_two_rules_of_one_rate_are_one_breakdown() -> None:
    first, second = tax("S", "20"), tax("S", "20.00", "other")
    made = one(offer([line("10.03", first), line("10.03", second)], [first, second]))
    assert [(one.base, one.amount) for one in made.taxes] == [(euros("20.06"), euros("4.02"))]
    assert made.taxes[0].rules == ("s-20", "other")


def test_taxes_on_sales_stay_apart_by_rule() -> None:
    state, county = (tax("S", "5", name, "sales_tax") for name in ("state", "county"))
    made = one(offer([line("100.00", state, county)], [state, county]))
    assert [one.rules for one in made.taxes] == [("state",), ("county",)]
    assert made.total == euros("110.00")


def signed(invoice: Invoice) -> int:
    return -1 if invoice.kind == "credit_note" else 1


@given(jobs())
@settings(max_examples=150)
def test_the_invoices_of_all_stages_are_the_offer(job: AcceptedQuotation) -> None:
    whole, stages = plan_of(job)
    invoices = [invoice_of(job, [place], request(), "INV") for place in range(len(stages))]
    net = sum((signed(one) * one.net.amount for one in invoices), Decimal(0))
    total = sum((signed(one) * one.total.amount for one in invoices), Decimal(0))
    assert (net, total) == (whole.net.amount, whole.total.amount)
    bases: defaultdict[str, Decimal] = defaultdict(Decimal)
    amounts: defaultdict[str, Decimal] = defaultdict(Decimal)
    for invoice in invoices:
        assert sum(line.net.amount for line in invoice.lines) == invoice.net.amount
        for one in invoice.taxes:
            bases[one.rules[0]] += signed(invoice) * one.base.amount
            amounts[one.rules[0]] += signed(invoice) * one.amount.amount
    for due in accepted_offer(job.content, job.decision).taxes:
        assert bases[due.rule] == due.base.amount
        assert amounts[due.rule] == due.amount.amount
    together = invoice_of(job, range(len(stages)), request(), "INV")
    assert signed(together) * together.total.amount == whole.total.amount


@given(jobs())
@settings(max_examples=60)
def test_the_xml_says_what_the_json_says(job: AcceptedQuotation) -> None:
    _, stages = plan_of(job)
    for place in range(len(stages)):
        made = invoice_of(job, [place], request(), "INV-1")
        document = invoice_xml(made)
        assert ubl_schemas.faults(document) == []
        assert texts(document, "TaxExclusiveAmount") == [str(made.net.amount)]
        assert texts(document, "TaxInclusiveAmount") == [str(made.total.amount)]
        assert texts(document, "PayableAmount") == [str(made.amount_due.amount)]
        lines = "CreditNoteLine" if made.kind == "credit_note" else "InvoiceLine"
        assert texts(document, "LineExtensionAmount", lines) == [
            str(line.net.amount) for line in made.lines
        ]
        assert document == invoice_xml(made)
        again = msgspec.json.decode(encode(made, "si"), type=Invoice, dec_hook=dec_hook)
        assert invoice_xml(again) == document


@given(jobs())
@settings(max_examples=60)
def test_every_line_is_its_quantity_at_its_price(job: AcceptedQuotation) -> None:
    """Peppol BIS Billing 3.0 rule R120, without the tolerance that it leaves."""
    _, stages = plan_of(job)
    made = invoice_of(job, range(len(stages)), request(), "INV-1")
    for priced in made.lines:
        exact = priced.unit_price / priced.price_quantity * priced.quantity
        assert round_money(round(exact, 9), made.currency) == priced.net.amount
        assert priced.unit_price >= 0


@given(jobs(), jobs())
@settings(max_examples=60)
def test_lines_to_invoice_come_to_the_offer_and_its_changes(
    job: AcceptedQuotation, change: AcceptedQuotation
) -> None:
    change = msgspec.structs.replace(change, id="quo_change")
    found = lines_to_invoice((job, change), {})
    offers = [accepted_offer(one.content, one.decision) for one in (job, change)]
    assert found.net.amount == sum(one.net.amount for one in offers)
    assert found.total.amount == sum(one.total.amount for one in offers)
    assert found.net.amount + found.tax.amount == found.total.amount
    assert sum(line.net.amount for line in found.lines) == found.net.amount
    of_stages = [line for stage in found.stages for line in stage.lines]
    assert sum(line.net.amount for line in of_stages) == found.net.amount


@pytest.mark.parametrize("sign", ["", "-"])
def test_changes_that_nearly_cancel_out_keep_their_taxes_near_their_sums(sign: str) -> None:
    """Shares follow the plan, not the small net: 30 % of each set of lines, whatever their sum."""
    s20, zero = tax("S", "20"), tax("Z", "0")
    lines = [line(f"{sign}10000.00", s20), line("-9999.00" if not sign else "9999.00", zero)]
    given = accepted(offer(lines, [s20, zero], DEPOSIT_PLAN))
    made = invoice_of(given, [0], request(), "INV")
    assert [abs(one.base.amount) for one in made.taxes] == [Decimal("3000.00"), Decimal("2999.70")]
    assert [abs(one.amount.amount) for one in made.taxes] == [Decimal("600.00"), Decimal("0.00")]
