"""The progress of a repricing as server-sent events (WHATWG HTML, section 9.2)."""

import asyncio
from collections.abc import AsyncIterator

from filmbuild.db import Database
from filmbuild.edge.closing import Closing
from filmbuild.edge.encoding import encode
from filmbuild.edge.operations import Header
from filmbuild.errors import Unavailable
from filmbuild.repricing import store
from filmbuild.repricing.answers import answer, estimate_answer
from filmbuild.repricing.records import Repricing

LOOK_SECONDS = 0.5
HEARTBEAT_SECONDS = 15.0
AT_ONCE = 200
HEARTBEAT = b": still here\n\n"
LAST_EVENT_ID = Header(
    name="Last-Event-ID",
    description="the id of the last event that came, to go on after it",
    pattern=r"\d{1,9}(\.end)?",
    example="17",
)


class Place:
    """How much of a repricing has been told: so many estimates, and whether its end."""

    def __init__(self, last_event: str | None) -> None:
        told, _, end = (last_event or "0").partition(".")
        self.told = int(told)
        self.ended = bool(end)

    def is_end_of(self, found: Repricing) -> bool:
        """Not where the repricing has been resumed since its end was told."""
        return self.ended and found.state != "running" and self.told >= found.tally.done


async def events(
    database: Database, organisation: str, name: str, place: Place, closing: Closing
) -> AsyncIterator[bytes]:
    """An event for each estimate done, then one for the whole; until it runs no more.

    Nothing is told twice to who says where they were. Between events of a repricing that waits
    something is sent now and then, so that neither side takes the other for gone.
    """
    silent = 0.0
    while not closing.begun:
        try:
            pieces, running = await _news(database, organisation, name, place)
        except Unavailable:
            pieces, running = [], True
        for piece in pieces:
            yield piece
            silent = 0.0
        if not running:
            return
        if silent >= HEARTBEAT_SECONDS:
            yield HEARTBEAT
            silent = 0.0
        await asyncio.sleep(LOOK_SECONDS)
        silent += LOOK_SECONDS


async def _news(
    database: Database, organisation: str, name: str, place: Place
) -> tuple[list[bytes], bool]:
    """What is new, with `place` moved on to after it; and whether more is to be waited for."""
    async with database.reader(organisation) as connection:
        found = await store.get(connection, organisation, name)
        if found is None:
            return [], False
        done = await store.done_after(connection, organisation, name, place.told, AT_ONCE)
    pieces = [
        _event("estimate", str(one.sequence), encode(estimate_answer(one), "us")) for one in done
    ]
    if done:
        place.told = done[-1].sequence
        pieces.append(_progress("progress", str(place.told), found))
    if found.state == "running" or place.told < found.tally.done:
        return pieces, True
    pieces.append(_progress("end", f"{place.told}.end", found))
    return pieces, False


def _progress(kind: str, identity: str, found: Repricing) -> bytes:
    return _event(kind, identity, encode(answer(found), "us"))


def _event(kind: str, identity: str, data: bytes) -> bytes:
    """JSON has no line ends, so that it is one line of data."""
    return b"event: %s\nid: %s\ndata: %s\n\n" % (kind.encode(), identity.encode(), data)
