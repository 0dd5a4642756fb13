"""What the contractor has in store of the products that the job takes, lot by lot."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.job import Job, StockLot
from filmbuild.pipeline.materials.parts import content_mass, content_volume
from filmbuild.pipeline.specification import Catalogue, Pack, Part
from filmbuild.quantities import Mass, Quantity

NOISE = 1e-9  # of a need


class Held(msgspec.Struct, frozen=True):
    """One entry of the stock: by part its volume [m3] and its mass [kg]."""

    lot: str | None
    expires: date | None
    amounts: dict[str, tuple[float, float]]


class Drawn(msgspec.Struct, frozen=True):
    """What is taken of one entry, by part, in the measure of the part."""

    lot: str | None
    expires: date | None
    part: str
    amount: float


Stock = Mapping[str, Sequence[Held]]


def stock_on_hand(job: Job, catalogue: Catalogue, faults: Faults) -> Stock:
    """By product, what goes off first coming first; `faults` stands at the job.

    Stock has to keep to the first day of work, or to the day of the prices where there is none.
    """
    held: dict[str, list[Held]] = {}
    day = job.start or catalogue.priced_on
    for index, one in enumerate(job.stock):
        at = faults.at("stock", index)
        found = _held(one, catalogue, at)
        if one.expires is not None and one.expires < day:
            detail = (
                f"this lot is past its date on {day}, the day it is needed: take it off the list, "
                f"or correct the date to {day} or later"
            )
            at.add("stock-past-date", detail, "expires")
        elif found is not None:
            held.setdefault(one.product, []).append(found)
    for lots in held.values():
        lots.sort(key=_goes_off)
    return held


def put_together(stocks: Iterable[Stock]) -> Stock:
    """The stock of several jobs, each entry of each."""
    held: dict[str, list[Held]] = {}
    for stock in stocks:
        for product, lots in stock.items():
            held.setdefault(product, []).extend(lots)
    for found in held.values():
        found.sort(key=_goes_off)
    return held


def _goes_off(one: Held) -> tuple[date, str]:
    return one.expires or date.max, one.lot or ""


def draw(
    lots: Sequence[Held],
    needed: Mapping[str, float],
    kinds: Mapping[str, type[Quantity]],
    *,
    one_lot: bool,
) -> list[Drawn]:
    """What is taken from stock: all that is needed of it, what goes off first coming first.

    Where all has to be of one lot, that is a lot that has enough of every part, or nothing.
    """
    if not one_lot:
        return _drawn(lots, needed, kinds)
    for lot in dict.fromkeys(one.lot for one in lots if one.lot is not None):
        taken = _drawn([one for one in lots if one.lot == lot], needed, kinds)
        totals = dict.fromkeys(needed, 0.0)
        for one in taken:
            totals[one.part] += one.amount
        if all(totals[part] >= amount * (1.0 - NOISE) for part, amount in needed.items()):
            return taken
    return []


def _drawn(
    lots: Iterable[Held], needed: Mapping[str, float], kinds: Mapping[str, type[Quantity]]
) -> list[Drawn]:
    drawn = []
    left = dict(needed)
    for one in lots:
        for part, (volume, mass) in one.amounts.items():
            amount = min(left.get(part, 0.0), mass if kinds.get(part) is Mass else volume)
            if amount > 0.0:
                left[part] -= amount
                drawn.append(Drawn(one.lot, one.expires, part, amount))
    return drawn


def _held(one: StockLot, catalogue: Catalogue, faults: Faults) -> Held | None:
    product = catalogue.products.get(one.product)
    if product is None:
        detail = f"the catalogue has no product {one.product}"
        faults.add("unknown-product", detail, "product")
        return None
    if (one.pack is None) == (one.part is None):
        detail = "give exactly one of pack, with its count, and part, with its volume or mass"
        faults.add("exactly-one", detail, "pack")
        return None
    parts = {part.name: part for part in product.parts}
    if one.part is not None:
        return _part_held(one, parts, one.part, faults)
    packs = {priced.pack.id: priced.pack for priced in catalogue.packs.get(one.product, ())}
    return _packs_held(one, parts, packs, faults)


def _packs_held(
    one: StockLot, parts: Mapping[str, Part], packs: Mapping[str, Pack], faults: Faults
) -> Held | None:
    pack = packs.get(one.pack or "")
    if pack is None:
        names = ", ".join(sorted(packs)) or "none"
        faults.add("unknown-pack", f"packs of {one.product}: {names}", "pack")
        return None
    if one.count is None or one.volume is not None or one.mass is not None:
        faults.add("exactly-one", "packs are given by their count alone", "count")
        return None
    amounts = {
        content.part: (
            one.count * content_volume(content, parts[content.part]),
            one.count * content_mass(content, parts[content.part]),
        )
        for content in pack.contents
        if content.part in parts
    }
    return Held(one.lot, one.expires, amounts)


def _part_held(one: StockLot, parts: Mapping[str, Part], name: str, faults: Faults) -> Held | None:
    part = parts.get(name)
    if part is None:
        detail = f"parts of {one.product}: {', '.join(parts)}"
        faults.add("unknown-part", detail, "part")
        return None
    if one.count is not None or (one.volume is None) == (one.mass is None):
        faults.add("exactly-one", "a part is given by its volume or by its mass alone", "volume")
        return None
    if one.volume is not None:
        return Held(one.lot, one.expires, {name: (one.volume, one.volume * part.density)})
    mass = one.mass or 0.0
    return Held(one.lot, one.expires, {name: (mass / part.density, mass)})
