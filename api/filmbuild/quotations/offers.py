"""What customers do with an offer through its link: read it, accept it, decline it."""

from collections.abc import Callable
from datetime import datetime
from typing import NamedTuple

import msgspec
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.db import Database
from filmbuild.edge.encoding import encode
from filmbuild.errors import Conflict, Fault, InvalidInput
from filmbuild.estimates import store as estimates
from filmbuild.money import Exact, Money, MoneyError, parse_currency, parse_exact
from filmbuild.pipeline.offering import with_options
from filmbuild.quotations import moves, records, store, tokens
from filmbuild.quotations.content import Alternate, Decision, QuotationContent
from filmbuild.quotations.moves import THE_CUSTOMER, Step
from filmbuild.quotations.offer_wire import Acceptance, AcceptanceForm, Refusal
from filmbuild.quotations.records import Shown
from filmbuild.quotations.service import OFFERS, utc_now
from filmbuild.quotations.states import in_the_way
from filmbuild.quotations.store import StoredQuotation


class OtherTotal(Conflict):
    """The customer saw another total than what is chosen comes to."""


class _Reached(NamedTuple):
    """The quotation that a link leads to, and whose it is."""

    organisation: str
    quotation: StoredQuotation


class OfferService:
    """Everything here raises NotFound, and nothing more telling, where the link is not good."""

    def __init__(self, database: Database, clock: Callable[[], datetime] = utc_now) -> None:
        self._database = database
        self._clock = clock

    async def get(self, token: str) -> bytes:
        reached = await self._reach(token)
        return records.for_the_customer(reached.quotation)

    async def show(self, token: str) -> Shown:
        """What documents for the customer are made of."""
        reached = await self._reach(token)
        return records.shown(reached.quotation, f"{OFFERS}/{token}")

    async def accept(self, token: str, given: Acceptance) -> bytes:
        """Raises InvalidInput, and Conflict where the offer is not open or was another."""
        reached = await self._reach(token)
        content = records.shown_content(reached.quotation)
        chosen = alternate_of(content, given.alternate)
        total = total_of(chosen, given.options)
        now = self._clock()
        decision = Decision(
            kind="accepted",
            name=given.name,
            at=now,
            alternate=given.alternate,
            options=_in_order(chosen, given.options),
            total=total,
        )
        async with self._database.writer(reached.organisation) as connection:
            _, found = await _locked(connection, token)
            if found.decision is not None:
                return _told_again(found, decision)
            _check_open(found, now)
            if given.total != total:
                raise _other_total(given.total, total)
            accepted = await _decide(connection, reached.organisation, found, decision)
            await estimates.mark_accepted(
                connection, reached.organisation, chosen.estimate, chosen.estimate_revision
            )
        return records.for_the_customer(accepted)

    async def decline(self, token: str, given: Refusal) -> bytes:
        """Raises Conflict where the offer is not open."""
        reached = await self._reach(token)
        now = self._clock()
        decision = Decision(kind="declined", name=given.name, at=now, reason=given.reason)
        async with self._database.writer(reached.organisation) as connection:
            _, found = await _locked(connection, token)
            if found.decision is not None:
                return _told_again(found, decision)
            _check_open(found, now)
            declined = await _decide(connection, reached.organisation, found, decision)
        return records.for_the_customer(declined)

    async def read_form(self, token: str, form: AcceptanceForm) -> Acceptance | None:
        """None where the form says no total yet: the customer is to see it first.

        An amount alone is in the offer's currency. Raises InvalidInput.
        """
        content = (await self.show(token)).content
        alternate = form.alternate
        if alternate is None and len(content.alternates) == 1:
            alternate = content.alternates[0].id
        chosen = alternate_of(content, alternate)
        total_of(chosen, form.options)
        if form.total is None:
            return None
        total = _money(form.total, content.currency)
        return Acceptance(name=form.name, alternate=chosen.id, options=form.options, total=total)

    async def _reach(self, token: str) -> _Reached:
        """Where the last day has passed and nobody has met it yet, it is recorded."""
        now = self._clock()
        organisation = tokens.claimed(token).organisation
        async with self._database.reader(organisation) as connection:
            _, found = await _linked(connection, token)
        if moves.is_overdue(found, now):
            async with self._database.writer(organisation) as connection:
                expired = await moves.expire(connection, organisation, found.id, now)
            found = expired or found
        return _Reached(organisation, found)


