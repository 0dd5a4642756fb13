"""The two clients: the same calls, sent and waited for in two ways."""

# ruff: noqa: ASYNC109 - the timeout is the HTTP client's own

import asyncio
import time
from collections.abc import AsyncIterator, Iterator, Mapping
from contextlib import asynccontextmanager, contextmanager
from types import TracebackType
from typing import TYPE_CHECKING, Any, Self, TypeVar

import httpx

from filmbuild_sdk.call import UNCHANGED, Call, Tagged, Timeout
from filmbuild_sdk.errors import ApiError, TransportError, error_of
from filmbuild_sdk.keys import bearer
from filmbuild_sdk.looking import Looks
from filmbuild_sdk.methods import AsyncMethods, Methods
from filmbuild_sdk.requests import DEFAULT_TIMEOUT, Body, Requests, transport_error
from filmbuild_sdk.retries import DEFAULT_RETRIES, NO_RETRIES, Attempts, Retries
from filmbuild_sdk.uploads import Progress

if TYPE_CHECKING:
    from filmbuild_sdk import models

T = TypeVar("T")


class Client(Methods):
    """Calls the service and waits for its answers.

    `key` goes with every request as a bearer token, and into no message, log or repr. It is
    refused for an address that is neither https nor this machine, unless `plain_http` says that
    nobody else is on the way.

    Closes the HTTP client that it makes, with `transport` where one is given; an `http_client` of
    the caller's own, with its own timeout, proxies and certificates, stays open. `headers` go with
    every request. `retries=None` switches retries off.
    """

    def __init__(
        self,
        base_url: str,
        *,
        key: str | None = None,
        plain_http: bool = False,
        timeout: Timeout = UNCHANGED,
        retries: Retries | None = DEFAULT_RETRIES,
        headers: Mapping[str, str] | None = None,
        transport: httpx.BaseTransport | None = None,
        http_client: httpx.Client | None = None,
    ) -> None:
        _not_both(transport, http_client)
        given = bearer(base_url, key, transport, plain_http=plain_http) if key else None
        self._requests = Requests(base_url, timeout, headers, given)
        self._retries = retries or NO_RETRIES
        self._own = http_client is None
        self._http = http_client or httpx.Client(transport=transport, timeout=DEFAULT_TIMEOUT)

    def send(
        self, call: Call[T], *, progress: Progress | None = None, timeout: Timeout = UNCHANGED
    ) -> T:
        """`progress` is told how much of the body was sent. Raises FilmbuildError."""
        return self.send_for_tag(call, progress=progress, timeout=timeout).value

    def send_for_tag(
        self, call: Call[T], *, progress: Progress | None = None, timeout: Timeout = UNCHANGED
    ) -> Tagged[T]:
        """The answer with its ETag, which is empty where it has none. Raises FilmbuildError."""
        attempts, body = self.attempts(call), Body(call, progress)
        while True:
            try:
                return self._try(call, body, timeout)
            except (ApiError, TransportError) as failure:
                wait = attempts.wait_after(failure, again=body.again)
                if wait is None:
                    raise
            time.sleep(wait)

    def attempts(self, call: Call[Any]) -> Attempts:
        return Attempts(call, self._retries)

    @contextmanager
    def opened(self, call: Call[Any], *, timeout: Timeout = UNCHANGED) -> Iterator[httpx.Response]:
        """The answer, to be read as it comes. One try; raises FilmbuildError."""
        arguments = self._requests.arguments(call, timeout)
        try:
            with self._http.stream(**arguments) as answer:
                if not answer.is_success:
                    content = answer.read()
                    raise error_of(answer.status_code, answer.headers, content)
                yield answer
        except httpx.RequestError as error:
            raise transport_error(error) from error

    def _try(self, call: Call[T], body: Body, timeout: Timeout) -> Tagged[T]:
        arguments = self._requests.arguments(call, timeout)
        try:
            answer = self._http.request(**body.argument(arguments, wait=False))
        except httpx.RequestError as error:
            raise transport_error(error) from error
        value = call.read(answer.status_code, answer.headers, answer.content)
        return Tagged(value, answer.headers.get("etag", ""))

    def wait_for_repricing(
        self, repricing_id: str, *, longest: float | None = None, timeout: Timeout = UNCHANGED
    ) -> "models.Repricing":
        """The repricing once it is over; its `state` says whether done, stopped or failed.

        Asks after it every few seconds. Raises TimeoutError after `longest` seconds, whereupon the
        work goes on, and FilmbuildError.
        """
        looks = Looks(longest)
        while (found := self.get_repricing(repricing_id, timeout=timeout)).state == "running":
            time.sleep(looks.pause())
        return found

    def close(self) -> None:
        if self._own:
            self._http.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()


