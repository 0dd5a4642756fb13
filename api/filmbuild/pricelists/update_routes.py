"""The operations that change many prices at once, and tell what was changed."""

from collections.abc import AsyncIterator, Awaitable, Callable
from typing import Any, TypeVar

import msgspec

from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.db import Database
from filmbuild.edge import paging
from filmbuild.edge.encoding import encode
from filmbuild.edge.operations import (
    Answer,
    AnyOperation,
    Call,
    NoQuery,
    Operation,
    PathParameter,
    Representation,
    Stream,
)
from filmbuild.edge.paging import PageQuery
from filmbuild.errors import Fault, InvalidInput, NotFound
from filmbuild.idempotency import IDEMPOTENCY_KEY, request_key
from filmbuild.pricelists import answers, asking, store
from filmbuild.pricelists.amounts import day_of
from filmbuild.pricelists.entries import MOST_ROWS
from filmbuild.pricelists.received import FORMATS, LARGEST_BODY_BYTES, Received, format_of
from filmbuild.pricelists.routes import TAG, today
from filmbuild.pricelists.service import CREATED, Asked, PriceService
from filmbuild.pricelists.store import BroughtPrice, Key, StoredUpdate
from filmbuild.pricelists.wire import (
    CheckedUpdate,
    PriceChangePage,
    PriceFormula,
    PriceUpdate,
    PriceUpdatePage,
    UpdateQuery,
)

UPDATES = "/v1/price-updates"
FORMULAS = "/v1/price-formulas"
CSV = "text/csv; charset=utf-8; header=present"
OK = 200
B = TypeVar("B")
Q = TypeVar("Q")
_ID = PathParameter("update_id", "The update's `id`.", "^pru_[0-9a-z]{26}$")
_LOCATION = {"Location": "Where the update is kept; absent where it was only checked."}
_TABLE_PAGE = 1_000
_CHECKED = (
    "With `check_only` nothing is written: the answer has status 200, every fault is in its "
    "`differences`, and every price that would change stands there with what it was."
)
_ALL_OR_NONE = (
    "All prices are written or none, as one revision of the catalogue, with who made it and when; "
    "where nothing differs none is made. Earlier revisions give the prices that they always gave."
)


