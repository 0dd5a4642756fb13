"""Whole packs that cover a need by part at least cost: an exact optimum, the same on every run.

Least cost comes first; then the least surplus, summed over the parts; then the fewest packs; then
more of the pack whose id sorts first. All four are digits of one whole number, a pack's weight, so
that a single minimum settles them and no two orders weigh the same.

Amounts are whole multiples of the unit that a part's contents have in common. That is 0.1 mL
(0.1 mg) or a multiple of it where every content is one; otherwise whatever unit they share to a
billionth (quarts and gallons, or volumes read from masses); and failing that, 1e-13 of the largest.
"""

from collections.abc import Sequence
from decimal import Decimal
from functools import lru_cache
from math import ceil, gcd, lcm

import msgspec

from filmbuild.pipeline.kit_search import KitSearch
from filmbuild.pipeline.pack_search import Budget, PackSearch

NOISE = 1e-9  # of a need
NOISE_OF_CONTENT = 1e-10
PER_UNIT = 1e7  # 0.1 mL in m3, or 0.1 mg in kg
MOST_MULTIPLES = 10_000_000
FINEST = 1e13
SAME_RATIO = 2e-13  # of the largest content
MOST_LABELS = 100_000
MOST_KIT_COUNTS = 50_000


class PackOption(msgspec.Struct, frozen=True):
    """A pack on sale: its contents by part [m3 or kg] and the price of the whole pack."""

    id: str
    contents: tuple[float, ...]
    price: Decimal


class Cover(msgspec.Struct, frozen=True):
    """The packs to buy, by id, and what they and the stock leave over by part [m3 or kg].

    `proven` is false only if the search was cut off at its limit: the packs still cover the need,
    but a cheaper order may exist.
    """

    counts: tuple[tuple[str, int], ...]
    cost: Decimal
    surplus: tuple[float, ...]
    proven: bool = True


class UncoveredPartsError(ValueError):
    """Some needed parts are in no pack; `parts` are their places in the need."""

    def __init__(self, parts: tuple[int, ...]) -> None:
        super().__init__(f"no pack holds part {', '.join(map(str, parts))}")
        self.parts = parts


def cover(
    need: tuple[float, ...],
    options: Sequence[PackOption],
    on_hand: tuple[float, ...] | None = None,
) -> Cover:
    """A billionth of each need may stay uncovered, so that float noise never buys a pack.

    Raises UncoveredPartsError. Prices and contents must not be negative, and ids be distinct.
    """
    stock = on_hand or (0.0,) * len(need)
    short = {
        part: missing
        for part, (amount, held) in enumerate(zip(need, stock, strict=True))
        if (missing := amount * (1.0 - NOISE) - held) > 0.0
    }
    if not short:
        return _bought(need, stock, (), (), proven=True)
    shelf = _shelf(tuple(options), tuple(short))
    needs = [
        ceil(missing * units) for missing, units in zip(short.values(), shelf.units, strict=True)
    ]
    digits = _count_bound(needs, shelf.columns).bit_length()
    least, proven = _least(needs, shelf.columns, _weights(shelf.prices, shelf.contained, digits))
    useful = [options[place] for place in shelf.useful]
    counts = _counts(least, len(useful), digits)
    return _bought(need, stock, useful, counts, proven=proven)


class _Shelf(msgspec.Struct, frozen=True):
    """What a search reads of the packs that hold a missing part, in order of their ids.

    `useful` are their places among the options; `columns` their contents of each missing part in
    whole multiples of `1 / units`, and `contained` of all parts together; `prices` are whole too.
    """

    useful: tuple[int, ...]
    columns: tuple[tuple[int, ...], ...]
    units: tuple[float, ...]
    contained: tuple[int, ...]
    prices: tuple[int, ...]


@lru_cache(maxsize=4_096)
def _shelf(options: tuple[PackOption, ...], short: tuple[int, ...]) -> _Shelf:
    """Raises UncoveredPartsError. Remembered: the same few products serve every job."""
    places = [
        place for place, one in enumerate(options) if any(one.contents[part] for part in short)
    ]
    places.sort(key=lambda place: options[place].id)
    useful = [options[place] for place in places]
    uncovered = [part for part in short if not any(one.contents[part] for one in useful)]
    if uncovered:
        raise UncoveredPartsError(tuple(uncovered))
    measured = [_multiples([one.contents[part] for one in useful]) for part in short]
    columns = tuple(column for column, _ in measured)
    contained = columns[0]
    if len(useful[0].contents) > 1:
        contained = _multiples([sum(one.contents) for one in useful])[0]
    units = tuple(units for _, units in measured)
    return _Shelf(tuple(places), columns, units, contained, tuple(_whole_prices(useful)))


