"""Hazards of the work as planned: the usual caution, its published source, and who decides.

A caution is never a pass. What the product's safety data sheet, local codes or a licensed person
say stands above it.
"""

from collections.abc import Iterator

from filmbuild.pipeline.results import AreaTakeoff, Labour, Takeoff
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.site import MoistureReading
from filmbuild.pipeline.specification import Catalogue, Equipment, Product, System
from filmbuild.pipeline.tasks_present import task_codes
from filmbuild.pipeline.trace import Caution

_DEFERS = (
    " The product's safety data sheet, local codes and licensed practice stand above this caution."
)
_HANDHELD = "Handheld grinders for uses other than mortar removal"
_WALK_BEHIND = "Walk-behind milling machines and floor grinders"
_FOUR_HOURS = 4 * 3600.0
_SILICA_SOURCE = "29 CFR 1926.1153, Table 1"
_ROOM_FLASH_POINT = 23.0  # degC, 73.4 degF
_LOW_BOILING_POINT = 35.0  # degC, 95 degF
_FLAMMABLE_FLASH_POINT = 60.0  # degC, 140 degF
_COMBUSTIBLE_FLASH_POINT = 93.0  # degC, 199.4 degF
_WET_DCOF = 0.42


def cautions_of(
    takeoff: Takeoff, labour: Labour | None, selection: Selection, catalogue: Catalogue
) -> tuple[Caution, ...]:
    """Every caution the job calls for, in a fixed order."""
    products = _products(takeoff, selection.system, catalogue)
    return (
        *_silica(takeoff, labour, selection),
        *_product_cautions(products),
        *_floor_cautions(takeoff, selection.system),
        *_slip(selection.system),
    )


def flammable_category(flash_point: float, initial_boiling_point: float | None) -> int | None:
    """GHS category 1 to 4 of a flammable liquid, or None above 93 degC [degC, degC].

    29 CFR 1910.1200 Appendix B.6. A boiling point that is not known is taken as low, the stricter
    case.
    """
    if flash_point < _ROOM_FLASH_POINT:
        boils_low = initial_boiling_point is None or initial_boiling_point <= _LOW_BOILING_POINT
        return 1 if boils_low else 2
    if flash_point <= _FLAMMABLE_FLASH_POINT:
        return 3
    return 4 if flash_point <= _COMBUSTIBLE_FLASH_POINT else None


def _products(takeoff: Takeoff, system: System, catalogue: Catalogue) -> list[Product]:
    totals = takeoff.totals
    repairs = system.repairs
    named = [layer.product for layer in system.layers]
    named += [layer.broadcast.product for layer in system.layers if layer.broadcast]
    for product, amount in (
        (repairs.crack_filler, totals.crack_length),
        (repairs.patch_mortar, totals.spall_area),
        (repairs.joint_filler, totals.joint_length),
        (repairs.cove_mortar, totals.cove_length),
    ):
        if product is not None and amount > 0:
            named.append(product)
    present = task_codes(takeoff, system)
    named += [
        rule.product
        for rule in catalogue.consumables
        if rule.product is not None and (not rule.tasks or not present.isdisjoint(rule.tasks))
    ]
    return [catalogue.products[name] for name in dict.fromkeys(named) if name in catalogue.products]


def _silica(takeoff: Takeoff, labour: Labour | None, selection: Selection) -> Iterator[Caution]:
    present = task_codes(takeoff, selection.system)
    machines = {one.id: one for one in selection.rate_book.equipment}
    used: dict[str, list[str]] = {}
    for code, production in selection.productions.items():
        if code in present:
            for name in production.equipment:
                machine = machines.get(name)
                if machine is not None and machine.silica_entry is not None:
                    used.setdefault(name, []).append(code)
    held = frozenset(
        code
        for name, tasks in used.items()
        if machines[name].silica_entry == _HANDHELD
        for code in tasks
    )
    for name, tasks in used.items():
        yield _silica_caution(machines[name], tuple(tasks), handheld_hours(held, labour))


def _silica_caution(machine: Equipment, tasks: tuple[str, ...], hours: str) -> Caution:
    entry = machine.silica_entry
    if entry == _HANDHELD:
        detail = (
            "Use a shroud and a dust collector of at least 25 cfm per inch of wheel diameter with "
            "a filter of at least 99 % and a cyclone or filter cleaning. Indoors or in an enclosed "
            "area, more than 4 hours in a shift call for a respirator of assigned protection "
            "factor 10." + hours
        )
    elif entry == _WALK_BEHIND:
        detail = (
            "Use the machine's water feed, or its maker's dust collector with a filter of at least "
            "99 % and filter cleaning; indoors or in an enclosed area, vacuum loose dust with a "
            "HEPA filter between passes."
        )
    else:
        detail = f"Follow the controls and respirators that Table 1 lists for: {entry}."
    return Caution(
        code="respirable-silica",
        title=f"Respirable crystalline silica: {machine.name}",
        detail=detail + _DEFERS,
        source=f"{_SILICA_SOURCE}, entry {entry!r}",
        applies_to=tasks,
    )


def handheld_hours(tasks: frozenset[str], labour: Labour | None) -> str:
    """A sentence where the plan's work with handheld grinders passes four hours, else nothing.

    The limit is on a worker's shift, whatever tasks and machines fill it. Hours are added over the
    whole plan, as if one person did them in one shift: the stricter case.
    """
    if labour is None:
        return ""
    total = sum(task.duration for task in labour.tasks if task.code in tasks)
    if total <= _FOUR_HOURS:
        return ""
    return (
        f" This plan has {total / 3600:.1f} hours of such work: plan the respirators, or the "
        "change of operator."
    )


