"""Coating systems: every product they name is there, in its role, at a film it can take."""

from collections.abc import Iterator, Mapping, Sequence

from filmbuild.catalogue.validate.common import check_exactly_one, check_order, check_unique
from filmbuild.errors import Faults, Token
from filmbuild.pipeline.specification import Broadcast, Layer, Product, ProductRole, System

COAT_ROLES: tuple[ProductRole, ...] = ("primer", "body_coat", "topcoat")
REPAIR_ROLES: dict[str, ProductRole] = {
    "crack_filler": "crack_filler",
    "patch_mortar": "patch_mortar",
    "cove_mortar": "cove_mortar",
    "joint_filler": "joint_filler",
    "fill_aggregate": "broadcast_aggregate",
}
ROUNDING = 1e-9
"""Relative; a film that is stated at its limit in another unit is at the limit."""


def check_systems(
    systems: Sequence[System], products: Mapping[str, Product], faults: Faults
) -> None:
    check_unique(systems, lambda one: one.id, faults, "id")
    for index, system in enumerate(systems):
        here = faults.at(index)
        check_order(system, "profile_minimum", "profile_maximum", here)
        check_unique(system.layers, lambda layer: layer.id, here.at("layers"), "id")
        below: Product | None = None
        for number, layer in enumerate(system.layers):
            at = here.at("layers", number)
            _check_layer(layer, products, at)
            _check_grains(layer, below, at)
            if layer.broadcast is not None:
                below = products.get(layer.broadcast.product)
        for member, role in REPAIR_ROLES.items():
            name = getattr(system.repairs, member)
            if name is not None:
                _product(name, (role,), products, here.at("repairs"), member)


def used_products(system: System) -> Iterator[tuple[Token, ...]]:
    """Each product that a system names, and where, in tokens of a pointer into the system."""
    for index, layer in enumerate(system.layers):
        yield layer.product, "layers", index, "product"
        if layer.broadcast is not None:
            yield layer.broadcast.product, "layers", index, "broadcast", "product"
    for member in REPAIR_ROLES:
        name = getattr(system.repairs, member)
        if name is not None:
            yield name, "repairs", member


def _check_layer(layer: Layer, products: Mapping[str, Product], faults: Faults) -> None:
    product = _product(layer.product, COAT_ROLES, products, faults, "product")
    if layer.broadcast is not None:
        name = layer.broadcast.product
        grains = _product(
            name, ("broadcast_aggregate",), products, faults.at("broadcast"), "product"
        )
        _check_broadcast(layer.broadcast, grains, faults.at("broadcast"))
    member = check_exactly_one(layer, ("dry_film", "wet_film", "spread_rate"), faults)
    if product is None or member is None:
        return
    if member == "dry_film" and product.volume_solids is None:
        faults.add(
            "no-volume-solids",
            f"a dry film can be stated for products with volume solids; {product.id} has none",
            "dry_film",
        )
        return
    _check_film(layer, product, member, faults)


def _check_broadcast(broadcast: Broadcast, grains: Product | None, faults: Faults) -> None:
    if (broadcast.rate is None) != broadcast.to_refusal:
        detail = "give a rate, or to_refusal: true, and not both"
        faults.add("exactly-one", detail, "rate" if broadcast.to_refusal else "to_refusal")
    elif broadcast.to_refusal and grains is not None and grains.void_fraction is None:
        detail = f"a broadcast to refusal needs the void_fraction of {grains.id}"
        faults.add("no-void-fraction", detail, "product")
    if broadcast.reclaimed_fraction > broadcast.swept:
        detail = f"no more than the {broadcast.swept:g} that is swept off can be reclaimed"
        faults.add("reclaimed-not-swept", detail, "reclaimed_fraction")


def _check_grains(layer: Layer, below: Product | None, faults: Faults) -> None:
    if layer.grain_fill is None:
        return
    if below is None:
        detail = "no layer below it is broadcast: there are no grains to fill"
        faults.add("no-grains-below", detail, "grain_fill")
    elif below.grain_size is None or below.void_fraction is None:
        detail = f"{below.id} below it needs a grain_size and a void_fraction"
        faults.add("no-grain-size", detail, "grain_fill")


def _check_film(layer: Layer, product: Product, member: str, faults: Faults) -> None:
    """Wet film = dry film (1 + thinner) / volume solids, or 1 / spread rate."""
    wet_of_stated = 1.0
    if member == "dry_film" and product.volume_solids is not None:
        wet_of_stated = (1 + layer.thinner_fraction) / product.volume_solids
    stated: float = getattr(layer, member)
    films = {member: 1 / stated if member == "spread_rate" else stated * wet_of_stated}
    if layer.vertical is not None:
        films["vertical"] = layer.vertical * wet_of_stated
    least, most = product.wet_film_minimum, product.wet_film_maximum
    for place, film in films.items():
        thin = least is not None and film < least * (1 - ROUNDING)
        thick = most is not None and film > most * (1 + ROUNDING)
        if thin or thick:
            faults.add(
                "film-out-of-range",
                f"{film * 1e6:.0f} um wet; one coat of {product.id} takes {_span(least, most)}",
                place,
            )


def _span(least: float | None, most: float | None) -> str:
    limits = []
    if least is not None:
        limits.append(f"at least {least * 1e6:.0f} um")
    if most is not None:
        limits.append(f"at most {most * 1e6:.0f} um")
    return " and ".join(limits)


def _product(
    name: str,
    roles: tuple[ProductRole, ...],
    products: Mapping[str, Product],
    faults: Faults,
    member: str,
) -> Product | None:
    found = products.get(name)
    if found is None:
        faults.add("unknown-product", f'there is no product "{name}"', member)
    elif found.role not in roles:
        faults.add(
            "wrong-role", f"{name} is a {found.role}; a {' or '.join(roles)} goes here", member
        )
    return found