class PriceUpdateHandlers:
    """What the operations do; each is a few lines around the service."""

    def __init__(self, database: Database, service: PriceService) -> None:
        self._database = database
        self._service = service

    async def update(self, call: Call[Stream, UpdateQuery]) -> Answer:
        form = format_of(call.headers.get("content-type", ""))
        received = Received()
        try:
            await received.take_in(call.body.pieces)
            query = msgspec.json.encode(call.query, enc_hook=str)
            said = f"POST {UPDATES} {form.placed} {query.decode()}"
            key = request_key(call.headers, call.caller, said, received.digest)
            asked = asking.of_rows(received, form, call.query, today(), key)
            return await self._answer(call, asked, call.query.check_only)
        finally:
            received.close()

    async def formula(self, call: Call[PriceFormula, NoQuery]) -> Answer:
        key = request_key(call.headers, call.caller, f"POST {FORMULAS}", call.content)
        asked = asking.of_formula(call.body, today(), key)
        return await self._answer(call, asked, call.body.check_only)

    async def undo(self, call: Call[None, NoQuery]) -> Answer:
        """An update that has been undone is undone already."""
        organisation, name = call.caller.organisation, call.path["update_id"]
        update = await self._found(organisation, name)
        if update.revision is None:
            detail = "The update changed nothing, so there is nothing to undo."
            raise InvalidInput(detail, (Fault("", "nothing-to-undo", detail),))
        async with self._database.reader(organisation) as connection:
            earlier = await store.undone_by(connection, organisation, name)
        if earlier is not None:
            return Answer(answers.made(earlier), (_location(earlier.id),), OK)
        key = request_key(call.headers, call.caller, f"POST {UPDATES}/{name}/undo", b"")
        asked = asking.of_undoing(self._database, update, update.revision, key)
        return await self._answer(call, asked, check_only=False)

    async def get(self, call: Call[None, NoQuery]) -> Answer:
        organisation, name = call.caller.organisation, call.path["update_id"]
        update = await self._found(organisation, name)
        return Answer(encode((await self._shown(organisation, (update,)))[0], "us"))

    async def find(self, call: Call[None, PageQuery]) -> Answer:
        organisation, query = call.caller.organisation, call.query
        after = paging.after_moment(query, UPDATES, store.Position)
        async with self._database.reader(organisation) as connection:
            found, more = await store.page_of_updates(connection, organisation, after, query.limit)
        following = None
        if more:
            last = f"{found[-1].created_at.isoformat()} {found[-1].id}"
            following = paging.cursor(query, UPDATES, last)
        page = PriceUpdatePage(items=await self._shown(organisation, found), next=following)
        return Answer(encode(page, "us"), paging.link(query, UPDATES, following))

    async def changes(self, call: Call[None, PageQuery]) -> Answer:
        organisation, query, name = call.caller.organisation, call.query, call.path["update_id"]
        update = await self._found(organisation, name)
        path = f"{UPDATES}/{name}/changes"
        after = _key(paging.after(query, path))
        found: list[BroughtPrice] = []
        if update.revision is not None:
            async with self._database.reader(organisation) as connection:
                found = await store.brought(
                    connection, organisation, update.revision, after, query.limit + 1
                )
        items = found[: query.limit]
        following = None
        if len(found) > query.limit:
            following = paging.cursor(query, path, " ".join(map(str, items[-1].key)))
        page = PriceChangePage(items=tuple(map(answers.change_of, items)), next=following)
        return Answer(encode(page, "us"), paging.link(query, path, following))

    async def changes_table(self, call: Call[None, PageQuery]) -> Answer:
        organisation = call.caller.organisation
        update = await self._found(organisation, call.path["update_id"])
        return Answer(pieces=answers.changes_table(self._pages(organisation, update.revision)))

    async def _pages(
        self, organisation: str, revision: int | None
    ) -> AsyncIterator[list[BroughtPrice]]:
        """A transaction each: none is held open for as long as a caller takes to read."""
        after = None
        while revision is not None:
            async with self._database.reader(organisation) as connection:
                page = await store.brought(connection, organisation, revision, after, _TABLE_PAGE)
            if not page:
                return
            yield page
            after = page[-1].key

    async def _answer(self, call: Call[Any, Any], asked: Asked, check_only: bool) -> Answer:
        if check_only:
            preview = await self._service.preview(asked, call.caller)
            if call.media_type == CSV:
                return Answer(pieces=answers.previewed_table(preview), status=OK)
            return Answer(pieces=answers.previewed(preview), status=OK)
        done = await self._service.earlier(asked.key)
        if done is None:
            done = await self._service.carry_out(asked, call.caller, answers.made)
        made = msgspec.json.decode(done, type=_Made)
        location = (_location(made.id),)
        if call.media_type == CSV:
            pages = self._pages(call.caller.organisation, made.revision)
            return Answer(b"", location, CREATED, answers.changes_table(pages))
        return Answer(done, location, CREATED)

    async def _found(self, organisation: str, name: str) -> StoredUpdate:
        async with self._database.reader(organisation) as connection:
            found = await store.find_update(connection, organisation, name)
        if found is None:
            raise NotFound("No price update has this id.")
        return found

    async def _shown(
        self, organisation: str, found: tuple[StoredUpdate, ...]
    ) -> tuple[PriceUpdate, ...]:
        async with self._database.reader(organisation) as connection:
            undone = [await store.undone_by(connection, organisation, one.id) for one in found]
        return tuple(
            answers.update_of(one, by.id if by is not None else None)
            for one, by in zip(found, undone, strict=True)
        )


class _Made(msgspec.Struct):
    id: str
    revision: int | None


def price_update_operations(
    database: Database, snapshots: CatalogueSnapshots
) -> tuple[AnyOperation, ...]:
    handlers = PriceUpdateHandlers(database, PriceService(database, snapshots))
    return (*_writing(handlers), *_history(handlers))


