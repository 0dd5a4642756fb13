"""Equations written anew: from the inputs of a trace to the figures it explains.

Those of the materials are here.
"""

import math
from collections.abc import Callable, Iterator
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

import msgspec

from filmbuild.pipeline.trace import Trace

Inputs = dict[str, Any]
Figures = Iterator[tuple[Any, Any]]
"""Pairs of a figure as answered and as it follows from the trace."""
Check = Callable[[Inputs, Any, str], Figures]

HOUR = 3600.0


def kept_in(checks: dict[str, Check]) -> Callable[..., Callable[[Check], Check]]:
    """A decorator that puts a check under the rules it is for."""

    def of(*rules: str) -> Callable[[Check], Check]:
        def keep(check: Check) -> Check:
            checks.update(dict.fromkeys(rules, check))
            return check

        return keep

    return of


def traced(value: Any) -> Iterator[tuple[Any, str, Trace]]:
    """Every trace in an answer, with its record and the field it explains."""
    if isinstance(value, tuple):
        for one in value:
            yield from traced(one)
    elif isinstance(value, msgspec.Struct) and not isinstance(value, Trace):
        for name in value.__struct_fields__:
            held = getattr(value, name)
            if isinstance(held, Trace):
                yield value, "", held
            elif name == "traces":
                for field, trace in held.items():
                    yield value, field, trace
            else:
                yield from traced(held)


def money(amount: Decimal) -> Decimal:
    return amount.quantize(Decimal("0.01"), ROUND_HALF_UP)


def percent(share: Any) -> Decimal:
    return Decimal(share) / 100


def product(*factors: str) -> Check:
    def check(given: Inputs, record: Any, field: str) -> Figures:
        yield getattr(record, field), math.prod(given[name] for name in factors)

    return check


def total(given: Inputs, record: Any, field: str) -> Figures:
    yield getattr(record, field), sum(given.values())


def as_stated(given: Inputs, record: Any, field: str) -> Figures:
    yield getattr(record, field), given[field]


CHECKS: dict[str, Check] = {
    "materials.wet-film-stated": as_stated,
    "materials.dry-film-stated": as_stated,
    "materials.spread-rate-stated": as_stated,
    "materials.texture": product("mean_texture_depth", "floor", "texture_fill"),
    "materials.net-volume": total,
    "materials.soak": product("applicator_soak", "applicators"),
    "materials.residue": product("container_residue", "mixes"),
}
of = kept_in(CHECKS)


@of("materials.wet-film")
def _wet_film(given: Inputs, record: Any, _: str) -> Figures:
    wet = given["dry_film"] * (1 + given["thinner_fraction"]) / given["volume_solids"]
    yield record.wet_film, wet


@of("materials.wet-film-from-spread-rate", "materials.spread-rate")
def _inverse(given: Inputs, record: Any, field: str) -> Figures:
    yield getattr(record, field), 1 / given[{"wet_film": "spread_rate"}.get(field, "wet_film")]


@of("materials.dry-film")
def _dry_film(given: Inputs, record: Any, _: str) -> Figures:
    dry = given["wet_film"] * given["volume_solids"] / (1 + given["thinner_fraction"])
    yield record.dry_film, dry


@of("materials.film-volume")
def _film_volume(given: Inputs, record: Any, _: str) -> Figures:
    sides = given.get("vertical", 0.0) * given.get("vertical_wet_film", 0.0)
    yield record.film_volume, given["floor"] * given["wet_film"] + sides
    yield record.floor, given["floor"]
    yield record.vertical, given.get("vertical", 0.0)


@of("materials.absorption")
def _absorption(given: Inputs, record: Any, _: str) -> Figures:
    kinds = [name for name in ("low", "medium", "high") if name in given]
    yield record.absorption_volume, sum(given[one] * given[f"{one}_surface"] for one in kinds)


