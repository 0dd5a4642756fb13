"""From a layer, or a repair, to a coat: what it needs, and the mixes that bring it."""

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.job import Job
from filmbuild.pipeline.materials.crew import Crew, Pace
from filmbuild.pipeline.materials.demand import Batch, Demand
from filmbuild.pipeline.materials.film import CoatVolume, Film, Ground, coat_volume, film_of
from filmbuild.pipeline.materials.life import working_life
from filmbuild.pipeline.materials.mixing import plan_mixes
from filmbuild.pipeline.materials.parts import split
from filmbuild.pipeline.results import Coat, LayerPass
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import Catalogue, Driver, Layer, Product, TaskCode
from filmbuild.pipeline.trace import Note, Trace
from filmbuild.quantities import Area, Volume

PLACING: tuple[tuple[TaskCode, Driver], ...] = (
    ("place_field", "floor_area"),
    ("place_cut_in", "cut_in_area"),
    ("place_vertical", "vertical_area"),
)
"""What places a coat, and what its rate is of where the rate book says nothing else."""
_FLOOR = Trace("materials.coated-floor")
_VERTICAL = Trace("materials.coated-verticals")


class Context(msgspec.Struct, frozen=True):
    """What every coat of one job reads."""

    job: Job
    selection: Selection
    catalogue: Catalogue
    ground: Ground
    crew: Crew
    faults: Faults

    def product(self, name: str, where: str) -> Product | None:
        product = self.catalogue.products.get(name)
        if product is None:
            detail = f"{where}: the catalogue has no product {name}"
            self.faults.add("unknown-product", detail, "system")
        return product

    def batch(self, label: str, product: Product, thinner: float) -> Batch | None:
        life = working_life(product, thinner, self.selection, self.job.calendar, self.faults)
        if life is None:
            return None
        return Batch(
            label,
            product,
            self.catalogue.packs.get(product.id, ()),
            thinner,
            life,
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
    grain_volume: Volume
    void_volume: Volume
    net: float
    loss: float
    soak: float
    batch: Batch
    demand: Demand
    traces: dict[str, Trace]
    pass_of: LayerPass | None = None


def draft_layer(
    layer: Layer, context: Context, below: Product | None, *, first: bool
) -> Draft | None:
    """The draft of a layer over the aggregate `below`; None with the reason among the faults."""
    ground, revision = context.ground, context.catalogue.revision
    product = context.product(layer.product, f"layer {layer.id}")
    if product is None:
        return None
    verticals = layer.vertical is not None and ground.totals.vertical > 0
    film = film_of(layer, product, revision, context.faults, verticals=verticals)
    batch = context.batch(f"layer {layer.id}", product, layer.thinner_fraction)
    work = _work(layer, product, context, verticals=verticals)
    grained = _grains_known(layer, below, context.faults)
    if film is None or batch is None or work is None or not grained:
        return None
    volume = coat_volume(layer, product, film, ground, revision, below, first=first)
    placers = work[0][0].workers
    each = context.selection.rate_book.applicator_soak
    soak: dict[str, object] = {"applicator_soak": each, "applicators": placers}
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
        grain_volume=volume.grains,
        void_volume=Volume(0.0),
        net=volume.film + volume.texture + volume.absorption + volume.grains,
        loss=layer.loss_fraction,
        soak=each * placers,
        batch=batch,
        demand=_demand(volume, film, work, ground),
        traces={
            "floor": _FLOOR,
            "vertical": _VERTICAL,
            **film.traces,
            **volume.traces,
            "soak": Trace("materials.soak", soak, revision),
        },
        pass_of=_pass_of(layer, context),
    )


def _grains_known(layer: Layer, below: Product | None, faults: Faults) -> bool:
    """Whether what a layer is to fill below it has a size, if it is to fill anything."""
    if layer.grain_fill is None:
        return True
    if below is None:
        detail = f"layer {layer.id} fills grains, and no layer below it is broadcast"
        faults.add("no-grains-below", detail, "system")
        return False
    if below.grain_size is None or below.void_fraction is None:
        detail = f"layer {layer.id} fills the grains of {below.id}, which needs "
        faults.add("grain-size-missing", f"{detail}a grain size and a void fraction", "system")
        return False
    return True


def _pass_of(layer: Layer, context: Context) -> LayerPass | None:
    one = context.selection.passes.get(layer.id)
    if one is None:
        return None
    inputs: dict[str, object] = {"layer": one.layer, "wet_film": one.wet, "most": one.most}
    return LayerPass(
        layer=one.layer,
        number=one.number,
        passes=one.passes,
        trace=Trace("materials.passes", inputs, context.catalogue.revision),
    )


def _work(
    layer: Layer, product: Product, context: Context, *, verticals: bool
) -> list[tuple[Pace, list[float]]] | None:
    """What places the coat how fast, the floor first; None with the reason among the faults."""
    ground = context.ground
    needed = {"place_vertical": verticals, "place_cut_in": ground.totals.cut_in > 0}
    work = []
    complete = True
    for task, natural in PLACING:
        if not needed.get(task, True) or context.crew.takes_no_time(task, layer.id, product.role):
            continue
        pace = context.crew.pace(task, ("area", "length"), layer.id, product.role)
        if pace is None:
            complete = False
        else:
            work.append((pace, ground.driven(pace.driver, natural, verticals=verticals)))
    return work if complete else None


def _demand(
    volume: CoatVolume, film: Film, work: list[tuple[Pace, list[float]]], ground: Ground
) -> Demand:
    covers = ground.floor
    if film.vertical:
        covers = [sum(one) for one in zip(ground.floor, ground.vertical, strict=True)]
    return Demand(ground.ids, volume.per_area, covers, volume.film_per_area, work)


def finish(draft: Draft, revision: int, faults: Faults, notes: list[Note]) -> Coat | None:
    """Plan the mixes; None with the reason among the faults.

    The ordered volume is net / (1 - loss) + residue per mix + soak: loss divides.
    """
    base = draft.net / (1 - draft.loss) + draft.soak
    plan = plan_mixes(draft.batch, draft.demand, base, revision, faults)
    if plan is None:
        return None
    notes.extend(plan.notes)
    batch, film = draft.batch, draft.film
    ordered: dict[str, object] = {
        "net_volume": Volume(draft.net),
        "loss_fraction": draft.loss,
        "residue": Volume(plan.residue),
        "soak": Volume(draft.soak),
    }
    parts: dict[str, object] = {
        "product": batch.product.id,
        "ordered_volume": Volume(plan.ordered),
        "ratio_by_volume": {part.name: part.ratio_by_volume for part in batch.product.parts},
        "density": {part.name: part.density for part in batch.product.parts},
    }
    if batch.thinner:
        parts["thinner_fraction"] = batch.thinner
        parts["thinner"] = Volume(plan.ordered - plan.ordered / (1 + batch.thinner))
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
        grain_volume=draft.grain_volume,
        void_volume=draft.void_volume,
        net_volume=Volume(draft.net),
        loss_fraction=draft.loss,
        residue=Volume(plan.residue),
        soak=Volume(draft.soak),
        ordered_volume=Volume(plan.ordered),
        parts=split(batch.product, plan.ordered / (1 + batch.thinner)),
        mixes=plan.mixes,
        placers=plan.placers,
        pass_of=draft.pass_of,
        traces={
            **draft.traces,
            **plan.traces,
            "loss_fraction": Trace("materials.loss-stated", {"layer": draft.layer}, revision),
            "ordered_volume": Trace("materials.ordered-volume", ordered, revision),
            "parts": Trace("materials.parts", parts, revision),
        },
    )
