"""What an invoice lacks is said at once, with pointers to where it is to be given."""

from datetime import date
from typing import Any

import msgspec
import pytest
from invoice_cases import (
    BUYER,
    SELLER,
    US_BUYER,
    US_SELLER,
    accepted,
    line,
    offer,
    part,
    request,
    tax,
)

from filmbuild.errors import Faults
from filmbuild.money import Currency, Exact, Money, PositiveExact
from filmbuild.organisations.parties import Address, Party
from filmbuild.pipeline.results.offer import Offer, OfferTax
from filmbuild.quotations.invoices.checking import check
from filmbuild.quotations.invoices.making import invoice_of
from filmbuild.quotations.invoices.records import InvoiceRequest

NOWHERE = Party(name="Nowhere demo company", address=Address(country="BE"))
Found = list[tuple[str, str]]


def found(given: Offer, asked: InvoiceRequest | None = None, **changes: Any) -> Found:
    asked = asked or request()
    faults = Faults()
    check(invoice_of(accepted(given, **changes), [0], asked, ""), asked, faults)
    return [(one.pointer, one.code) for one in faults.found]


def sold(*taxes: OfferTax) -> Offer:
    return offer([line("100.00", one) for one in taxes], taxes)


def without(party: Party, *names: str) -> Party:
    return msgspec.structs.replace(party, **dict.fromkeys(names))


STANDARD = sold(tax("S", "20"))


def test_nothing_lacks_where_all_is_there() -> None:
    assert found(STANDARD) == []


def test_all_that_lacks_is_said_at_once() -> None:
    lacking = found(
        STANDARD, request(due_on=request().issued_on.replace(day=1, month=1)), seller=NOWHERE
    )
    assert lacking == [
        ("/due_on", "before-issue"),
        ("/seller/address/lines", "missing"),
        ("/seller/address/city", "missing"),
        ("/seller/vat_number", "missing"),
    ]


def test_sales_taxes_ask_for_no_numbers() -> None:
    state = tax("S", "5.75", "state", "sales_tax")
    assert found(sold(state), seller=US_SELLER, buyer=US_BUYER) == []


@pytest.mark.parametrize(
    ("category", "seller", "buyer", "lacking"),
    [
        ("AE", SELLER, without(BUYER, "vat_number"), [("/buyer/vat_number", "missing")]),
        ("AE", SELLER, US_BUYER, [("/buyer/vat_number", "missing")]),
        (
            "K",
            without(SELLER, "vat_number"),
            without(BUYER, "vat_number"),
            [
                ("/seller/vat_number", "missing"),
                ("/buyer/vat_number", "missing"),
                ("/delivered_on", "missing"),
                ("/place", "missing"),
            ],
        ),
        ("G", without(SELLER, "vat_number"), BUYER, [("/seller/vat_number", "missing")]),
        ("O", without(SELLER, "registration"), BUYER, [("/seller/registration", "missing")]),
        ("O", without(SELLER, "vat_number"), without(BUYER, "vat_number"), []),
        ("E", SELLER, BUYER, [("", "no-exemption-reason")]),
    ],
)
def test_each_category_asks_for_what_its_rules_ask_for(
    category: str, seller: Party, buyer: Party, lacking: Found
) -> None:
    assert found(sold(tax(category, "0")), seller=seller, buyer=buyer, place=None) == lacking


def test_a_seller_known_by_another_tax_number_needs_a_registration() -> None:
    seller = msgspec.structs.replace(SELLER, vat_number=None, tax_registration="12/345")
    assert found(STANDARD, seller=seller) == []
    assert found(STANDARD, seller=without(seller, "registration")) == [
        ("/seller/registration", "missing")
    ]


def test_vat_numbers_begin_with_a_country() -> None:
    seller = msgspec.structs.replace(SELLER, vat_number="0000000097")
    buyer = msgspec.structs.replace(BUYER, vat_number="EL000000000")
    assert found(STANDARD, seller=seller, buyer=buyer) == [
        ("/seller/vat_number", "no-country-prefix")
    ]


def test_countries_are_those_of_iso_3166() -> None:
    """XK is used for Kosovo, but is not assigned; EU is no country."""
    for country in ("XK", "EU", "ZZ"):
        buyer = msgspec.structs.replace(BUYER, address=Address(country=country))
        assert ("/buyer/address/country", "unknown-country") in found(STANDARD, buyer=buyer)
        assert found(STANDARD, place=Address(country=country)) == [
            ("/place/country", "unknown-country")
        ]


@pytest.mark.parametrize(("category", "rate"), [("S", "0"), ("Z", "5"), ("AE", "20"), ("O", "20")])
def test_rates_are_those_of_their_category(category: str, rate: str) -> None:
    assert ("", "rate-not-of-category") in found(sold(tax(category, rate)))


def test_a_category_that_no_invoice_can_have() -> None:
    assert found(sold(tax("AA", "7"))) == [("", "unknown-tax-category")]


def test_what_is_outside_of_the_scope_stands_alone() -> None:
    assert ("", "mixed-categories") in found(sold(tax("O", "0"), tax("S", "20")))


def test_a_line_without_a_tax_cannot_stand_beside_value_added_tax() -> None:
    s20 = tax("S", "20")
    assert found(offer([line("10.00", s20), line("5.00")], [s20])) == [("", "line-without-one-tax")]


def test_units_are_those_of_the_table() -> None:
    s20 = tax("S", "20")
    assert found(offer([line("10.00", s20, unit="SQFT")], [s20])) == [("", "unknown-unit")]


def test_what_was_paid_before_is_in_the_currency_and_within_the_total() -> None:
    def paid(amount: str, currency: str = "EUR") -> InvoiceRequest:
        return request(prepaid=Money(Exact(amount), Currency(currency)))

    assert found(STANDARD, paid("120.00")) == []
    assert found(STANDARD, paid("120.01")) == [("/prepaid/amount", "out-of-range")]
    assert found(STANDARD, paid("-0.01")) == [("/prepaid/amount", "out-of-range")]
    assert found(STANDARD, paid("1.000", "KWD")) == [("/prepaid/currency", "wrong-currency")]
    assert found(STANDARD, request(due_step=PositiveExact("0.005"))) == [
        ("/due_step", "too-precise")
    ]
    assert found(STANDARD, request(due_step=PositiveExact("121"))) == [
        ("/due_step", "out-of-range")
    ]


def test_the_last_day_of_the_calendar_is_late_enough() -> None:
    last = date(9999, 12, 30)
    plan = [part("all", "100", due_days=90)]
    s20 = tax("S", "20")
    given = offer([line("100.00", s20)], [s20], plan)
    assert found(given, request(issued_on=last)) == []
    assert invoice_of(accepted(given), [0], request(issued_on=last), "").due_on == date.max
