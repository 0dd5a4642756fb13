"""The life of a quotation: the one table of its lawful moves."""

from filmbuild.errors import Conflict, Fault
from filmbuild.quotations.content import QuotationState

MOVES: dict[QuotationState, frozenset[QuotationState]] = {
    "draft": frozenset({"issued", "withdrawn"}),
    "issued": frozenset({"accepted", "declined", "expired", "superseded", "withdrawn"}),
    "expired": frozenset({"superseded"}),
    "accepted": frozenset(),
    "declined": frozenset(),
    "superseded": frozenset(),
    "withdrawn": frozenset(),
}
_NOW: dict[QuotationState, str] = {
    "draft": "The quotation is a draft that has not been issued.",
    "issued": "The quotation has been issued, and its customer has not decided yet.",
    "accepted": "The quotation has been accepted.",
    "declined": "The quotation has been declined.",
    "expired": "The quotation is no longer open: its last day has passed.",
    "superseded": "A newer offer has taken the place of this quotation.",
    "withdrawn": "The quotation has been withdrawn.",
}


def is_lawful(now: QuotationState, then: QuotationState) -> bool:
    return then in MOVES[now]


def check_move(now: QuotationState, then: QuotationState) -> None:
    """Raises Conflict, whose fault has a code of its own for each state that is in the way."""
    if not is_lawful(now, then):
        raise in_the_way(now)


def in_the_way(now: QuotationState) -> Conflict:
    return Conflict(_NOW[now], (Fault("", f"quotation-{now}", _NOW[now]),))
