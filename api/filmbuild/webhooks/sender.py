"""Sends what is due, again and again until it is received, given up or cancelled.

All that it knows is in the database, and a delivery waits until its outcome is written there: so
what a process that died was sending is sent again by the next, with the same webhook-id.
"""

import asyncio
import logging
import random
from collections import Counter
from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import msgspec
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.accounts import audit
from filmbuild.db import EVERYONE, Database
from filmbuild.errors import Refusal, Unavailable
from filmbuild.webhooks import delivery_store, due, store
from filmbuild.webhooks.addresses import target_of
from filmbuild.webhooks.delivery_store import StoredAttempt, StoredDelivery
from filmbuild.webhooks.due import Due
from filmbuild.webhooks.sending import Outcome, Postman
from filmbuild.webhooks.signing import signed_headers
from filmbuild.webhooks.store import StoredEndpoint

logger = logging.getLogger("filmbuild.webhooks")
POLL_SECONDS = 0.5
FAULT_SECONDS = 10.0
"""For which a fault of ours keeps what met it from being tried again."""
AT_ONCE = 64
AT_ONE_ENDPOINT = 4
FOR_ONE_ORGANISATION = 16
FOUND_FOR_ONE_ENDPOINT = 64
LOOKED_AT = 1000
PAUSES = (
    timedelta(seconds=5),
    timedelta(minutes=5),
    timedelta(minutes=30),
    timedelta(hours=2),
    timedelta(hours=5),
    timedelta(hours=10),
    timedelta(hours=14),
    timedelta(hours=20),
    timedelta(hours=24),
)
"""Between the attempts, as the specification proposes; after the last one it is given up."""
LONGEST_JITTER = 0.2
"""By how much of itself a pause may grow, so that not all come back at once."""
FAILING_FOR = timedelta(days=3)
KEPT_FOR = timedelta(days=30)
TIDY_EVERY = timedelta(hours=1)
TIDY_AT_ONCE = 500
GONE = 410
THE_SERVICE = "service"
_PLAIN = [("content-type", "application/json"), ("accept-encoding", "identity")]
_AGENT = [("user-agent", "filmbuild-webhooks/1")]


def utc_now() -> datetime:
    return datetime.now(UTC)


