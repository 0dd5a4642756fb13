"""Whole packs that cover a need by part at least cost: an exact optimum, the same on every run.

Least cost comes first; then the least surplus, summed over the parts; then the fewest packs; then
more of the pack whose id sorts first. All four are digits of one whole number, a pack's weight, so
that a single minimum settles them and no two orders weigh the same.

A pack may cost less each from so many on (all-units breaks), and may be sold from so many on only:
`pack_terms` searches those on top of the plain search.

Amounts are whole multiples of the unit that a part's contents have in common. That is 0.1 mL
(0.1 mg) or a multiple of it where every content is one; otherwise whatever unit they share to a
billionth (quarts and gallons, or volumes read from masses); and failing that, 1e-13 of the largest.
"""

from collections.abc import Sequence
from decimal import Decimal
from functools import lru_cache
from math import ceil, lcm

import msgspec

from filmbuild.pipeline.kit_search import KitSearch, greatest_prices
from filmbuild.pipeline.pack_search import Budget, PackSearch
from filmbuild.pipeline.pack_terms import Found, Steps, TermsSearch
from filmbuild.pipeline.pack_units import NOISE, multiples

SAME_RATIO = 2e-13  # of the largest content
MOST_LABELS = 100_000
MOST_KIT_COUNTS = 50_000


class PackOption(msgspec.Struct, frozen=True):
    """A pack on sale: its contents by part [m3 or kg] and the price of the whole pack.

    From as many packs as a break names on, each costs that price instead: the numbers rise and the
    prices fall. Fewer than `fewest` packs are not sold.
    """

    id: str
    contents: tuple[float, ...]
    price: Decimal
    breaks: tuple[tuple[int, Decimal], ...] = ()
    fewest: int = 1

    def each(self, count: int) -> Decimal:
        """What each of so many packs costs."""
        return [self.price, *[price for start, price in self.breaks if start <= count]][-1]


class Cover(msgspec.Struct, frozen=True):
    """The packs to buy, by id, and what they and the stock leave over by part [m3 or kg].

    `proven` is false only if the search was cut off at its limit: the packs still cover the need,
    but a cheaper order may exist. No order costs less than `at_least`, which is given where it is not proven.
    """

    counts: tuple[tuple[str, int], ...]
    cost: Decimal
    surplus: tuple[float, ...]
    proven: bool = True
    at_least: Decimal | None = None


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
    short = _short(need, stock)
    if not short:
        return _bought(need, stock, (), (), proven=True)
    shelf = _shelf(tuple(options), tuple(short))
    needs = _whole_needs(short, shelf)
    useful = [options[place] for place in shelf.useful]
    if shelf.stepped:
        found = _stepped_search(shelf, needs, 0).least(needs)
        if found is None:
            raise AssertionError("more of a pack that holds a part always covers it")
        counts: Sequence[int] = found.counts
        proven = found.proven
    else:
        digits = _count_bound(needs, shelf.columns).bit_length()
        prices = tuple([steps[0][1] for steps in shelf.steps])
        least, proven = _least(needs, shelf.columns, _weights(prices, shelf.contained, digits))
        counts = _counts(least, len(useful), digits)
    at_least = None if proven else _bound(shelf, needs)
    return _bought(need, stock, useful, counts, proven=proven, at_least=at_least)


def runner_up(
    need: tuple[float, ...],
    options: Sequence[PackOption],
    best: Cover,
    on_hand: tuple[float, ...] | None = None,
) -> Cover | None:
    """The least-cost cover with fewer of some pack than the best has; None where there is none.

    So the best with packs on top of it does not count as another choice.
    """
    stock = on_hand or (0.0,) * len(need)
    short = _short(need, stock)
    if not short:
        return None
    shelf = _shelf(tuple(options), tuple(short))
    needs = _whole_needs(short, shelf)
    useful = [options[place] for place in shelf.useful]
    taken = dict(best.counts)
    counts = [taken.get(one.id, 0) for one in useful]
    search = _stepped_search(shelf, needs, sum(counts))
    second: Found | None = None
    proven = True
    for least, place, fewer in _other_counts(shelf, needs, counts):
        if second is not None and least > _price_of(shelf, second.counts) * (1.0 + NOISE):
            break
        found = search.least(needs, {place: fewer}, None if second is None else second.weight)
        if found is not None:
            proven = proven and found.proven
            if second is None or found.weight < second.weight:
                second = found
    if second is None:
        return None
    return _bought(need, stock, useful, second.counts, proven=proven)


