"""How thick each coat is, and what volume of liquid it takes area by area."""

from typing import Self

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.layering import film_span, outside_range
from filmbuild.pipeline.results import AreaTakeoff, Takeoff, Totals
from filmbuild.pipeline.specification import Driver, Layer, Product
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Area, SpreadRate, Thickness, Volume

EQUAL = 1e-9
"""Relative difference below which two volumes are the same."""

DRIVEN_BY: dict[Driver, tuple[str, ...]] = {
    "coated_area": ("floor", "vertical"),
    "floor_area": ("floor",),
    "vertical_area": ("vertical",),
    "machine_grind_area": ("machine_grind",),
    "hand_grind_area": ("hand_grind",),
    "cut_in_area": ("cut_in",),
    "edge_length": ("wall_length", "open_length"),
    "tape_length": ("tape_length",),
    "cove_length": ("cove_length",),
}
"""What of an area moves a placing task."""


class Ground(msgspec.Struct, frozen=True):
    """The areas in placing order, with their floors, cut-in and verticals [m2] side by side."""

    areas: tuple[AreaTakeoff, ...]
    ids: list[str]
    floor: list[float]
    cut_in: list[float]
    vertical: list[float]
    totals: Totals

    @classmethod
    def of(cls, takeoff: Takeoff) -> Self:
        areas = tuple(sorted(takeoff.areas, key=lambda area: area.placing_order))
        return cls(
            areas,
            [area.id for area in areas],
            [area.floor for area in areas],
            [area.cut_in for area in areas],
            [area.vertical for area in areas],
            takeoff.totals,
        )

    def driven(self, driver: Driver, natural: Driver, *, verticals: bool) -> list[float]:
        """[m2 or m] How much of a driver each area has; of the natural one where it has no such."""
        fields = DRIVEN_BY.get(driver) or DRIVEN_BY[natural]
        if not verticals:
            fields = tuple([field for field in fields if field != "vertical"])
        known: dict[tuple[str, ...], list[float]] = {
            ("floor",): self.floor,
            ("cut_in",): self.cut_in,
            ("vertical",): self.vertical,
        }
        found = known.get(fields)
        if found is None:
            found = [sum([getattr(area, one) for one in fields]) for area in self.areas]
        return found


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
    grains: Volume
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
    if not _stated_once(layer, product, faults):
        return None
    solids, thinner = product.volume_solids, layer.thinner_fraction
    wet_of_dry = (1 + thinner) / solids if solids is not None else None
    stated: dict[str, object] = {
        "product": product.id,
        "volume_solids": solids,
        "thinner_fraction": thinner,
    }
    vertical = layer.vertical if verticals and layer.vertical is not None else Thickness(0.0)
    wet, vertical, trace = _wet(layer, vertical, wet_of_dry, stated, revision)
    _check_range(layer, product, wet, vertical, faults)
    traces = {"wet_film": trace}
    dry: Thickness | None = layer.dry_film
    if dry is not None:
        inputs: dict[str, object] = {"layer": layer.id, "dry_film": dry}
        traces["dry_film"] = Trace("materials.dry-film-stated", inputs, revision)
    elif wet_of_dry is not None:
        dry = Thickness(wet / wet_of_dry)
        traces["dry_film"] = Trace("materials.dry-film", {"wet_film": wet, **stated}, revision)
    spread_rate: SpreadRate | None = layer.spread_rate
    if spread_rate is None:
        spread_rate = SpreadRate(1 / wet)
        traces["spread_rate"] = Trace("materials.spread-rate", {"wet_film": wet})
    else:
        inputs = {"layer": layer.id, "spread_rate": spread_rate}
        traces["spread_rate"] = Trace("materials.spread-rate-stated", inputs, revision)
    return Film(dry, wet, vertical, spread_rate, traces)


def _wet(
    layer: Layer,
    vertical: Thickness,
    wet_of_dry: float | None,
    stated: dict[str, object],
    revision: int,
) -> tuple[Thickness, Thickness, Trace]:
    """The wet film on floors and on verticals, whose film is stated dry where the layer's is."""
    if layer.dry_film is not None and wet_of_dry is not None:
        inputs = {"dry_film": layer.dry_film, **stated}
        trace = Trace("materials.wet-film", inputs, revision)
        return Thickness(layer.dry_film * wet_of_dry), Thickness(vertical * wet_of_dry), trace
    if layer.spread_rate is not None:
        inputs = {"layer": layer.id, "spread_rate": layer.spread_rate}
        trace = Trace("materials.wet-film-from-spread-rate", inputs, revision)
        return Thickness(1 / layer.spread_rate), vertical, trace
    wet = layer.wet_film or Thickness(0.0)
    inputs = {"layer": layer.id, "wet_film": wet}
    return wet, vertical, Trace("materials.wet-film-stated", inputs, revision)


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
    for where, film in (("floor", wet), ("verticals", vertical)):
        if outside_range(product, film):
            faults.add(
                "film-out-of-range",
                f"layer {layer.id} puts {film * 1e6:.0f} um wet of {product.id} on the {where}; "
                f"one coat of it takes {film_span(product)}",
                "system",
            )


