"""Hazards of the products themselves: flammable, sensitising, heating up in the pail."""

from collections.abc import Iterator
from typing import Literal

from filmbuild.pipeline.cautions.common import DEFERS
from filmbuild.pipeline.specification import Product
from filmbuild.pipeline.trace import Caution

_ROOM_FLASH_POINT = 23.0  # degC, 73.4 degF
_LOW_BOILING_POINT = 35.0  # degC, 95 degF
_FLAMMABLE_FLASH_POINT = 60.0  # degC, 140 degF
_COMBUSTIBLE_FLASH_POINT = 93.0  # degC, 199.4 degF

_Kind = Literal["mdi", "hdi", "other"] | None
_ISOCYANATES: dict[_Kind, tuple[str, str, str]] = {
    "mdi": (
        "Isocyanate (MDI)",
        "OSHA's ceiling for MDI vapour is 0.02 ppm, never to be passed.",
        (
            "NIOSH Pocket Guide to Chemical Hazards, methylene bisphenyl isocyanate, and NIOSH "
            "Publication 2006-149, Preventing Asthma and Death from MDI Exposure (both from memory)"
        ),
    ),
    "hdi": (
        "Isocyanate (HDI)",
        (
            "NIOSH recommends at most 0.005 ppm of HDI over a working day and 0.020 ppm in any "
            "10 minutes; OSHA sets no limit of its own."
        ),
        "NIOSH Pocket Guide to Chemical Hazards, hexamethylene diisocyanate",
    ),
    "other": (
        "Isocyanate (neither MDI nor HDI)",
        (
            "Limits differ from one isocyanate to another: the safety data sheet, section 8, has its "
            "own."
        ),
        "29 CFR 1910.1200 Appendix A.4, respiratory or skin sensitisation",
    ),
    None: (
        "Isocyanate of a kind not stated",
        (
            "Limits differ from one isocyanate to another: the safety data sheet, section 8, names "
            "it and its limits."
        ),
        "29 CFR 1910.1200 Appendix A.4, respiratory or skin sensitisation",
    ),
}


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


def product_cautions(products: list[Product]) -> Iterator[Caution]:
    yield from _flammables(products)
    yield from _isocyanates(products)
    sensitisers = tuple(one.id for one in products if one.hazards.skin_sensitiser)
    if sensitisers:
        yield Caution(
            code="skin-sensitiser",
            title="Skin sensitisation",
            detail="Uncured resin and hardener can sensitise the skin for good. Wear suitable "
            "gloves and eye protection, and wash off splashes with soap and water, not solvent."
            + DEFERS,
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
            + DEFERS,
            source="UFC 3-190-06, section 7, mixing (working life falls as the batch grows)",
            applies_to=exotherms,
        )


def _flammables(products: list[Product]) -> Iterator[Caution]:
    found: dict[int, list[str]] = {}
    for product in products:
        hazards = product.hazards
        if hazards.flash_point is not None:
            category = flammable_category(hazards.flash_point, hazards.initial_boiling_point)
            if category is not None:
                found.setdefault(category, []).append(product.id)
    for category in sorted(found):
        yield Caution(
            code="flammable-liquid",
            title=f"Flammable liquid, category {category}",
            detail="Keep away from sparks, flames and running motors, ventilate until the vapour "
            "is gone, and put wipes in a closed metal bin. Outside an approved cabinet no more "
            "than 25 gallons of flammable liquids in a room; a cabinet holds at most 60 gallons of "
            "categories 1 to 3 or 120 gallons of category 4; no more than three cabinets in one "
            "storage area." + DEFERS,
            source="29 CFR 1926.152(b); category by 29 CFR 1910.1200 Appendix B.6",
            applies_to=tuple(found[category]),
        )


def _isocyanates(products: list[Product]) -> Iterator[Caution]:
    for kind, (title, limit, source) in _ISOCYANATES.items():
        holders = tuple(
            one.id
            for one in products
            if one.hazards.isocyanate and one.hazards.isocyanate_kind == kind
        )
        if holders:
            yield Caution(
                code="isocyanate",
                title=title,
                detail="The hardener contains isocyanates, which can cause asthma and sensitise "
                "skin and airways for good. Avoid breathing vapour, mist and dust and any contact; "
                f"sensitised people keep away. {limit} Ventilate, and wear the respirator and "
                "gloves the safety data sheet names." + DEFERS,
                source=source,
                applies_to=holders,
            )
