"""How thick each coat is, and what volume of liquid it takes area by area."""

from collections.abc import Sequence
from typing import Self

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.results import AreaTakeoff, Takeoff, Totals
from filmbuild.pipeline.specification import Layer, Product
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import SpreadRate, Thickness, Volume

EQUAL = 1e-9
"""Relative difference below which two volumes or films are the same."""


class Ground(msgspec.Struct, frozen=True):
    """The areas in placing order, with their floors and verticals [m2] side by side."""

    areas: tuple[AreaTakeoff, ...]
    ids: list[str]
    floor: list[float]
    vertical: list[float]
    totals: Totals

    @classmethod
    def of(cls, takeoff: Takeoff) -> Self:
        areas = tuple(sorted(takeoff.areas, key=lambda area: area.placing_order))
        return cls(
            areas,
            [area.id for area in areas],
            [area.floor for area in areas],
            [area.vertical for area in areas],
            takeoff.totals,
        )


class Film(msgspec.Struct, frozen=True):
    """Thickness of one coat; `vertical` is its wet film on verticals, 0 where it stays off them."""

    dry: Thickness | None
    wet: Thickness
    vertical: Thickness
    spread_rate: SpreadRate
    traces: dict[str, Trace]


class CoatVolume(msgspec.Struct, frozen=True):
    """Net volumes of one coat, and area by area all of it and the film alone [m3]."""

    film: Volume
    texture: Volume
    absorption: Volume
    per_area: list[float]
    film_per_area: list[float]
    traces: dict[str, Trace]


def film_of(
    layer: Layer, product: Product, revision: int, faults: Faults, *, verticals: bool
) -> Film | None:
    """The film of a layer, or None with the reason among the faults.

    wet = dry (1 + t) / VS with volume solids VS and thinner t as a share of the unthinned volume
    (UFC 3-190-06 section 2.1.5; thinning lowers the solids to VS / (1 + t)); wet = 1 / spread rate.
    """
    solids, thinner = product.volume_solids, layer.thinner_fraction
    wet_of_dry = (1 + thinner) / solids if solids is not None else None
    vertical = layer.vertical if verticals and layer.vertical is not None else Thickness(0.0)
    stated: dict[str, object] = {
        "product": product.id,
        "volume_solids": solids,
        "thinner_fraction": thinner,
    }
    if not _stated_once(layer, product, faults):
        return None
    if layer.dry_film is not None and wet_of_dry is not None:
        wet = Thickness(layer.dry_film * wet_of_dry)
        vertical = Thickness(vertical * wet_of_dry)
        trace = Trace("materials.wet-film", {"dry_film": layer.dry_film, **stated}, revision)
    elif layer.spread_rate is not None:
        wet = Thickness(1 / layer.spread_rate)
        inputs = {"layer": layer.id, "spread_rate": layer.spread_rate}
        trace = Trace("materials.wet-film-from-spread-rate", inputs, revision)
    else:
        wet = layer.wet_film or Thickness(0.0)
        trace = Trace("materials.wet-film-stated", {"layer": layer.id}, revision)
    _check_range(layer, product, wet, vertical, faults)
    traces = {"wet_film": trace}
    dry: Thickness | None = layer.dry_film
    if dry is None and wet_of_dry is not None:
        dry = Thickness(wet / wet_of_dry)
        traces["dry_film"] = Trace("materials.dry-film", {"wet_film": wet, **stated}, revision)
    if layer.spread_rate is None:
        traces["spread_rate"] = Trace("materials.spread-rate", {"wet_film": wet})
    return Film(dry, wet, vertical, layer.spread_rate or SpreadRate(1 / wet), traces)


