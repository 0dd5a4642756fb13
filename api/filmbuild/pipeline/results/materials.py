"""What the materials stage finds."""

from datetime import date

from filmbuild.money import Money, UnitPrice
from filmbuild.pipeline.results.base import Result
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import (
    Area,
    Duration,
    Mass,
    MassPerArea,
    Quantity,
    SpreadRate,
    Thickness,
    Volume,
)


class PartAmount(Result, frozen=True, kw_only=True):
    """An amount of one part, by volume and by mass."""

    part: str
    volume: Volume
    mass: Mass


class Placer(Result, frozen=True, kw_only=True):
    """A gang at one task of placing, by its number: how many `people` of each labour class."""

    task: str
    gang: int
    people: dict[str, int]


class Mix(Result, frozen=True, kw_only=True):
    """One mix, in placing order: what goes in, how long it may be worked, and what it covers.

    What stays in the container is in `volume`, and covers nothing. `starts_at`, `down_by` and
    `wet_edge_by` count from the start of the coat, when the first part is first stirred: parts are
    put together at `starts_at`, after `premix_time`, and are placed once they are mixed; all must
    be down by `down_by`. `wet_edge_by` is when placing of the next mix must have begun, where it
    goes on in the same area. `placed_by` has the numbers of the gangs.
    """

    number: int
    whole_kit: str | None
    volume: Volume
    container: Volume | None = None
    parts: tuple[PartAmount, ...]
    premix_time: Duration = Duration(0.0)
    mixing_time: Duration
    working_life: Duration
    placing_time: Duration
    starts_at: Duration
    down_by: Duration
    wet_edge_by: Duration | None = None
    placed_by: tuple[int, ...] = ()
    covers: Area
    areas: tuple[str, ...]


class LayerPass(Result, frozen=True, kw_only=True):
    """Which pass of a layer a coat is, where the layer is laid in several."""

    layer: str
    number: int
    passes: int
    trace: Trace


class Coat(Result, frozen=True, kw_only=True):
    """One coat over the site, or one repair product (`layer` then names the repair).

    `ordered_volume = net_volume / (1 - loss_fraction) + residue + soak`, where `net_volume` is
    film, texture, absorption and the voids among the grains below, or what fills the void of a
    repair. `pass_of` says which layer of the system a coat is part of that is laid in several
    passes, and `placers` who places, task by task. `traces` holds, per field that is not zero, how
    it was found; for the mixes also `mix_covers`, `mix_placing_time`, `mix_working_life` and
    `mix_sequence`.
    """

    layer: str
    name: str
    product: str
    kind: str
    dry_film: Thickness | None
    wet_film: Thickness | None
    spread_rate: SpreadRate | None
    floor: Area
    vertical: Area
    film_volume: Volume
    texture_volume: Volume
    absorption_volume: Volume
    grain_volume: Volume
    void_volume: Volume
    net_volume: Volume
    loss_fraction: float
    residue: Volume
    soak: Volume
    ordered_volume: Volume
    parts: tuple[PartAmount, ...]
    mixes: tuple[Mix, ...]
    placers: tuple[Placer, ...] = ()
    pass_of: LayerPass | None = None
    traces: dict[str, Trace]


class AggregateAmount(Result, frozen=True, kw_only=True):
    """Dry aggregate: thrown into a coat, or filling the void of a repair.

    Of what is placed, `retained` stays and `swept` does not; `reclaimed` is the part of what is
    swept that can be used again.
    """

    layer: str
    product: str
    rate: MassPerArea | None
    placed: Mass
    retained: Mass
    swept: Mass
    reclaimed: Mass
    ordered: Mass
    trace: Trace


class PackLine(Result, frozen=True, kw_only=True):
    pack: str
    name: str
    count: int
    unit_price: UnitPrice
    amount: Money


class StockDrawn(Result, frozen=True, kw_only=True):
    """What is taken of one part from one lot in store."""

    lot: str | None
    expires: date | None
    part: str
    amount: Quantity


class RunnerUp(Result, frozen=True, kw_only=True):
    """The best order with fewer of some pack than the one chosen, and how much dearer it is.

    Packs alone: where heavier packs were passed over to save freight it may be less dear than none.
    """

    packs: tuple[PackLine, ...]
    cost: Money
    dearer_by: Money


class Purchase(Result, frozen=True, kw_only=True):
    """All that the job buys of one product, whatever layers it serves.

    `needed`, `bought` and `surplus` are per part, as volume or as mass, the way its packs are sold.
    `used_share` is the part of `cost` that the need itself takes. `proven` is false where the
    search for the least cost was cut off: the packs cover the need, but others may cost less, though
    not less than `cost_at_least`. What is taken `from_stock` is not bought, and `surplus` is of what
    is bought: it is worth `surplus_value`, and keeps until the shelf life is over, counted from the
    day of the prices. `gross_mass` is of all packs bought. `runner_up` is left out where there is no other choice.
    """

    product: str
    name: str
    needed: dict[str, Quantity]
    bought: dict[str, Quantity]
    surplus: dict[str, Quantity]
    packs: tuple[PackLine, ...]
    cost: Money
    used_share: Money
    proven: bool
    cost_at_least: Money | None = None
    from_stock: dict[str, Quantity] = {}
    stock: tuple[StockDrawn, ...] = ()
    surplus_value: Money | None = None
    surplus_keeps_until: date | None = None
    one_lot: bool = False
    gross_mass: Mass = Mass(0.0)
    runner_up: RunnerUp | None = None
    trace: Trace


class SupplierOrder(Result, frozen=True, kw_only=True):
    """All that is bought of one supplier, and what it asks beside the packs.

    `goods` is the cost of the packs and `gross_mass` theirs together, which is shipped for
    `freight`; where the goods cost less than the least order, `short_of_minimum` is charged on top.
    `proven` is false where the search for the least cost, freight and all, was cut off: no order
    costs less than `cost_at_least`.
    """

    supplier: str
    name: str
    products: tuple[str, ...]
    goods: Money
    gross_mass: Mass
    freight: Money
    short_of_minimum: Money
    cost: Money
    proven: bool
    cost_at_least: Money | None = None
    trace: Trace


class JobShare(Result, frozen=True, kw_only=True):
    """What one job bears of a list that is bought together, and what it would pay apart."""

    reference: str
    cost: Money
    cost_apart: Money
    trace: Trace


class PurchaseList(Result, frozen=True, kw_only=True):
    """What several jobs buy together, `orders` and all; `jobs` add up to `cost`."""

    purchases: tuple[Purchase, ...]
    orders: tuple[SupplierOrder, ...] = ()
    cost: Money
    cost_apart: Money
    saving: Money
    jobs: tuple[JobShare, ...]


class ConsumableLine(Result, frozen=True, kw_only=True):
    """So many of one thing, and what moved the number."""

    id: str
    name: str
    kind: str
    stage: str
    count: int
    unit: str
    unit_price: UnitPrice
    amount: Money
    trace: Trace
    grit: int | None = None


class Materials(Result, frozen=True, kw_only=True):
    system: str
    coats: tuple[Coat, ...]
    aggregates: tuple[AggregateAmount, ...]
    purchases: tuple[Purchase, ...]
    consumables: tuple[ConsumableLine, ...]
    orders: tuple[SupplierOrder, ...] = ()
