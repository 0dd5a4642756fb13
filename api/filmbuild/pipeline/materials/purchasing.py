"""What the job buys: for each product, the least-cost packs that cover all its parts."""

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from functools import lru_cache

import msgspec

from filmbuild.errors import Faults
from filmbuild.money import Currency, NonNegativeExact, UnitPrice, rounded
from filmbuild.pipeline.materials.parts import content_mass, content_volume
from filmbuild.pipeline.packs import PackOption, cover
from filmbuild.pipeline.results import AggregateAmount, Coat, PackLine, PartAmount, Purchase
from filmbuild.pipeline.specification import Catalogue, Part, PricedPack, Product
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Mass, Quantity, Volume

Amounts = dict[str, float]


class _Shelf(msgspec.Struct, frozen=True):
    """A product's packs side by side: what each holds of each part.

    `kinds` says how each part is counted, `contents` are in that measure and `shares` the part of
    the pack's volume, of all parts; `options` hold the contents of the parts that are needed.
    """

    kinds: dict[str, type[Quantity]]
    contents: tuple[dict[str, Quantity], ...]
    shares: tuple[Amounts, ...]
    options: tuple[PackOption, ...]


def check_packs(used: Mapping[str, str], catalogue: Catalogue, faults: Faults) -> None:
    """Each product must have, for each part, a pack with a price; `used` says what needs it."""
    for name, label in used.items():
        packs = catalogue.packs.get(name, ())
        priced = f"priced in {catalogue.currency} on {catalogue.priced_on}"
        sold = {content.part for one in packs for content in one.pack.contents}
        missing = [part.name for part in catalogue.products[name].parts if part.name not in sold]
        if not packs:
            detail = f"{label}: product {name} has no pack {priced}"
        elif missing:
            detail = f"{label}: product {name} has no pack {priced} with {', '.join(missing)}"
        else:
            continue
        way = "; choose a system whose products all have one, or another currency or day"
        faults.add("no-pack", detail + way, "system")


def purchases(
    coats: Sequence[Coat], aggregates: Sequence[AggregateAmount], catalogue: Catalogue
) -> tuple[Purchase, ...]:
    """One purchase per product, in the order of first use."""
    needs: dict[str, dict[str, PartAmount]] = {}
    users: dict[str, list[str]] = {}
    for coat in coats:
        _add(needs.setdefault(coat.product, {}), coat.parts)
        users.setdefault(coat.product, []).append(coat.layer)
    for aggregate in aggregates:
        part = catalogue.products[aggregate.product].parts[0]
        amount = PartAmount(
            part=part.name,
            volume=Volume(aggregate.ordered / part.density),
            mass=aggregate.ordered,
        )
        _add(needs.setdefault(aggregate.product, {}), (amount,))
        users.setdefault(aggregate.product, []).append(aggregate.layer)
    return tuple(
        _purchase(catalogue.products[name], parts, users[name], catalogue)
        for name, parts in needs.items()
    )


def pack_shares(purchase: Purchase, catalogue: Catalogue) -> dict[str, dict[str, float]]:
    """Of the volume in each pack bought, the share of each part."""
    parts = {part.name: part for part in catalogue.products[purchase.product].parts}
    bought = {one.pack for one in purchase.packs}
    return {
        one.pack.id: _shares(one, parts)
        for one in catalogue.packs[purchase.product]
        if one.pack.id in bought
    }


def _add(total: dict[str, PartAmount], parts: Iterable[PartAmount]) -> None:
    for one in parts:
        before = total.get(one.part)
        if before is not None:
            volume, mass = Volume(before.volume + one.volume), Mass(before.mass + one.mass)
            total[one.part] = PartAmount(part=one.part, volume=volume, mass=mass)
        else:
            total[one.part] = one