class Sender:
    """`private` is the operator's leave to send to networks that are not public, and without TLS."""

    def __init__(
        self,
        database: Database,
        postman: Callable[[], Postman],
        *,
        private: bool,
        clock: Callable[[], datetime] = utc_now,
        jitter: Callable[[], float] = random.random,
    ) -> None:
        self._database = database
        self._new_postman = postman
        self._postman: Postman | None = None
        self._private = private
        self._clock = clock
        self._jitter = jitter
        self._sending: dict[str, asyncio.Task[None]] = {}
        self._under_way: Counter[str] = Counter()
        self._found: list[Due] = []
        self._freed = asyncio.Event()
        self._tidied: datetime | None = None

    async def run(self) -> None:
        """Until cancelled; what is being sent then is finished first, which its own time bounds."""
        try:
            while True:
                await self.turn()
                try:
                    async with asyncio.timeout(POLL_SECONDS):
                        await self._use_up()
                except TimeoutError:
                    pass
        finally:
            await self.settled()
            await self.close()

    async def turn(self) -> None:
        """Begins to send what is due, and forgets what is old."""
        now = self._clock()
        try:
            if self._tidied is None or now - self._tidied >= TIDY_EVERY:
                await self._tidy(now)
                self._tidied = now
            async with self._database.reader(EVERYONE) as connection:
                found = await due.due(connection, now, FOUND_FOR_ONE_ENDPOINT, LOOKED_AT)
        except Unavailable as error:
            logger.warning("deliveries wait: %s", error)
            return
        self._found = list(found)
        self._fill()

    async def _use_up(self) -> None:
        """Sends what was found last as places become free, until nothing is left of it."""
        while True:
            await self._freed.wait()
            self._freed.clear()
            if not self._found:
                return
            self._fill()

    def _fill(self) -> None:
        self._found = [one for one in self._found if not self._begin(one)]

    async def close(self) -> None:
        if self._postman is not None:
            await self._postman.close()
            self._postman = None

    async def settled(self) -> None:
        """Waits until nothing is being sent."""
        while self._sending:
            await asyncio.wait(self._sending.values())

    def _begin(self, one: Due) -> bool:
        """Whether it is being sent now."""
        name, whose = one.delivery.id, (one.organisation, one.delivery.endpoint_id)
        if name in self._sending:
            return True
        if self._is_full(*whose):
            return False
        self._under_way.update(whose)
        task = self._sending[name] = asyncio.create_task(self._deliver(one))

        def ended(_: asyncio.Task[None]) -> None:
            self._under_way.subtract(whose)
            self._under_way += Counter()
            del self._sending[name]
            self._freed.set()

        task.add_done_callback(ended)
        return True

    def _is_full(self, organisation: str, endpoint: str) -> bool:
        return (
            len(self._sending) >= AT_ONCE
            or self._under_way[organisation] >= FOR_ONE_ORGANISATION
            or self._under_way[endpoint] >= AT_ONE_ENDPOINT
        )

    async def _deliver(self, one: Due) -> None:
        """What it cannot write down it does again."""
        try:
            await self._deliver_one(one.organisation, one.delivery)
        except Unavailable as error:
            logger.warning("delivery %s waits: %s", one.delivery.id, error)
            await asyncio.sleep(POLL_SECONDS)
        except Exception:
            logger.exception("delivery %s failed on our side", one.delivery.id)
            await asyncio.sleep(FAULT_SECONDS)

    async def _deliver_one(self, organisation: str, delivery: StoredDelivery) -> None:
        async with self._database.reader(organisation) as connection:
            to = await store.find_endpoint(connection, organisation, delivery.endpoint_id)
            payload = await delivery_store.payload(connection, organisation, delivery.event_id)
            now = await delivery_store.find_delivery(connection, organisation, delivery.id)
        if to is None or now is None or now.state != "waiting" or now.tries != delivery.tries:
            return
        at = self._clock()
        outcome = await self._post(to, delivery.event_id, payload.encode(), at)
        async with self._database.writer(organisation) as connection:
            await self._keep(connection, organisation, delivery, at, outcome)

    async def _post(
        self, to: StoredEndpoint, identity: str, content: bytes, at: datetime
    ) -> Outcome:
        try:
            target = target_of(to.url, private=self._private)
        except Refusal as refusal:
            return Outcome(problem=f"the URL may not be sent to; {refusal.detail}"[:200])
        signed = signed_headers(identity, at, content, to.secrets(at))
        if self._postman is None:
            self._postman = self._new_postman()
        return await self._postman.post(target, content, [*_PLAIN, *_AGENT, *signed])

    async def _keep(
        self,
        connection: AsyncConnection,
        organisation: str,
        was: StoredDelivery,
        at: datetime,
        outcome: Outcome,
    ) -> None:
        now = self._clock()
        made = StoredAttempt(
            number=was.attempts + 1,
            at=at,
            milliseconds=outcome.milliseconds,
            status=outcome.status,
            problem=outcome.problem,
            answer=outcome.answer,
        )
        to = await store.find_endpoint(connection, organisation, was.endpoint_id, lock=True)
        after = self._after(was, outcome, now)
        await delivery_store.keep_attempt(connection, organisation, was, made, after)
        if to is not None and to.enabled:
            await _judge(connection, organisation, to, outcome, now)

    def _after(self, was: StoredDelivery, outcome: Outcome, now: datetime) -> StoredDelivery:
        tries = was.tries + 1
        counted = msgspec.structs.replace(was, attempts=was.attempts + 1, tries=tries, next_at=None)
        if outcome.problem is None:
            return msgspec.structs.replace(counted, state="delivered", ended_at=now)
        if outcome.status == GONE or tries > len(PAUSES):
            return msgspec.structs.replace(counted, state="failed", ended_at=now)
        pause = PAUSES[tries - 1] * (1 + LONGEST_JITTER * self._jitter())
        return msgspec.structs.replace(counted, next_at=now + pause)

    async def _tidy(self, now: datetime) -> None:
        found: dict[str, list[tuple[str, str]]] | None = None
        while found is None or sum(map(len, found.values())) == TIDY_AT_ONCE:
            async with self._database.reader(EVERYONE) as connection:
                found = await due.old(connection, now - KEPT_FOR, TIDY_AT_ONCE)
            for organisation, gone in found.items():
                async with self._database.writer(organisation) as connection:
                    await due.forget(connection, organisation, gone)


async def _judge(
    connection: AsyncConnection,
    organisation: str,
    to: StoredEndpoint,
    outcome: Outcome,
    now: datetime,
) -> None:
    """Of the endpoint, by how an attempt at it went; it is written to where that says anything new."""
    if outcome.problem is None:
        if to.failing_since is not None:
            await store.write_failing(connection, organisation, to.id, None)
        return
    since = to.failing_since or now
    if outcome.status == GONE:
        await _disable(connection, organisation, to, "it answered 410, that it is gone", now)
    elif now - since >= FAILING_FOR:
        words = f"nothing was received for {FAILING_FOR.days} days"
        await _disable(connection, organisation, to, words, now)
    elif to.failing_since is None:
        await store.write_failing(connection, organisation, to.id, now)


async def _disable(
    connection: AsyncConnection, organisation: str, to: StoredEndpoint, why: str, now: datetime
) -> None:
    """What waits is cancelled with it."""
    off = msgspec.structs.replace(
        to,
        enabled=False,
        disabled_because=why,
        version=to.version + 1,
        updated_at=now,
        failing_since=None,
    )
    await store.write_endpoint(connection, organisation, off)
    cancelled = await delivery_store.cancel_all(connection, organisation, to.id, now)
    await audit.write(
        connection,
        organisation,
        at=now,
        actor=THE_SERVICE,
        action="webhook.disabled",
        subject=to.id,
        detail={"because": why, "cancelled": cancelled},
    )
