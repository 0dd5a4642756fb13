"""What the materials stage finds."""

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


class Mix(Result, frozen=True, kw_only=True):
    """One mix, in placing order: what goes in, how long it may be worked, and what it covers.

    What stays in the container is in `volume`, and covers nothing.
    """

    number: int
    whole_kit: str | None
    volume: Volume
    parts: tuple[PartAmount, ...]
    mixing_time: Duration
    working_life: Duration
    placing_time: Duration
    covers: Area
    areas: tuple[str, ...]


class Coat(Result, frozen=True, kw_only=True):
    """One coat over the site, or one repair product (`layer` then names the repair).

    `ordered_volume = net_volume / (1 - loss_fraction) + residue + soak`, where `net_volume` is
    film, texture and absorption, or the void of a repair. `traces` holds, per field that is not
    zero, how it was found; for the mixes also `mix_covers` and `mix_placing_time`.
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
    net_volume: Volume
    loss_fraction: float
    residue: Volume
    soak: Volume
    ordered_volume: Volume
    parts: tuple[PartAmount, ...]
    mixes: tuple[Mix, ...]
    traces: dict[str, Trace]


class AggregateAmount(Result, frozen=True, kw_only=True):
    """Dry aggregate: thrown into a coat, or filling the void of a repair."""

    layer: str
    product: str
    rate: MassPerArea | None
    placed: Mass
    reclaimed: Mass
    ordered: Mass
    trace: Trace


class PackLine(Result, frozen=True, kw_only=True):
    pack: str
    name: str
    count: int
    unit_price: UnitPrice
    amount: Money


class Purchase(Result, frozen=True, kw_only=True):
    """All that the job buys of one product, whatever layers it serves.

    `needed`, `bought` and `surplus` are per part, as volume or as mass, the way its packs are sold.
    `used_share` is the part of `cost` that the need itself takes. `proven` is false where the
    search for the least cost was cut off: the packs cover the need, but others may cost less.
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
    trace: Trace


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


class Materials(Result, frozen=True, kw_only=True):
    system: str
    coats: tuple[Coat, ...]
    aggregates: tuple[AggregateAmount, ...]
    purchases: tuple[Purchase, ...]
    consumables: tuple[ConsumableLine, ...]
