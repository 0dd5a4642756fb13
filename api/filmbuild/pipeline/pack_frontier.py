"""Covers of a need that no other beats both in cost and in mass, within limits of either.

Depth-first over the packs, one after the other, with a bound on what is left to cover: prices, and
masses, of the parts at which no pack still open is worth more (linear programming duality). More of
a pack than the need takes are tried only where they earn a lower price or are sold at all.
"""

from collections.abc import Sequence
from decimal import Decimal

import msgspec

from filmbuild.pipeline.kit_search import greatest_prices
from filmbuild.pipeline.packs import PackOption

NOISE = 1e-9  # of a need, a cost or a mass
MOST_VISITS = 20_000


class Weighed(msgspec.Struct, frozen=True):
    """So many of each option, what they cost, and their gross mass [kg]."""

    cost: Decimal
    mass: float
    counts: tuple[int, ...]


class Frontier(msgspec.Struct, frozen=True):
    """Lightest last; not `complete` where the search was cut off."""

    covers: tuple[Weighed, ...]
    complete: bool


def weighed(
    counts: Sequence[int], options: Sequence[PackOption], masses: Sequence[float]
) -> Weighed:
    taken = [(one, n, mass) for one, n, mass in zip(options, counts, masses, strict=True) if n]
    cost = sum([one.each(n) * n for one, n, _ in taken], Decimal(0))
    return Weighed(cost, sum([n * mass for _, n, mass in taken]), tuple(counts))


def undominated(covers: Sequence[Weighed]) -> list[Weighed]:
    """Cheapest first; of covers alike in cost and mass the first one stays."""
    found: list[Weighed] = []
    for one in sorted(covers, key=lambda cover: (cover.cost, cover.mass)):
        if not found or one.mass < found[-1].mass * (1.0 - NOISE):
            found.append(one)
    return found


def least_mass(
    missing: Sequence[float], options: Sequence[PackOption], masses: Sequence[float]
) -> float:
    """[kg] What no cover weighs less than, by linear programming."""
    packs = [(one.contents, mass) for one, mass in zip(options, masses, strict=True)]
    values = _part_values(missing, packs)
    return _worth(values, missing) * (1.0 - NOISE)


def frontier(
    missing: Sequence[float],
    options: Sequence[PackOption],
    masses: Sequence[float],
    known: Weighed,
    below_cost: float,
) -> Frontier:
    """The covers lighter than the `known` one that cost less than `below_cost`, and that itself.

    `missing` is by part [m3 or kg], and masses are more than zero.
    """
    search = _Search(missing, options, masses, known, below_cost)
    search.count(0, tuple(missing), (), 0.0, 0.0)
    return Frontier(tuple(undominated(search.found)), search.visits <= MOST_VISITS)


class _Search:
    def __init__(
        self,
        missing: Sequence[float],
        options: Sequence[PackOption],
        masses: Sequence[float],
        known: Weighed,
        below_cost: float,
    ) -> None:
        self._options, self._masses = options, masses
        self._order = sorted(
            [
                place
                for place, one in enumerate(options)
                if any(
                    held and need > 0.0 for held, need in zip(one.contents, missing, strict=True)
                )
            ],
            key=lambda place: (-masses[place], place),
        )
        self._covered = [need * NOISE for need in missing]
        self._below_cost = below_cost
        self._known_mass = known.mass * (1.0 - NOISE)
        self.found = [known]
        self._least = [(float(known.cost), known.mass)]
        self.visits = 0
        levels = range(len(self._order) + 1)
        self._costs = [self._values_from(missing, level, in_mass=False) for level in levels]
        self._weights = [self._values_from(missing, level, in_mass=True) for level in levels]

    def _values_from(self, missing: Sequence[float], level: int, *, in_mass: bool) -> list[float]:
        packs = []
        for place in self._order[level:]:
            one = self._options[place]
            cheapest = min([one.price, *[price for _, price in one.breaks]])
            packs.append((one.contents, self._masses[place] if in_mass else float(cheapest)))
        return _part_values(missing, packs)

    def count(
        self, level: int, rest: tuple[float, ...], counts: tuple[int, ...], cost: float, mass: float
    ) -> None:
        self.visits += 1
        if self.visits > MOST_VISITS:
            return
        if all(left <= noise for left, noise in zip(rest, self._covered, strict=True)):
            self._keep(counts)
            return
        if self._beaten(level, rest, cost, mass) or level == len(self._order):
            return
        place = self._order[level]
        one = self._options[place]
        for number in self._numbers(one, rest, last=level + 1 == len(self._order)):
            left = tuple(
                [amount - number * held for amount, held in zip(rest, one.contents, strict=True)]
            )
            spent = cost + float(one.each(number) * number)
            self.count(
                level + 1, left, (*counts, number), spent, mass + number * self._masses[place]
            )

    def _numbers(self, one: PackOption, rest: tuple[float, ...], *, last: bool) -> list[int]:
        """How many may be taken: none to all that the rest needs, and more at a lower price."""
        enough = 0
        for left, held, noise in zip(rest, one.contents, self._covered, strict=True):
            if held and left > noise:
                enough = max(enough, _ceiling((left - noise) / held))
        more = (one.fewest, *[start for start, _ in one.breaks])
        numbers = [enough] if last else list(range(enough, -1, -1))
        numbers += [start for start in more if start > enough]
        return [number for number in numbers if number == 0 or number >= one.fewest]

    def _beaten(self, level: int, rest: Sequence[float], cost: float, mass: float) -> bool:
        cost = (cost + _worth(self._costs[level], rest)) * (1.0 - NOISE)
        mass += _worth(self._weights[level], rest)
        if cost >= self._below_cost or mass >= self._known_mass:
            return True
        return any(cost >= its_cost and mass >= its_mass for its_cost, its_mass in self._least)

    def _keep(self, counts: Sequence[int]) -> None:
        by_place = [0] * len(self._options)
        for place, number in zip(self._order, counts, strict=False):
            by_place[place] = number
        one = weighed(by_place, self._options, self._masses)
        if one.mass < self._known_mass and float(one.cost) < self._below_cost:
            self.found = undominated([*self.found, one])
            self._least = [(float(found.cost), found.mass) for found in self.found]


def _ceiling(number: float) -> int:
    whole = int(number)
    return whole + (number > whole)


def _part_values(
    missing: Sequence[float], packs: Sequence[tuple[Sequence[float], float]]
) -> list[float]:
    """What each part is worth [per m3 or kg] where no pack is worth more than it counts for."""
    parts = [part for part, need in enumerate(missing) if need > 0.0]
    most = max([counts for _, counts in packs], default=0.0) or 1.0
    rows = [
        [*[contents[part] / missing[part] for part in parts], counts / most]
        for contents, counts in packs
    ]
    values = [0.0] * len(missing)
    if rows and parts:
        for part, share in zip(parts, greatest_prices(rows, [1.0] * len(parts)), strict=True):
            values[part] = share * most / missing[part]
    return values


def _worth(values: Sequence[float], rest: Sequence[float]) -> float:
    return sum([value * amount for value, amount in zip(values, rest, strict=True) if amount > 0.0])
