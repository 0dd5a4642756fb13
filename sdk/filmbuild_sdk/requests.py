"""What both clients make of a call for the HTTP client, and of that client's errors."""

import platform
from collections.abc import Mapping
from typing import Any

import httpx

from filmbuild_sdk.call import UNCHANGED, Call, Timeout
from filmbuild_sdk.errors import TransportError
from filmbuild_sdk.keys import Bearer
from filmbuild_sdk.uploads import Progress, Source, is_upload

VERSION = "0.1.0"
USER_AGENT = f"filmbuild-sdk/{VERSION} python/{platform.python_version()} httpx/{httpx.__version__}"
DEFAULT_TIMEOUT = httpx.Timeout(30.0, connect=5.0)
# errors of how the request was written, which come again at every try
_LASTING = (httpx.UnsupportedProtocol, httpx.LocalProtocolError)
# errors before anything was sent
_UNSENT = (httpx.ConnectError, httpx.ConnectTimeout, httpx.PoolTimeout, httpx.ProxyError)


class Requests:
    def __init__(
        self,
        base_url: str,
        timeout: Timeout,
        headers: Mapping[str, str] | None,
        bearer: Bearer | None,
    ) -> None:
        self._base_url = base_url.rstrip("/")
        self._timeout = timeout
        self._headers = {"user-agent": USER_AGENT, **(headers or {})}
        self._bearer = bearer

    def arguments(self, call: Call[Any], timeout: Timeout) -> dict[str, Any]:
        """Of the HTTP client's `request`, without content.

        A timeout or credentials that nobody chose are left to that client.
        """
        chosen = self._timeout if timeout is UNCHANGED else timeout
        arguments: dict[str, Any] = {
            "method": call.method,
            "url": self._base_url + call.path,
            "params": dict(call.query) or None,
            "headers": {**self._headers, **call.headers},
        }
        if self._bearer is not None:
            arguments["auth"] = self._bearer
        return arguments if chosen is UNCHANGED else {**arguments, "timeout": chosen}


class Body:
    """The content of a call, for each of its tries."""

    def __init__(self, call: Call[Any], progress: Progress | None) -> None:
        self._source: Source | None = None
        self._content: bytes | None = None
        if call.body is None:
            return
        content = call.body if is_upload(call.body) else call.content
        if progress is None and isinstance(content, bytes):
            self._content = content
        else:
            self._source = Source(content, progress)  # type: ignore[arg-type]  # is_upload has looked

    @property
    def again(self) -> bool:
        return self._source is None or self._source.again

    def argument(self, arguments: dict[str, Any], *, wait: bool) -> dict[str, Any]:
        """`arguments` with the content; its length goes along where it is known."""
        if self._source is None:
            return {**arguments, "content": self._content}
        headers = arguments["headers"]
        if self._source.size is not None:
            headers = {**headers, "content-length": str(self._source.size)}
        pieces = self._source.pieces_waiting() if wait else self._source.pieces()
        return {**arguments, "headers": headers, "content": pieces}


def transport_error(error: httpx.RequestError) -> TransportError:
    passing = isinstance(error, httpx.TransportError) and not isinstance(error, _LASTING)
    said = str(error) or type(error).__name__
    where = f"{error.request.method} {error.request.url}"
    return TransportError(f"{said} ({where})", passing=passing, undone=isinstance(error, _UNSENT))
