"""What the job buys: for each product, the least-cost packs that cover all its parts."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta
from decimal import Decimal

import msgspec

from filmbuild.errors import Faults
from filmbuild.money import Currency, Money, NonNegativeExact, UnitPrice, rounded
from filmbuild.pipeline.materials.purchase_shelf import Amounts, Shelf, shelf_of, volume_shares
from filmbuild.pipeline.materials.stock import Drawn, Held, draw
from filmbuild.pipeline.packs import Cover, cover, runner_up
from filmbuild.pipeline.results import (
    AggregateAmount,
    Coat,
    Materials,
    PackLine,
    PartAmount,
    Purchase,
    RunnerUp,
    StockDrawn,
)
from filmbuild.pipeline.specification import Catalogue, PricedPack, Product
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Mass, Volume

SECONDS_PER_DAY = 86_400


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


def check_bought(materials: Materials, catalogue: Catalogue, faults: Faults) -> None:
    """What a document that was handed in takes must be for sale; `faults` stands at the job."""
    used = {coat.product: coat.name for coat in materials.coats}
    used |= {one.product: f"aggregate of {one.layer}" for one in materials.aggregates}
    known = {}
    for name, label in used.items():
        if name in catalogue.products:
            known[name] = label
        else:
            faults.add("unknown-product", f"the catalogue has no product {name}", "system")
    check_packs(known, catalogue, faults)


class Need(msgspec.Struct, frozen=True):
    """What is needed of a product, by part, and what takes it."""

    product: str
    parts: dict[str, PartAmount]
    users: tuple[str, ...]


def needs_of(
    coats: Sequence[Coat], aggregates: Sequence[AggregateAmount], catalogue: Catalogue
) -> list[Need]:
    """One for each product, in the order of first use."""
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
    return [Need(name, parts, tuple(users[name])) for name, parts in needs.items()]


def total_need(needs: Sequence[Need]) -> Need:
    """Of one product for several users; `needs` must not be empty."""
    parts: dict[str, PartAmount] = {}
    for one in needs:
        _add(parts, one.parts.values())
    users = dict.fromkeys(user for one in needs for user in one.users)
    return Need(needs[0].product, parts, tuple(users))


def pack_shares(purchase: Purchase, catalogue: Catalogue) -> dict[str, dict[str, float]]:
    """Of the volume in each pack bought, the share of each part."""
    parts = {part.name: part for part in catalogue.products[purchase.product].parts}
    bought = {one.pack for one in purchase.packs}
    return {
        one.pack.id: volume_shares(one, parts)
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


class Wanted(msgspec.Struct, frozen=True):
    """A need beside what is in store and the packs on sale: what is left is to be bought.

    `needed` and `in_stock` are by part in the measures of the shelf.
    """

    need: Need
    product: Product
    packs: tuple[PricedPack, ...]
    shelf: Shelf
    needed: Amounts
    drawn: tuple[Drawn, ...]
    in_stock: Amounts

    def least_cost(self) -> Cover:
        return cover(tuple(self.needed.values()), self.shelf.options, tuple(self.in_stock.values()))

    def runner_up(self, best: Cover) -> Cover | None:
        stock = tuple(self.in_stock.values())
        return runner_up(tuple(self.needed.values()), self.shelf.options, best, stock)


def wanted(need: Need, catalogue: Catalogue, held: Sequence[Held] = ()) -> Wanted:
    product = catalogue.products[need.product]
    packs = catalogue.packs[product.id]
    shelf = shelf_of(packs, product.parts, tuple(need.parts))
    kinds = shelf.kinds
    needed = {
        name: float(amount.mass if kinds[name] is Mass else amount.volume)
        for name, amount in need.parts.items()
    }
    drawn = draw(held, needed, kinds, one_lot=product.one_lot)
    stock = dict.fromkeys(needed, 0.0)
    for one in drawn:
        stock[one.part] += one.amount
    return Wanted(need, product, packs, shelf, needed, tuple(drawn), stock)


def purchase_of(one: Wanted, covered: Cover, catalogue: Catalogue) -> Purchase:
    """The packs of the cover, and what the need takes of them."""
    need, product, packs, shelf = one.need, one.product, one.packs, one.shelf
    needed, stock, drawn, kinds = one.needed, one.in_stock, one.drawn, one.shelf.kinds
    second = one.runner_up(covered)
    chosen = _chosen(packs, covered)
    bought = dict.fromkeys(needed, 0.0)
    for count, content in zip(chosen, shelf.contents, strict=True):
        if count:
            for name, amount in content.items():
                if name in bought:
                    bought[name] += count * amount
    lines = _lines(shelf, packs, chosen, catalogue.currency)
    cost = rounded(_sum(lines), catalogue.currency)
    missing = {name: max(amount - stock[name], 0.0) for name, amount in needed.items()}
    share = rounded(_used_share(shelf, chosen, missing, bought), catalogue.currency)
    return Purchase(
        product=product.id,
        name=product.name,
        needed={name: kinds[name](amount) for name, amount in needed.items()},
        bought={name: kinds[name](amount) for name, amount in bought.items()},
        surplus={
            name: kinds[name](max(bought[name] - amount, 0.0)) for name, amount in missing.items()
        },
        packs=lines,
        cost=cost,
        used_share=share,
        proven=covered.proven,
        cost_at_least=(
            None if covered.at_least is None else rounded(covered.at_least, catalogue.currency)
        ),
        from_stock={name: kinds[name](amount) for name, amount in stock.items() if drawn},
        stock=tuple(
            StockDrawn(
                lot=lot.lot, expires=lot.expires, part=lot.part, amount=kinds[lot.part](lot.amount)
            )
            for lot in drawn
        ),
        surplus_value=rounded(cost.amount - share.amount, catalogue.currency),
        surplus_keeps_until=_keeps_until(product, catalogue.priced_on),
        one_lot=product.one_lot,
        gross_mass=Mass(
            sum(count * mass for count, mass in zip(chosen, shelf.masses, strict=True))
        ),
        runner_up=_runner_up(shelf, packs, second, cost),
        trace=Trace(
            "materials.purchase",
            {
                "product": product.id,
                "needed_for": need.users,
                "priced_on": catalogue.priced_on.isoformat(),
                "contents": _of_chosen(packs, chosen, shelf.contents),
                "gross_masses": _of_chosen(packs, chosen, tuple(map(Mass, shelf.masses))),
                "volume_shares": _of_chosen(packs, chosen, shelf.shares),
                **({"shelf_life": product.shelf_life} if product.shelf_life else {}),
                **_lists(packs, chosen, catalogue.tier),
            },
            catalogue.revision,
        ),
    )


def _lists(
    packs: Sequence[PricedPack], chosen: Sequence[int], tier: str
) -> dict[str, dict[str, object]]:
    """Of a customer with a price list of their own, which list the price of each pack is from."""
    if not tier:
        return {}
    return {"price_lists": _of_chosen(packs, chosen, [one.tier or "usual" for one in packs])}


def _chosen(packs: Sequence[PricedPack], covered: Cover) -> list[int]:
    counts = dict(covered.counts)
    return [counts.get(one.pack.id, 0) for one in packs]


def _sum(lines: Sequence[PackLine]) -> Decimal:
    return sum((line.amount.amount for line in lines), Decimal(0))


def _keeps_until(product: Product, bought_on: date) -> date | None:
    if product.shelf_life is None:
        return None
    days = int(product.shelf_life // SECONDS_PER_DAY)
    return bought_on + timedelta(days=days) if days < (date.max - bought_on).days else date.max


def _runner_up(
    shelf: Shelf, packs: Sequence[PricedPack], second: Cover | None, cost: Money
) -> RunnerUp | None:
    if second is None:
        return None
    lines = _lines(shelf, packs, _chosen(packs, second), cost.currency)
    its_cost = rounded(_sum(lines), cost.currency)
    dearer = rounded(its_cost.amount - cost.amount, cost.currency)
    return RunnerUp(packs=lines, cost=its_cost, dearer_by=dearer)


def _of_chosen(
    packs: Sequence[PricedPack], chosen: Sequence[int], values: Sequence[object]
) -> dict[str, object]:
    return {
        one.pack.id: value for one, count, value in zip(packs, chosen, values, strict=True) if count
    }


def _lines(
    shelf: Shelf, packs: Sequence[PricedPack], chosen: Sequence[int], currency: Currency
) -> tuple[PackLine, ...]:
    return tuple(
        PackLine(
            pack=one.pack.id,
            name=one.pack.name,
            count=count,
            unit_price=UnitPrice(NonNegativeExact(option.each(count)), currency),
            amount=rounded(option.each(count) * count, currency),
        )
        for one, option, count in zip(packs, shelf.options, chosen, strict=True)
        if count
    )


def _used_share(shelf: Shelf, chosen: Sequence[int], needed: Amounts, bought: Amounts) -> Decimal:
    """Each pack's cost is spread over its parts by volume; a part bears needed over bought."""
    total = Decimal(0)
    for option, count, shares in zip(shelf.options, chosen, shelf.shares, strict=True):
        if count:
            used = sum(
                [
                    share * min(needed[name] / bought[name], 1.0)
                    for name, share in shares.items()
                    if name in needed
                ]
            )
            total += option.each(count) * count * Decimal(used)
    return total
