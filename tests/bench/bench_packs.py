"""The least-cost packs, beside the same optimum by HiGHS through scipy.optimize.milp."""

import random
import statistics
import time
from collections.abc import Callable
from decimal import Decimal
from typing import Any

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

from filmbuild.pipeline.packs import PackOption, cover

Purchase = tuple[tuple[float, ...], list[PackOption]]
SIZES = (0.5, 1, 1.5, 2, 2.5, 3, 4, 5, 6, 7.5, 8, 10, 12, 15, 16, 18, 20, 25)
PURCHASES = 40
REPEATS = 3


def figures() -> list[dict[str, Any]]:
    """By kind of purchase and number of packs: microseconds, and HiGHS's time over ours.

    Invented packs of 0.5 to 25 L, dearer by the litre the smaller they are, and needs of 1 to 200
    of the largest. Medians over the purchases; the two times of one purchase are taken in turn.
    """
    found = []
    kinds = (("one_part", _one_part), ("kits", _kits), ("kits_and_parts", _kits_and_parts))
    for kind, make in kinds:
        for packs in (2, 4, 8, 12):
            generator = random.Random(packs)  # noqa: S311 - invented purchases, not secrets
            ours, ratios = [], []
            for _ in range(PURCHASES):
                need, options = make(generator, packs)
                mine, theirs = _seconds(cover, need, options), _seconds(_by_highs, need, options)
                ours.append(mine)
                ratios.append(theirs / mine)
                _agree(need, options)
            name = f"packs.{kind}.{packs}_packs"
            found += [
                {"name": name, "value": statistics.median(ours) * 1e6, "unit": "us"},
                {"name": f"{name}.highs", "value": statistics.median(ratios), "unit": "times"},
            ]
    return found


def _one_part(generator: random.Random, packs: int) -> Purchase:
    options = [
        _option(place, (size,), generator)
        for place, size in enumerate(generator.sample(SIZES, packs))
    ]
    return _need(generator, (1.0,)), options


def _kits(generator: random.Random, packs: int) -> Purchase:
    """Two parts to one, in kits only."""
    options = [
        _option(place, (size * 2, size), generator)
        for place, size in enumerate(generator.sample(SIZES, packs))
    ]
    return _need(generator, (2.0, 1.0)), options


def _kits_and_parts(generator: random.Random, packs: int) -> Purchase:
    """Two parts to one: a third kits, a third each part alone; two packs are one of each part."""
    shapes = ((2.0, 0.0), (0.0, 1.0)) if packs == 2 else ((2.0, 1.0), (2.0, 0.0), (0.0, 1.0))
    options = []
    for place, size in enumerate(generator.sample(SIZES, packs)):
        shape = shapes[place % len(shapes)]
        options.append(_option(place, tuple(size * share for share in shape), generator))
    return _need(generator, (2.0, generator.uniform(0.9, 1.1))), options


def _option(place: int, litres: tuple[float, ...], generator: random.Random) -> PackOption:
    price = sum(litres) ** 0.9 * generator.uniform(38.0, 42.0)
    contents = tuple(amount / 1e3 for amount in litres)
    return PackOption(f"p{place:02}", contents, Decimal(f"{price:.2f}"))


def _need(generator: random.Random, shape: tuple[float, ...]) -> tuple[float, ...]:
    litres = 25.0 * 200.0 ** generator.random()
    return tuple(share * litres / 1e3 for share in shape)


def _seconds(
    run: Callable[[tuple[float, ...], list[PackOption]], object],
    need: tuple[float, ...],
    options: list[PackOption],
) -> float:
    times = []
    for _ in range(REPEATS):
        start = time.perf_counter()
        run(need, options)
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def _by_highs(need: tuple[float, ...], options: list[PackOption]) -> float:
    litres = np.array([one.contents for one in options]).T * 1e3
    found = milp(
        np.array([float(one.price) for one in options]),
        constraints=LinearConstraint(litres, np.array(need) * (1e3 - 1e-6), np.inf),
        integrality=np.ones(len(options)),
        bounds=Bounds(0, np.inf),
        options={"mip_rel_gap": 0},
    )
    return float(found.fun)


def _agree(need: tuple[float, ...], options: list[PackOption]) -> None:
    mine, theirs = cover(need, options), _by_highs(need, options)
    if not mine.proven or abs(float(mine.cost) - theirs) > 1e-6 * theirs:
        raise SystemExit(f"{mine.cost} is not the optimum {theirs} of {need} in {options}")
