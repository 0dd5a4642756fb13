"""The lawful moves of quotations, every pair of states once."""

from itertools import product
from typing import get_args

import pytest

from filmbuild.errors import Conflict
from filmbuild.quotations.content import QuotationState
from filmbuild.quotations.states import MOVES, check_move, is_lawful

STATES: tuple[QuotationState, ...] = get_args(QuotationState)
LAWFUL: set[tuple[QuotationState, QuotationState]] = {
    ("draft", "issued"),
    ("draft", "withdrawn"),
    ("issued", "accepted"),
    ("issued", "declined"),
    ("issued", "expired"),
    ("issued", "superseded"),
    ("issued", "withdrawn"),
    ("expired", "superseded"),
}


@pytest.mark.parametrize(("now", "then"), list(product(STATES, STATES)))
def test_only_lawful_moves_are_made(now: QuotationState, then: QuotationState) -> None:
    assert is_lawful(now, then) == ((now, then) in LAWFUL)
    if (now, then) in LAWFUL:
        check_move(now, then)
        return
    with pytest.raises(Conflict) as caught:
        check_move(now, then)
    (fault,) = caught.value.faults
    assert (fault.pointer, fault.code) == ("", f"quotation-{now}")


def test_every_state_is_in_the_table_and_can_be_reached() -> None:
    assert set(MOVES) == set(STATES)
    reached: set[QuotationState] = {"draft"}
    for _ in STATES:
        reached |= {then for now in reached for then in MOVES[now]}
    assert reached == set(STATES)


def test_each_state_in_the_way_is_told_in_words_of_its_own() -> None:
    said = set()
    for state in STATES:
        with pytest.raises(Conflict) as caught:
            check_move(state, "draft")
        said.add(caught.value.detail)
    assert len(said) == len(STATES)
