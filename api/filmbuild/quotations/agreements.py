"""What customers have agreed to, for those who invoice it."""

from collections.abc import Iterator, Sequence

from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.errors import NotFound
from filmbuild.quotations import records, store
from filmbuild.quotations.accepted import AcceptedQuotation
from filmbuild.quotations.states import in_the_way
from filmbuild.quotations.store import StoredQuotation


class Agreements:
    """Accepted quotations, read in the caller's transaction: what is accepted stays so."""

    async def accepted(
        self, connection: AsyncConnection, organisation: str, quotation: str
    ) -> AcceptedQuotation:
        """Raises NotFound, and Conflict for a quotation in another state."""
        found = await store.get_quotation(connection, organisation, quotation)
        if found is None:
            raise NotFound("No quotation has this id.")
        return _agreed(found)

    async def change_orders(
        self, connection: AsyncConnection, organisation: str, quotation: str
    ) -> Sequence[AcceptedQuotation]:
        """Those to this quotation that were accepted, each after the one that it starts from."""
        found = await store.changes_of(connection, organisation, quotation)
        return [_agreed(one) for one in _in_order(quotation, found)]


def _in_order(first: str, changes: Sequence[StoredQuotation]) -> Iterator[StoredQuotation]:
    following = {one.starts_from: one for one in changes if one.state == "accepted"}
    last = following.get(first)
    while last is not None:
        yield last
        last = following.get(last.id)


def _agreed(found: StoredQuotation) -> AcceptedQuotation:
    decision = records.decision_of(found)
    if found.state != "accepted" or decision is None:
        raise in_the_way(found.state)
    return AcceptedQuotation(
        id=found.id,
        content=records.shown_content(found),
        decision=decision,
        changes=found.changes,
    )
