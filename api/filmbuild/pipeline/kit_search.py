"""Least-weight cover of several parts by kits beside packs of one part: depth-first, with bounds.

The kits are counted one after another; what is left is covered part by part. The bound on what is
left comes from a price for each part at which no pack still open is worth more than its weight
(linear programming duality), so it never exceeds the weight of any cover; prices are found for the
whole need first, and again now and then for what is left. A bound is convex in the count of a kit:
from its least the counts are tried outwards until it meets the best cover seen. Worst case: every
amount that can be left at every kit, each visited again only when reached at less weight.
"""

from collections.abc import Sequence
from operator import mul

from filmbuild.pipeline.pack_search import Budget, PackSearch

NEGLIGIBLE = 1e-12
MOST_PIVOTS = 100
FINE = 1 << 60
VISITS_PER_PRICING = 3
MOST_PRICINGS = 8
LEAST_GOAL = 1e-6

Amounts = tuple[int, ...]
Weighed = tuple[Amounts, int]


class KitSearch:
    """Packs with whole contents by part, and whole weights > 0; every part is in some pack."""

    def __init__(self, need: Amounts, packs: Sequence[Weighed], budget: Budget) -> None:
        self._budget = budget
        self._need = need
        parts = range(len(need))
        held = [sum(map(bool, contents)) for contents, _ in packs]
        kits = [pack for pack, count in zip(packs, held, strict=True) if count > 1]
        self._kits = sorted(kits, key=self._weight_per_share)
        self._single: list[PackSearch | None] = []
        for part in parts:
            alone = [
                (contents[part], weight)
                for (contents, weight), count in zip(packs, held, strict=True)
                if count == 1 and contents[part]
            ]
            self._single.append(PackSearch(*zip(*alone, strict=True)) if alone else None)
        # By level, for the packs still open below it: part prices, visits, the parts none holds.
        levels = range(1, len(self._kits) + 1)
        self._prices: list[list[Amounts]] = [[] for _ in levels]
        self._visits = [0 for _ in levels]
        self._closed = [self._parts_closed(level) for level in levels]
        self._covered: dict[tuple[int, int], int] = {}
        self._at_least: dict[tuple[int, int], int] = {}
        self._rates = [single.rate() if single else 0 for single in self._single]
        self._reached: dict[tuple[int, Amounts], int] = {}
        self._best = self._weight_of_kits_alone_or_apart()

    def least(self) -> int:
        """The least total weight that covers the need."""
        self._count_kits(0, 0, self._need)
        return self._best

    def _weight_per_share(self, kit: Weighed) -> float:
        contents, weight = kit
        return weight / sum(
            min(1.0, amount / need) for amount, need in zip(contents, self._need, strict=True)
        )

    def _weight_of_kits_alone_or_apart(self) -> int:
        """Some cover: each part in turn by its own packs, or by the first kit that holds it."""
        total, rest = 0, self._need
        for part, single in enumerate(self._single):
            if single is None and rest[part]:
                contents, weight = next(kit for kit in self._kits if kit[0][part])
                count = -(-rest[part] // contents[part])
                total, rest = total + count * weight, _less(rest, contents, count)
        return total + sum(self._part_weight(part, left) for part, left in enumerate(rest) if left)

    def _count_kits(self, level: int, weight: int, rest: Amounts) -> None:
        if level == len(self._kits):
            self._cover_apart(weight, rest)
            return
        if self._reached.get((level, rest), weight + 1) <= weight:
            return
        self._reached[level, rest] = weight
        counts = self._possible_counts(level, rest)
        if counts:
            self._try_counts(level, weight, rest, counts)

    def _cover_apart(self, weight: int, rest: Amounts) -> None:
        """Part by part, and no further than the rest could still make up for."""
        least = weight + _worth(self._rates, rest)
        if least >= self._best:
            return
        for part, left in enumerate(rest):
            if left:
                least -= self._rates[part] * left
                least += self._part_weight(part, left, self._best - least)
                if least >= self._best:
                    return
        self._best = least

    def _possible_counts(self, level: int, rest: Amounts) -> range:
        """From what the parts that no later pack holds need, to what covers every part it holds."""
        contents, _ = self._kits[level]
        fewest = most = 0
        closed = self._closed[level]
        for part, (left, held) in enumerate(zip(rest, contents, strict=True)):
            if left:
                filled = -(-left // held) if held else 0
                if part in closed:
                    if not held:
                        return range(0)
                    fewest = max(fewest, filled)
                most = max(most, filled)
        return range(fewest, most + 1)

    def _try_counts(self, level: int, weight: int, rest: Amounts, counts: range) -> None:
        contents, its_weight = self._kits[level]
        bound, turn, prices = self._bound(level, rest, counts)
        if weight + bound >= self._best:
            return
        others = [one for one in self._prices[level] if one is not prices]
        best_of = self._best - weight
        for outwards in (range(turn, counts.start - 1, -1), range(turn + 1, counts.stop)):
            for count in outwards:
                spent = count * its_weight
                if spent + _worth_after(prices, rest, contents, count) >= best_of:
                    break
                if not self._budget.spend():
                    break
                if all(
                    spent + _worth_after(one, rest, contents, count) < best_of for one in others
                ):
                    after = _less(rest, contents, count)
                    self._count_kits(level + 1, weight + spent, after)
                    best_of = self._best - weight

    def _bound(self, level: int, rest: Amounts, counts: range) -> tuple[int, int, Amounts]:
        """The greatest bound that any known part prices give, with the count it turns at."""
        known = self._prices[level]
        if self._visits[level] % VISITS_PER_PRICING == 0 and len(known) < MOST_PRICINGS:
            wanted = self._need
            if known:
                _, turn, _ = self._best_turn(level, rest, counts)
                wanted = _less(rest, self._kits[level][0], turn)
            found = self._part_prices(level + 1, wanted)
            if found not in known:
                known.append(found)
        self._visits[level] += 1
        return self._best_turn(level, rest, counts)

    def _best_turn(self, level: int, rest: Amounts, counts: range) -> tuple[int, int, Amounts]:
        contents, weight = self._kits[level]
        best: tuple[int, int, Amounts] | None = None
        last = counts.stop - 1
        for prices in self._prices[level]:
            turn = max(counts.start, min(last, _turn(rest, contents, weight, prices)))
            bound = turn * weight + _worth_after(prices, rest, contents, turn)
            if turn < last:
                more = (turn + 1) * weight + _worth_after(prices, rest, contents, turn + 1)
                bound = min(bound, more)
            if best is None or bound > best[0]:
                best = bound, turn, prices
        if best is None:
            raise AssertionError("a level is priced before it is bounded")
        return best

    def _part_weight(self, part: int, left: int, below: int | None = None) -> int:
        """The least weight that covers a part, or `below` where none is less than it."""
        place = part, left
        found = self._covered.get(place)
        if found is not None:
            return found
        if below is not None and below <= self._at_least.get(place, 0):
            return below
        single = self._single[part]
        if single is None:
            raise AssertionError("a part without packs of its own is covered by the kits")
        found = single.least(left, self._budget, below)
        if found == below:
            self._at_least[place] = below
        else:
            self._covered[place] = found
        return found

    def _parts_closed(self, level: int) -> tuple[int, ...]:
        return tuple(
            part
            for part, single in enumerate(self._single)
            if single is None and not any(kit[part] for kit, _ in self._kits[level:])
        )

    def _part_prices(self, level: int, wanted: Amounts) -> Amounts:
        """Prices that no open pack's contents exceed the weight of, best for what is wanted."""
        alone = tuple(single.rate() if single else 0 for single in self._single)
        kits = self._kits[level:]
        if not kits:
            return alone
        heaviest = max(weight for _, weight in kits)
        rows = [
            [amount / need for amount, need in zip(contents, self._need, strict=True)]
            + [weight / heaviest]
            for contents, weight in kits
        ]
        for part, rate in enumerate(alone):
            if self._single[part]:
                row = [0.0] * len(alone)
                row[part] = 1.0
                rows.append([*row, rate * self._need[part] / heaviest])
        goal = [
            max(LEAST_GOAL, amount / need) for amount, need in zip(wanted, self._need, strict=True)
        ]
        shares = greatest_prices(rows, goal)
        prices = [
            int(share * FINE) * heaviest // (need * FINE)
            for share, need in zip(shares, self._need, strict=True)
        ]
        return _within(prices, alone, kits, self._single)


def _worth(prices: Sequence[int], amounts: Amounts) -> int:
    return sum(map(mul, prices, amounts))


def _worth_after(prices: Amounts, rest: Amounts, contents: Amounts, count: int) -> int:
    """What is left to cover after so many kits, at the prices of its parts."""
    worth = 0
    for price, left, held in zip(prices, rest, contents, strict=True):
        over = left - count * held
        if over > 0:
            worth += price * over
    return worth


def _less(rest: Amounts, contents: Amounts, count: int) -> Amounts:
    return tuple([max(0, left - count * held) for left, held in zip(rest, contents, strict=True)])


def _turn(rest: Amounts, contents: Amounts, weight: int, prices: Amounts) -> int:
    """The count, rounded down, from which one more kit weighs more than what it saves."""
    saved = _worth(prices, contents)
    used_up = sorted(
        (left // held, price * held)
        for left, held, price in zip(rest, contents, prices, strict=True)
        if held
    )
    turn = 0
    for count, saving in used_up:
        if saved <= weight:
            break
        turn = count
        saved -= saving
    return turn


def greatest_prices(rows: list[list[float]], goal: list[float]) -> list[float]:
    """Simplex (Dantzig's rule): y >= 0 of greatest goal y with, by row, a y <= w (its last item).

    Stopped early or inexact it still gives a bound, only a lower one.
    """
    parts = len(rows[0]) - 1
    top = [-goal[part] if any(row[part] for row in rows) else 0.0 for part in range(parts)]
    top.append(0.0)
    columns, basis = list(range(parts)), [-1 - row for row in range(len(rows))]
    for _ in range(MOST_PIVOTS):
        enter = min(range(parts), key=top.__getitem__)
        open_rows = [row for row in range(len(rows)) if rows[row][enter] > NEGLIGIBLE]
        if top[enter] > -NEGLIGIBLE or not open_rows:
            break
        leave = min(open_rows, key=lambda row: rows[row][-1] / rows[row][enter])
        _pivot(rows, top, leave, enter)
        basis[leave], columns[enter] = columns[enter], basis[leave]
    found = [0.0] * parts
    for row, name in zip(rows, basis, strict=True):
        if name >= 0:
            found[name] = max(0.0, row[-1])
    return found


def _pivot(rows: list[list[float]], top: list[float], leave: int, enter: int) -> None:
    pivot = rows[leave][enter]
    line = [value / pivot for value in rows[leave]]
    line[enter] = 1.0 / pivot
    for row in (*rows[:leave], *rows[leave + 1 :], top):
        factor = row[enter]
        if factor:
            row[enter] = 0.0
            row[:] = [value - factor * by for value, by in zip(row, line, strict=True)]
    rows[leave] = line


def _within(
    prices: Sequence[int],
    alone: Amounts,
    kits: Sequence[Weighed],
    single: Sequence[PackSearch | None],
) -> Amounts:
    """Whole prices shrunk until they hold exactly; they come from rounded arithmetic."""
    capped = tuple(
        min(price, rate) if its else price
        for price, rate, its in zip(prices, alone, single, strict=True)
    )
    for contents, weight in kits:
        worth = _worth(capped, contents)
        if worth > weight:
            capped = tuple(price * weight // worth for price in capped)
    return capped
