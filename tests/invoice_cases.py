"""Quotations that were accepted, to be invoiced. All names are invented."""

from collections.abc import Sequence
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

import msgspec

from filmbuild.money import Currency, Exact, Money
from filmbuild.organisations.parties import Address, Contact, Party
from filmbuild.pipeline.offering.payments import Part, staged
from filmbuild.pipeline.offering.taxes import net_of, taxed, total_of
from filmbuild.pipeline.results.offer import Offer, OfferLine, OfferOption, OfferTax
from filmbuild.quotations.accepted import AcceptedQuotation
from filmbuild.quotations.content import (
    Alternate,
    Decision,
    OfferDates,
    QuotationContent,
    Texts,
)
from filmbuild.quotations.invoices.records import InvoiceRequest, Payee

SELLER = Party(
    name="Quayside Floors demo company",
    address=Address(lines=("1 Sample Street",), city="Sampleton", postal_code="1000", country="BE"),
    contact=Contact(name="Office", telephone="+32 000 00 00", email="office@example.com"),
    vat_number="BE0000000097",
    registration="DEMO-1",
)
BUYER = Party(
    name="Boat house demo buyer",
    address=Address(
        lines=("2 Sample Street", "Shed 4", "Third gate"),
        city="Samplehaven",
        postal_code="2000",
        region="Coast",
        country="NL",
    ),
    vat_number="NL000000000B01",
)
US_SELLER = Party(
    name="Harbour Floors demo company",
    address=Address(
        lines=("3 Sample Road",), city="Sampleville", region="OH", postal_code="00000", country="US"
    ),
)
US_BUYER = msgspec.structs.replace(US_SELLER, name="Chandlery demo buyer")
PLACE = BUYER.address
PAYEE = Payee(account="BE00 0000 0000 0000", name="Quayside Floors", bank="DEMOBEBB")
ISSUED = date(2026, 9, 1)


def tax(category: str, rate: str, rule: str = "", scheme: str = "vat", **more: Any) -> OfferTax:
    """With sums that `offer` fills in."""
    return OfferTax(
        rule=rule or f"{category.lower()}-{rate}",
        name=f"Demo tax {category} {rate}",
        category=category,
        rate_percent=Decimal(rate),
        base=Money(Exact(0), Currency("EUR")),
        amount=Money(Exact(0), Currency("EUR")),
        scheme=scheme,
        **more,
    )


def line(
    net: str, *taxes: OfferTax, quantity: str = "1", unit: str = "LS", currency: str = "EUR"
) -> OfferLine:
    return OfferLine(
        id="work",
        kind="work",
        description="Demo floor coating",
        quantity=Decimal(quantity),
        unit=unit,
        net=Money(Exact(net), Currency(currency)),
        taxes=tuple(one.rule for one in taxes),
    )


def option(name: str, *lines: OfferLine) -> OfferOption:
    net = sum((one.net.amount for one in lines), Decimal(0))
    currency = lines[0].net.currency
    return OfferOption(
        id=name, label=name, description=name, lines=lines, net=Money(Exact(net), currency)
    )


def part(name: str, percent: str, occasion: Any = "on_completion", due_days: int = 14) -> Part:
    return Part(name, name.capitalize(), occasion, None, Decimal(percent), None, due_days)


DEPOSIT_PLAN = (
    part("deposit", "30", "on_acceptance", 0),
    part("final", "65"),
    part("retention", "5", "retention", 90),
)


def offer(
    lines: Sequence[OfferLine],
    taxes: Sequence[OfferTax],
    plan: Sequence[Part] = (),
    options: Sequence[OfferOption] = (),
) -> Offer:
    currency = lines[0].net.currency
    here = [msgspec.structs.replace(one, base=Money(Exact(0), currency)) for one in taxes]
    net, over = net_of(lines, currency), taxed(here, lines)
    made = Offer(
        currency=currency,
        lines=tuple(lines),
        net=net,
        taxes=over,
        total=total_of(net, over),
        per_square_metre=None,
        per_square_foot=None,
        per_running_metre=None,
        per_running_foot=None,
        options=tuple(options),
    )
    return staged(made, plan)


def content(made: Offer, **changes: Any) -> QuotationContent:
    alternate = Alternate(
        id="a",
        label="Thin film",
        estimate="est_demo",
        estimate_revision=1,
        units="si",
        system="Harbour thin film",
        layers=(),
        areas=(),
        offer=made,
        dates=OfferDates(
            first_day=date(2026, 9, 7),
            last_day=date(2026, 9, 9),
            visits=1,
            foot_traffic_from=None,
            vehicle_traffic_from=None,
            full_cure_at=None,
        ),
        gains=(),
        cautions=(),
        drawing="<svg/>",
        chart="<svg/>",
    )
    shown: dict[str, Any] = {
        "kind": "offer",
        "number": "Q-0012",
        "language": "en",
        "currency": made.currency,
        "time_zone": "Europe/Brussels",
        "issued_on": date(2026, 8, 1),
        "valid_until": date(2026, 8, 31),
        "seller": SELLER,
        "buyer": BUYER,
        "place": PLACE,
        "site": "Boat house",
        "reference": "Order 7",
        "texts": Texts(payment=("Payable by transfer.",), introduction=("Thank you for asking.",)),
        "alternates": (alternate,),
    }
    return QuotationContent(**{**shown, **changes})


def accepted(made: Offer, options: Sequence[str] = (), **changes: Any) -> AcceptedQuotation:
    decision = Decision(
        kind="accepted",
        name="A. Buyer",
        at=datetime(2026, 8, 20, 9, tzinfo=UTC),
        alternate="a",
        options=tuple(options),
    )
    return AcceptedQuotation(id=QUOTATION, content=content(made, **changes), decision=decision)


def request(**given: Any) -> InvoiceRequest:
    return InvoiceRequest(**{"issued_on": ISSUED, **given})


QUOTATION = "quo_" + "0" * 26