def _purchase(
    product: Product, parts: dict[str, PartAmount], users: list[str], catalogue: Catalogue
) -> Purchase:
    packs = catalogue.packs[product.id]
    shelf = _shelf(packs, product.parts, tuple(parts))
    kinds = shelf.kinds
    needed = {
        name: float(amount.mass if kinds[name] is Mass else amount.volume)
        for name, amount in parts.items()
    }
    covered = cover(tuple(needed.values()), shelf.options)
    counts = dict(covered.counts)
    chosen = [counts.get(one.pack.id, 0) for one in packs]
    bought = dict.fromkeys(needed, 0.0)
    for count, content in zip(chosen, shelf.contents, strict=True):
        if count:
            for name, amount in content.items():
                bought[name] += count * amount
    lines = _lines(packs, chosen, catalogue.currency)
    cost = sum((line.amount.amount for line in lines), Decimal(0))
    share = _used_share(packs, chosen, shelf, needed, bought)
    return Purchase(
        product=product.id,
        name=product.name,
        needed={name: kinds[name](amount) for name, amount in needed.items()},
        bought={name: kinds[name](amount) for name, amount in bought.items()},
        surplus={
            name: kinds[name](max(bought[name] - amount, 0.0)) for name, amount in needed.items()
        },
        packs=lines,
        cost=rounded(cost, catalogue.currency),
        used_share=rounded(share, catalogue.currency),
        proven=covered.proven,
        trace=Trace(
            "materials.purchase",
            {
                "product": product.id,
                "needed_for": users,
                "priced_on": catalogue.priced_on.isoformat(),
                "contents": _of_chosen(packs, chosen, shelf.contents),
                "volume_shares": _of_chosen(packs, chosen, shelf.shares),
            },
            catalogue.revision,
        ),
    )


def _of_chosen(
    packs: Sequence[PricedPack], chosen: Sequence[int], values: Sequence[object]
) -> dict[str, object]:
    return {
        one.pack.id: value for one, count, value in zip(packs, chosen, values, strict=True) if count
    }


@lru_cache(maxsize=4_096)
def _shelf(
    packs: tuple[PricedPack, ...], parts: tuple[Part, ...], needed: tuple[str, ...]
) -> _Shelf:
    """Remembered: the same few products serve every job."""
    kinds = _kinds(packs)
    by_name = {part.name: part for part in parts}
    contents = tuple(_contents(one, by_name, kinds) for one in packs)
    options = tuple(
        PackOption(one.pack.id, tuple([float(held.get(part, 0.0)) for part in needed]), one.price)
        for one, held in zip(packs, contents, strict=True)
    )
    return _Shelf(kinds, contents, tuple(_shares(one, by_name) for one in packs), options)


def _kinds(packs: Sequence[PricedPack]) -> dict[str, type[Quantity]]:
    """How each part is counted: by mass where all its packs state a mass, else by volume."""
    kinds: dict[str, type[Quantity]] = {}
    for priced in packs:
        for content in priced.pack.contents:
            if content.mass is None:
                kinds[content.part] = Volume
            else:
                kinds.setdefault(content.part, Mass)
    return kinds


def _contents(
    priced: PricedPack, parts: dict[str, Part], kinds: dict[str, type[Quantity]]
) -> dict[str, Quantity]:
    amounts = {}
    for content in priced.pack.contents:
        part = parts.get(content.part)
        if part is not None:
            kind = kinds[content.part]
            measure = content_mass if kind is Mass else content_volume
            amounts[content.part] = kind(measure(content, part))
    return amounts


def _shares(priced: PricedPack, parts: dict[str, Part]) -> Amounts:
    volumes = {
        content.part: content_volume(content, parts[content.part])
        for content in priced.pack.contents
        if content.part in parts
    }
    whole = sum(volumes.values())
    return {name: volume / whole for name, volume in volumes.items()}


def _lines(
    packs: Sequence[PricedPack], chosen: Sequence[int], currency: Currency
) -> tuple[PackLine, ...]:
    return tuple(
        PackLine(
            pack=one.pack.id,
            name=one.pack.name,
            count=count,
            unit_price=UnitPrice(NonNegativeExact(one.price), currency),
            amount=rounded(one.price * count, currency),
        )
        for one, count in zip(packs, chosen, strict=True)
        if count
    )


def _used_share(
    packs: Sequence[PricedPack],
    chosen: Sequence[int],
    shelf: _Shelf,
    needed: Amounts,
    bought: Amounts,
) -> Decimal:
    """Each pack's cost is spread over its parts by volume; a part bears needed over bought."""
    total = Decimal(0)
    for priced, count, shares in zip(packs, chosen, shelf.shares, strict=True):
        if count:
            used = sum(
                [share * min(needed[name] / bought[name], 1.0) for name, share in shares.items()]
            )
            total += priced.price * count * Decimal(used)
    return total
