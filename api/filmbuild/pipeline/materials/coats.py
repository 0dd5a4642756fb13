"""From a layer, or a repair, to a coat: what it needs, and the mixes that bring it."""

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.job import Job
from filmbuild.pipeline.materials.crew import Pace, crew_pace, working_life
from filmbuild.pipeline.materials.film import Film, Ground, coat_volume, film_of
from filmbuild.pipeline.materials.mixing import Batch, Demand, plan_mixes
from filmbuild.pipeline.materials.parts import split
from filmbuild.pipeline.results import Coat
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import Catalogue, Layer, Product
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Area, Duration, Volume


class Context(msgspec.Struct, frozen=True):
    """What every coat of one job reads."""

    job: Job
    selection: Selection
    catalogue: Catalogue
    ground: Ground
    faults: Faults

    def product(self, name: str, where: str) -> Product | None:
        product = self.catalogue.products.get(name)
        if product is None:
            detail = f"{where}: the catalogue has no product {name}"
            self.faults.add("unknown-product", detail, "system")
        return product

    def batch(self, label: str, product: Product, pace: Pace, thinner: float) -> Batch | None:
        life = working_life(product, self.selection, self.job.calendar, self.faults)
        if life is None:
            return None
        return Batch(
            label,
            product,
            self.catalogue.packs.get(product.id, ()),
            thinner,
            Duration(life.duration),
            life.rule,
            pace,
            self.selection.conditions.surface_temperature,
        )


class Draft(msgspec.Struct, frozen=True):
    """A coat before its mixes are planned."""

    layer: str
    name: str
    kind: str
    film: Film | None
    floor: Area
    vertical: Area
    film_volume: Volume
    texture_volume: Volume
    absorption_volume: Volume
    net: float
    loss: float
    soak: float
    batch: Batch
    demand: Demand
    traces: dict[str, Trace]


class Paces(msgspec.Struct, frozen=True):
    """How fast the crew places on floors and, where the system covers any, on verticals."""

    floor: Pace
    vertical: Pace | None


def placing_paces(context: Context) -> Paces | None:
    """None with the reason among the faults."""
    covers = any(layer.vertical is not None for layer in context.selection.system.layers)
    floor = crew_pace("place_field", ("area",), context.selection, context.faults)
    if not (covers and context.ground.totals.vertical > 0):
        return Paces(floor, None) if floor else None
    vertical = crew_pace("place_vertical", ("area",), context.selection, context.faults)
    return Paces(floor, vertical) if floor and vertical else None


def draft_layer(layer: Layer, paces: Paces, context: Context, *, first: bool) -> Draft | None:
    """None with the reason among the faults."""
    ground, revision = context.ground, context.catalogue.revision
    product = context.product(layer.product, f"layer {layer.id}")
    if product is None:
        return None
    verticals = paces.vertical is not None
    film = film_of(layer, product, revision, context.faults, verticals=verticals)
    batch = context.batch(f"layer {layer.id}", product, paces.floor, layer.thinner_fraction)
    if film is None or batch is None:
        return None
    volume = coat_volume(layer, product, film, ground, revision, first=first)
    return Draft(
        layer=layer.id,
        name=layer.name,
        kind=product.role,
        film=film,
        floor=ground.totals.floor,
        vertical=ground.totals.vertical if film.vertical else Area(0.0),
        film_volume=volume.film,
        texture_volume=volume.texture,
        absorption_volume=volume.absorption,
        net=volume.film + volume.texture + volume.absorption,
        loss=layer.loss_fraction,
        soak=context.selection.rate_book.applicator_soak * paces.floor.workers,
        batch=batch,
        demand=_demand(volume.per_area, volume.film_per_area, paces, film, ground),
        traces={**film.traces, **volume.traces},
    )


def _demand(
    per_area: list[float], film_per_area: list[float], paces: Paces, film: Film, ground: Ground
) -> Demand:
    floor_rate = paces.floor.rate
    if paces.vertical is None or not film.vertical:
        time = [floor / floor_rate for floor in ground.floor]
        return Demand(ground.ids, per_area, ground.floor, time, film_per_area)
    side_rate = paces.vertical.rate
    both = list(zip(ground.floor, ground.vertical, strict=True))
    time = [floor / floor_rate + side / side_rate for floor, side in both]
    return Demand(ground.ids, per_area, [sum(one) for one in both], time, film_per_area)


def finish(draft: Draft, revision: int, faults: Faults) -> Coat | None:
    """Plan the mixes; None with the reason among the faults.

    The ordered volume is net / (1 - loss) + residue per mix + soak: loss divides.
    """
    base = draft.net / (1 - draft.loss) + draft.soak
    plan = plan_mixes(draft.batch, draft.demand, base, revision, faults)
    if plan is None:
        return None
    batch, film = draft.batch, draft.film
    ordered: dict[str, object] = {
        "net_volume": Volume(draft.net),
        "loss_fraction": draft.loss,
        "residue": Volume(plan.residue),
        "soak": Volume(draft.soak),
    }
    parts: dict[str, object] = {
        "product": batch.product.id,
        "thinner": Volume(plan.ordered - plan.ordered / (1 + batch.thinner)),
    }
    return Coat(
        layer=draft.layer,
        name=draft.name,
        product=batch.product.id,
        kind=draft.kind,
        dry_film=film.dry if film else None,
        wet_film=film.wet if film else None,
        spread_rate=film.spread_rate if film else None,
        floor=draft.floor,
        vertical=draft.vertical,
        film_volume=draft.film_volume,
        texture_volume=draft.texture_volume,
        absorption_volume=draft.absorption_volume,
        net_volume=Volume(draft.net),
        loss_fraction=draft.loss,
        residue=Volume(plan.residue),
        soak=Volume(draft.soak),
        ordered_volume=Volume(plan.ordered),
        parts=split(batch.product, plan.ordered / (1 + batch.thinner)),
        mixes=plan.mixes,
        traces={
            **draft.traces,
            "ordered_volume": Trace("materials.ordered-volume", ordered, revision),
            "mixes": plan.trace,
            "parts": Trace("materials.parts", parts, revision),
        },
    )
