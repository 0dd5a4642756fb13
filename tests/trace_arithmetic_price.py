"""The equations of the rules of the price, written anew."""

from decimal import Decimal
from typing import Any

from trace_arithmetic import Check, Figures, Inputs, kept_in, money, percent, used_share

CHECKS: dict[str, Check] = {}
of = kept_in(CHECKS)


@of("price.line")
def _line(given: Inputs, record: Any, _: str) -> Figures:
    yield record.quantity, given["quantity"]
    yield record.unit_cost, given["unit_cost"]
    yield record.amount.amount, money(given["quantity"] * given["unit_cost"].amount)


@of("price.packs-bought")
def _packs(given: Inputs, record: Any, _: str) -> Figures:
    yield record.quantity, given["packs"]
    yield record.amount.amount, money(given["packs"] * given["unit_price"].amount)


@of("price.used-share")
def _used(given: Inputs, record: Any, _: str) -> Figures:
    packs = [
        (one["count"], one["unit_price"].amount, one["volume_share"])
        for one in given["packs"].values()
    ]
    yield record.amount.amount, used_share(packs, given["needed"], given["bought"])


@of("price.materials-tax")
def _materials_tax(given: Inputs, record: Any, _: str) -> Figures:
    yield record.amount.amount, money(given["materials"].amount * percent(given["rate_percent"]))


@of("price.sale-tax")
def _sale_tax(given: Inputs, record: Any, _: str) -> Figures:
    yield record.amount.amount, money(given["base"].amount * percent(given["rate_percent"]))


@of("price.direct-cost")
def _direct(given: Inputs, record: Any, _: str) -> Figures:
    yield record.direct_cost.amount, sum(one.amount for one in given["groups"].values())
    yield record.direct_cost.amount, sum(one.amount.amount for one in record.lines)


@of("price.contingency")
def _contingency(given: Inputs, record: Any, _: str) -> Figures:
    yield record.contingency.amount, money(given["direct_cost"].amount * percent(given["percent"]))


@of("price.overhead")
def _overhead(given: Inputs, record: Any, _: str) -> Figures:
    base = given["direct_cost"].amount + given["contingency"].amount
    yield record.overhead.amount, money(base * percent(given["percent"]))


@of("price.cost", "price.total")
def _sum(given: Inputs, record: Any, field: str) -> Figures:
    yield getattr(record, field).amount, sum(one.amount for one in given.values())


@of("price.markup")
def _markup(given: Inputs, record: Any, _: str) -> Figures:
    yield record.net.amount, money(given["cost"].amount * (1 + percent(given["markup_percent"])))


@of("price.margin")
def _margin(given: Inputs, record: Any, _: str) -> Figures:
    yield record.net.amount, money(given["cost"].amount / (1 - percent(given["margin_percent"])))


@of("price.minimum-charge")
def _minimum(given: Inputs, record: Any, _: str) -> Figures:
    yield record.net.amount, max(given["net_by_terms"].amount, given["minimum_charge"])


@of("price.gain")
def _gain(given: Inputs, record: Any, field: str) -> Figures:
    gain = given["net"].amount - given["cost"].amount
    base = given["cost" if field == "markup_percent" else "net"].amount
    yield getattr(record, field), money(gain / base * 100)


@of("price.per-area")
def _per_area(given: Inputs, record: Any, field: str) -> Figures:
    floor = given["floor"] / (0.3048**2 if field == "per_square_foot" else 1)
    yield getattr(record, field).amount, money(given["net"].amount / Decimal(floor))