def _writing(handlers: PriceUpdateHandlers) -> tuple[AnyOperation, ...]:
    return (
        Operation(
            method="POST",
            path=UPDATES,
            id="updatePrices",
            cost=20,
            tag=TAG,
            summary="Change many prices at once, from a file",
            description=f"Up to {MOST_ROWS} rows as CSV whose first line names the columns, as "
            "one JSON object a line, or as a JSON array of objects. A row has `pack` and `amount`, "
            "and may have `currency`, `tier`, `effective_from` and `breaks`, which otherwise are "
            "those of the query; an empty cell is left out. Breaks are written "
            '"4:955.00 10:915.00" in CSV, and in JSON as a list of objects with `from_packs` and '
            "`amount`; a price whose row has none has none, whatever the price before it had. "
            f"Every faulty row is reported at once, by its line.\n\n{_ALL_OR_NONE}\n\n{_CHECKED}",
            handler=handlers.update,
            query=UpdateQuery,
            body=Stream,
            body_media_types=tuple(FORMATS),
            body_limit=LARGEST_BODY_BYTES,
            status=CREATED,
            other_statuses=(OK,),
            answer=CheckedUpdate,
            failures=("malformed", "conflict", "unavailable"),
            headers=(IDEMPOTENCY_KEY,),
            answer_headers=_LOCATION,
            representations=(_differences_table(handlers.update),),
        ),
        Operation(
            method="POST",
            path=FORMULAS,
            id="applyPriceFormula",
            cost=20,
            tag=TAG,
            summary="Change many prices at once, by a formula",
            description="From the prices that hold on `effective_from` in one list, by a "
            f"percentage or an amount, rounded.\n\n{_ALL_OR_NONE}\n\n{_CHECKED}",
            handler=handlers.formula,
            query=NoQuery,
            body=PriceFormula,
            status=CREATED,
            other_statuses=(OK,),
            answer=CheckedUpdate,
            failures=("conflict", "unavailable"),
            headers=(IDEMPOTENCY_KEY,),
            answer_headers=_LOCATION,
            representations=(_differences_table(handlers.formula),),
        ),
        Operation(
            method="POST",
            path=UPDATES + "/{update_id}/undo",
            id="undoPriceUpdate",
            cost=20,
            tag=TAG,
            summary="Take a whole update back",
            description="Makes a revision in which every price of the update is again what it was "
            "before, and one that was new is withdrawn. Prices that later updates changed again "
            "stand in the way: then nothing is undone, and `errors` name them. An update that "
            "has been undone is answered with the update that undid it, with status 200; an "
            "undoing can be undone too.",
            handler=handlers.undo,
            query=NoQuery,
            status=CREATED,
            other_statuses=(OK,),
            answer=CheckedUpdate,
            failures=("missing", "conflict", "unavailable"),
            headers=(IDEMPOTENCY_KEY,),
            answer_headers=_LOCATION,
            path_parameters=(_ID,),
        ),
    )


def _differences_table(handler: Callable[[Call[B, Q]], Awaitable[Answer]]) -> Representation[B, Q]:
    return Representation(
        media_type=CSV,
        summary="The differences of a check as a table",
        description="Of a check: a line for each price that would change and for each fault, with "
        "its line in the file (RFC 4180). Of an update that is carried out: its changes.",
        handler=handler,
    )


def _history(handlers: PriceUpdateHandlers) -> tuple[AnyOperation, ...]:
    return (
        Operation(
            method="GET",
            path=UPDATES,
            id="listPriceUpdates",
            tag=TAG,
            summary="All price updates, newest first",
            description="Each with who made it, when, the revision it made and what it counted.",
            handler=handlers.find,
            query=PageQuery,
            answer=PriceUpdatePage,
            answer_headers={"Link": paging.LINK},
        ),
        Operation(
            method="GET",
            path=UPDATES + "/{update_id}",
            id="getPriceUpdate",
            tag=TAG,
            summary="One price update",
            description="Its `changes` are at a path of their own.",
            handler=handlers.get,
            query=NoQuery,
            answer=PriceUpdate,
            failures=("missing",),
            path_parameters=(_ID,),
        ),
        Operation(
            method="GET",
            path=UPDATES + "/{update_id}/changes",
            id="listPriceChanges",
            tag=TAG,
            summary="What a price update changed",
            description="Each price with what it was, in order of pack, currency, tier and day.",
            handler=handlers.changes,
            query=PageQuery,
            answer=PriceChangePage,
            failures=("missing",),
            path_parameters=(_ID,),
            answer_headers={"Link": paging.LINK},
            representations=(
                Representation(
                    media_type=CSV,
                    summary="All changes as one table",
                    description="A line for each price (RFC 4180), not paged.",
                    handler=handlers.changes_table,
                ),
            ),
        ),
    )


def _location(name: str) -> tuple[str, str]:
    return "location", f"{UPDATES}/{name}"


def _key(after: str | None) -> Key | None:
    """None of its parts has a space in it."""
    if after is None:
        return None
    match after.split(" "):
        case pack, currency, tier, text if "\0" not in after and (day := day_of(text)):
            return Key(pack, currency, tier, day)
    raise paging.not_a_cursor()
