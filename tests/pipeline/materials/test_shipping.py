"""Orders with freight and a least order, against scipy.optimize.milp (HiGHS) and by hand."""

import random
from collections.abc import Sequence
from decimal import Decimal

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from filmbuild.money import Currency, NonNegativeExact
from filmbuild.pipeline import pack_frontier
from filmbuild.pipeline.materials.shipping import Shipped, Wanted, charged, ship
from filmbuild.pipeline.pack_frontier import weighed
from filmbuild.pipeline.packs import PackOption, cover
from filmbuild.pipeline.specification import FreightBand, FreightBeyond, Supplier
from filmbuild.quantities import PositiveMass

LITRE = 1e-3
MANY = 1_000.0


def terms(
    *bands: tuple[float, str], beyond: tuple[float, str] = (100.0, "50"), minimum: str = "0"
) -> Supplier:
    each, price = beyond
    return Supplier(
        id="quay",
        name="Quay (demo data)",
        currency=Currency("USD"),
        freight=tuple(
            FreightBand(up_to=PositiveMass(up_to), price=NonNegativeExact(its_price))
            for up_to, its_price in bands
        ),
        freight_beyond=FreightBeyond(each=PositiveMass(each), price=NonNegativeExact(price)),
        minimum_order=NonNegativeExact(minimum),
    )


def wanted(
    need: tuple[float, ...], options: Sequence[PackOption], masses: Sequence[float]
) -> Wanted:
    found = cover(need, options)
    taken = dict(found.counts)
    plain = weighed([taken.get(one.id, 0) for one in options], options, masses)
    missing = tuple(amount * (1 - 1e-9) for amount in need)
    at_least = found.cost if found.proven else found.at_least or Decimal(0)
    return Wanted(missing, tuple(options), tuple(masses), plain, at_least)


def random_pack(draw: random.Random, name: str, parts: int, *, stepped: bool) -> PackOption:
    held = draw.sample([0, 1], 2) if parts > 1 and draw.random() < 0.4 else [1] * parts
    size = draw.randint(1, 12)
    price = size * draw.randint(8, 14) + draw.randint(0, 9)
    breaks: tuple[tuple[int, Decimal], ...] = ()
    fewest = 1
    if stepped and draw.random() < 0.5:
        breaks = ((draw.randint(2, 6), Decimal(price * draw.randint(60, 95)) / 100),)
    if stepped and draw.random() < 0.3:
        fewest = draw.randint(2, 3)
    contents = tuple(size * one * LITRE for one in held)
    return PackOption(name, contents, Decimal(price), breaks, fewest)


