"""The one way by which a quotation changes: a lawful move and its step of history, or neither."""

from datetime import datetime
from typing import Any, Literal

import msgspec
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.edge.encoding import encode
from filmbuild.errors import Conflict
from filmbuild.money import Currency, Money
from filmbuild.quotations import store
from filmbuild.quotations.content import QuotationState
from filmbuild.quotations.states import check_move
from filmbuild.quotations.store import StoredQuotation, StoredStep
from filmbuild.webhooks import outbox
from filmbuild.webhooks.events import Event, QuotationEventData

THE_SERVICE = "service"
THE_CUSTOMER = "customer"
StepKind = Literal[
    "drafted",
    "issued",
    "link-renewed",
    "accepted",
    "declined",
    "expired",
    "superseded",
    "withdrawn",
]


class Step(msgspec.Struct, frozen=True, kw_only=True):
    """What happened, who did it and when; `detail` is plain data."""

    kind: StepKind
    at: datetime
    actor: str
    detail: dict[str, Any] = {}


async def begin(
    connection: AsyncConnection, organisation: str, quotation: StoredQuotation, step: Step
) -> None:
    """Stores a new draft with the first step of its history."""
    await store.insert_quotation(connection, organisation, quotation)
    await _write(connection, organisation, quotation, step)


async def take(
    connection: AsyncConnection,
    organisation: str,
    was: StoredQuotation,
    step: Step,
    to: QuotationState | None = None,
    **changes: Any,  # noqa: ANN401 - columns of the quotation, each of its own type
) -> StoredQuotation:
    """The quotation after the step, in the state `to` if there is one.

    Every change of a stored quotation goes through here, whoever makes it. Raises Conflict where
    the move is not lawful, or where the quotation has changed since it was read.
    """
    if to is not None:
        check_move(was.state, to)
        changes["state"] = to
    now = msgspec.structs.replace(was, version=was.version + 1, updated_at=step.at, **changes)
    if not await store.update_quotation(connection, organisation, was, now):
        raise Conflict("The quotation is being changed by another request.")
    await _write(connection, organisation, now, step)
    return now


async def _write(
    connection: AsyncConnection, organisation: str, quotation: StoredQuotation, step: Step
) -> None:
    row = StoredStep(
        position=quotation.version,
        at=step.at,
        actor=step.actor,
        kind=step.kind,
        detail=encode(step.detail, "us").decode(),
    )
    await store.insert_step(connection, organisation, quotation.id, row)
    if step.kind != "link-renewed":
        await outbox.write(connection, organisation, _event(quotation, step))


def _event(quotation: StoredQuotation, step: Step) -> Event:
    data = QuotationEventData(
        id=quotation.id,
        kind=quotation.kind,
        state=quotation.state,
        number=quotation.number,
        total=Money(quotation.total, Currency(quotation.currency)),
        valid_until=quotation.valid_until,
        supersedes=quotation.supersedes,
        changes=quotation.changes,
    )
    return Event(type=f"quotation.{step.kind}", subject=quotation.id, data=data, at=step.at)


def is_overdue(quotation: store.QuotationSummary, now: datetime) -> bool:
    return quotation.state == "issued" and now >= quotation.expires_at


async def expire(
    connection: AsyncConnection, organisation: str, quotation: str, now: datetime
) -> StoredQuotation | None:
    """The quotation as it is after its last day; one that is not overdue stays as it is.

    What has been recorded stays so, even if the clock is set back afterwards.
    """
    found = await store.get_quotation(connection, organisation, quotation, lock=True)
    if found is None or not is_overdue(found, now):
        return found
    detail = {"valid_until": found.valid_until}
    step = Step(kind="expired", at=now, actor=THE_SERVICE, detail=detail)
    return await take(connection, organisation, found, step, "expired")