class AsyncClient(AsyncMethods):
    """Like Client, for use under asyncio."""

    def __init__(
        self,
        base_url: str,
        *,
        key: str | None = None,
        plain_http: bool = False,
        timeout: Timeout = UNCHANGED,
        retries: Retries | None = DEFAULT_RETRIES,
        headers: Mapping[str, str] | None = None,
        transport: httpx.AsyncBaseTransport | None = None,
        http_client: httpx.AsyncClient | None = None,
    ) -> None:
        _not_both(transport, http_client)
        given = bearer(base_url, key, transport, plain_http=plain_http) if key else None
        self._requests = Requests(base_url, timeout, headers, given)
        self._retries = retries or NO_RETRIES
        self._own = http_client is None
        self._http = http_client or httpx.AsyncClient(transport=transport, timeout=DEFAULT_TIMEOUT)

    async def send(
        self, call: Call[T], *, progress: Progress | None = None, timeout: Timeout = UNCHANGED
    ) -> T:
        """`progress` is told how much of the body was sent. Raises FilmbuildError."""
        return (await self.send_for_tag(call, progress=progress, timeout=timeout)).value

    async def send_for_tag(
        self, call: Call[T], *, progress: Progress | None = None, timeout: Timeout = UNCHANGED
    ) -> Tagged[T]:
        """The answer with its ETag, which is empty where it has none. Raises FilmbuildError."""
        attempts, body = self.attempts(call), Body(call, progress)
        while True:
            try:
                return await self._try(call, body, timeout)
            except (ApiError, TransportError) as failure:
                wait = attempts.wait_after(failure, again=body.again)
                if wait is None:
                    raise
            await asyncio.sleep(wait)

    def attempts(self, call: Call[Any]) -> Attempts:
        return Attempts(call, self._retries)

    @asynccontextmanager
    async def opened(
        self, call: Call[Any], *, timeout: Timeout = UNCHANGED
    ) -> AsyncIterator[httpx.Response]:
        """The answer, to be read as it comes. One try; raises FilmbuildError."""
        arguments = self._requests.arguments(call, timeout)
        try:
            async with self._http.stream(**arguments) as answer:
                if not answer.is_success:
                    content = await answer.aread()
                    raise error_of(answer.status_code, answer.headers, content)
                yield answer
        except httpx.RequestError as error:
            raise transport_error(error) from error

    async def _try(self, call: Call[T], body: Body, timeout: Timeout) -> Tagged[T]:
        arguments = self._requests.arguments(call, timeout)
        try:
            answer = await self._http.request(**body.argument(arguments, wait=True))
        except httpx.RequestError as error:
            raise transport_error(error) from error
        value = call.read(answer.status_code, answer.headers, answer.content)
        return Tagged(value, answer.headers.get("etag", ""))

    async def wait_for_repricing(
        self, repricing_id: str, *, longest: float | None = None, timeout: Timeout = UNCHANGED
    ) -> "models.Repricing":
        """The repricing once it is over; its `state` says whether done, stopped or failed.

        Asks after it every few seconds. Raises TimeoutError after `longest` seconds, whereupon the
        work goes on, and FilmbuildError.
        """
        looks = Looks(longest)
        found = await self.get_repricing(repricing_id, timeout=timeout)
        while found.state == "running":
            await asyncio.sleep(looks.pause())
            found = await self.get_repricing(repricing_id, timeout=timeout)
        return found

    async def close(self) -> None:
        if self._own:
            await self._http.aclose()

    async def __aenter__(self) -> Self:
        return self

    async def __aexit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        await self.close()


def _not_both(transport: object, http_client: object) -> None:
    if transport is not None and http_client is not None:
        raise TypeError("give a transport or an http_client, not both: the client has its own")
