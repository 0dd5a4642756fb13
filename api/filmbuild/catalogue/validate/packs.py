"""Packs against the products they hold, and prices against the packs."""

from collections.abc import Collection, Mapping, Sequence

from filmbuild.catalogue.validate.common import check_exactly_one, check_unique
from filmbuild.errors import Faults
from filmbuild.pipeline.materials.parts import KIT_TOLERANCE, kit_volume
from filmbuild.pipeline.specification import Pack, PackPrice, Product


def check_packs(packs: Sequence[Pack], products: Mapping[str, Product], faults: Faults) -> None:
    check_unique(packs, lambda one: one.id, faults, "id")
    for index, pack in enumerate(packs):
        product = products.get(pack.product)
        here = faults.at(index)
        if product is None:
            here.add("unknown-product", f'there is no product "{pack.product}"', "product")
        measured = _check_contents(pack, product, here.at("contents"))
        if product is not None and measured and len(pack.contents) > 1:
            _check_kit(pack, product, here)


def check_parts_sold(
    packs: Sequence[Pack], products: Mapping[str, Product], faults: Faults
) -> None:
    """Where a product is sold at all, each of its parts is in some pack."""
    sold: dict[str, set[str]] = {}
    for pack in packs:
        sold.setdefault(pack.product, set()).update(one.part for one in pack.contents)
    for index, pack in enumerate(packs):
        product = products.get(pack.product)
        if product is None or pack.product not in sold:
            continue
        held = sold.pop(pack.product)
        missing = [part.name for part in product.parts if part.name not in held]
        if missing:
            detail = (
                f"no pack of {product.id} holds {', '.join(missing)}: estimates that need it are "
                "refused until one is added"
            )
            faults.add("part-not-sold", detail, index, "contents")


def _check_contents(pack: Pack, product: Product | None, faults: Faults) -> bool:
    """Whether each content is of a known part and measured once."""
    found = len(faults)
    parts = {part.name for part in product.parts} if product is not None else None
    check_unique(pack.contents, lambda content: content.part, faults, "part")
    for index, content in enumerate(pack.contents):
        if parts is not None and content.part not in parts:
            detail = (
                f'{pack.product} has no part "{content.part}"; it has {", ".join(sorted(parts))}'
            )
            faults.add("unknown-part", detail, index, "part")
        check_exactly_one(content, ("volume", "mass"), faults.at(index))
    return len(faults) == found


def _check_kit(pack: Pack, product: Product, faults: Faults) -> None:
    if kit_volume(pack, product) is None:
        faults.add(
            "kit-out-of-ratio",
            "a pack holds one part alone, or every part of the product in its ratio to within "
            f"{KIT_TOLERANCE:.0%}",
            "contents",
        )


def check_prices(prices: Sequence[PackPrice], packs: Collection[str], faults: Faults) -> None:
    check_unique(
        prices,
        lambda one: (one.pack, one.currency, one.tier, one.effective_from),
        faults,
        "effective_from",
    )
    for index, price in enumerate(prices):
        if price.pack not in packs:
            faults.add("unknown-pack", f'there is no pack "{price.pack}"', index, "pack")
        _check_breaks(price, faults.at(index, "breaks"))


def _check_breaks(price: PackPrice, faults: Faults) -> None:
    start, amount = 1, price.amount
    for index, one in enumerate(price.breaks):
        if one.from_packs <= start:
            detail = f"each break begins at more packs than the one before it: more than {start}"
            faults.add("breaks-not-rising", detail, index, "from_packs")
        if one.amount >= amount:
            detail = f"more packs cost less each: less than {amount:f}"
            faults.add("breaks-not-falling", detail, index, "amount")
        start, amount = one.from_packs, one.amount