def _short(need: tuple[float, ...], stock: tuple[float, ...]) -> dict[int, float]:
    return {
        part: missing
        for part, (amount, held) in enumerate(zip(need, stock, strict=True))
        if (missing := amount * (1.0 - NOISE) - held) > 0.0
    }


class _Shelf(msgspec.Struct, frozen=True):
    """What a search reads of the packs that hold a missing part, in order of their ids.

    `useful` are their places among the options; `columns` their contents of each missing part in
    whole multiples of `1 / units`, and `contained` of all parts together; prices of `steps` are
    whole too, in parts of `1 / scale`.
    """

    useful: tuple[int, ...]
    columns: tuple[tuple[int, ...], ...]
    units: tuple[float, ...]
    contained: tuple[int, ...]
    steps: tuple[Steps, ...]
    scale: int

    @property
    def stepped(self) -> bool:
        return any(len(steps) > 1 or steps[0][0] > 1 for steps in self.steps)


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
    measured = [multiples([one.contents[part] for one in useful]) for part in short]
    columns = tuple(column for column, _ in measured)
    contained = columns[0]
    if len(useful[0].contents) > 1:
        contained = multiples([sum(one.contents) for one in useful])[0]
    units = tuple(units for _, units in measured)
    steps, scale = _whole_steps(useful)
    return _Shelf(tuple(places), columns, units, contained, steps, scale)


def _whole_needs(short: dict[int, float], shelf: _Shelf) -> tuple[int, ...]:
    return tuple(
        [ceil(missing * units) for missing, units in zip(short.values(), shelf.units, strict=True)]
    )


def _whole_steps(options: Sequence[PackOption]) -> tuple[tuple[Steps, ...], int]:
    steps = [_steps(one) for one in options]
    ratios = [price.as_integer_ratio() for one in steps for _, price in one]
    common = lcm(*[denominator for _, denominator in ratios])
    return tuple(
        [tuple([(start, _whole(price, common)) for start, price in one]) for one in steps]
    ), common


