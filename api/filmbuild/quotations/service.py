"""What sellers do with quotations: draft, issue, withdraw, revise, change and read them."""

from collections.abc import Callable, Mapping
from datetime import UTC, datetime, timedelta
from typing import Any, NamedTuple
from zoneinfo import ZoneInfo

import msgspec
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild import idempotency
from filmbuild.db import Database
from filmbuild.edge import paging
from filmbuild.edge.operations import Caller
from filmbuild.edge.paging import PageQuery
from filmbuild.edge.preconditions import check_match
from filmbuild.errors import Conflict, Fault, NotFound
from filmbuild.idempotency import KeptAnswer, RequestKey
from filmbuild.organisations.service import profile_of
from filmbuild.quotations import moves, records, store, tokens
from filmbuild.quotations.changing import agreed_before, change_order
from filmbuild.quotations.drafting import Drafting, end_of
from filmbuild.quotations.moves import Step
from filmbuild.quotations.numbers import QUOTATIONS, take_number
from filmbuild.quotations.records import Shown
from filmbuild.quotations.states import check_move, in_the_way
from filmbuild.quotations.store import Position, StoredQuotation
from filmbuild.quotations.wire import (
    ChangeOrderRequest,
    QuotationHistoryPage,
    QuotationPage,
    QuotationQuery,
    QuotationRequest,
)

CREATED = 201
OFFERS = "/v1/offers"
_EXPIRED_AT_ONCE = 100


def utc_now() -> datetime:
    return datetime.now(UTC)


class Answered(NamedTuple):
    """A quotation as its seller is answered, with its ETag."""

    id: str
    content: bytes
    tag: str


