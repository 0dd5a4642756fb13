import asyncio
from collections.abc import Callable
from typing import Any

import httpx
import pytest

from filmbuild_sdk import AsyncClient, Call, Client, Retries

BASE = "http://floors.test/base"
AT_ONCE = Retries(tries=4, first_wait=0.0)


class Script:
    """Answers each request with the next of the outcomes, and keeps what it was asked."""

    def __init__(self, *outcomes: httpx.Response | Exception) -> None:
        self._outcomes = list(outcomes)
        self.requests: list[httpx.Request] = []

    def __call__(self, request: httpx.Request) -> httpx.Response:
        self.requests.append(request)
        outcome = self._outcomes.pop(0)
        if isinstance(outcome, Exception):
            raise outcome
        # one that was sent before is bound to the client that it was sent through
        return httpx.Response(outcome.status_code, headers=outcome.headers, content=outcome.content)


Play = Callable[..., tuple[Any, list[httpx.Request]]]


def _sync(script: Script, call: Call[Any], options: dict[str, Any], timeout: dict[str, Any]) -> Any:
    with Client(BASE, transport=httpx.MockTransport(script), **options) as client:
        return client.send(call, **timeout)


def _async(
    script: Script, call: Call[Any], options: dict[str, Any], timeout: dict[str, Any]
) -> Any:
    async def send() -> Any:
        async with AsyncClient(BASE, transport=httpx.MockTransport(script), **options) as client:
            return await client.send(call, **timeout)

    return asyncio.run(send())


@pytest.fixture(params=[_sync, _async], ids=["sync", "async"])
def play(request: pytest.FixtureRequest) -> Play:
    """Sends a call through either client; an error comes back in place of the answer."""

    def played(call: Call[Any], *outcomes: Any, **options: Any) -> tuple[Any, list[httpx.Request]]:
        script = Script(*outcomes)
        timeout = {"timeout": options.pop("call_timeout")} if "call_timeout" in options else {}
        try:
            answer = request.param(script, call, {"retries": AT_ONCE, **options}, timeout)
        except Exception as error:  # noqa: BLE001 - what was raised is what the test looks at
            answer = error
        return answer, script.requests

    return played