def _stated_once(layer: Layer, product: Product, faults: Faults) -> bool:
    given = (layer.dry_film, layer.wet_film, layer.spread_rate)
    if given.count(None) != len(given) - 1:
        detail = f"layer {layer.id}: state exactly one of dry film, wet film and spread rate"
        faults.add("film-not-stated", detail, "system")
        return False
    if layer.dry_film is not None and product.volume_solids is None:
        detail = f"layer {layer.id} states a dry film: product {product.id} needs volume solids"
        faults.add("volume-solids-missing", detail, "system")
        return False
    return True


def _check_range(
    layer: Layer, product: Product, wet: float, vertical: float, faults: Faults
) -> None:
    least, most = product.wet_film_minimum, product.wet_film_maximum
    for where, film in (("floor", wet), ("verticals", vertical)):
        thin = least is not None and 0 < film < least * (1 - EQUAL)
        thick = most is not None and film > most * (1 + EQUAL)
        if thin or thick:
            span = [
                *([f"at least {least * 1e6:.0f} um"] if least is not None else []),
                *([f"at most {most * 1e6:.0f} um"] if most is not None else []),
            ]
            faults.add(
                "film-out-of-range",
                f"layer {layer.id} puts {film * 1e6:.0f} um wet of {product.id} on the {where}; "
                f"one coat of it takes {' and '.join(span)} wet",
                "system",
            )


def coat_volume(
    layer: Layer, product: Product, film: Film, ground: Ground, revision: int, *, first: bool
) -> CoatVolume:
    """Net volume = floor x wet film + verticals x their film + texture + absorption.

    Texture and absorption are taken by the first coat on the concrete alone.
    """
    wet, vertical = film.wet, film.vertical
    if vertical:
        both = zip(ground.floor, ground.vertical, strict=True)
        film_per_area = [floor * wet + side * vertical for floor, side in both]
    else:
        film_per_area = [floor * wet for floor in ground.floor]
    inputs: dict[str, object] = {"floor": ground.totals.floor, "wet_film": wet}
    if vertical:
        inputs |= {"vertical": ground.totals.vertical, "vertical_wet_film": vertical}
    traces = {"film_volume": Trace("materials.film-volume", inputs)}
    total, none = Volume(sum(film_per_area)), Volume(0.0)
    if not first:
        return CoatVolume(total, none, none, film_per_area, film_per_area, traces)
    texture = _texture(layer, ground)
    absorbed = _absorbed(product, ground, covers_verticals=vertical > 0)
    extra = zip(film_per_area, texture, absorbed, strict=True)
    volume = CoatVolume(
        total,
        Volume(sum(texture)),
        Volume(sum(absorbed)),
        [sum(one) for one in extra],
        film_per_area,
        traces,
    )
    _trace_extra(volume, layer, product, ground, revision)
    return volume


def _texture(layer: Layer, ground: Ground) -> list[float]:
    fill = layer.texture_fill
    return [fill * (area.substrate.texture_depth or 0.0) * area.floor for area in ground.areas]


def _absorbed(product: Product, ground: Ground, *, covers_verticals: bool) -> Sequence[float]:
    depths = product.absorption
    if depths is None:
        return [0.0] * len(ground.areas)
    by_porosity = {"low": depths.low, "medium": depths.medium, "high": depths.high}
    return [
        by_porosity[area.substrate.porosity]
        * (area.floor + area.vertical if covers_verticals else area.floor)
        for area in ground.areas
    ]


def _trace_extra(
    volume: CoatVolume, layer: Layer, product: Product, ground: Ground, revision: int
) -> None:
    if volume.texture:
        mean = volume.texture / (layer.texture_fill * ground.totals.floor)
        volume.traces["texture_volume"] = Trace(
            "materials.texture",
            {
                "mean_texture_depth": Thickness(mean),
                "floor": ground.totals.floor,
                "texture_fill": layer.texture_fill,
            },
            revision,
        )
    depths = product.absorption
    if volume.absorption and depths is not None:
        volume.traces["absorption_volume"] = Trace(
            "materials.absorption",
            {
                "product": product.id,
                "low": depths.low,
                "medium": depths.medium,
                "high": depths.high,
            },
            revision,
        )
