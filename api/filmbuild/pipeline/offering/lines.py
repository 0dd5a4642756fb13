"""The lines of an offer: the net price shared out over what the customer knows."""

from collections.abc import Iterable, Sequence
from decimal import ROUND_HALF_UP, Decimal
from typing import Literal

import msgspec

from filmbuild.money import Money, allocate, rounded
from filmbuild.pipeline.job import UnitSystem
from filmbuild.pipeline.offering.terms import Presentation
from filmbuild.pipeline.results import (
    Adjustment,
    EstimateDocument,
    OfferLine,
    Price,
    Takeoff,
    WorkKind,
    WorkShare,
)
from filmbuild.quantities import Area, Length

Measure = Literal["area", "length"]

_CENTI = Decimal("0.01")
_ONE = Decimal(1)
_LUMP = (_ONE, "LS")
_UNITS: dict[tuple[Measure, UnitSystem], tuple[float, str]] = {
    ("area", "si"): (1.0, "MTK"),
    ("area", "us"): (0.3048**2, "FTK"),
    ("length", "si"): (1.0, "MTR"),
    ("length", "us"): (0.3048, "FOT"),
}
"""SI per unit, and the unit's code in UNECE Recommendation 20."""
_WORKS: tuple[tuple[str, str, tuple[WorkKind, ...]], ...] = (
    ("preparation", "Preparation of the floor", ("preparation",)),
    ("repairs", "Cracks, joints and repairs", ("repairs", "joints")),
    ("floor", "Floor coating", ("floor",)),
    ("verticals", "Verticals and cove", ("verticals",)),
)


def measured(value: float, measure: Measure, units: UnitSystem) -> tuple[Decimal, str]:
    """To two decimals of the unit; what is too little for that is one of its own."""
    each, code = _UNITS[measure, units]
    quantity = Decimal(repr(value / each)).quantize(_CENTI, ROUND_HALF_UP)
    return (quantity, code) if quantity else _LUMP


def surface(floor: Area, vertical: Area) -> Area:
    return Area(floor + vertical)


def work_lines(document: EstimateDocument, presentation: Presentation) -> list[OfferLine]:
    """The contractor's own work, then what is bought in, then what changes their sum."""
    price = document.price
    by_terms = price.by_terms or price.net
    bought = [one for one in price.shares if one.work == "subcontract"]
    own = by_terms.amount - sum((one.by_terms.amount for one in bought), Decimal(0))
    units: UnitSystem = "us" if document.units == "us" else "si"
    net = rounded(own, by_terms.currency)
    if presentation.lines == "by_area":
        lines = _by_area(net, document.takeoff, units)
    elif presentation.lines == "by_work" and price.shares:
        lines = _by_work(price, document.takeoff, units)
    else:
        lines = [_lump_sum(net, document.takeoff)]
    return [*lines, *_extras(price, bought), *_adjustments(price.adjustments)]


def _lump_sum(net: Money, takeoff: Takeoff) -> OfferLine:
    return OfferLine(
        id="work",
        kind="work",
        description=takeoff.site,
        quantity=_ONE,
        unit="LS",
        net=net,
        areas=tuple([area.id for area in takeoff.areas]),
    )


def _by_area(net: Money, takeoff: Takeoff, units: UnitSystem) -> list[OfferLine]:
    surfaces = [surface(area.floor, area.vertical) for area in takeoff.areas]
    shares = allocate(net.amount, [Decimal(one) for one in surfaces], net.currency)
    lines = []
    for area, size, share in zip(takeoff.areas, surfaces, shares, strict=True):
        quantity, unit = measured(size, "area", units)
        lines.append(
            OfferLine(
                id=f"area:{area.id}",
                kind="work",
                description=area.name,
                quantity=quantity,
                unit=unit,
                net=Money(share, net.currency),
                areas=(area.id,),
            )
        )
    return lines


def _by_work(price: Price, takeoff: Takeoff, units: UnitSystem) -> list[OfferLine]:
    totals = takeoff.totals
    sizes: dict[str, tuple[Decimal, str]] = {
        "preparation": measured(totals.floor, "area", units),
        "floor": measured(totals.floor, "area", units),
        "verticals": measured(totals.running_length or Length(0.0), "length", units),
        "repairs": _LUMP,
    }
    areas = tuple([area.id for area in takeoff.areas])
    lines = []
    for name, description, kinds in _WORKS:
        shares = [one.by_terms.amount for one in price.shares if one.work in kinds]
        if shares:
            quantity, unit = sizes[name]
            lines.append(
                OfferLine(
                    id=f"work:{name}",
                    kind="work",
                    description=description,
                    quantity=quantity,
                    unit=unit,
                    net=rounded(sum(shares, Decimal(0)), price.net.currency),
                    areas=areas,
                )
            )
    return lines


def _extras(price: Price, bought: Iterable[WorkShare]) -> list[OfferLine]:
    known = {line.item: line for line in price.lines if line.group == "subcontract"}
    return [
        OfferLine(
            id=f"extra:{one.item}",
            kind="extra",
            description=known[one.item].description,
            quantity=known[one.item].quantity,
            unit=known[one.item].unit,
            net=one.by_terms,
        )
        for one in bought
        if one.item is not None
    ]


_ADJUSTED: dict[str, tuple[Literal["discount", "minimum", "rounding"], str]] = {
    "discount": ("discount", "Discount"),
    "minimum": ("minimum", "Minimum charge"),
    "rounding": ("rounding", "Rounding"),
}


def _adjustments(found: Sequence[Adjustment]) -> list[OfferLine]:
    lines = []
    for number, one in enumerate(found, start=1):
        kind, word = _ADJUSTED[one.kind]
        lines.append(
            OfferLine(
                id=f"discount:{number}" if kind == "discount" else kind,
                kind=kind,
                description=one.reason or word,
                quantity=_ONE,
                unit="LS",
                net=one.amount,
            )
        )
    return lines


def under_taxes(
    lines: Sequence[OfferLine],
    of_materials: Money,
    everything: tuple[str, ...],
    materials: tuple[str, ...],
) -> list[OfferLine]:
    """Each line with the rules that it falls under.

    Where some rules tax the materials of the sale alone, each line is split in two, in the ratio of
    the whole, so that a rule taxes whole lines and its base is their sum.
    """
    if not materials:
        return [msgspec.structs.replace(line, taxes=everything) for line in lines]
    whole = sum((line.net.amount for line in lines), Decimal(0))
    split: list[OfferLine] = []
    so_far = given = Decimal(0)
    for line in lines:
        so_far += line.net.amount
        part = _share(so_far, of_materials, whole) - given
        given += part
        split += _split(line, part, everything, materials)
    return split


def _share(so_far: Decimal, of_materials: Money, whole: Decimal) -> Decimal:
    if not whole:
        return Decimal(0)
    return rounded(so_far * of_materials.amount / whole, of_materials.currency).amount


def _split(
    line: OfferLine, part: Decimal, everything: tuple[str, ...], materials: tuple[str, ...]
) -> list[OfferLine]:
    rest = line.net.amount - part
    currency = line.net.currency
    found = []
    if rest or not part:
        found.append(msgspec.structs.replace(line, net=rounded(rest, currency), taxes=everything))
    if part:
        found.append(
            msgspec.structs.replace(
                line,
                id=f"{line.id}/materials",
                description=f"{line.description}, materials",
                net=rounded(part, currency),
                taxes=(*everything, *materials),
            )
        )
    return found
