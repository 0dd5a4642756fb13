"""Products: tables in temperature, ranges, and what each role needs."""

from collections.abc import Sequence
from itertools import pairwise

from filmbuild.catalogue.validate.common import check_order, check_unique
from filmbuild.errors import Faults
from filmbuild.pipeline.specification import Product, RecoatPoint, TimePoint

_TIMES = ("working_life", "foot_traffic", "vehicle_traffic", "full_cure")
_FILM = ("volume_solids", "wet_film_minimum", "wet_film_maximum", "absorption")


def check_products(products: Sequence[Product], faults: Faults) -> None:
    check_unique(products, lambda one: one.id, faults, "id")
    for index, product in enumerate(products):
        _check(product, faults.at(index))


def _check(product: Product, faults: Faults) -> None:
    check_unique(product.parts, lambda part: part.name, faults.at("parts"), "name")
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


def _check_by_role(product: Product, faults: Faults) -> None:
    if product.role != "broadcast_aggregate":
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
    residue, container = product.container_residue, product.container
    if residue is not None and container is not None and residue >= container:
        faults.add(
            "residue-too-large", "must be less than what the container holds", "container_residue"
        )
