"""Price breaks, numbers that packs are sold from, and the runner-up."""

import itertools
import random
from collections.abc import Sequence
from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from filmbuild.pipeline import packs as searching
from filmbuild.pipeline.packs import Cover, PackOption, cover, runner_up

LITRE = 1e-3


def sold(
    name: str, litres: Sequence[float], price: int, *breaks: tuple[int, int], fewest: int = 1
) -> PackOption:
    steps = tuple((start, Decimal(each)) for start, each in breaks)
    contents = tuple(amount * LITRE for amount in litres)
    return PackOption(name, contents, Decimal(price), steps, fewest)


def litres(*amounts: float) -> tuple[float, ...]:
    return tuple(amount * LITRE for amount in amounts)


def by_counting(need: tuple[int, ...], packs: Sequence[PackOption]) -> list[tuple[int, ...]]:
    """All covers, best first: by cost, surplus, number, and more of the first id."""
    held = [[round(amount / LITRE) for amount in one.contents] for one in packs]
    found = []
    most = [max(10, one.fewest, *[start for start, _ in one.breaks]) for one in packs]
    for counts in itertools.product(*[range(n + 1) for n in most]):
        if any(0 < n < one.fewest for n, one in zip(counts, packs, strict=True)):
            continue
        bought = [
            sum(n * h[part] for n, h in zip(counts, held, strict=True)) for part in range(len(need))
        ]
        if any(amount > has for amount, has in zip(need, bought, strict=True)):
            continue
        cost = sum(n * one.each(n) for n, one in zip(counts, packs, strict=True))
        found.append((cost, sum(bought), sum(counts), tuple(-n for n in counts)))
    return [tuple(-n for n in negative) for *_, negative in sorted(found)]


def priced_steps(place: int, pack: PackOption) -> list[tuple[int, int, float, int]]:
    """The pack's place; from and up to how many packs a price holds, and the price between."""
    starts = [pack.fewest, *[start for start, _ in pack.breaks if start > pack.fewest]]
    stops = [*[start - 1 for start in starts[1:]], 1_000]
    return [
        (place, start, float(pack.each(start)), stop)
        for start, stop in zip(starts, stops, strict=True)
    ]


def by_highs(need: Sequence[float], packs: Sequence[PackOption]) -> float:
    """The least cost by HiGHS: a count and a switch for each pack at each of its prices."""
    steps = [one for place, pack in enumerate(packs) for one in priced_steps(place, pack)]
    size = len(steps)
    cost = np.array([price for _, _, price, _ in steps] + [0.0] * size)
    held = np.array(
        [
            [packs[place].contents[part] / LITRE for place, *_ in steps] + [0.0] * size
            for part in range(len(need))
        ]
    )
    starts = np.hstack([np.eye(size), -np.diag([start for _, start, *_ in steps])])
    stops = np.hstack([np.eye(size), -np.diag([stop for *_, stop in steps])])
    once = np.array(
        [[0.0] * size + [float(place == one) for place, *_ in steps] for one in range(len(packs))]
    )
    found = milp(
        cost,
        constraints=[
            LinearConstraint(held, np.array(need) / LITRE - 1e-6, np.inf),
            LinearConstraint(starts, 0, np.inf),
            LinearConstraint(stops, -np.inf, 0),
            LinearConstraint(once, -np.inf, 1),
        ],
        integrality=np.ones(2 * size),
        bounds=Bounds(0, [1_000] * size + [1] * size),
        options={"mip_rel_gap": 0},
    )
    assert found.success
    return float(found.fun)


def random_packs(rng: random.Random, parts: int, most: int) -> list[PackOption]:
    packs = []
    for place in range(rng.randint(parts, most)):
        contents = [rng.randint(0, 12) if rng.random() < 0.5 else 0 for _ in range(parts)]
        contents[place % parts] = rng.randint(1, 12)
        price = 6 * sum(contents) + rng.randint(0, 12)
        breaks: list[tuple[int, int]] = []
        start = rng.choice((1, 1, 2))
        fewest = start
        for _ in range(rng.choice((0, 1, 2, 3))):
            start += rng.randint(1, 5)
            price_then = (breaks[-1][1] if breaks else price) - rng.randint(1, 4)
            if price_then < 0:
                break
            breaks.append((start, price_then))
        packs.append(sold(f"p{place}", contents, price, *breaks, fewest=fewest))
    return packs


def test_one_more_pack_is_bought_where_it_makes_all_of_them_cheaper() -> None:
    # by hand: 3 x 100 = 300, and from 4 on each costs 70: 280
    result = cover(litres(15), [sold("pail", [5], 100, (4, 70))])
    assert result.counts == (("pail", 4),)
    assert result.cost == 280