def _product_cautions(products: list[Product]) -> Iterator[Caution]:
    flammable: dict[int, list[str]] = {}
    for product in products:
        hazards = product.hazards
        if hazards.flash_point is not None:
            category = flammable_category(hazards.flash_point, hazards.initial_boiling_point)
            if category is not None:
                flammable.setdefault(category, []).append(product.id)
    for category in sorted(flammable):
        yield _flammable(category, tuple(flammable[category]))
    isocyanates = tuple(one.id for one in products if one.hazards.isocyanate)
    if isocyanates:
        yield Caution(
            code="isocyanate",
            title="Isocyanates",
            detail="The hardener contains isocyanates, which can cause asthma and sensitise skin "
            "and airways for good. Avoid breathing vapour and any contact; sensitised people keep "
            "away. Ventilate, and wear the respirator and gloves the safety data sheet names."
            + _DEFERS,
            source="NIOSH Publication 2006-149, Preventing Asthma and Death from MDI Exposure "
            "(from memory)",
            applies_to=isocyanates,
        )
    sensitisers = tuple(one.id for one in products if one.hazards.skin_sensitiser)
    if sensitisers:
        yield Caution(
            code="skin-sensitiser",
            title="Skin sensitisation",
            detail="Uncured resin and hardener can sensitise the skin for good. Wear suitable "
            "gloves and eye protection, and wash off splashes with soap and water, not solvent."
            + _DEFERS,
            source="29 CFR 1910.1200 Appendix A.4, respiratory or skin sensitisation",
            applies_to=sensitisers,
        )
    exotherms = tuple(one.id for one in products if one.hazards.exotherm)
    if exotherms:
        yield Caution(
            code="exotherm",
            title="Heat of a mix left standing",
            detail="A mixed mass left in the pail heats itself, sets early and can smoke. Mix no "
            "more than can be placed at once, pour it out over the floor, and never seal it in."
            + _DEFERS,
            source="UFC 3-190-06, section 7, mixing (working life falls as the batch grows)",
            applies_to=exotherms,
        )


def _flammable(category: int, products: tuple[str, ...]) -> Caution:
    limit = "120 gallons of category 4" if category > 3 else "60 gallons of categories 1 to 3"  # noqa: PLR2004 - the cabinet's own classes
    return Caution(
        code="flammable-liquid",
        title=f"Flammable liquid, category {category}",
        detail="Keep away from sparks, flames and running motors, ventilate until the vapour is "
        "gone, and put wipes in a closed metal bin. No more than 25 gallons outside an approved "
        f"cabinet; a cabinet holds at most {limit}." + _DEFERS,
        source="29 CFR 1926.152(b); category by 29 CFR 1910.1200 Appendix B.6",
        applies_to=products,
    )


def _floor_cautions(takeoff: Takeoff, system: System) -> Iterator[Caution]:
    wet = tuple(area.id for area in takeoff.areas if _too_moist(area, system))
    if wet:
        yield Caution(
            code="moisture-limit-exceeded",
            title="Moisture above the system's limit",
            detail=f"Readings exceed the limits of {system.name}: do not coat before the cause is "
            "found and a moisture measure is agreed. The two test methods do not convert into one "
            "another; the failing one counts." + _DEFERS,
            source="ASTM F1869 and ASTM F2170 readings against the system's stated limits",
            applies_to=wet,
        )
    unread = tuple(area.id for area in takeoff.areas if not area.substrate.moisture)
    if unread:
        yield Caution(
            code="moisture-not-measured",
            title="Moisture not measured",
            detail="No moisture reading was given for these areas. Test before coating." + _DEFERS,
            source="ASTM F1869, ASTM F2170",
            applies_to=unread,
        )
    limit = system.moisture.age_days
    young = tuple(
        area.id
        for area in takeoff.areas
        if area.substrate.age_days is not None and area.substrate.age_days < limit
    )
    if young:
        yield Caution(
            code="young-concrete",
            title="Concrete younger than the system allows",
            detail=f"{system.name} asks for concrete at least {limit} days old." + _DEFERS,
            source="the system's stated limit; 28 days is common practice, no source",
            applies_to=young,
        )


def _too_moist(area: AreaTakeoff, system: System) -> bool:
    return any(_reading_exceeds(reading, system) for reading in area.substrate.moisture)


def _reading_exceeds(reading: MoistureReading, system: System) -> bool:
    limits = system.moisture
    return (
        reading.emission is not None
        and limits.emission is not None
        and reading.emission > limits.emission
    ) or (
        reading.relative_humidity_percent is not None
        and limits.relative_humidity_percent is not None
        and reading.relative_humidity_percent > limits.relative_humidity_percent
    )


def _slip(system: System) -> Iterator[Caution]:
    stated = system.wet_slip_resistance
    if stated is not None and stated >= _WET_DCOF:
        return
    known = "is not stated" if stated is None else f"is stated as {stated:g}"
    yield Caution(
        code="slip-resistance",
        title="Slippery when wet",
        detail=f"The wet dynamic coefficient of friction of this build {known}; level interior "
        "floors walked on when wet call for at least 0.42. A test value does not predict slips."
        + _DEFERS,
        source="ANSI A326.3-2021",
        applies_to=(system.id,),
    )
