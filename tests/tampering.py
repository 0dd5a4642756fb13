"""Ways to change an answer before it is handed back, and where the change is told."""

from collections.abc import Callable
from typing import Any, NamedTuple

Path = tuple[str | int, ...]
EURO = {"amount": "1.00", "currency": "EUR"}
SMALL_STEP = 1.0000001


class Tampering(NamedTuple):
    """In the answer of a stage the member at `path` is changed, by a function or to a value.

    The next stage tells it at `told`, or else at `path`, with a code.
    """

    stage: str
    path: str
    change: Any
    code: str
    told: str | None = None


def path_of(text: str) -> Path:
    return tuple(int(name) if name.lstrip("-").isdecimal() else name for name in text.split("/"))


def times(factor: float) -> Callable[[dict[str, Any]], dict[str, Any]]:
    """Of a quantity; zero becomes one."""
    return lambda one: {**one, "value": one["value"] * factor + (0.0 if one["value"] else 1.0)}


def doubled(amount: dict[str, Any]) -> dict[str, Any]:
    return {**amount, "amount": f"{2 * float(amount['amount']) + 1:.2f}"}


def twice_first(items: list[Any]) -> list[Any]:
    return [*items, items[0]]


_COAT = "materials/coats/-2"
_BUY = "materials/purchases/0"
TAMPERED = {
    "a total of floor": Tampering("takeoff", "takeoff/totals/floor", times(2), "totals-mismatch"),
    "a total, a little": Tampering(
        "takeoff", "takeoff/totals/wall_length", times(SMALL_STEP), "totals-mismatch"
    ),
    "a floor": Tampering("takeoff", "takeoff/areas/1/floor", times(0.5), "parts-mismatch"),
    "ground by machine": Tampering(
        "takeoff", "takeoff/areas/0/machine_grind", times(1.1), "parts-mismatch"
    ),
    "the field": Tampering("takeoff", "takeoff/areas/0/field", times(1.1), "parts-mismatch"),
    "verticals": Tampering("takeoff", "takeoff/areas/0/vertical", times(3), "parts-mismatch"),
    "an area twice": Tampering(
        "takeoff", "takeoff/areas", twice_first, "duplicate-id", "takeoff/areas/-1/id"
    ),
    "no areas": Tampering("takeoff", "takeoff/areas", [], "empty"),
    "a place in the order twice": Tampering(
        "takeoff",
        "takeoff/areas/0/placing_order",
        lambda one: one % 3 + 1,
        "placing-order",
        "takeoff/areas/1/placing_order",
    ),
    "a place beyond the order": Tampering(
        "takeoff", "takeoff/areas/0/placing_order", 7, "placing-order"
    ),
    "an empty moisture reading": Tampering(
        "takeoff",
        "takeoff/areas/0/substrate/moisture",
        [{"emission": None, "relative_humidity_percent": None}],
        "missing-field",
        "takeoff/areas/0/substrate/moisture/0",
    ),
    "no coats": Tampering("materials", "materials/coats", [], "empty"),
    "an unknown layer": Tampering("materials", f"{_COAT}/layer", "no-such-layer", "unknown-layer"),
    "a coat left out": Tampering(
        "materials", "materials/coats", lambda coats: coats[:-1], "missing-layer"
    ),
    "an unknown product": Tampering(
        "materials", f"{_COAT}/product", "no-such-product", "unknown-product"
    ),
    "another product": Tampering(
        "materials", f"{_COAT}/product", "harbour-350", "product-mismatch"
    ),
    "a coat on part of the floor": Tampering(
        "materials", f"{_COAT}/floor", times(0.5), "parts-mismatch"
    ),
    "a film": Tampering(
        "materials", f"{_COAT}/wet_film", times(2), "parts-mismatch", f"{_COAT}/film_volume"
    ),
    "a dry film": Tampering("materials", f"{_COAT}/dry_film", times(2), "parts-mismatch"),
    "a net volume": Tampering("materials", f"{_COAT}/net_volume", times(2), "parts-mismatch"),
    "an ordered volume": Tampering(
        "materials", f"{_COAT}/ordered_volume", times(0.9), "parts-mismatch"
    ),
    "a loss of all": Tampering("materials", f"{_COAT}/loss_fraction", 1.0, "out-of-range"),
    "no mixes": Tampering("materials", f"{_COAT}/mixes", [], "empty"),
    "a mix left out": Tampering(
        "materials", f"{_COAT}/mixes", lambda mixes: mixes[1:], "mixes-mismatch"
    ),
    "the number of a mix": Tampering("materials", f"{_COAT}/mixes/0/number", 2, "mix-number"),
    "no working life": Tampering(
        "materials", f"{_COAT}/mixes/0/working_life", "PT0S", "not-positive"
    ),
    "a mix that sets first": Tampering(
        "materials", f"{_COAT}/mixes/0/placing_time", "PT20H", "outlives-working-life"
    ),
    "a mix that is down later": Tampering(
        "materials", f"{_COAT}/mixes/0/down_by", "PT20H", "parts-mismatch"
    ),
    "a mix begun before the last is down": Tampering(
        "materials", f"{_COAT}/mixes/1/starts_at", "PT1M", "mixes-overlap"
    ),
    "a mix somewhere else": Tampering(
        "materials", f"{_COAT}/mixes/0/areas", ["attic"], "unknown-area", f"{_COAT}/mixes/0/areas/0"
    ),
    "parts of a mix": Tampering(
        "materials",
        f"{_COAT}/mixes/0/parts/0/volume",
        times(2),
        "parts-mismatch",
        f"{_COAT}/mixes/0/parts",
    ),
    "a part of a coat": Tampering(
        "materials", f"{_COAT}/parts/0/volume", times(0.9), "parts-mismatch"
    ),
    "the mass of a part": Tampering(
        "materials", f"{_COAT}/parts/0/mass", times(2), "parts-mismatch"
    ),
    "thrown aggregate": Tampering(
        "materials", "materials/aggregates/-1/placed", times(3), "parts-mismatch"
    ),
    "a purchase left out": Tampering(
        "materials", "materials/purchases", lambda bought: bought[1:], "missing-purchase"
    ),
    "a purchase twice": Tampering(
        "materials",
        "materials/purchases",
        twice_first,
        "duplicate-id",
        "materials/purchases/-1/product",
    ),
    "an unknown pack": Tampering("materials", f"{_BUY}/packs/0/pack", "barrel", "unknown-pack"),
    "fewer packs than none": Tampering("materials", f"{_BUY}/packs/0/count", -1, "not-positive"),
    "more packs at the same amount": Tampering(
        "materials",
        f"{_BUY}/packs/0/count",
        lambda count: count + 1,
        "amount-mismatch",
        f"{_BUY}/packs/0/amount/amount",
    ),
    "the cost of packs": Tampering(
        "materials", f"{_BUY}/cost", doubled, "amount-mismatch", f"{_BUY}/cost/amount"
    ),
    "a share above the cost": Tampering(
        "materials", f"{_BUY}/used_share/amount", "9999999.00", "amount-mismatch"
    ),
    "a negative share": Tampering("materials", f"{_BUY}/used_share/amount", "-1.00", "negative"),
    "another currency": Tampering(
        "materials", f"{_BUY}/cost", EURO, "currency-mismatch", f"{_BUY}/cost/currency"
    ),
    "the amount of a consumable": Tampering(
        "materials",
        "materials/consumables/0/amount",
        doubled,
        "amount-mismatch",
        "materials/consumables/0/amount/amount",
    ),
    "another system": Tampering(
        "materials", "materials/system", "harbour-thin-film", "system-mismatch"
    ),
    "a total of the takeoff among materials": Tampering(
        "materials", "takeoff/totals/floor", times(2), "totals-mismatch"
    ),
    "no tasks": Tampering("labour", "labour/tasks", [], "empty"),
    "a task twice": Tampering(
        "labour", "labour/tasks", twice_first, "duplicate-id", "labour/tasks/-1/id"
    ),
    "an unknown task": Tampering("labour", "labour/tasks/2/code", "juggle", "unknown-task"),
    "a task of no activity": Tampering(
        "labour", "labour/tasks/2/activity", "nothing", "unknown-activity"
    ),
    "a task of more people": Tampering("labour", "labour/tasks/2/workers", 999, "out-of-range"),
    "the labour of a task": Tampering(
        "labour", "labour/tasks/2/labour", times(2), "parts-mismatch"
    ),
    "the layer of an activity": Tampering(
        "labour", "labour/activities/3/layer", "no-such-layer", "unknown-layer"
    ),
    "the duration of an activity": Tampering(
        "labour", "labour/activities/3/duration", "PT1S", "parts-mismatch"
    ),
    "an activity twice": Tampering(
        "labour", "labour/activities", twice_first, "duplicate-id", "labour/activities/-1/id"
    ),
    "a wage": Tampering(
        "labour",
        "labour/labour/0/amount",
        doubled,
        "amount-mismatch",
        "labour/labour/0/amount/amount",
    ),
    "a wage in another currency": Tampering(
        "labour",
        "labour/labour/0/rate_per_hour",
        EURO,
        "currency-mismatch",
        "labour/labour/0/rate_per_hour/currency",
    ),
    "the days of a machine": Tampering(
        "labour",
        "labour/equipment/0/days",
        99,
        "amount-mismatch",
        "labour/equipment/0/amount/amount",
    ),
    "negative travel": Tampering("labour", "labour/travel/amount", "-1.00", "negative"),
    "productive hours": Tampering("labour", "labour/productive", times(2), "totals-mismatch"),
    "paid hours": Tampering("labour", "labour/paid", times(2), "totals-mismatch"),
    "no shifts": Tampering("labour", "labour/shifts", 0, "not-positive"),
    "another crew": Tampering("labour", "labour/crew", 40, "crew-mismatch"),
    "another rate book": Tampering("labour", "labour/rate_book", "main-eur", "rate-book-mismatch"),
}
