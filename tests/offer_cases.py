"""Estimates of the demo studio to make offers of: invented, demo data."""

import json
from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any, Literal

from demo import priced_demo

import filmbuild
from filmbuild.edge.decoding import decode
from filmbuild.money import Currency, Percent, rounded
from filmbuild.pipeline.estimate import estimate_document
from filmbuild.pipeline.offering import PaymentTerm
from filmbuild.pipeline.offering.taxes import net_of, taxed, total_of
from filmbuild.pipeline.requests import EstimateRequest
from filmbuild.pipeline.results import EstimateDocument, Offer, OfferLine, OfferTax
from filmbuild.pipeline.results.offer import PaymentOccasion
from filmbuild.pipeline.specification import Catalogue

DAY = date(2026, 6, 15)
STUDIO: dict[str, Any] = json.loads(
    Path(filmbuild.__file__).with_name("quickstart_request.json").read_bytes()
)
GLAZE = {"id": "glaze", "label": "Glaze room too", "areas": ["glaze-room"]}
BOARDS = {
    "id": "skirting-boards",
    "description": "Skirting",
    "quantity": "12",
    "unit": "MTR",
    "unit_cost": "7.50",
}
SKIRTING = {
    "id": "skirting",
    "label": "New skirting",
    "description": "Supplied and fixed",
    "extras": [BOARDS],
}
CRANE = {
    "id": "crane",
    "description": "Crane with driver",
    "quantity": "3.5",
    "unit": "HUR",
    "unit_cost": "148.125",
}
TERMS: dict[str, Any] = {"margin_percent": "32", "overhead_percent": "12"}


@cache
def catalogue(currency: str = "USD") -> Catalogue:
    return priced_demo(currency, DAY)


def asked(
    *options: dict[str, Any],
    terms: dict[str, Any] | None = None,
    site: dict[str, Any] | None = None,
    **job: Any,
) -> EstimateRequest:
    given = {**STUDIO["job"], **job, "terms": TERMS | (terms or {})}
    if given.get("currency") == "EUR":
        given["rate_book"] = "main-eur"
    body = {**STUDIO, "site": site or STUDIO["site"], "job": given, "options": options}
    return decode(EstimateRequest, json.dumps(body).encode())


def estimated(request: EstimateRequest) -> EstimateDocument:
    return estimate_document(request, catalogue(request.job.currency))


def payment(
    name: str, occasion: PaymentOccasion, percent: str | None = None, due_days: int = 0
) -> PaymentTerm:
    share = None if percent is None else Percent(percent)
    return PaymentTerm(id=name, label=name, occasion=occasion, percent=share, due_days=due_days)


DEPOSIT_AND_RETENTION = (
    payment("deposit", "on_acceptance", "30"),
    payment("progress", "per_visit", "40", 7),
    payment("rest", "on_completion", None, 14),
    payment("held", "retention", "5", 90),
)


def summed(amounts: Iterable[Decimal]) -> Decimal:
    return sum(amounts, Decimal(0))


def adds_up(offer: Offer) -> None:
    """Lines to the net, lines to the base of each tax, net and taxes to the total."""
    assert summed(line.net.amount for line in offer.lines) == offer.net.amount
    for tax in offer.taxes:
        base = summed(line.net.amount for line in offer.lines if tax.rule in line.taxes)
        assert base == tax.base.amount, tax.rule
    taxes = summed(tax.amount.amount for tax in offer.taxes)
    assert offer.net.amount + taxes == offer.total.amount
    if offer.payments:
        stages_add_up(offer)


def stages_add_up(offer: Offer) -> None:
    stages = offer.payments
    assert summed(one.share_percent for one in stages) == 100
    assert summed(one.net.amount for one in stages) == offer.net.amount
    assert summed(one.total.amount for one in stages) == offer.total.amount
    sides: tuple[Literal["base", "amount"], ...] = ("base", "amount")
    for number, tax in enumerate(offer.taxes):
        for side in sides:
            parts = summed(money_of(one.taxes[number], side) for one in stages)
            assert parts == money_of(tax, side), (tax.rule, side)
    for one in stages:
        taxes = summed(tax.amount.amount for tax in one.taxes)
        assert one.net.amount + taxes == one.total.amount


def money_of(tax: OfferTax, side: Literal["base", "amount"]) -> Decimal:
    return (tax.base if side == "base" else tax.amount).amount


def offer_of(
    nets: Sequence[tuple[str, tuple[str, ...]]], rates: dict[str, str], currency: str = "USD"
) -> Offer:
    money = Currency(currency)
    lines = tuple(
        OfferLine(
            id=str(number),
            kind="work",
            description="Work",
            quantity=Decimal(1),
            unit="LS",
            net=rounded(Decimal(net), money),
            taxes=taxes,
        )
        for number, (net, taxes) in enumerate(nets)
    )
    nothing = rounded(Decimal(0), money)
    rules = [
        OfferTax(
            rule=rule,
            name=rule,
            category="S",
            rate_percent=Decimal(rate),
            base=nothing,
            amount=nothing,
        )
        for rule, rate in rates.items()
    ]
    net, taxes = net_of(lines, currency), taxed(rules, lines)
    return Offer(
        currency=currency,
        lines=lines,
        net=net,
        taxes=taxes,
        total=total_of(net, taxes),
        per_square_metre=None,
        per_square_foot=None,
        per_running_metre=None,
        per_running_foot=None,
    )
