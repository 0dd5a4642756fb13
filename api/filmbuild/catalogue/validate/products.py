"""Products: tables in temperature, ranges, and what each role needs."""

from collections.abc import Sequence
from itertools import pairwise

from filmbuild.catalogue.validate.common import check_exactly_one, check_order, check_unique
from filmbuild.errors import Faults
from filmbuild.pipeline.specification import Part, Product, ProductRole, RecoatPoint, TimePoint
from filmbuild.pipeline.specification.products import ratios_by_volume

_TIMES = ("working_life", "wet_edge_time", "foot_traffic", "vehicle_traffic", "full_cure")
_MORTARS: tuple[ProductRole, ...] = ("crack_filler", "patch_mortar", "cove_mortar", "joint_filler")
_GRAINS = ("grain_size", "void_fraction")
_SAME_RATIO = 1e-6
_FILM = ("volume_solids", "wet_film_minimum", "wet_film_maximum", "absorption")


def check_products(products: Sequence[Product], faults: Faults) -> None:
    check_unique(products, lambda one: one.id, faults, "id")
    for index, product in enumerate(products):
        _check(product, faults.at(index))


def _check(product: Product, faults: Faults) -> None:
    check_unique(product.parts, lambda part: part.name, faults.at("parts"), "name")
    _check_ratios(product.parts, faults.at("parts"))
    check_order(product, "wet_film_minimum", "wet_film_maximum", faults)
    for name in _TIMES:
        _check_times(getattr(product, name), ("duration",), faults.at(name))
    _check_recoat(product.recoat, faults.at("recoat"))
    _check_by_role(product, faults)
    _check_mixing(product, faults)
    outside = product.outside_table
    if outside.rule == "arrhenius" and outside.activation_energy_joule_per_mole is None:
        faults.add(
            "no-activation-energy",
            "the arrhenius rule needs the product's activation energy in J/mol",
            "outside_table",
            "activation_energy_joule_per_mole",
        )
    if product.hazards.isocyanate_kind is not None and not product.hazards.isocyanate:
        faults.add(
            "isocyanate-kind-without-isocyanate",
            "a kind of isocyanate is given for products with isocyanate: true",
            "hazards",
            "isocyanate_kind",
        )
    if product.application is not None:
        limits = faults.at("application")
        check_order(product.application, "air_minimum", "air_maximum", limits)
        check_order(product.application, "surface_minimum", "surface_maximum", limits)
    if product.absorption is not None:
        check_order(product.absorption, "low", "medium", faults.at("absorption"))
        check_order(product.absorption, "medium", "high", faults.at("absorption"))


def _check_times(
    points: Sequence[TimePoint | RecoatPoint], members: tuple[str, ...], faults: Faults
) -> None:
    for index, (cooler, warmer) in enumerate(pairwise(points), 1):
        if warmer.temperature <= cooler.temperature:
            faults.add(
                "temperatures-not-rising",
                "each point must be warmer than the one before it",
                index,
                "temperature",
            )
            continue
        for member in members:
            before, time = getattr(cooler, member), getattr(warmer, member)
            if before is not None and time is not None and time > before:
                faults.add(
                    "times-not-falling",
                    "longer than at the cooler point before it; times fall as temperature rises",
                    index,
                    member,
                )


def _check_recoat(points: Sequence[RecoatPoint], faults: Faults) -> None:
    _check_times(points, ("minimum", "maximum"), faults)
    for index, point in enumerate(points):
        check_order(point, "minimum", "maximum", faults.at(index))
        if (point.maximum is None) != (points[0].maximum is None):
            faults.add(
                "recoat-maximum-mixed",
                "give a maximum at every temperature or at none",
                index,
                "maximum",
            )


def _check_ratios(parts: Sequence[Part], faults: Faults) -> None:
    """Each part has one measure; a ratio by volume that was left out has been worked out."""
    expected = ratios_by_volume(tuple(parts))
    liquids = [part for part in parts if part.mass_per_liquid is None]
    by_mass = [part for part in liquids if part.ratio_by_mass is not None]
    if not liquids:
        detail = "one part at least is measured by a ratio: the others are per volume of it"
        faults.add("no-liquid-part", detail, 0, "mass_per_liquid")
    elif by_mass and len(by_mass) < len(liquids):
        place = next(n for n, one in enumerate(parts) if one in liquids and one not in by_mass)
        detail = "another part states a ratio by mass: state ratio_by_mass here as well"
        faults.add("ratios-mixed", detail, place, "ratio_by_mass")
    whole = sum(part.ratio_by_volume for part in liquids)
    pairs = zip(parts, expected, strict=True)
    of_liquids = sum(ratio for part, ratio in pairs if part.mass_per_liquid is None)
    scale = whole / of_liquids if of_liquids else 0.0
    for index, (part, ratio) in enumerate(zip(parts, expected, strict=True)):
        if part.ratio_by_mass is not None and part.mass_per_liquid is not None:
            detail = "give exactly one of ratio_by_volume, ratio_by_mass and mass_per_liquid"
            faults.add("exactly-one", detail, index, "mass_per_liquid")
        elif not part.ratio_by_volume:
            detail = "give one of ratio_by_volume, ratio_by_mass and mass_per_liquid"
            faults.add("no-ratio", detail, index, "ratio_by_volume")
        elif scale and abs(part.ratio_by_volume - ratio * scale) > _SAME_RATIO * ratio * scale:
            detail = f"by its mass it is {ratio * scale:g}: leave one of the two out"
            faults.add("ratio-mismatch", detail, index, "ratio_by_volume")


def _check_by_role(product: Product, faults: Faults) -> None:
    if product.laid_density is not None and product.role not in _MORTARS:
        detail = f"a mass per void is stated for a {' or '.join(_MORTARS)}"
        faults.add("laid-density-of-no-mortar", detail, "laid_density")
    if product.role != "broadcast_aggregate":
        for name in _GRAINS:
            if getattr(product, name) is not None:
                faults.add("grains-of-no-aggregate", "for a broadcast_aggregate", name)
        return
    if len(product.parts) > 1:
        faults.add("aggregate-parts", "an aggregate has one part", "parts")
    for name in _FILM:
        if getattr(product, name) is not None:
            faults.add("aggregate-film", "an aggregate has no film properties", name)


def _check_mixing(product: Product, faults: Faults) -> None:
    if len(product.parts) > 1 and not product.working_life:
        faults.add(
            "no-working-life",
            "a product of several parts needs a working life at one temperature at least",
            "working_life",
        )
    sample = product.working_life_sample
    if sample is not None:
        check_exactly_one(sample, ("mass", "volume"), faults.at("working_life_sample"))
        if not product.working_life:
            faults.add(
                "sample-without-working-life",
                "a sample is of a working life: state that at one temperature at least, or leave "
                "the sample out",
                "working_life_sample",
            )
    residue, container = product.container_residue, product.container
    if residue is not None and container is not None and residue >= container:
        faults.add(
            "residue-too-large", "must be less than what the container holds", "container_residue"
        )