class QuotationService:
    def __init__(
        self, database: Database, drafting: Drafting, clock: Callable[[], datetime] = utc_now
    ) -> None:
        self._database = database
        self._drafting = drafting
        self._clock = clock

    async def create(
        self, caller: Caller, request: QuotationRequest, key: RequestKey | None
    ) -> Answered:
        """Raises InvalidInput and IdempotencyKeyReused."""
        if key is not None and (earlier := await self._earlier(caller, key)):
            return earlier
        now = self._clock()
        draft = await self._drafting.offer(caller.organisation, request, now)
        async with self._database.writer(caller.organisation) as connection:
            return await self._begin(connection, caller, draft, key, {})

    async def revise(
        self, caller: Caller, name: str, request: QuotationRequest, key: RequestKey | None
    ) -> Answered:
        """A draft that will take the place of an issued quotation. Raises Conflict too."""
        if key is not None and (earlier := await self._earlier(caller, key)):
            return earlier
        now = self._clock()
        old = await self.load(caller.organisation, name)
        _check_revisable(old)
        draft = await self._drafting.offer(caller.organisation, request, now)
        draft = msgspec.structs.replace(draft, supersedes=old.id)
        async with self._database.writer(caller.organisation) as connection:
            _check_revisable(await _locked(connection, caller.organisation, name))
            return await self._begin(connection, caller, draft, key, {"supersedes": old.id})

    async def change(
        self, caller: Caller, name: str, request: ChangeOrderRequest, key: RequestKey | None
    ) -> Answered:
        """A draft of a change order to an accepted quotation. Raises Conflict too."""
        if key is not None and (earlier := await self._earlier(caller, key)):
            return earlier
        now, organisation = self._clock(), caller.organisation
        await self._settle_all(organisation, now)
        async with self._database.reader(organisation) as connection:
            original = _found(await store.get_quotation(connection, organisation, name))
            _check_changeable(original)
            changes = await store.changes_of(connection, organisation, name)
        agreed = agreed_before(original, changes)
        draft = await change_order(self._drafting, organisation, original, agreed, request, now)
        async with self._database.writer(caller.organisation) as connection:
            _check_changeable(await _locked(connection, organisation, name))
            changes = await store.changes_of(connection, organisation, name)
            if agreed_before(original, changes).of != agreed.of:
                raise Conflict("The offer has been changed by another request.")
            detail = {"changes": name, "starts_from": agreed.of}
            return await self._begin(connection, caller, draft, key, detail)

    async def issue(self, caller: Caller, name: str, headers: Mapping[str, str]) -> Answered:
        """Fixes the content for ever, under the next number. Raises Conflict."""
        now, organisation = self._clock(), caller.organisation
        async with self._database.writer(organisation) as connection:
            draft = await _locked(connection, organisation, name)
            check_match(headers, records.tag_of(draft))
            check_move(draft.state, "issued")
            if draft.supersedes is not None:
                old = await _locked(connection, organisation, draft.supersedes)
                step = Step(kind="superseded", at=now, actor=caller.actor, detail={"by": draft.id})
                await moves.take(connection, organisation, old, step, "superseded")
            issued = await _issue(connection, caller, draft, now)
            return await self._answer(connection, organisation, issued)

    async def withdraw(
        self, caller: Caller, name: str, reason: str | None, headers: Mapping[str, str]
    ) -> Answered:
        """Raises Conflict where the quotation is not a draft nor open."""
        now, organisation = self._clock(), caller.organisation
        await self._settle(organisation, name, now)
        async with self._database.writer(organisation) as connection:
            found = await _locked(connection, organisation, name)
            check_match(headers, records.tag_of(found))
            step = Step(kind="withdrawn", at=now, actor=caller.actor, detail={"reason": reason})
            gone = await moves.take(connection, organisation, found, step, "withdrawn")
            return await self._answer(connection, organisation, gone)

    async def renew_link(self, caller: Caller, name: str, headers: Mapping[str, str]) -> Answered:
        """A new link for the customer; the old one leads nowhere any more."""
        now, organisation = self._clock(), caller.organisation
        await self._settle(organisation, name, now)
        async with self._database.writer(organisation) as connection:
            found = await _locked(connection, organisation, name)
            check_match(headers, records.tag_of(found))
            if found.nonce is None:
                raise in_the_way(found.state)
            step = Step(kind="link-renewed", at=now, actor=caller.actor)
            renewed = await moves.take(
                connection, organisation, found, step, nonce=tokens.new_nonce()
            )
            return await self._answer(connection, organisation, renewed)

    async def get(self, organisation: str, name: str) -> Answered:
        """Raises NotFound."""
        await self._settle(organisation, name, self._clock())
        async with self._database.reader(organisation) as connection:
            found = _found(await store.get_quotation(connection, organisation, name))
            return await self._answer(connection, organisation, found)

    async def show(self, organisation: str, name: str) -> Shown:
        """What documents are made of. Raises NotFound."""
        await self._settle(organisation, name, self._clock())
        async with self._database.reader(organisation) as connection:
            found = _found(await store.get_quotation(connection, organisation, name))
            return records.shown(found, await link_of(connection, organisation, found))

    async def load(self, organisation: str, name: str) -> StoredQuotation:
        """Raises NotFound."""
        await self._settle(organisation, name, self._clock())
        async with self._database.reader(organisation) as connection:
            return _found(await store.get_quotation(connection, organisation, name))

    async def history(
        self, organisation: str, name: str, query: PageQuery, path: str
    ) -> QuotationHistoryPage:
        """Raises NotFound."""
        await self._settle(organisation, name, self._clock())
        after = paging.after_number(query, path) or 0
        async with self._database.reader(organisation) as connection:
            _found(await store.get_quotation(connection, organisation, name))
            steps = await store.steps_of(connection, organisation, name, after, query.limit + 1)
        page = steps[: query.limit]
        more = len(steps) > query.limit
        return QuotationHistoryPage(
            items=tuple(records.step_of(one) for one in page),
            next=paging.cursor(query, path, str(page[-1].position)) if more else None,
        )

    async def find(self, organisation: str, query: QuotationQuery, path: str) -> QuotationPage:
        await self._settle_all(organisation, self._clock())
        after = paging.after_moment(query, path, Position)
        async with self._database.reader(organisation) as connection:
            found, more = await store.page_of_quotations(
                connection, organisation, query.state, after, query.limit
            )
        last = f"{found[-1].created_at.isoformat()} {found[-1].id}" if more else None
        return QuotationPage(
            items=tuple(records.listed(one) for one in found),
            next=None if last is None else paging.cursor(query, path, last),
        )

    async def _begin(
        self,
        connection: AsyncConnection,
        caller: Caller,
        draft: StoredQuotation,
        key: RequestKey | None,
        detail: dict[str, Any],
    ) -> Answered:
        now, organisation = draft.created_at, caller.organisation
        if key is not None:
            if known := await idempotency.find(connection, key, now):
                return await self._repeat(connection, organisation, known)
            kept = KeptAnswer(status=CREATED, resource=draft.id)
            await idempotency.keep(connection, key, kept, now)
        step = Step(kind="drafted", at=now, actor=caller.actor, detail=detail)
        await moves.begin(connection, organisation, draft, step)
        return await self._answer(connection, organisation, draft)

    async def _earlier(self, caller: Caller, key: RequestKey) -> Answered | None:
        async with self._database.reader(caller.organisation) as connection:
            known = await idempotency.find(connection, key, self._clock())
            if known is None:
                return None
            return await self._repeat(connection, caller.organisation, known)

    async def _repeat(
        self, connection: AsyncConnection, organisation: str, known: KeptAnswer
    ) -> Answered:
        found = await store.get_quotation(connection, organisation, known.resource)
        if found is None:
            raise RuntimeError(f"the key of quotation {known.resource} outlived it")
        return await self._answer(connection, organisation, found)

    async def _answer(
        self, connection: AsyncConnection, organisation: str, found: StoredQuotation
    ) -> Answered:
        link = await link_of(connection, organisation, found)
        newer = None
        if found.state == "superseded":
            newer = await store.superseding(connection, organisation, found.id)
        content = records.for_the_seller(found, link, newer)
        return Answered(found.id, content, records.tag_of(found))

    async def _settle(self, organisation: str, name: str, now: datetime) -> None:
        """Records that the last day has passed, where nobody has met it yet."""
        async with self._database.reader(organisation) as connection:
            found = await store.get_summary(connection, organisation, name)
        if found is not None and moves.is_overdue(found, now):
            async with self._database.writer(organisation) as connection:
                await moves.expire(connection, organisation, name, now)

    async def _settle_all(self, organisation: str, now: datetime) -> None:
        """Some at a time, so that no transaction grows with what was left lying."""
        while True:
            async with self._database.reader(organisation) as connection:
                due = await store.overdue(connection, organisation, now, _EXPIRED_AT_ONCE)
            if not due:
                return
            async with self._database.writer(organisation) as connection:
                for name in due:
                    await moves.expire(connection, organisation, name, now)