def coat_volume(
    layer: Layer,
    product: Product,
    film: Film,
    ground: Ground,
    revision: int,
    below: Product | None,
    *,
    first: bool,
) -> CoatVolume:
    """Net volume = floor x wet film + verticals x their film + texture + absorption + grains.

    Texture and absorption are taken by the first coat on the concrete alone, and the voids among
    grains of the aggregate `below` by the coat that the system has fill them.
    """
    on_floor = [floor * film.wet for floor in ground.floor]
    per_area = on_floor
    if film.vertical:
        both = zip(on_floor, ground.vertical, strict=True)
        per_area = [floor + side * film.vertical for floor, side in both]
    total = Volume(sum(per_area))
    traces = {"film_volume": _film_trace(layer, film, ground, revision)}
    texture = absorption = Volume(0.0)
    with_extra = per_area
    if first:
        fill, soaked = _texture(layer, ground), _absorbed(product, ground, film)
        with_extra = [sum(one) for one in zip(per_area, fill, soaked, strict=True)]
        texture, absorption = Volume(sum(fill)), Volume(sum(soaked))
        if texture:
            traces["texture_volume"] = _texture_trace(layer, ground, revision)
        if absorption:
            traces["absorption_volume"] = _absorption_trace(product, ground, film, revision)
    grains = Volume(0.0)
    if layer.grain_fill is not None and below is not None:
        depth = layer.grain_fill * (below.grain_size or 0.0) * (below.void_fraction or 0.0)
        voids = [depth * floor for floor in ground.floor]
        with_extra = [sum(one) for one in zip(with_extra, voids, strict=True)]
        grains = Volume(sum(voids))
        traces["grain_volume"] = _grain_trace(layer, below, ground, revision)
    floor_film = Volume(sum(on_floor)) if film.vertical else total
    traces["net_volume"] = Trace(
        "materials.net-volume",
        {
            "floor_film": floor_film,
            "vertical_film": Volume(total - floor_film),
            "texture": texture,
            "absorption": absorption,
            "grains": grains,
        },
    )
    return CoatVolume(total, texture, absorption, grains, with_extra, per_area, traces)


def _grain_trace(layer: Layer, below: Product, ground: Ground, revision: int) -> Trace:
    return Trace(
        "materials.grain-voids",
        {
            "aggregate": below.id,
            "grain_size": below.grain_size,
            "void_fraction": below.void_fraction,
            "grain_fill": layer.grain_fill,
            "floor": ground.totals.floor,
        },
        revision,
    )


def _film_trace(layer: Layer, film: Film, ground: Ground, revision: int) -> Trace:
    inputs: dict[str, object] = {"floor": ground.totals.floor, "wet_film": film.wet}
    if not film.vertical:
        return Trace("materials.film-volume", inputs)
    inputs |= {"vertical": ground.totals.vertical, "vertical_wet_film": film.vertical}
    if layer.dry_film is not None:
        inputs["vertical_dry_film"] = layer.vertical
    return Trace("materials.film-volume", inputs, revision)


def _texture(layer: Layer, ground: Ground) -> list[float]:
    fill = layer.texture_fill
    return [fill * (area.texture_depth or 0.0) * area.floor for area in ground.areas]


def _texture_trace(layer: Layer, ground: Ground, revision: int) -> Trace:
    """The mean depth is over all of the floor: an area that was not measured counts as smooth."""
    voids = [(area.texture_depth or 0.0) * area.floor for area in ground.areas]
    return Trace(
        "materials.texture",
        {
            "mean_texture_depth": Thickness(sum(voids) / ground.totals.floor),
            "floor": ground.totals.floor,
            "texture_fill": layer.texture_fill,
        },
        revision,
    )


def _absorbed(product: Product, ground: Ground, film: Film) -> list[float]:
    depths = product.absorption
    if depths is None:
        return [0.0] * len(ground.areas)
    by_porosity = {"low": depths.low, "medium": depths.medium, "high": depths.high}
    return [
        by_porosity[area.substrate.porosity] * covered
        for area, covered in zip(ground.areas, _covered(ground, film), strict=True)
    ]


def _absorption_trace(product: Product, ground: Ground, film: Film, revision: int) -> Trace:
    """Each porosity on the site with its depth and the surface that has it."""
    covered: dict[str, float] = {}
    for area, surface in zip(ground.areas, _covered(ground, film), strict=True):
        porosity = area.substrate.porosity
        covered[porosity] = covered.get(porosity, 0.0) + surface
    inputs: dict[str, object] = {"product": product.id}
    for name, total in covered.items():
        inputs[name] = getattr(product.absorption, name)
        inputs[f"{name}_surface"] = Area(total)
    return Trace("materials.absorption", inputs, revision)


def _covered(ground: Ground, film: Film) -> list[float]:
    """[m2] by area."""
    if not film.vertical:
        return ground.floor
    return [floor + side for floor, side in zip(ground.floor, ground.vertical, strict=True)]
