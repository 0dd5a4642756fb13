"""Whether the service is up, whether it can do its work, and which version it is."""

import asyncio
import logging
from collections.abc import Awaitable, Callable
from typing import Literal

import msgspec

from filmbuild.db.readiness import DatabaseState
from filmbuild.edge.closing import Closing
from filmbuild.edge.operations import Answer, AnyOperation, Call, NoQuery, Operation
from filmbuild.errors import Unavailable

TAG = "service"
PATIENCE_SECONDS = 3.0
SHARED_SECONDS = 0.2
"""Less than what asks commonly waits for an answer."""
UNSECURED = "row-security-not-in-force"
_FRESH = (("cache-control", "no-store"),)
logger = logging.getLogger("filmbuild.state")

WorkerState = Literal["working", "standing-by", "none", "ended"]
CheckDatabase = Callable[[], Awaitable[DatabaseState]]


class Health(msgspec.Struct, frozen=True):
    """The process is up; whether it can do its work is asked of /v1/readiness."""

    status: Literal["up"] = "up"


class Readiness(msgspec.Struct, frozen=True, kw_only=True):
    """Everything that all requests depend on answers.

    `worker` is about background work: this process does it, stands by while another does, does
    none, or has stopped doing it though it should. `warnings` name what is to be put right though
    the service works.
    """

    status: Literal["ready"] = "ready"
    worker: WorkerState
    warnings: tuple[str, ...] = ()


class DatabaseVersion(msgspec.Struct, frozen=True, kw_only=True):
    """`migration` is the revision of the schema."""

    kind: str
    migration: str | None


class ServiceVersion(msgspec.Struct, frozen=True, kw_only=True):
    """`engine` is the version of the computing: with the catalogue's revision it fixes the result."""

    service: str
    engine: str
    contract: str
    database: DatabaseVersion


class Versions(msgspec.Struct, frozen=True, kw_only=True):
    """What is known without asking the database."""

    service: str
    engine: str
    contract: str


class State:
    def __init__(
        self,
        check: CheckDatabase,
        closing: Closing,
        worker: Callable[[], WorkerState],
        versions: Versions,
    ) -> None:
        self._check = check
        self._closing = closing
        self._worker = worker
        self._versions = versions
        self._warned = False
        self._found: DatabaseState | None = None
        self._good_until = 0.0

    async def readiness(self) -> Readiness:
        """Raises Unavailable, saying what is missing."""
        if self._closing.begun:
            raise Unavailable("The service is stopping.")
        found = await self._database()
        if found.migration != found.newest:
            raise Unavailable("The database is not at the newest migration: run filmbuild migrate.")
        if not found.secured:
            self._warn()
        return Readiness(worker=self._worker(), warnings=() if found.secured else (UNSECURED,))

    async def version(self) -> ServiceVersion:
        """Raises Unavailable."""
        found = await self._database()
        known = self._versions
        return ServiceVersion(
            service=known.service,
            engine=known.engine,
            contract=known.contract,
            database=DatabaseVersion(kind=found.kind, migration=found.migration),
        )

    async def _database(self) -> DatabaseState:
        """Shared by those who ask at once: whoever asks all the time costs the database nothing."""
        now = asyncio.get_running_loop().time()
        if self._found is not None and now < self._good_until:
            return self._found
        try:
            async with asyncio.timeout(PATIENCE_SECONDS):
                found = await self._check()
        except TimeoutError as error:
            raise Unavailable("The database does not answer in time.") from error
        self._found, self._good_until = found, now + SHARED_SECONDS
        return found

    def _warn(self) -> None:
        """Once: it stays so until the service is begun again with another role."""
        if not self._warned:
            logger.warning("the database role is not subject to row security: use another role")
        self._warned = True


def state_operations(state: State) -> tuple[AnyOperation, ...]:
    async def get_health(_call: Call[None, NoQuery]) -> Answer:
        return Answer(msgspec.json.encode(Health()), _FRESH)

    async def get_readiness(_call: Call[None, NoQuery]) -> Answer:
        return Answer(msgspec.json.encode(await state.readiness()), _FRESH)

    async def get_version(_call: Call[None, NoQuery]) -> Answer:
        return Answer(msgspec.json.encode(await state.version()), _FRESH)

    return (
        Operation(
            method="GET",
            path="/v1/health",
            id="getHealth",
            cost=0,
            tag=TAG,
            public=True,
            summary="Whether the process is up",
            description="Reads nothing and asks nothing of anyone else. A process that does not "
            "answer is to be begun again; one that answers late is busy.",
            handler=get_health,
            query=NoQuery,
            answer=Health,
        ),
        Operation(
            method="GET",
            path="/v1/readiness",
            id="getReadiness",
            cost=0,
            tag=TAG,
            public=True,
            summary="Whether the service can do its work",
            description="The database answers in time and is at the newest migration, and the "
            "service is not about to stop. Otherwise a problem says what is missing.",
            handler=get_readiness,
            query=NoQuery,
            answer=Readiness,
            failures=("unavailable",),
        ),
        Operation(
            method="GET",
            path="/v1/version",
            id="getVersion",
            tag=TAG,
            public=True,
            summary="Which version of the service this is",
            description="Of the service, of its computing, of this contract and of the "
            "database's schema.",
            handler=get_version,
            query=NoQuery,
            answer=ServiceVersion,
            failures=("unavailable",),
        ),
    )
