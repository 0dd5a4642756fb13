"""The two clients: the same calls, sent and waited for in two ways."""

# ruff: noqa: ASYNC109 - the timeout is the HTTP client's own

import asyncio
import platform
import time
from collections.abc import Mapping
from types import TracebackType
from typing import TYPE_CHECKING, Any, NoReturn, Self, TypeVar

import httpx

from filmbuild_sdk.call import UNCHANGED, Call, Tagged, Timeout
from filmbuild_sdk.errors import ApiError, TransportError
from filmbuild_sdk.looking import Looks
from filmbuild_sdk.methods import AsyncMethods, Methods
from filmbuild_sdk.retries import DEFAULT_RETRIES, NO_RETRIES, Attempts, Retries

if TYPE_CHECKING:
    from filmbuild_sdk import models

T = TypeVar("T")
VERSION = "0.1.0"
USER_AGENT = f"filmbuild-sdk/{VERSION} python/{platform.python_version()} httpx/{httpx.__version__}"
DEFAULT_TIMEOUT = httpx.Timeout(30.0, connect=5.0)
# errors of how the request was written, which come again at every try
_LASTING = (httpx.UnsupportedProtocol, httpx.LocalProtocolError)


class _Requests:
    """What both clients make of a call."""

    def __init__(self, base_url: str, timeout: Timeout, headers: Mapping[str, str] | None) -> None:
        self._base_url = base_url.rstrip("/")
        self._timeout = timeout
        self._headers = {"user-agent": USER_AGENT, **(headers or {})}

    def arguments(self, call: Call[T], timeout: Timeout) -> dict[str, Any]:
        """Of the HTTP client's `request`; a timeout that nobody chose is left to that client."""
        chosen = self._timeout if timeout is UNCHANGED else timeout
        arguments: dict[str, Any] = {
            "method": call.method,
            "url": self._base_url + call.path,
            "params": dict(call.query) or None,
            "content": call.content,
            "headers": {**self._headers, **call.headers},
        }
        return arguments if chosen is UNCHANGED else {**arguments, "timeout": chosen}


class Client(Methods):
    """Calls the service and waits for its answers.

    Closes the HTTP client that it makes, with `transport` where one is given; an `http_client` of
    the caller's own, with its own timeout, proxies and certificates, stays open. `headers` go with
    every request. `retries=None` switches retries off.
    """

    def __init__(
        self,
        base_url: str,
        *,
        timeout: Timeout = UNCHANGED,
        retries: Retries | None = DEFAULT_RETRIES,
        headers: Mapping[str, str] | None = None,
        transport: httpx.BaseTransport | None = None,
        http_client: httpx.Client | None = None,
    ) -> None:
        _not_both(transport, http_client)
        self._requests = _Requests(base_url, timeout, headers)
        self._retries = retries or NO_RETRIES
        self._own = http_client is None
        self._http = http_client or httpx.Client(transport=transport, timeout=DEFAULT_TIMEOUT)

    def send(self, call: Call[T], *, timeout: Timeout = UNCHANGED) -> T:
        """Raises FilmbuildError."""
        return self.send_for_tag(call, timeout=timeout).value

    def send_for_tag(self, call: Call[T], *, timeout: Timeout = UNCHANGED) -> Tagged[T]:
        """The answer with its ETag, which is empty where it has none. Raises FilmbuildError."""
        attempts = Attempts(call, self._retries)
        while True:
            try:
                return self._try(call, timeout)
            except (ApiError, TransportError) as failure:
                wait = attempts.wait_after(failure)
                if wait is None:
                    raise
            time.sleep(wait)

    def _try(self, call: Call[T], timeout: Timeout) -> Tagged[T]:
        try:
            answer = self._http.request(**self._requests.arguments(call, timeout))
        except httpx.RequestError as error:
            _fail(error)
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
        timeout: Timeout = UNCHANGED,
        retries: Retries | None = DEFAULT_RETRIES,
        headers: Mapping[str, str] | None = None,
        transport: httpx.AsyncBaseTransport | None = None,
        http_client: httpx.AsyncClient | None = None,
    ) -> None:
        _not_both(transport, http_client)
        self._requests = _Requests(base_url, timeout, headers)
        self._retries = retries or NO_RETRIES
        self._own = http_client is None
        self._http = http_client or httpx.AsyncClient(transport=transport, timeout=DEFAULT_TIMEOUT)

    async def send(self, call: Call[T], *, timeout: Timeout = UNCHANGED) -> T:
        """Raises FilmbuildError."""
        return (await self.send_for_tag(call, timeout=timeout)).value

    async def send_for_tag(self, call: Call[T], *, timeout: Timeout = UNCHANGED) -> Tagged[T]:
        """The answer with its ETag, which is empty where it has none. Raises FilmbuildError."""
        attempts = Attempts(call, self._retries)
        while True:
            try:
                return await self._try(call, timeout)
            except (ApiError, TransportError) as failure:
                wait = attempts.wait_after(failure)
                if wait is None:
                    raise
            await asyncio.sleep(wait)

    async def _try(self, call: Call[T], timeout: Timeout) -> Tagged[T]:
        try:
            answer = await self._http.request(**self._requests.arguments(call, timeout))
        except httpx.RequestError as error:
            _fail(error)
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


def _fail(error: httpx.RequestError) -> NoReturn:
    passing = isinstance(error, httpx.TransportError) and not isinstance(error, _LASTING)
    said = str(error) or type(error).__name__
    raise TransportError(
        f"{said} ({error.request.method} {error.request.url})", passing=passing
    ) from error