def _multiples(amounts: list[float]) -> tuple[tuple[int, ...], float]:
    """Amounts as whole multiples of a common unit, and how many units make 1 m3 or 1 kg."""
    largest = max(amounts)
    whole = _rounded([amount * PER_UNIT for amount in amounts])
    if whole is None:
        most = round(largest / _common_unit(amounts, largest))
        if most < MOST_MULTIPLES:
            whole = _rounded([amount / largest * most for amount in amounts])
    if whole is None:
        whole = [ceil(amount / largest * FINEST) for amount in amounts]
        return tuple(whole), FINEST / largest
    common = gcd(*whole)
    whole = [amount // common for amount in whole]
    return tuple(whole), max(whole) / largest


def _rounded(scaled: list[float]) -> list[int] | None:
    whole = list(map(round, scaled))
    for exact, near in zip(scaled, whole, strict=True):
        if abs(exact - near) > NOISE_OF_CONTENT * exact:
            return None
    return whole


def _common_unit(amounts: Sequence[float], largest: float) -> float:
    """Euclid's algorithm, taking what is below noise for nothing."""
    unit, noise = largest, largest * NOISE
    for amount in amounts:
        rest = amount
        while rest > noise:
            left = unit % rest
            unit, rest = rest, min(left, rest - left)
    return unit


def _whole_prices(options: Sequence[PackOption]) -> list[int]:
    ratios = [one.price.as_integer_ratio() for one in options]
    common = lcm(*[denominator for _, denominator in ratios])
    return [numerator * (common // denominator) for numerator, denominator in ratios]


def _count_bound(needs: Sequence[int], columns: Sequence[Sequence[int]]) -> int:
    """No order in which every pack was still needed when it was added counts more packs."""
    return sum(
        [
            -(-amount // min([held for held in column if held]))
            for amount, column in zip(needs, columns, strict=True)
        ]
    )


@lru_cache(maxsize=4_096)
def _weights(prices: tuple[int, ...], contained: tuple[int, ...], digits: int) -> tuple[int, ...]:
    """Price, contents, one pack and minus the pack's own digit, from high bits to low."""
    room = digits + max(contained).bit_length()
    own = digits * len(prices)
    weights = []
    for place, (price, amount) in enumerate(zip(prices, contained, strict=True), start=1):
        shared = (((price << room) + amount) << digits) + 1
        weights.append((shared << own) - (1 << own - place * digits))
    return tuple(weights)


def _counts(weight: int, packs: int, digits: int) -> list[int]:
    """How many of each pack add up to the weight: their own digits, read back."""
    mask = (1 << digits) - 1
    return [-weight >> digits * place & mask for place in range(packs - 1, -1, -1)]


def _least(
    needs: Sequence[int], columns: tuple[tuple[int, ...], ...], weights: tuple[int, ...]
) -> tuple[int, bool]:
    search = _search_of_one(columns, weights)
    if search is not None:
        budget = Budget(MOST_LABELS)
        return search.least(max(needs), budget), budget.left >= 0
    budget = Budget(MOST_KIT_COUNTS)
    packs = list(zip(zip(*columns, strict=True), weights, strict=True))
    return KitSearch(tuple(needs), packs, budget).least(), budget.left >= 0


@lru_cache(maxsize=4_096)
def _search_of_one(
    columns: tuple[tuple[int, ...], ...], weights: tuple[int, ...]
) -> PackSearch | None:
    """One part stands for all where every pack holds them in one ratio; None where it does not."""
    first = columns[0]
    near = SAME_RATIO * max(first)
    for column in columns[1:]:
        if any(abs(one - other) > near for one, other in zip(first, column, strict=True)):
            return None
    return PackSearch(first, weights)


def _bought(
    need: Sequence[float],
    stock: Sequence[float],
    options: Sequence[PackOption],
    counts: Sequence[int],
    *,
    proven: bool,
) -> Cover:
    bought = [(one, count) for one, count in zip(options, counts, strict=True) if count]
    left = [held - amount for amount, held in zip(need, stock, strict=True)]
    for one, count in bought:
        left = [over + count * held for over, held in zip(left, one.contents, strict=True)]
    return Cover(
        counts=tuple([(one.id, count) for one, count in bought]),
        cost=sum([one.price * count for one, count in bought], Decimal(0)),
        surplus=tuple([max(0.0, over) for over in left]),
        proven=proven,
    )
