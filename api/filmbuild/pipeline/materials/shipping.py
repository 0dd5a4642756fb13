"""The covers of several needs that cost least with the freight of all and the least order.

An order costs max(goods, least order) + freight(mass), and neither falls as goods or mass grow: so
the best is made of covers that no other beats both in cost and in mass. The least-cost covers come
first. Where no lighter order could be shipped for less, they are the best; otherwise each need's
undominated covers that are dear by no more than the freight to be saved are put together.
"""

from collections.abc import Sequence
from decimal import Decimal

import msgspec

from filmbuild.pipeline.pack_frontier import Weighed, frontier, least_mass, undominated
from filmbuild.pipeline.packs import PackOption
from filmbuild.pipeline.specification import Supplier

MOST_PAIRS = 20_000


class Wanted(msgspec.Struct, frozen=True):
    """One need: what is missing by part, the packs with their gross masses, the least-cost cover.

    No cover of it costs less than `at_least`.
    """

    missing: tuple[float, ...]
    options: tuple[PackOption, ...]
    masses: tuple[float, ...]
    plain: Weighed
    at_least: Decimal


class Shipped(msgspec.Struct, frozen=True):
    """By need how many of each pack; no order costs less than `at_least`, freight and all."""

    counts: tuple[tuple[int, ...], ...]
    total: Decimal
    proven: bool
    at_least: Decimal


def ship(wanted: Sequence[Wanted], supplier: Supplier) -> Shipped:
    """The least-cost covers, unless dearer and lighter ones are shipped for less altogether."""
    goods = sum([one.plain.cost for one in wanted], Decimal(0))
    mass = sum([one.plain.mass for one in wanted])
    least_goods = sum([one.at_least for one in wanted], Decimal(0))
    plain_counts = tuple(one.plain.counts for one in wanted)
    plain = charged(goods, mass, supplier)
    lightest = sum([least_mass(one.missing, one.options, one.masses) for one in wanted])
    at_least = charged(least_goods, max(lightest, 0.0), supplier)
    if plain <= at_least:
        return Shipped(plain_counts, plain, proven=True, at_least=plain)
    freight = supplier.freight_of(lightest).price
    room = float(plain - freight - least_goods)
    sets, complete = [], least_goods == goods
    for one in wanted:
        found = frontier(
            one.missing, one.options, one.masses, one.plain, float(one.at_least) + room
        )
        complete = complete and found.complete
        sets.append(found.covers)
    best, whole = _best(sets, supplier)
    proven = complete and whole
    counts = plain_counts
    total = plain
    if best is not None and charged(best.cost, best.mass, supplier) < plain:
        total = charged(best.cost, best.mass, supplier)
        counts = tuple(found[place].counts for found, place in zip(sets, best.counts, strict=True))
    return Shipped(counts, total, proven=proven, at_least=total if proven else at_least)


def charged(goods: Decimal, mass: float, supplier: Supplier) -> Decimal:
    return max(goods, supplier.minimum_order) + supplier.freight_of(mass).price


def _best(sets: Sequence[Sequence[Weighed]], supplier: Supplier) -> tuple[Weighed | None, bool]:
    """Whose counts are the places of the covers in their sets; false where some were left out."""
    together, whole = [Weighed(Decimal(0), 0.0, ())], True
    for covers in sets:
        if len(together) * len(covers) > MOST_PAIRS:
            together = together[: max(1, MOST_PAIRS // len(covers))]
            whole = False
        together = undominated(
            [
                Weighed(before.cost + one.cost, before.mass + one.mass, (*before.counts, place))
                for before in together
                for place, one in enumerate(covers)
            ]
        )
    best = min(
        together,
        key=lambda one: (charged(one.cost, one.mass, supplier), one.cost, one.mass),
        default=None,
    )
    return best, whole
