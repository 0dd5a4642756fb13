"""The system as one job lays it: films that the job states, and thick layers in several passes."""

import math
from collections.abc import Mapping, Sequence
from typing import Literal

import msgspec
from msgspec.structs import replace

from filmbuild.errors import Faults
from filmbuild.pipeline.job import LayerChange
from filmbuild.pipeline.specification import Layer, Product, System
from filmbuild.quantities import PositiveSpreadRate, PositiveThickness, Thickness

Member = Literal["dry_film", "wet_film", "spread_rate"]
MEMBERS: tuple[Member, ...] = ("dry_film", "wet_film", "spread_rate")
MOST_PASSES = 12
EQUAL = 1e-9
"""Relative difference below which two films are the same."""


class Pass(msgspec.Struct, frozen=True):
    """One of the equal passes of a layer, whose wet film on the floor is `wet` as a whole."""

    layer: str
    number: int
    passes: int
    wet: Thickness
    most: Thickness


def wet_of(layer: Layer, product: Product) -> tuple[float, float]:
    """[m] The wet film of a layer that states one measure, on floors and on verticals.

    wet = dry (1 + t) / VS (UFC 3-190-06 section 2.1.5), or 1 / spread rate.
    """
    vertical = layer.vertical or 0.0
    if layer.dry_film is not None:
        factor = _wet_of_dry(layer, product)
        return layer.dry_film * factor, vertical * factor
    if layer.spread_rate is not None:
        return 1 / layer.spread_rate, vertical
    return layer.wet_film or 0.0, vertical


def film_span(product: Product) -> str:
    """What one coat of a product takes, in words."""
    least, most = product.wet_film_minimum, product.wet_film_maximum
    limits = [
        *([f"at least {least * 1e6:.0f} um"] if least is not None else []),
        *([f"at most {most * 1e6:.0f} um"] if most is not None else []),
    ]
    return f"{' and '.join(limits)} wet"


def outside_range(product: Product, film: float) -> bool:
    """Whether one coat cannot be so thick, or so thin, wet."""
    least, most = product.wet_film_minimum, product.wet_film_maximum
    thin = least is not None and 0 < film < least * (1 - EQUAL)
    return thin or (most is not None and film > most * (1 + EQUAL))


def laid(
    system: System,
    changes: Sequence[LayerChange],
    products: Mapping[str, Product],
    faults: Faults,
) -> tuple[System, dict[str, Pass]]:
    """The system with its changes, and which layers of it are passes; `faults` is at the job."""
    if not changes:
        return system, {}
    by_layer: dict[str, tuple[int, LayerChange]] = {}
    names = [layer.id for layer in system.layers]
    for index, change in enumerate(changes):
        if change.layer not in names:
            detail = f"name a layer of {system.id}: {', '.join(names)}"
            faults.add("unknown-layer", detail, "layers", index, "layer")
        elif change.layer in by_layer:
            detail = f"{change.layer} is changed before; state it once"
            faults.add("duplicate", detail, "layers", index, "layer")
        else:
            by_layer[change.layer] = index, change
    layers: list[Layer] = []
    passes: dict[str, Pass] = {}
    for layer in system.layers:
        found, product = by_layer.get(layer.id), products.get(layer.product)
        if found is None or product is None:
            layers.append(layer)
            continue
        index, change = found
        for one, of in _changed(layer, change, product, faults.at("layers", index)):
            layers.append(one)
            if of is not None:
                passes[one.id] = of
                if one.id in names:
                    detail = f"its pass {one.id} has the name of another layer"
                    faults.add("duplicate", detail, "layers", index, "layer")
    return replace(system, layers=tuple(layers)), passes


