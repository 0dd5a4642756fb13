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


@of("materials.mix-working-life")
def _life(given: Inputs, record: Any, _: str) -> Figures:
    for one in record.mixes:
        share = 1.0
        if "reference_volume" in given:
            ratio = (given["reference_volume"] / one.volume) ** given["exponent"]
            share = min(given["longest_share"], max(given["shortest_share"], ratio))
        yield one.working_life, min(given["shift"], given["working_life"] * share)


@of("materials.mix-sequence")
def _sequence(given: Inputs, record: Any, _: str) -> Figures:
    premix, mixing = given["premix_time"], given["mixing_time"]
    start = premix
    for one in record.mixes:
        yield one.premix_time, premix
        yield one.mixing_time, mixing
        yield one.starts_at, start
        yield one.down_by, start + one.working_life
        down = start + mixing + one.placing_time
        if one.wet_edge_by is not None:
            wet = given.get("wet_edge_time")
            yield one.wet_edge_by, one.down_by if wet is None else down + wet
        meanwhile = max(start + mixing + premix, down - mixing)
        start = meanwhile if given["mixed_meanwhile"] else down + premix


@of("materials.placers")
def _placers(given: Inputs, record: Any, _: str) -> Figures:
    people = sum(given["people"].values())
    for task, each in given["people_per_gang"].items():
        gangs = [one for one in record.placers if one.task == task]
        yield [one.gang for one in gangs], list(range(1, given["gangs"][task] + 1))
        yield [sum(one.people.values()) for one in gangs], [each] * len(gangs)
        yield len(gangs) * each <= people, True
        for name, count in given["people"].items():
            yield sum(one.people.get(name, 0) for one in gangs) <= count, True


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


@of("materials.void-mass")
def _void_mass(given: Inputs, record: Any, _: str) -> Figures:
    mass = given["void_volume"] * (1 - given["aggregate_fill_fraction"]) * given["mass_per_void"]
    yield record.net_volume, mass / given["mixed_density"]
    parts = record.traces["parts"].inputs
    ratios, densities = parts["ratio_by_volume"], parts["density"]
    masses = sum(ratios[one] * densities[one] for one in ratios)
    yield given["mixed_density"], masses / sum(ratios.values())


@of("materials.grain-voids")
def _grains(given: Inputs, record: Any, _: str) -> Figures:
    names = ("grain_size", "void_fraction", "grain_fill", "floor")
    yield record.grain_volume, math.prod(given[name] for name in names)


@of("materials.passes")
def _passes(given: Inputs, record: Any, _: str) -> Figures:
    yield record.passes, math.ceil(given["wet_film"] / given["most"] * (1 - 1e-9))


@of("materials.crack-aggregate")
def _sand(given: Inputs, record: Any, _: str) -> Figures:
    placed = given["void_volume"] * given["aggregate_fill_fraction"] * given["density"]
    yield record.placed, placed
    yield record.ordered, placed / (1 - given["loss_fraction"])


@of("materials.broadcast", "materials.broadcast-to-refusal")
def _broadcast(given: Inputs, record: Any, _: str) -> Figures:
    rate = given.get("rate")
    if rate is None:
        voids = given["void_fraction"]
        held = given["wet_film"] / voids * (1 - voids) * given["density"]
        rate = held / (1 - given["swept_fraction"])
        yield record.retained / given["floor"], held
    placed = rate * given["floor"]
    yield record.rate, rate
    yield record.placed, placed
    yield record.swept, placed * given["swept_fraction"]
    yield record.retained, placed - record.swept
    yield record.reclaimed, placed * given["reclaimed_fraction"]
    yield record.ordered, placed - given["reclaimed_before"]


@of("materials.purchase")
def _purchase(given: Inputs, record: Any, _: str) -> Figures:
    missing: dict[str, float] = {}
    for part, bought in record.bought.items():
        held = [given["contents"][one.pack].get(part, 0.0) * one.count for one in record.packs]
        yield bought, sum(held)
        missing[part] = max(record.needed[part] - record.from_stock.get(part, 0.0), 0.0)
        yield record.surplus[part], max(bought - missing[part], 0.0)
    for one in record.packs:
        yield one.amount.amount, money(one.unit_price.amount * one.count)
    yield record.cost.amount, sum(one.amount.amount for one in record.packs)
    shares = given["volume_shares"]
    packs = [(one.count, one.unit_price.amount, shares[one.pack]) for one in record.packs]
    yield record.used_share.amount, used_share(packs, missing, record.bought)
    masses = given["gross_masses"]
    yield record.gross_mass, sum(one.count * masses[one.pack] for one in record.packs)
    yield record.surplus_value.amount, record.cost.amount - record.used_share.amount
    drawn: dict[str, float] = {}
    for one in record.stock:
        drawn[one.part] = drawn.get(one.part, 0.0) + one.amount
    for part, taken in record.from_stock.items():
        yield taken, drawn.get(part, 0.0)
    if record.runner_up is not None:
        second = record.runner_up
        yield second.cost.amount, sum(one.amount.amount for one in second.packs)
        yield second.dearer_by.amount, second.cost.amount - record.cost.amount


@of("materials.supplier-order")
def _order(given: Inputs, record: Any, _: str) -> Figures:
    goods = sum(one.amount for one in given["costs"].values())
    yield record.goods.amount, goods
    yield record.gross_mass, sum(given["gross_masses"].values())
    freight = given["band_price"].amount if "band_price" in given else Decimal(0)
    if "further" in given:
        above = record.gross_mass - given["band_up_to"]
        yield given["further"], math.ceil(above / given["further_each"] - 1e-9)
        freight += given["further"] * given["further_price"].amount
    yield record.freight.amount, money(freight)
    short = money(max(given["minimum_order"].amount - goods, Decimal(0)))
    yield record.short_of_minimum.amount, short
    yield record.cost.amount, goods + money(freight) + short


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


@of("materials.consumable", "materials.wear")
def _consumable(given: Inputs, record: Any, _: str) -> Figures:
    if "per" in given:
        portions = given["driver_quantity"] / given["per"]
    else:
        kinds = [one for one in ("soft", "medium", "hard") if f"{one}_area" in given]
        portions = sum(given[f"{one}_area"] / given[f"{one}_life"] for one in kinds)
        yield given["driver_quantity"], sum(given[f"{one}_area"] for one in kinds)
    if given["driver"] == "removed_volume":
        profiles = given["removed_from"].values()
        yield given["driver_quantity"], sum(one["ground"] * one["depth"] for one in profiles)
    need = portions * given["occasions"] * given["quantity"] / (1 - given["waste_fraction"])
    yield given["need"], need
    carton = given["sold_in"]
    yield record.count, max(math.ceil(need / carton - 1e-9) * carton, given["minimum"])
    each = given["unit_price"] * Decimal(repr(given["charged_fraction"]))
    yield record.unit_price.amount, each
    yield record.amount.amount, money(each * record.count)
