import itertools
import random
from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from filmbuild.pipeline.packs import Cover, PackOption, UncoveredPartsError, cover

LITRE = 1e-3
GALLON = 3.785411784e-3
Packs = Sequence[tuple[tuple[int, ...], int]]


def options(packs: Packs, unit: float = LITRE) -> list[PackOption]:
    """Packs named p0, p1, ... with whole contents [unit] and whole prices."""
    return [
        PackOption(f"p{place}", tuple(held * unit for held in contents), Decimal(price))
        for place, (contents, price) in enumerate(packs)
    ]


def one_part(sizes: dict[int, int]) -> list[PackOption]:
    return options([((size,), price) for size, price in sizes.items()])


def bought(result: Cover) -> dict[str, int]:
    return dict(result.counts)


def by_counting(need: tuple[int, ...], packs: Packs) -> tuple[int, ...]:
    """The best counts by trying every order of up to enough packs of each."""
    ranges = [
        range(
            max(-(-amount // held) if held else 0 for amount, held in zip(need, one, strict=True))
            + 1
        )
        for one, _ in packs
    ]
    best: tuple[tuple[int, ...], tuple[int, ...]] | None = None
    for counts in itertools.product(*ranges):
        held = [
            sum(n * one[part] for n, (one, _) in zip(counts, packs, strict=True))
            for part in range(len(need))
        ]
        if any(amount > has for amount, has in zip(need, held, strict=True)):
            continue
        cost = sum(n * price for n, (_, price) in zip(counts, packs, strict=True))
        rank = (cost, sum(held), sum(counts), *(-n for n in counts))
        if best is None or rank < best[0]:
            best = (rank, counts)
    assert best is not None
    return best[1]


def by_highs(
    need: tuple[int, ...], packs: Packs, objective: Sequence[int], at_most: int | None = None
) -> int:
    """The least objective of any cover by HiGHS, of those that cost `at_most`."""
    rows = [LinearConstraint(np.array([one for one, _ in packs]).T, np.array(need), np.inf)]
    if at_most is not None:
        rows.append(LinearConstraint(np.array([price for _, price in packs]), -np.inf, at_most))
    found = milp(
        np.array(objective),
        constraints=rows,
        integrality=np.ones(len(packs)),
        bounds=Bounds(0, np.inf),
        options={"mip_rel_gap": 0},
    )
    assert found.success
    return round(float(found.fun))


def random_packs(rng: random.Random, parts: int, most: int) -> list[tuple[tuple[int, ...], int]]:
    """Kits and packs of one part, each part in some pack; prices near the contents, or far off."""
    packs = []
    for place in range(rng.randint(parts, most)):
        contents = [rng.randint(0, 12) if rng.random() < 0.6 else 0 for _ in range(parts)]
        contents[place % parts] = rng.randint(1, 12)
        spread = rng.choice((0, 1, 10))
        packs.append((tuple(contents), 3 * sum(contents) + rng.randint(0, spread)))
    return packs


@pytest.mark.parametrize(
    ("sizes", "need", "fewest"),
    [({1, 3, 4}, 6, 2), ({1, 15, 25}, 30, 2), ({1, 5, 10, 20, 25, 50}, 40, 2)],
)
def test_the_fewest_coins_where_the_largest_first_takes_more(
    sizes: set[int], need: int, fewest: int
) -> None:
    # The change-making problem's textbook cases (from memory): largest first takes 3, 6 and 3.
    # The sizes are 1 L to 50 L; one price for each litre leaves the tie to the number of packs.
    result = cover((need * LITRE,), one_part({size: size for size in sizes}))
    assert result.cost == need
    assert sum(bought(result).values()) == fewest


def test_sizes_six_nine_and_twenty_cannot_make_forty_three() -> None:
    # The Frobenius number of 6, 9 and 20 is 43 (the "McNugget" problem, from memory).
    packs = one_part({6: 6, 9: 9, 20: 20})
    assert cover((43 * LITRE,), packs).cost == 44
    assert all(cover((need * LITRE,), packs).cost == need for need in range(44, 80))


@pytest.mark.parametrize(
    ("sizes", "need", "cost", "counts"),
    [
        ({1: 60, 5: 250}, 7, 370, (2, 1)),
        ({1: 60, 5: 250}, 9, 490, (4, 1)),
        ({3: 210, 15: 900}, 40, 2640, (4, 2)),
        ({2: 150, 10: 600}, 13, 900, (2, 1)),
    ],
)
def test_small_and_large_packs_are_mixed_where_that_costs_less(
    sizes: dict[int, int], need: int, cost: int, counts: tuple[int, int]
) -> None:
    # Computed: minimise sum c x subject to sum s x >= need, x whole. 40 L in 15s alone is 2700.
    result = cover((need * LITRE,), one_part(sizes))
    assert result.cost == cost
    assert bought(result) == dict(zip(("p0", "p1"), counts, strict=True))


def test_nothing_is_bought_for_no_need() -> None:
    nothing = Cover(counts=(), cost=Decimal(0), surplus=(0.0, 0.0))
    assert cover((0.0, 0.0), options([((2, 1), 90)])) == nothing
    assert cover((0.0, 0.0), []) == nothing


def test_float_noise_buys_no_pack() -> None:
    assert bought(cover((0.1 + 0.2,), options([((100,), 7)]))) == {"p0": 3}
    assert bought(cover((0.3 * (1 + 1e-12),), options([((100,), 7)]))) == {"p0": 3}
    assert bought(cover((0.3 * (1 + 1e-7),), options([((100,), 7)]))) == {"p0": 4}


def test_four_quarts_are_a_gallon() -> None:
    quart, gallon = ("quart", (GALLON / 4,)), ("gallon", (GALLON,))
    dear = [PackOption(*quart, Decimal(10)), PackOption(*gallon, Decimal(41))]
    assert bought(cover((GALLON,), dear)) == {"quart": 4}
    level = [PackOption(*quart, Decimal(10)), PackOption(*gallon, Decimal(40))]
    assert bought(cover((5 * GALLON,), level)) == {"gallon": 5}


def test_contents_read_from_masses_are_multiples_of_each_other() -> None:
    small, large = 5.0 / 1130.0, 20.0 / 1130.0
    packs = [PackOption("a", (small,), Decimal(40)), PackOption("b", (large,), Decimal(160))]
    assert bought(cover((35.0 / 1130.0,), packs)) == {"a": 3, "b": 1}


def test_contents_without_a_common_unit_are_still_covered() -> None:
    metric = PackOption("metric", (10 * LITRE,), Decimal(100))
    customary = PackOption("customary", (3 * GALLON,), Decimal(112))
    assert bought(cover((3 * GALLON + 2e-2,), [metric, customary])) == {"metric": 2, "customary": 1}
    assert bought(cover((6 * GALLON,), [metric, customary])) == {"customary": 2}


def test_prices_keep_six_decimals() -> None:
    packs = [
        PackOption("a", (LITRE,), Decimal("1.000001")),
        PackOption("b", (LITRE,), Decimal("1.000002")),
    ]
    result = cover((3 * LITRE,), packs)
    assert result == Cover((("a", 3),), Decimal("3.000003"), result.surplus)


def test_parts_sold_apart_are_covered_apart() -> None:
    packs = options([((10, 0), 100), ((4, 0), 45), ((0, 5), 80), ((0, 2), 35)])
    result = cover((13 * LITRE, 6.5 * LITRE), packs)
    assert bought(result) == {"p0": 1, "p1": 1, "p2": 1, "p3": 1}
    assert result.surplus == pytest.approx((1 * LITRE, 0.5 * LITRE))


def test_kits_are_topped_up_with_the_part_that_runs_out() -> None:
    packs = options([((10, 5), 150), ((5, 0), 60), ((0, 5), 90)])
    result = cover((24 * LITRE, 10 * LITRE), packs)
    assert bought(result) == {"p0": 2, "p1": 1}
    assert result.cost == 360


def test_a_part_only_in_kits_sets_how_many_kits() -> None:
    packs = options([((10, 5), 150), ((5, 0), 10)])
    assert bought(cover((10 * LITRE, 11 * LITRE), packs)) == {"p0": 3}
    assert bought(cover((30 * LITRE, 11 * LITRE), packs)) == {"p0": 3}
    assert bought(cover((40 * LITRE, 11 * LITRE), packs)) == {"p0": 3, "p1": 2}


def test_stock_is_taken_off_part_by_part() -> None:
    packs = options([((10, 0), 100), ((0, 5), 80)])
    need, stock = (12 * LITRE, 6 * LITRE), (2 * LITRE, 9 * LITRE)
    result = cover(need, packs, stock)
    assert bought(result) == {"p0": 1}
    assert result.surplus == pytest.approx((0.0, 3 * LITRE))


def test_a_needed_part_in_no_pack_is_named() -> None:
    packs = options([((10, 0, 0), 100)])
    with pytest.raises(UncoveredPartsError) as caught:
        cover((1.0, 1.0, 1.0), packs)
    assert caught.value.parts == (1, 2)
    assert bought(cover((10 * LITRE, 1.0, 0.0), packs, (0.0, 1.0, 0.0))) == {"p0": 1}


@pytest.mark.parametrize("seed", range(300))
def test_ties_fall_as_when_every_order_is_tried(seed: int) -> None:
    rng = random.Random(seed)  # noqa: S311 - invented purchases, not secrets
    parts = 1 + seed % 3
    packs = random_packs(rng, parts, 4)
    need = tuple(rng.randint(1, 14) for _ in range(parts))
    counts = by_counting(need, packs)
    result = cover(tuple(amount * LITRE for amount in need), options(packs))
    assert bought(result) == {f"p{place}": n for place, n in enumerate(counts) if n}
    assert result.proven


@pytest.mark.parametrize("seed", range(300))
def test_cost_and_surplus_are_those_of_an_integer_program(seed: int) -> None:
    # HiGHS through scipy.optimize.milp: the least cost, then the least content at that cost.
    rng = random.Random(seed)  # noqa: S311 - invented purchases, not secrets
    parts = 1 + seed % 3
    packs = random_packs(rng, parts, 10)
    need = tuple(rng.randint(0, 400) for _ in range(parts))
    result = cover(tuple(amount * LITRE for amount in need), options(packs))
    assert result.proven
    assert result.cost == by_highs(need, packs, [price for _, price in packs])
    content = [sum(contents) for contents, _ in packs]
    least = by_highs(need, packs, content, int(result.cost))
    if any(need):
        taken = sum(n * content[int(name[1:])] for name, n in result.counts)
        assert taken == least


def test_coprime_sizes_at_one_price_a_litre_leave_nothing_over() -> None:
    sizes = (19417, 17231, 16057, 14747, 13259, 11783, 9973, 8861, 7253, 5557, 3571, 1009)
    packs = [PackOption(str(size), (size / 1e6,), Decimal(size)) for size in sizes]
    result = cover((1.0,), packs)
    assert result.proven
    assert result.cost == 1_000_000
    assert sum(n * int(size) for size, n in result.counts) == 1_000_000


@st.composite
def purchases(draw: st.DrawFn) -> tuple[tuple[float, ...], list[PackOption]]:
    """A need [m3], and packs in litres, quarts or both, with every part sold alone as well."""
    parts = draw(st.integers(1, 2))
    content = st.sampled_from((0.0, LITRE, 2.5 * LITRE, 6 * LITRE, GALLON / 4, GALLON, 3 * GALLON))
    price = st.decimals(0, 200, places=2)
    contents = draw(st.lists(st.tuples(*[content] * parts), max_size=4))
    alone = [tuple(LITRE if part == one else 0.0 for part in range(parts)) for one in range(parts)]
    packs = [
        PackOption(f"p{place}", held, draw(price)) for place, held in enumerate((*contents, *alone))
    ]
    return draw(st.tuples(*[st.floats(0.0, 0.1)] * parts)), packs


@given(purchases())
def test_what_is_bought_covers_the_need(
    purchase: tuple[tuple[float, ...], list[PackOption]],
) -> None:
    need, packs = purchase
    result = cover(need, packs)
    for part, amount in enumerate(need):
        held = sum(
            n * Fraction(one.contents[part])
            for name, n in result.counts
            for one in packs
            if one.id == name
        )
        assert held >= Fraction(amount) * Fraction(1 - 2e-9)
        assert result.surplus[part] == pytest.approx(float(held) - amount, abs=1e-9)


@given(purchases(), st.floats(0.0, 1.0), st.randoms(use_true_random=False))
def test_less_need_or_more_stock_or_more_packs_never_cost_more(
    purchase: tuple[tuple[float, ...], list[PackOption]], share: float, rng: random.Random
) -> None:
    need, packs = purchase
    result = cover(need, packs)
    assert result.proven
    assert cover(tuple(share * amount for amount in need), packs).cost <= result.cost
    stock = tuple(share * amount for amount in need)
    assert cover(need, packs, stock).cost <= result.cost
    assert result.cost <= cover(need, packs[-len(need) :]).cost
    assert cover(need, rng.sample(packs, len(packs))) == result