def alternate_of(content: QuotationContent, name: str | None) -> Alternate:
    """Raises InvalidInput."""
    for one in content.alternates:
        if one.id == name:
            return one
    known = ", ".join(one.id for one in content.alternates)
    fault = Fault("/alternate", "unknown-alternate", f"accepted: one of {known}")
    raise InvalidInput("The request is not valid.", (fault,))


def total_of(alternate: Alternate, options: tuple[str, ...]) -> Money:
    """Raises InvalidInput where an option is not of this alternate, or ticked twice."""
    return with_options(alternate.offer, options).total


def _money(text: str, currency: str) -> Money:
    """Raises InvalidInput."""
    amount, _, named = text.partition(" ")
    try:
        return Money(parse_exact(Exact, amount), parse_currency(named or currency))
    except MoneyError as refusal:
        fault = Fault("/total", refusal.code, refusal.detail)
        raise InvalidInput("The request is not valid.", (fault,)) from refusal


def _in_order(alternate: Alternate, options: tuple[str, ...]) -> tuple[str, ...]:
    """As the offer has them, so that ticking them in another order is the same decision."""
    return tuple(one.id for one in alternate.offer.options if one.id in options)


async def _linked(
    connection: AsyncConnection, token: str, *, lock: bool = False
) -> tuple[str, StoredQuotation]:
    """A good link has our signature, and is that of the last issue of this very content."""
    link = tokens.claimed(token)
    secret = await tokens.find_secret(connection, link.organisation)
    tokens.check_signature(secret, token, link)
    found = await store.get_quotation(connection, link.organisation, link.quotation, lock=lock)
    if found is None or (found.nonce, found.digest) != (link.nonce, link.digest):
        raise tokens.no_such_link()
    return link.organisation, found


async def _locked(connection: AsyncConnection, token: str) -> tuple[str, StoredQuotation]:
    return await _linked(connection, token, lock=True)


async def _decide(
    connection: AsyncConnection, organisation: str, found: StoredQuotation, decision: Decision
) -> StoredQuotation:
    detail = {
        name: value
        for name, value in msgspec.structs.asdict(decision).items()
        if name not in ("kind", "at") and value not in (None, ())
    }
    step = Step(kind=decision.kind, at=decision.at, actor=THE_CUSTOMER, detail=detail)
    changes: dict[str, object] = {"decision": encode(decision, "us").decode()}
    if decision.total is not None:
        changes["total"] = Exact(decision.total.amount)
    return await moves.take(connection, organisation, found, step, decision.kind, **changes)


def _told_again(found: StoredQuotation, decision: Decision) -> bytes:
    """A form that is sent twice is one decision; another decision comes too late."""
    earlier = records.decision_of(found)
    if earlier is None or msgspec.structs.replace(decision, at=earlier.at) != earlier:
        raise in_the_way(found.state)
    return records.for_the_customer(found)


def _check_open(found: StoredQuotation, now: datetime) -> None:
    if found.state != "issued":
        raise in_the_way(found.state)
    if moves.is_overdue(found, now):
        raise in_the_way("expired")


def _other_total(given: Money, total: Money) -> OtherTotal:
    detail = (
        f"The total of what is chosen is {total.amount} {total.currency}, and not "
        f"{given.amount} {given.currency}; read the offer again."
    )
    return OtherTotal(detail, (Fault("/total", "other-total", detail),))
