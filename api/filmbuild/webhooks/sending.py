"""One POST to an endpoint, to an address that was checked just before."""

import asyncio
import re
import socket
import ssl
import time
from collections.abc import AsyncIterator, Awaitable, Callable, Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from ipaddress import ip_address

import certifi
import httpcore
import msgspec
from httpcore import AsyncNetworkBackend, AsyncNetworkStream

from filmbuild.webhooks.addresses import Target, is_allowed

Resolver = Callable[[str, int], Awaitable[Sequence[str]]]
Headers = Sequence[tuple[str, str]]
LONGEST_SECONDS = 15.0
LARGEST_ANSWER_BYTES = 64 << 10
LOOKED_UP_AT_ONCE = 64
SHOWN_CHARACTERS = 200
_UNSHOWN = re.compile(r"[\x00-\x1f\x7f-\x9f\ud800-\udfff]+")


class Outcome(msgspec.Struct, frozen=True, kw_only=True):
    """`status` is missing where no answer came, `problem` where it was received."""

    status: int | None = None
    problem: str | None = None
    answer: str | None = None
    milliseconds: int = 0


class _NotPublicError(Exception):
    """The name of the host stands for an address that messages may not be sent to."""


class SystemResolver:
    """In threads of its own: a name server that hangs must keep no other work from its threads."""

    def __init__(self) -> None:
        self._threads = ThreadPoolExecutor(LOOKED_UP_AT_ONCE, thread_name_prefix="names")

    async def __call__(self, host: str, port: int) -> Sequence[str]:
        """Raises OSError."""
        ask = partial(socket.getaddrinfo, host, port, type=socket.SOCK_STREAM)
        found = await asyncio.get_running_loop().run_in_executor(self._threads, ask)
        return list(dict.fromkeys(str(one[4][0]) for one in found))

    def close(self) -> None:
        self._threads.shutdown(wait=False, cancel_futures=True)


class CheckedBackend(AsyncNetworkBackend):
    """Looks a name up, and connects to the very address that it has checked.

    If it gave the name on, that would be looked up once more, and could stand for another address.
    """

    def __init__(self, resolver: Resolver, *, private: bool) -> None:
        self._resolver = resolver
        self._private = private
        self._inner = httpcore.AnyIOBackend()

    async def connect_tcp(
        self,
        host: str,
        port: int,
        timeout: float | None = None,  # noqa: ASYNC109 - the library's own signature
        local_address: str | None = None,
        socket_options: Iterable[httpcore.SOCKET_OPTION] | None = None,
    ) -> AsyncNetworkStream:
        try:
            found = await self._resolver(host, port)
            addresses = [ip_address(one) for one in found]
        except (OSError, ValueError) as error:
            raise httpcore.ConnectError("the host's name stands for no address") from error
        if any(not is_allowed(one, private=self._private) for one in addresses):
            raise _NotPublicError
        failure: Exception = httpcore.ConnectError("the host's name stands for no address")
        for one in addresses:
            try:
                return await self._inner.connect_tcp(
                    str(one), port, timeout, local_address, socket_options
                )
            except (httpcore.ConnectError, httpcore.ConnectTimeout) as error:
                failure = error
        raise failure

    async def connect_unix_socket(
        self,
        path: str,
        timeout: float | None = None,  # noqa: ASYNC109 - the library's own signature
        socket_options: Iterable[httpcore.SOCKET_OPTION] | None = None,
    ) -> AsyncNetworkStream:
        raise NotImplementedError

    async def sleep(self, seconds: float) -> None:
        await asyncio.sleep(seconds)


class Postman:
    """Follows no redirect, asks no proxy, and keeps no connection: each is checked anew."""

    def __init__(
        self,
        *,
        private: bool,
        resolver: Resolver | None = None,
        trusted: ssl.SSLContext | None = None,
        longest: float = LONGEST_SECONDS,
    ) -> None:
        self._longest = longest
        self._names = SystemResolver()
        self._pool = httpcore.AsyncConnectionPool(
            ssl_context=trusted or _trusted(),
            max_connections=None,
            max_keepalive_connections=0,
            http1=True,
            http2=False,
            network_backend=CheckedBackend(resolver or self._names, private=private),
        )

    async def post(self, target: Target, content: bytes, headers: Headers) -> Outcome:
        """Never raises for what the other side does."""
        begun = time.perf_counter()
        outcome = await self._outcome(target, content, headers)
        spent = round((time.perf_counter() - begun) * 1000)
        return msgspec.structs.replace(outcome, milliseconds=spent)

    async def close(self) -> None:
        await self._pool.aclose()
        self._names.close()

    async def _outcome(self, target: Target, content: bytes, headers: Headers) -> Outcome:
        try:
            async with asyncio.timeout(self._longest):
                return await self._sent(target, content, headers)
        except (TimeoutError, httpcore.TimeoutException):
            return Outcome(problem=f"no answer within {self._longest:g} s")
        except _NotPublicError:
            return Outcome(problem="the host's name stands for an address that is not public")
        except ssl.SSLError as error:
            return Outcome(problem=_in_tls(error))
        except httpcore.ConnectError as error:
            cause = error.__context__
            told = _in_tls(cause) if isinstance(cause, ssl.SSLError) else _first_line(error)
            return Outcome(problem=told)
        except (httpcore.ProtocolError, httpcore.NetworkError, OSError) as error:
            return Outcome(problem=f"the connection broke: {_first_line(error)}")

    async def _sent(self, target: Target, content: bytes, headers: Headers) -> Outcome:
        url = httpcore.URL(
            scheme=target.scheme.encode(),
            host=target.host.encode(),
            port=target.port,
            target=target.path.encode(),
        )
        async with self._pool.stream("POST", url, headers=list(headers), content=content) as answer:
            status = answer.status
            begun = await _beginning(answer.aiter_stream())
        received = 200 <= status < 300  # noqa: PLR2004 - RFC 9110 section 15.3
        return Outcome(
            status=status,
            problem=None if received else f"answered {status}",
            answer=shown(begun) or None,
        )


async def _beginning(pieces: AsyncIterator[bytes]) -> bytes:
    """Of a long answer the rest is left unread."""
    content = b""
    async for piece in pieces:
        content += piece
        if len(content) >= LARGEST_ANSWER_BYTES:
            break
    return content


def shown(content: bytes) -> str:
    """How an answer began, in characters that can be kept and shown."""
    text = content[: SHOWN_CHARACTERS * 4].decode(errors="replace")
    return _UNSHOWN.sub(" ", text).strip()[:SHOWN_CHARACTERS]


def _in_tls(error: ssl.SSLError) -> str:
    if isinstance(error, ssl.SSLCertVerificationError):
        return f"the certificate is not good: {error.verify_message}"[:SHOWN_CHARACTERS]
    return f"no secure connection: {error.reason}"[:SHOWN_CHARACTERS]


def _first_line(error: Exception) -> str:
    return shown(str(error).partition("\n")[0].encode()) or type(error).__name__


def _trusted() -> ssl.SSLContext:
    """What the system trusts, or whatever SSL_CERT_FILE names, and the public authorities."""
    context = ssl.create_default_context()
    context.load_verify_locations(certifi.where())
    return context
