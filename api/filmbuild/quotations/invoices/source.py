"""Accepted quotations, as they are stored, for the invoices that are made of them."""

from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.errors import NotFound
from filmbuild.quotations import records, store
from filmbuild.quotations.accepted import AcceptedQuotation
from filmbuild.quotations.states import in_the_way
from filmbuild.quotations.store import StoredQuotation


class StoredQuotations:
    """What `invoices.service.AcceptedQuotations` asks for."""

    async def accepted(
        self, connection: AsyncConnection, organisation: str, quotation: str
    ) -> AcceptedQuotation:
        """Raises NotFound, and Conflict for a quotation in another state."""
        found = await store.get_quotation(connection, organisation, quotation)
        if found is None:
            raise NotFound("No quotation has this id.")
        return _accepted(found)

    async def change_orders(
        self, connection: AsyncConnection, organisation: str, quotation: str
    ) -> tuple[AcceptedQuotation, ...]:
        """Those that were accepted, in the order in which they were made."""
        found = await store.changes_of(connection, organisation, quotation)
        return tuple(_accepted(one) for one in found if one.state == "accepted")


def _accepted(found: StoredQuotation) -> AcceptedQuotation:
    decision = records.decision_of(found)
    if found.state != "accepted" or decision is None:
        raise in_the_way(found.state)
    return AcceptedQuotation(
        id=found.id,
        content=records.shown_content(found),
        decision=decision,
        changes=found.changes,
    )