def _whole(price: Decimal, common: int) -> int:
    numerator, denominator = price.as_integer_ratio()
    return numerator * (common // denominator)


def _steps(option: PackOption) -> list[tuple[int, Decimal]]:
    """From the fewest packs sold on, and then where the price falls."""
    first = option.each(option.fewest)
    later = [one for one in option.breaks if one[0] > option.fewest and one[1] < first]
    return [(option.fewest, first), *later]


def _stepped_search(shelf: _Shelf, needs: tuple[int, ...], more: int) -> TermsSearch:
    """`more` packs may be fixed beyond what a least order holds."""
    extra = sum([steps[-1][0] for steps in shelf.steps])
    digits = (_count_bound(needs, shelf.columns) + extra + more).bit_length()
    firsts = tuple([steps[0][1] for steps in shelf.steps])
    weights = _weights(firsts, shelf.contained, digits)
    shift = _shift(shelf.contained, digits)
    packs = [
        (
            contents,
            tuple([(start, weight + (price - steps[0][1] << shift)) for start, price in steps]),
        )
        for contents, weight, steps in zip(
            zip(*shelf.columns, strict=True), weights, shelf.steps, strict=True
        )
    ]

    def plain(
        rest: tuple[int, ...], places: tuple[int, ...], weights: tuple[int, ...]
    ) -> tuple[int, bool] | None:
        missing = [part for part, left in enumerate(rest) if left > 0]
        open_packs = [
            (place, weight)
            for place, weight in zip(places, weights, strict=True)
            if any(shelf.columns[part][place] for part in missing)
        ]
        columns = tuple(
            [tuple([shelf.columns[part][place] for place, _ in open_packs]) for part in missing]
        )
        if not all(any(column) for column in columns):
            return None
        left = [rest[part] for part in missing]
        return _least(left, columns, tuple([weight for _, weight in open_packs]))

    return TermsSearch(packs, plain, lambda weight: _counts(weight, len(packs), digits))


def _other_counts(
    shelf: _Shelf, needs: tuple[int, ...], counts: Sequence[int]
) -> list[tuple[float, int, int]]:
    """Fewer of each pack in turn, by what an order with so many of it costs at least."""
    found = []
    for place, count in enumerate(counts):
        if count:
            prices = _fair_prices(shelf, needs, place)
            held = [column[place] for column in shelf.columns]
            for fewer in range(count):
                spent = float(fewer * _step_price(shelf.steps[place], fewer))
                for price, need, content in zip(prices, needs, held, strict=True):
                    spent += price * max(0, need - fewer * content)
                found.append((spent * (1.0 - NOISE), place, fewer))
    found.sort()
    return found


def _step_price(steps: Steps, count: int) -> int:
    return [steps[0][1], *[price for start, price in steps if start <= count]][-1]


def _price_of(shelf: _Shelf, counts: Sequence[int]) -> float:
    return float(
        sum(
            [
                count * _step_price(steps, count)
                for count, steps in zip(counts, shelf.steps, strict=True)
            ]
        )
    )


def _fair_prices(shelf: _Shelf, needs: tuple[int, ...], without: int | None = None) -> list[float]:
    """Prices of the parts at which no pack on sale is worth more than it costs."""
    packs = [
        (contents, steps[-1][1])
        for place, (contents, steps) in enumerate(
            zip(zip(*shelf.columns, strict=True), shelf.steps, strict=True)
        )
        if place != without
    ]
    dearest = float(max([price for _, price in packs], default=0)) or 1.0
    rows = [
        [*[held / need for held, need in zip(contents, needs, strict=True)], price / dearest]
        for contents, price in packs
    ]
    if not rows:
        return [0.0] * len(needs)
    shares = greatest_prices(rows, [1.0] * len(needs))
    return [share * dearest / need for share, need in zip(shares, needs, strict=True)]


def _bound(shelf: _Shelf, needs: tuple[int, ...]) -> Decimal:
    """What no cover costs less than, by linear programming."""
    prices = _fair_prices(shelf, needs)
    least = sum([price * need for price, need in zip(prices, needs, strict=True)])
    return Decimal(int(least * (1.0 - NOISE))) / shelf.scale


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
    own = digits * len(prices)
    room = _shift(contained, digits) - digits - own
    weights = []
    for place, (price, amount) in enumerate(zip(prices, contained, strict=True), start=1):
        shared = (((price << room) + amount) << digits) + 1
        weights.append((shared << own) - (1 << own - place * digits))
    return tuple(weights)


def _shift(contained: tuple[int, ...], digits: int) -> int:
    """How far up the price stands in a weight."""
    return digits + max(contained).bit_length() + digits + digits * len(contained)


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
    at_least: Decimal | None = None,
) -> Cover:
    bought = [(one, count) for one, count in zip(options, counts, strict=True) if count]
    left = [held - amount for amount, held in zip(need, stock, strict=True)]
    for one, count in bought:
        left = [over + count * held for over, held in zip(left, one.contents, strict=True)]
    return Cover(
        counts=tuple([(one.id, count) for one, count in bought]),
        cost=sum([one.each(count) * count for one, count in bought], Decimal(0)),
        surplus=tuple([max(0.0, over) for over in left]),
        proven=proven,
        at_least=at_least,
    )
