"""The equations of the rules of the price, written anew."""

from decimal import Decimal
from typing import Any

from trace_arithmetic import Check, Figures, Inputs, kept_in, money, percent, used_share

CENT = Decimal("0.01")
METRES = {
    "per_square_foot": 0.3048,
    "per_square_metre": 1.0,
    "per_running_foot": 0.3048,
    "per_running_metre": 1.0,
}
"""[m] The side of the area, or the length, that a price is for."""
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


@of("price.cost", "price.net", "price.total")
def _sum(given: Inputs, record: Any, field: str) -> Figures:
    yield getattr(record, field).amount, sum(one.amount for one in given.values())


@of("price.markup")
def _markup(given: Inputs, record: Any, _: str) -> Figures:
    gained = given["cost"].amount * (1 + percent(given["markup_percent"]))
    yield record.by_terms.amount, money(gained)


@of("price.margin")
def _margin(given: Inputs, record: Any, _: str) -> Figures:
    kept = 1 - percent(given["margin_percent"])
    yield record.by_terms.amount, money(given["cost"].amount / kept)


@of("price.minimum-charge")
def _minimum(given: Inputs, record: Any, _: str) -> Figures:
    lacking = given["minimum_charge"] - given["price"].amount
    yield record.amount.amount, max(lacking, Decimal(0))


@of("price.discount")
def _discount(given: Inputs, record: Any, _: str) -> Figures:
    if "stated" in given:
        yield record.amount.amount, -given["stated"].amount
    else:
        yield record.percent, given["percent"]
        taken = money(given["by_terms"].amount * percent(given["percent"]))
        yield record.amount.amount, -taken


@of("price.rounding")
def _rounding(given: Inputs, record: Any, _: str) -> Figures:
    price, step = given["price"].amount, given["step"]
    brought = price + record.amount.amount
    steps = brought / step
    yield steps, steps.to_integral_value()
    yield brought >= given.get("minimum_charge", 0), True
    if given["mode"] == "up" or brought - price > step / 2:
        yield price <= brought < price + step, True
    else:
        yield -step / 2 < record.amount.amount <= step / 2 or brought == price, True


@of("price.subcontract")
def _subcontract(given: Inputs, record: Any, _: str) -> Figures:
    yield record.amount.amount, money(given["quantity"] * given["unit_cost"].amount)


@of("price.work-share")
def _share(given: Inputs, record: Any, _: str) -> Figures:
    """Shared out by largest remainder: off by less than one minor unit."""
    if "stated" in given:
        yield record.cost, given["stated"]
    else:
        exact = given["own_cost"].amount * given["attributed"] / given["attributed_in_all"]
        yield abs(record.cost.amount - exact) < CENT, True
    whole = given["price_by_terms"].amount
    exact = whole * record.cost.amount / given["direct_cost"].amount
    yield abs(record.by_terms.amount - exact) < CENT, True


@of("price.materials-of-sale")
def _of_materials(given: Inputs, record: Any, _: str) -> Figures:
    share = given["net"].amount * given["materials"].amount / given["direct_cost"].amount
    yield record.materials_net.amount, money(share)


@of("price.option")
def _option(given: Inputs, record: Any, _: str) -> Figures:
    for name, both in given.items():
        added = both["with_option"].amount - both["without"].amount
        yield getattr(record, name).amount, added


@of("price.gain")
def _gain(given: Inputs, record: Any, field: str) -> Figures:
    gain = given["net"].amount - given["cost"].amount
    base = given["cost" if field == "markup_percent" else "net"].amount
    yield getattr(record, field), money(gain / base * 100)


@of("price.per-area", "price.per-running-length")
def _per_size(given: Inputs, record: Any, field: str) -> Figures:
    cost = given["floor_cost" if "floor" in given else "linear_cost"].amount
    share = given["net"].amount * cost / given["direct_cost"].amount
    size = (
        given["floor"] / METRES[field] ** 2
        if "floor" in given
        else given["running"] / METRES[field]
    )
    yield getattr(record, field).amount, money(share / Decimal(size))


@of("price.running")
def _running(given: Inputs, record: Any, _: str) -> Figures:
    yield record.running, sum(given.values())