def _changed(
    layer: Layer, change: LayerChange, product: Product, faults: Faults
) -> list[tuple[Layer, Pass | None]]:
    """The layer, or its passes; nothing with the reason among the faults."""
    given = [name for name in MEMBERS if getattr(change, name) is not None]
    if len(given) != 1:
        found = " and ".join(given) or "none"
        faults.add("exactly-one", f"give exactly one of {', '.join(MEMBERS)}; {found} given")
        return []
    (member,) = given
    if member == "dry_film" and product.volume_solids is None:
        detail = f"{product.id} states no volume solids: give a wet film or a spread rate"
        faults.add("volume-solids-missing", detail, member)
        return []
    restated = replace(
        layer,
        dry_film=change.dry_film,
        wet_film=change.wet_film,
        spread_rate=change.spread_rate,
        vertical=_vertical(layer, change, product),
    )
    return _in_passes(restated, change, member, product, faults)


def _vertical(layer: Layer, change: LayerChange, product: Product) -> PositiveThickness | None:
    """What the job states, or what the system does in the measure of the change."""
    if change.vertical is not None or layer.vertical is None:
        return change.vertical
    was_dry, is_dry = layer.dry_film is not None, change.dry_film is not None
    if was_dry == is_dry:
        return layer.vertical
    factor = _wet_of_dry(layer, product)
    return PositiveThickness(layer.vertical * factor if was_dry else layer.vertical / factor)


def _wet_of_dry(layer: Layer, product: Product) -> float:
    return (1 + layer.thinner_fraction) / (product.volume_solids or 1.0)


def _in_passes(
    layer: Layer, change: LayerChange, member: Member, product: Product, faults: Faults
) -> list[tuple[Layer, Pass | None]]:
    wet, vertical = wet_of(layer, product)
    most = product.wet_film_maximum
    on_sides = _count(vertical, most)
    many = max(_count(wet, most), on_sides)
    if many > 1 and (change.passes == "refuse" or many > MOST_PASSES):
        _refuse(max(wet, vertical), many, product, faults, "vertical" if vertical > wet else member)
        return []
    for field, film, parts in ((member, wet, many), ("vertical", vertical, on_sides)):
        if film and outside_range(product, film / parts):
            _refuse(film / parts, 1, product, faults, field)
            return []
    if many == 1 or most is None:
        return [(layer, None)]
    # verticals take a thinner film as a rule, and then only the first passes go up on them
    return [
        _pass(layer, Pass(layer.id, number, many, Thickness(wet), most), on_sides)
        for number in range(1, many + 1)
    ]


def _count(film: float, most: float | None) -> int:
    """[1] The fewest equal passes, none thicker than the most."""
    if most is None or not film:
        return 1
    return min(max(1, math.ceil(film / most * (1 - EQUAL))), MOST_PASSES + 1)


def _refuse(film: float, passes: int, product: Product, faults: Faults, field: str) -> None:
    way = ""
    if passes > MOST_PASSES:
        way = f"; at most {MOST_PASSES} passes are laid"
    elif passes > 1:
        way = f'; {passes} passes of it are laid with passes "split"'
    faults.add(
        "film-out-of-range",
        f"{film * 1e6:.0f} um wet; one coat of {product.id} takes {film_span(product)}{way}",
        field,
    )


def _pass(layer: Layer, one: Pass, on_sides: int) -> tuple[Layer, Pass]:
    """What stands before a layer comes before its first pass, and what follows it after its last.

    The broadcast goes into the last, and the first fills what is below.
    """
    count, first, last = one.passes, one.number == 1, one.number == one.passes
    dry, wet, spread, side = layer.dry_film, layer.wet_film, layer.spread_rate, layer.vertical
    if one.number > on_sides:
        side = None
    return (
        replace(
            layer,
            id=f"{layer.id}.{one.number}",
            name=f"{layer.name}, pass {one.number} of {count}",
            dry_film=None if dry is None else PositiveThickness(dry / count),
            wet_film=None if wet is None else PositiveThickness(wet / count),
            spread_rate=None if spread is None else PositiveSpreadRate(spread * count),
            vertical=None if side is None else PositiveThickness(side / on_sides),
            broadcast=layer.broadcast if last else None,
            grain_fill=layer.grain_fill if first else None,
            before=layer.before if first else (),
            after=layer.after if last else (),
        ),
        one,
    )
