"""Stands for the service in the tests of those who use it: nothing is sent anywhere."""

from collections.abc import Callable, Mapping
from typing import Any

import httpx
import msgspec

Reply = object | Callable[[httpx.Request], object]


class FakeService(httpx.MockTransport):
    """A transport for both clients that answers from what it was told, and keeps what was asked.

    `answers` has by method and path, such as ("POST", "/v1/calculations"), what is answered: a
    model or plain data, an `httpx.Response` as it is, or a function of the request that gives one
    of these. A list of them is answered in turn, the last one again and again. What has no answer
    is not found.
    """

    def __init__(self, answers: Mapping[tuple[str, str], Reply]) -> None:
        self.requests: list[httpx.Request] = []
        self._answers = {
            key: list(value) if isinstance(value, list) else [value]
            for key, value in answers.items()
        }
        super().__init__(self._reply)

    def bodies(self) -> list[Any]:
        """What was sent, as plain data; None where there was no body."""
        return [msgspec.json.decode(one.content) if one.content else None for one in self.requests]

    def _reply(self, request: httpx.Request) -> httpx.Response:
        self.requests.append(request)
        replies = self._answers.get((request.method, request.url.path))
        if not replies:
            return problem(404, "not-found", f"nothing was told for {request.method} {request.url}")
        reply = replies.pop(0) if len(replies) > 1 else replies[0]
        if callable(reply):
            reply = reply(request)
        return reply if isinstance(reply, httpx.Response) else _answer(reply)


def problem(
    status: int, code: str, detail: str, *, headers: Mapping[str, str] | None = None
) -> httpx.Response:
    """A problem document as the service answers one."""
    body = {
        "type": f"/problems/{code}",
        "title": code.replace("-", " ").capitalize(),
        "status": status,
        "detail": detail,
        "request_id": "0" * 32,
        "errors": [],
    }
    content = msgspec.json.encode(body)
    kind = {"content-type": "application/problem+json", **(headers or {})}
    return httpx.Response(status, content=content, headers=kind)


def _answer(value: object) -> httpx.Response:
    content = msgspec.json.encode(value)
    return httpx.Response(200, content=content, headers={"content-type": "application/json"})
