"""What stands before every operation: who is let in, and how often."""

from typing import Protocol

import msgspec
from litestar.types import HTTPScope

from filmbuild.edge.operations import NOBODY, AnyOperation, Caller
from filmbuild.errors import FilmbuildError

RawHeaders = tuple[tuple[str, str], ...]


class Admission(msgspec.Struct, frozen=True, kw_only=True):
    """Who was let in, or why nobody was; `headers` go with the answer, whatever it is."""

    caller: Caller = NOBODY
    headers: RawHeaders = ()
    refusal: FilmbuildError | None = None

    def check(self) -> None:
        """Raises the refusal, if there is one."""
        if self.refusal is not None:
            raise self.refusal


class Gate(Protocol):
    """Asked before anything of a request's body is read."""

    async def admit(self, operation: AnyOperation, scope: HTTPScope) -> Admission:
        """The refusal is Unauthorized, Forbidden or TooManyRequests."""

    async def preflight(self, operations: dict[str, AnyOperation], scope: HTTPScope) -> RawHeaders:
        """What a browser is told that asks beforehand whether a page may call (Fetch standard)."""