@of("materials.ordered-volume")
def _ordered(given: Inputs, record: Any, _: str) -> Figures:
    kept = given["net_volume"] / (1 - given["loss_fraction"])
    yield record.ordered_volume, kept + given["residue"] + given["soak"]
    yield record.loss_fraction, given["loss_fraction"]


@of("materials.parts")
def _parts(given: Inputs, record: Any, _: str) -> Figures:
    ratios = given["ratio_by_volume"]
    base = given["ordered_volume"] / (1 + given.get("thinner_fraction", 0.0))
    for one in record.parts:
        volume = base * ratios[one.part] / sum(ratios.values())
        yield one.volume, volume
        yield one.mass, volume * given["density"][one.part]


@of("materials.mix-plan")
def _mixes(given: Inputs, record: Any, _: str) -> Figures:
    yield len(record.mixes), given["mixes"]
    yield sum(one.volume for one in record.mixes), record.ordered_volume
    if given["last_mixes"] == "equal":
        most = given["largest_mix"] - given["container_residue"]
        yield len(record.mixes), math.ceil(given["base_volume"] / most - 1e-9)
        for one in record.mixes:
            yield one.volume, record.ordered_volume / len(record.mixes)


@of("materials.mix-covers")
def _covers(given: Inputs, record: Any, _: str) -> Figures:
    share = given["net_volume"] / given["base_volume"]
    brought = [(one.volume - given["container_residue"]) * share for one in record.mixes]
    yield record.net_volume, sum(brought)
    if record.kind != "repair":
        yield sum(one.covers for one in record.mixes), record.floor + record.vertical


@of("materials.void-volume")
def _void(given: Inputs, record: Any, _: str) -> Figures:
    yield record.net_volume, given["void_volume"] * (1 - given["aggregate_fill_fraction"])


@of("materials.crack-aggregate")
def _sand(given: Inputs, record: Any, _: str) -> Figures:
    placed = given["void_volume"] * given["aggregate_fill_fraction"] * given["density"]
    yield record.placed, placed
    yield record.ordered, placed / (1 - given["loss_fraction"])


@of("materials.broadcast")
def _broadcast(given: Inputs, record: Any, _: str) -> Figures:
    placed = given["rate"] * given["floor"]
    yield record.placed, placed
    yield record.reclaimed, placed * given["reclaimed_fraction"]
    yield record.ordered, placed - given["reclaimed_before"]


@of("materials.purchase")
def _purchase(given: Inputs, record: Any, _: str) -> Figures:
    for part, bought in record.bought.items():
        held = [given["contents"][one.pack].get(part, 0.0) * one.count for one in record.packs]
        yield bought, sum(held)
        yield record.surplus[part], max(bought - record.needed[part], 0.0)
    for one in record.packs:
        yield one.amount.amount, money(one.unit_price.amount * one.count)
    yield record.cost.amount, sum(one.amount.amount for one in record.packs)
    shares = given["volume_shares"]
    packs = [(one.count, one.unit_price.amount, shares[one.pack]) for one in record.packs]
    yield record.used_share.amount, used_share(packs, record.needed, record.bought)


def used_share(
    packs: list[tuple[int, Decimal, dict[str, float]]], needed: Inputs, bought: Inputs
) -> Decimal:
    return money(
        sum(
            (
                count * price * Decimal(share * min(needed[part] / bought[part], 1))
                for count, price, shares in packs
                for part, share in shares.items()
            ),
            Decimal(0),
        )
    )


@of("materials.consumable")
def _consumable(given: Inputs, record: Any, _: str) -> Figures:
    need = given["driver_quantity"] * given["occasions"] / given["per"] * given["quantity"]
    yield given["need"], need
    yield record.count, max(math.ceil(need - 1e-9), given["minimum"])
    each = given["unit_price"] * Decimal(repr(given["charged_fraction"]))
    yield record.unit_price.amount, each
    yield record.amount.amount, money(each * record.count)
