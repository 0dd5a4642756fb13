"""Repairs: what fills cracks, spalls and joints, and forms coves."""

from collections.abc import Sequence
from typing import Literal

import msgspec

from filmbuild.pipeline.materials.coats import Context, Draft
from filmbuild.pipeline.materials.crew import Measured, Pace
from filmbuild.pipeline.materials.demand import Demand
from filmbuild.pipeline.results import AggregateAmount, AreaTakeoff, Totals
from filmbuild.pipeline.specification import Product, Repairs, TaskCode
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Area, Density, Mass, Volume

ProductField = Literal["crack_filler", "patch_mortar", "joint_filler", "cove_mortar"]
VolumeField = Literal["crack_volume", "spall_volume", "joint_volume", "cove_volume"]
LengthField = Literal["crack_length", "joint_length", "cove_length"]
AreaField = Literal["spall_area", "cove_face"]

_ROUNDING = 1e-9


class _Kind(msgspec.Struct, frozen=True):
    """One kind of repair: its task, and where its product and its quantities stand."""

    task: TaskCode
    name: str
    product: ProductField
    volume: VolumeField
    length: LengthField | None = None
    area: AreaField | None = None


_KINDS = (
    _Kind("fill_cracks", "Crack filling", "crack_filler", "crack_volume", "crack_length"),
    _Kind("patch_spalls", "Patching", "patch_mortar", "spall_volume", area="spall_area"),
    _Kind("fill_joints", "Joint filling", "joint_filler", "joint_volume", "joint_length"),
    _Kind("form_cove", "Cove base", "cove_mortar", "cove_volume", "cove_length", "cove_face"),
)


def draft_repairs(context: Context) -> list[Draft]:
    """The repairs that the site needs; what they lack is among the faults."""
    drafts = []
    for kind in _KINDS:
        if getattr(context.ground.totals, kind.volume) > 0:
            areas = [area for area in context.ground.areas if getattr(area, kind.volume) > 0]
            draft = _draft(kind, areas, context) if areas else None
            if draft is not None:
                drafts.append(draft)
    return drafts


def _draft(kind: _Kind, areas: Sequence[AreaTakeoff], context: Context) -> Draft | None:
    repairs = context.selection.system.repairs
    name: str | None = getattr(repairs, kind.product)
    if name is None:
        context.faults.add(
            "no-repair-product",
            f"the site needs {kind.task}: choose a system that names a product as {kind.product}",
            "system",
        )
        return None
    product = context.product(name, kind.product)
    if product is None:
        return None
    pace = context.crew.pace(kind.task, _measured(kind))
    batch = context.batch(kind.task, product, 0.0)
    if pace is None or batch is None:
        return None
    void = sum(getattr(area, kind.volume) for area in areas)
    cracks = kind.task == "fill_cracks"
    sands = [crack_sand(area, repairs) if cracks else 0.0 for area in areas]
    sand = sum(sands) / void
    liquid, per_void = void * (1 - sand), _per_void(product)
    none = Volume(0.0)
    return Draft(
        layer=kind.task,
        name=kind.name,
        kind="repair",
        film=None,
        floor=Area(0.0),
        vertical=Area(0.0),
        film_volume=none,
        texture_volume=none,
        absorption_volume=none,
        grain_volume=none,
        void_volume=Volume(void),
        net=liquid * per_void,
        loss=repairs.loss_fraction,
        soak=0.0,
        batch=batch,
        demand=_demand(kind, areas, pace, sands, per_void),
        traces={
            "void_volume": Trace("materials.void-found", {"work": kind.task}),
            "net_volume": _net_trace(product, void, sand, context.catalogue.revision),
        },
    )


def _per_void(product: Product) -> float:
    """Volume mixed for each volume of void: mass as laid over mass as mixed."""
    return 1.0 if product.laid_density is None else product.laid_density / product.mixed_density


def _net_trace(product: Product, void: float, sand: float, revision: int) -> Trace:
    inputs: dict[str, object] = {"void_volume": Volume(void), "aggregate_fill_fraction": sand}
    if product.laid_density is None:
        return Trace("materials.void-volume", inputs, revision)
    inputs |= {
        "product": product.id,
        "mass_per_void": product.laid_density,
        "mixed_density": Density(product.mixed_density),
    }
    return Trace("materials.void-mass", inputs, revision)


def _measured(kind: _Kind) -> Sequence[Measured]:
    measured: list[Measured] = ["volume"]
    if kind.length is not None:
        measured.append("length")
    if kind.area is not None:
        measured.append("area")
    return measured


def _demand(
    kind: _Kind,
    areas: Sequence[AreaTakeoff],
    pace: Pace,
    sands: Sequence[float],
    per_void: float,
) -> Demand:
    pairs = zip(areas, sands, strict=True)
    volume = [(getattr(area, kind.volume) - sand) * per_void for area, sand in pairs]
    field = {"volume": kind.volume, "length": kind.length, "area": kind.area}[pace.measured]
    return Demand(
        [area.id for area in areas],
        volume,
        [getattr(area, kind.area) if kind.area else 0.0 for area in areas],
        volume,
        [(pace, [getattr(area, field or kind.volume) for area in areas])],
    )


def sand_share(repairs: Repairs) -> float:
    """The part of a crack's void that grains of dry aggregate fill."""
    return repairs.aggregate_fill_fraction if repairs.fill_aggregate is not None else 0.0


def crack_sand(found: AreaTakeoff | Totals, repairs: Repairs) -> float:
    """[m3] As the cracks state it, and the system's share of those that state none."""
    others = found.crack_volume - found.crack_sand_volume - found.crack_liquid_volume
    if others <= _ROUNDING * found.crack_volume:
        return found.crack_sand_volume
    return found.crack_sand_volume + others * sand_share(repairs)


def crack_aggregate(context: Context) -> AggregateAmount | None:
    """Dry aggregate in the cracks: void x fill fraction x density of the grains, loss divides."""
    repairs = context.selection.system.repairs
    void = context.ground.totals.crack_volume
    sand = crack_sand(context.ground.totals, repairs)
    if not sand > 0:
        return None
    if repairs.fill_aggregate is None:
        context.faults.add(
            "no-repair-product",
            "the cracks state a share of sand: choose a system that names a product as "
            "fill_aggregate, or leave the share out",
            "system",
        )
        return None
    product = context.product(repairs.fill_aggregate, "fill_aggregate")
    if product is None:
        return None
    placed = sand * product.parts[0].density
    return AggregateAmount(
        layer="fill_cracks",
        product=product.id,
        rate=None,
        placed=Mass(placed),
        retained=Mass(placed),
        swept=Mass(0.0),
        reclaimed=Mass(0.0),
        ordered=Mass(placed / (1 - repairs.loss_fraction)),
        trace=Trace(
            "materials.crack-aggregate",
            {
                "void_volume": Volume(void),
                "aggregate_fill_fraction": sand / void,
                "density": product.parts[0].density,
                "loss_fraction": repairs.loss_fraction,
            },
            context.catalogue.revision,
        ),
    )