async def link_of(
    connection: AsyncConnection, organisation: str, found: StoredQuotation
) -> str | None:
    """The path that the customer is given; None before the quotation is issued."""
    secret = await tokens.find_secret(connection, organisation)
    if found.nonce is None or found.digest is None or secret is None:
        return None
    link = tokens.OfferLink(organisation, found.id, found.nonce, found.digest)
    return f"{OFFERS}/{tokens.sign(secret, link)}"


async def _issue(
    connection: AsyncConnection, caller: Caller, draft: StoredQuotation, now: datetime
) -> StoredQuotation:
    organisation = caller.organisation
    shown = msgspec.json.decode(draft.content)
    today = now.astimezone(ZoneInfo(shown["time_zone"])).date()
    valid = draft.valid_until
    if draft.valid_days is not None:
        valid = today + timedelta(days=draft.valid_days)
    if valid < today:
        detail = f"The offer would be open until {valid}, which has passed; make a new draft."
        raise Conflict(detail, (Fault("", "validity-passed", detail),))
    profile = await profile_of(connection, organisation)
    taken = await take_number(connection, organisation, QUOTATIONS, profile.first_number)
    number = f"{profile.number_prefix}{taken:0{profile.number_digits}d}"
    shown |= {"number": number, "issued_on": today, "valid_until": valid}
    content = msgspec.json.encode(shown).decode()
    await tokens.make_secret(connection, organisation, now)
    step = Step(
        kind="issued",
        at=now,
        actor=caller.actor,
        detail={"number": number, "valid_until": valid, "digest": tokens.digest_of(content)},
    )
    return await moves.take(
        connection,
        organisation,
        draft,
        step,
        "issued",
        number=number,
        issued_at=now,
        valid_until=valid,
        expires_at=end_of(valid, shown["time_zone"]),
        nonce=tokens.new_nonce(),
        digest=tokens.digest_of(content),
        content=content,
    )


async def _locked(connection: AsyncConnection, organisation: str, name: str) -> StoredQuotation:
    return _found(await store.get_quotation(connection, organisation, name, lock=True))


def _found(quotation: StoredQuotation | None) -> StoredQuotation:
    if quotation is None:
        raise NotFound("No quotation has this id.")
    return quotation


def _check_revisable(old: StoredQuotation) -> None:
    check_move(old.state, "superseded")
    if old.kind == "change_order":
        detail = "A change order is not revised: withdraw it, and make another."
        raise Conflict(detail, (Fault("", "change-order", detail),))


def _check_changeable(original: StoredQuotation) -> None:
    if original.kind == "change_order":
        detail = "Change orders are made against the quotation that was accepted first."
        raise Conflict(detail, (Fault("", "change-order", detail),))
    if original.state != "accepted":
        raise in_the_way(original.state)