def random_order(draw: random.Random, *, stepped: bool) -> tuple[list[Wanted], Supplier]:
    products = []
    for _ in range(draw.randint(2, 3)):
        parts = draw.randint(1, 2)
        options = [
            random_pack(draw, f"p{place}", parts, stepped=stepped)
            for place in range(draw.randint(1, 3))
        ]
        kit = draw.randint(3, 9)
        options.append(PackOption("kit", (kit * LITRE,) * parts, Decimal(kit * 11)))
        masses = [
            round(sum(one.contents) / LITRE * draw.choice((1.1, 1.3, 2.0)) + draw.randint(0, 3), 1)
            for one in options
        ]
        need = tuple(draw.randint(3, 40) * LITRE for _ in range(parts))
        products.append(wanted(need, options, masses))
    plain = sum(one.plain.mass for one in products)
    shares = sorted(draw.sample(range(50, 106), draw.randint(2, 3)))
    prices = sorted(draw.sample(range(10, 160), len(shares)))
    bands = [(plain * share / 100, str(price)) for share, price in zip(shares, prices, strict=True)]
    goods = int(sum(one.plain.cost for one in products))
    minimum = draw.choice((0, goods // 2, goods + 15, goods + 90))
    beyond = (plain / draw.randint(5, 30), str(draw.randint(0, 40)))
    return products, terms(*bands, beyond=beyond, minimum=str(minimum))


class Programme:
    """A whole-number programme, put together column by column."""

    def __init__(self) -> None:
        self.costs: list[float] = []
        self.upper: list[float] = []
        self.whole: list[int] = []
        self.rows: list[tuple[dict[int, float], float]] = []

    def column(self, cost: float, upper: float = np.inf, *, whole: bool = True) -> int:
        self.costs.append(cost)
        self.upper.append(upper)
        self.whole.append(int(whole))
        return len(self.costs) - 1

    def at_least(self, row: dict[int, float], least: float) -> None:
        self.rows.append((row, least))

    def solved(self) -> float:
        matrix = np.zeros((len(self.rows), len(self.costs)))
        for place, (row, _) in enumerate(self.rows):
            for column, value in row.items():
                matrix[place, column] += value
        found = milp(
            self.costs,
            constraints=LinearConstraint(matrix, [least for _, least in self.rows], np.inf),
            bounds=Bounds(0, self.upper),
            integrality=self.whole,
            options={"mip_rel_gap": 0},
        )
        assert found.success
        return float(found.fun)


def by_milp(products: Sequence[Wanted], supplier: Supplier) -> float:
    """max(goods, least order) + freight of the band, all-units breaks by one step for each pack."""
    found = Programme()
    paid = found.column(1.0, whole=False)
    goods: dict[int, float] = {paid: 1.0}
    mass: dict[int, float] = {}
    for product in products:
        held: list[dict[int, float]] = [{} for _ in product.missing]
        for one, weight in zip(product.options, product.masses, strict=True):
            steps = [(one.fewest, one.each(one.fewest))]
            steps += [step for step in one.breaks if step[0] > one.fewest]
            taken = {}
            for start, price in steps:
                count, used = found.column(0.0, MANY), found.column(0.0, 1.0)
                taken[used] = -1.0
                found.at_least({count: 1.0, used: -float(start)}, 0.0)
                found.at_least({count: -1.0, used: MANY}, 0.0)
                goods[count] = -float(price)
                mass[count] = -weight
                for part, amount in zip(held, one.contents, strict=True):
                    part[count] = amount / LITRE
            found.at_least(taken, -1.0)
        for part, amount in zip(held, product.missing, strict=True):
            found.at_least(part, round(amount / LITRE, 6))
    found.at_least(goods, 0.0)
    found.at_least({paid: 1.0}, float(supplier.minimum_order))
    chosen = {}
    for band in supplier.freight:
        column = found.column(float(band.price), 1.0)
        chosen[column] = 1.0
        mass[column] = band.up_to
    last, further = supplier.freight[-1], supplier.freight_beyond
    assert further is not None
    above, more = found.column(float(last.price), 1.0), found.column(float(further.price), MANY)
    chosen[above] = 1.0
    mass |= {above: last.up_to, more: further.each}
    found.at_least({above: MANY, more: -1.0}, 0.0)
    found.at_least(chosen, 1.0)
    found.at_least(dict.fromkeys(chosen, -1.0), -1.0)
    found.at_least(mass, 0.0)
    return found.solved()


def goods_and_mass(products: Sequence[Wanted], shipped: Shipped) -> tuple[Decimal, float]:
    taken = [
        weighed(counts, one.options, one.masses)
        for one, counts in zip(products, shipped.counts, strict=True)
    ]
    return sum((one.cost for one in taken), Decimal(0)), sum(one.mass for one in taken)


@pytest.mark.parametrize("stepped", [False, True])
def test_the_order_of_least_cost_is_found(*, stepped: bool) -> None:
    draw = random.Random(20 + stepped)  # noqa: S311 - invented orders, not secrets
    moved = 0
    for _ in range(100):
        products, supplier = random_order(draw, stepped=stepped)
        shipped = ship(products, supplier)
        goods, mass = goods_and_mass(products, shipped)
        assert shipped.proven
        assert shipped.total == shipped.at_least == charged(goods, mass, supplier)
        assert float(shipped.total) == pytest.approx(by_milp(products, supplier), abs=1e-6)
        for one, counts in zip(products, shipped.counts, strict=True):
            for part, missing in enumerate(one.missing):
                held = sum(n * o.contents[part] for n, o in zip(counts, one.options, strict=True))
                assert held >= missing
        moved += any(
            counts != one.plain.counts for one, counts in zip(products, shipped.counts, strict=True)
        )
    assert moved > 10  # else the oracle has only seen least-cost covers


BIG_AND_SMALL = (
    PackOption("big", (10 * LITRE,), Decimal(100)),
    PackOption("small", (1 * LITRE,), Decimal(14)),
)


def test_a_lighter_order_is_taken_where_its_freight_makes_up_for_its_price() -> None:
    """By hand: 8 L in one pack of 10 L (12 kg) for 100 + 60, or in eight (9.6 kg) for 112 + 20."""
    eight_litres = wanted((8 * LITRE,), BIG_AND_SMALL, (12.0, 1.2))
    assert eight_litres.plain.counts == (1, 0)
    cheap = ship([eight_litres], terms((10.0, "20"), (50.0, "30")))
    assert (cheap.counts, cheap.total) == (((1, 0),), Decimal(130))
    dear = ship([eight_litres], terms((10.0, "20"), (50.0, "60")))
    assert (dear.counts, dear.total, dear.proven) == (((0, 8),), Decimal(132), True)


def test_what_an_order_falls_short_of_the_minimum_is_charged() -> None:
    one = wanted((8 * LITRE,), BIG_AND_SMALL, (12.0, 1.2))
    assert ship([one], terms((50.0, "30"), minimum="100")).total == Decimal(130)
    assert ship([one], terms((50.0, "30"), minimum="140")).total == Decimal(170)


def test_what_the_minimum_pays_for_anyway_is_free_to_be_lighter() -> None:
    """By hand: 100 and 112 of goods are both charged 140, and the lighter ones ship for less."""
    one = wanted((8 * LITRE,), BIG_AND_SMALL, (12.0, 1.2))
    shipped = ship([one], terms((10.0, "20"), (50.0, "25"), minimum="140"))
    assert (shipped.counts, shipped.total) == (((0, 8),), Decimal(160))


def test_freight_by_band_and_beyond() -> None:
    supplier = terms((25.0, "24"), (100.0, "58"), beyond=(50.0, "20"))
    freight = {0.0: 0, 0.1: 24, 25.0: 24, 25.1: 58, 100.0: 58, 100.1: 78, 150.0: 78, 150.1: 98}
    assert {mass: supplier.freight_of(mass).price for mass in freight} == freight
    assert supplier.freight_of(sum([0.1] * 250)).price == 24  # not one band up for float noise


def test_a_search_that_is_cut_off_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    one = wanted((8 * LITRE,), BIG_AND_SMALL, (12.0, 1.2))
    supplier = terms((10.0, "20"), (50.0, "60"))
    monkeypatch.setattr(pack_frontier, "MOST_VISITS", 0)
    cut = ship([one], supplier)
    assert not cut.proven
    assert cut.at_least <= Decimal(132) <= cut.total


def test_least_cost_packs_are_kept_without_a_search_where_no_band_could_change(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(pack_frontier, "MOST_VISITS", 0)
    one = wanted((80 * LITRE,), BIG_AND_SMALL, (12.0, 1.2))
    shipped = ship([one], terms((50.0, "30"), (500.0, "60")))
    assert shipped.proven
    assert shipped.counts == ((8, 0),)