def test_a_price_that_is_not_earned_is_not_taken() -> None:
    # by hand: 2 large at 100 beat 4 small at 60; 5 small at 45 would cost 225
    packs = [sold("large", [10], 100), sold("small", [5], 60, (5, 45))]
    result = cover(litres(20), packs)
    assert result.counts == (("large", 2),)
    assert result.cost == 200


def test_a_pack_that_is_sold_from_so_many_on_is_bought_in_that_number_or_not_at_all() -> None:
    # by hand: 1 x 20 is enough but comes in threes (60); two at 35 cost 70
    single, by_three = sold("single", [5], 35), sold("by-three", [10], 20, fewest=3)
    assert cover(litres(10), [single, by_three]).counts == (("by-three", 3),)
    assert cover(litres(5), [single, by_three]).counts == (("single", 1),)


def test_the_runner_up_is_another_choice_and_not_the_same_with_more() -> None:
    # by hand: one 10 and one 2 cost 130; one 10 and two 2 only add to that; six 2 cost 180, and
    # two 10 cost 200
    packs = [sold("ten", [10], 100), sold("two", [2], 30)]
    best = cover(litres(12), packs)
    assert dict(best.counts) == {"ten": 1, "two": 1}
    second = runner_up(litres(12), packs, best)
    assert second is not None
    assert second.counts == (("two", 6),)
    assert second.cost == 180


def test_where_one_pack_is_all_there_is_nothing_comes_second() -> None:
    packs = [sold("pail", [5], 100)]
    assert runner_up(litres(12), packs, cover(litres(12), packs)) is None
    assert runner_up(litres(0), packs, cover(litres(0), packs)) is None


def test_a_search_that_is_cut_off_says_what_no_order_costs_less_than(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    sold_packs = [sold("a", [7], 71), sold("b", [5], 52), sold("c", [3], 33)]
    best = cover(litres(41), sold_packs)
    assert best.at_least is None
    monkeypatch.setattr(searching, "MOST_LABELS", 0)
    found = cover(litres(41), sold_packs)
    assert not found.proven
    assert found.at_least is not None
    assert found.at_least <= best.cost <= found.cost


@pytest.mark.parametrize("seed", range(150))
def test_orders_with_breaks_fall_as_when_every_order_is_tried(seed: int) -> None:
    rng = random.Random(seed)  # noqa: S311 - invented purchases, not secrets
    parts = 1 + seed % 2
    packs = random_packs(rng, parts, 3)
    need = tuple(rng.randint(1, 10) for _ in range(parts))
    every = by_counting(need, packs)
    result = cover(litres(*need), packs)
    assert result.proven
    assert dict(result.counts) == {f"p{place}": n for place, n in enumerate(every[0]) if n}
    second = runner_up(litres(*need), packs, result)
    others = [
        counts
        for counts in every
        if any(n < best for n, best in zip(counts, every[0], strict=True))
    ]
    found = None if second is None else dict(second.counts)
    expected = {f"p{place}": n for place, n in enumerate(others[0]) if n} if others else None
    assert found == expected


@pytest.mark.parametrize("seed", range(150))
def test_orders_with_breaks_cost_what_an_integer_program_finds(seed: int) -> None:
    # HiGHS through scipy.optimize.milp, with a switch for each step of a price.
    rng = random.Random(seed)  # noqa: S311 - invented purchases, not secrets
    parts = 1 + seed % 3
    packs = random_packs(rng, parts, 8)
    need = litres(*[rng.randint(0, 150) for _ in range(parts)])
    result = cover(need, packs)
    assert result.proven
    assert float(result.cost) == pytest.approx(by_highs(need, packs), abs=1e-4)


@given(st.randoms(use_true_random=False), st.integers(1, 2), st.floats(0.0, 1.0))
def test_less_need_more_packs_or_more_breaks_never_cost_more(
    rng: random.Random, parts: int, share: float
) -> None:
    packs = random_packs(rng, parts, 6)
    need = litres(*[rng.uniform(0, 60) for _ in range(parts)])
    result: Cover = cover(need, packs)
    assert cover(tuple(share * amount for amount in need), packs).cost <= result.cost
    assert result.cost <= cover(need, packs[:parts]).cost
    plain = [PackOption(one.id, one.contents, one.price, (), one.fewest) for one in packs]
    assert result.cost <= cover(need, plain).cost
    second = runner_up(need, packs, result)
    assert second is None or second.cost >= result.cost
