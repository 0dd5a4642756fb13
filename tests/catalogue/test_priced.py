"""One price sought among a pack's rows, beside the lists of the whole catalogue."""

from datetime import date
from types import SimpleNamespace
from typing import cast

from hypothesis import given
from hypothesis import strategies as st

from filmbuild.catalogue.priced import FEW_ROWS, HeldPrices, PriceBook, by_pack
from filmbuild.catalogue.pricing import in_force, price_lists
from filmbuild.catalogue.store import PriceRow
from filmbuild.money import Exact
from filmbuild.pipeline.specification import Pack

PACKS = cast("dict[str, Pack]", dict.fromkeys(("pail", "kit"), SimpleNamespace()))
DATES = [date(2030, 1, day) for day in range(1, 9)]
rows = st.builds(
    PriceRow,
    pack=st.sampled_from(sorted(PACKS)),
    currency=st.sampled_from(("USD", "EUR")),
    effective_from=st.sampled_from(DATES),
    revision=st.just(1),
    amount=st.none() | st.integers(1, 999).map(Exact),
    tier=st.sampled_from(("", "trade", "member")),
)


@given(found=st.lists(rows, max_size=8) | st.lists(rows, min_size=100, max_size=140))
def test_it_is_the_price_of_the_list(found: list[PriceRow]) -> None:
    """By the other way: every list made, and the rule asked of it; few rows a pack, and many."""
    lists = price_lists(PACKS, found)
    held = HeldPrices(PriceBook({}, by_pack(found)))
    for asked in found:
        dated = lists[asked.currency].tiers.get(asked.tier, {}).get(asked.pack, {})
        for day in DATES:
            since = in_force(dated, day)
            row = held.on(asked.pack, asked.currency, asked.tier, day)
            assert (row and row.effective_from) == since
            assert row is None or (since and row.amount == dated[since].amount)


def test_many_rows_are_more_than_few() -> None:
    """The property above is of both ways: two packs, and at most 48 keys each."""
    assert 8 < FEW_ROWS < 2 * 3 * len(DATES)
    assert HeldPrices(PriceBook({}, {})).on("pail", "USD", "", DATES[0]) is None
