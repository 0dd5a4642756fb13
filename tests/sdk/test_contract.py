"""The SDK and the contract say the same."""

import asyncio
import inspect
import json
import re
import subprocess
import sys
from collections.abc import AsyncIterable, Awaitable, Callable
from contextlib import AbstractAsyncContextManager, AbstractContextManager
from pathlib import Path
from typing import Any, TypeVar

import httpx
import pytest

from filmbuild_sdk import NO_RETRIES, AsyncClient, Call, Client, Progress, Timeout, calls
from filmbuild_sdk.call import UNCHANGED
from filmbuild_sdk.methods import AsyncMethods, Methods
from filmbuild_sdk.retries import Attempts

T = TypeVar("T")

ROOT = Path(__file__).parents[2]
CONTRACT = ROOT / "openapi" / "openapi.json"
GENERATOR = ROOT / "sdk" / "generate.py"


def described() -> dict[tuple[str, str, str], dict[str, Any]]:
    """Every operation of the contract, by method, path and media type of its answer."""
    paths = json.loads(CONTRACT.read_bytes())["paths"]
    return {
        (method.upper(), path, media_type): operation
        for path, methods in paths.items()
        for method, operation in methods.items()
        for media_type in media_types(operation["responses"])
    }


def media_types(responses: dict[str, dict[str, Any]]) -> set[str]:
    found = {
        media_type
        for status, response in responses.items()
        if status.startswith("2")
        for media_type in response.get("content", {})
    }
    return found or {"application/json"}


def functions() -> dict[str, Callable[..., Call[Any]]]:
    return {name: getattr(calls, name) for name in calls.__all__}


def made_by(function: Callable[..., Call[Any]]) -> Call[Any]:
    """With every parameter given as its own name."""
    parameters = inspect.signature(function).parameters.values()
    first = [one.name for one in parameters if one.kind is one.POSITIONAL_OR_KEYWORD]
    named = {one.name: one.name for one in parameters if one.kind is one.KEYWORD_ONLY}
    return function(*first, **named)


def test_every_operation_has_its_call() -> None:
    made = sorted((one.method, one.path, one.accept) for one in map(made_by, functions().values()))
    expected = sorted(
        (method, re.sub(r"[{}]", "", path), kind) for method, path, kind in described()
    )
    assert made == expected


def test_calls_take_the_parameters_of_their_operations() -> None:
    by_path = {
        (method, re.sub(r"[{}]", "", path)): operation
        for (method, path, _), operation in described().items()
    }
    for function in functions().values():
        call = made_by(function)
        operation = by_path[call.method, call.path]
        parameters = operation.get("parameters", [])
        names = {one["name"] for one in parameters if one["in"] == "query"}
        assert set(call.query) == names, operation["operationId"]
        keyed = any(one["name"] == "Idempotency-Key" for one in parameters)
        assert (call.idempotency_key is not None) == keyed
        assert (call.body is not None) == ("requestBody" in operation)
        followed = any(one["name"] == "Last-Event-ID" for one in parameters)
        assert (call.last_event_id is not None) == followed


@pytest.mark.parametrize("client", [Client, AsyncClient])
def test_both_clients_have_every_call_as_a_method(client: type) -> None:
    for name, function in functions().items():
        method = inspect.signature(getattr(client, name))
        parameters = dict(method.parameters)
        assert parameters.pop("timeout").kind is inspect.Parameter.KEYWORD_ONLY
        sends_file = "Upload" in str(inspect.signature(function))
        assert (parameters.pop("progress", None) is not None) == sends_file
        del parameters["self"]
        assert list(parameters.values()) == list(inspect.signature(function).parameters.values())


class Stop(Exception):  # noqa: N818 - ends a call where it would be sent
    pass


class Sent(Methods):
    def send(
        self, call: Call[T], *, progress: Progress | None = None, timeout: Timeout = UNCHANGED
    ) -> T:
        raise Stop(call, progress, timeout)

    def opened(
        self, call: Call[Any], *, timeout: Timeout = UNCHANGED
    ) -> AbstractContextManager[httpx.Response]:
        raise Stop(call, None, timeout)

    def attempts(self, call: Call[Any]) -> Attempts:
        return Attempts(call, NO_RETRIES)


class SentAsync(AsyncMethods):
    async def send(
        self,
        call: Call[T],
        *,
        progress: Progress | None = None,
        timeout: Timeout = UNCHANGED,  # noqa: ASYNC109 - as the client's
    ) -> T:
        raise Stop(call, progress, timeout)

    def opened(
        self,
        call: Call[Any],
        *,
        timeout: Timeout = UNCHANGED,
    ) -> AbstractAsyncContextManager[httpx.Response]:
        raise Stop(call, None, timeout)

    def attempts(self, call: Call[Any]) -> Attempts:
        return Attempts(call, NO_RETRIES)


async def drain(result: AsyncIterable[Any] | Awaitable[Any]) -> None:
    if isinstance(result, AsyncIterable):
        async for _ in result:
            pass
    else:
        await result


def told(_sent: int, _total: int | None) -> None:
    pass


@pytest.mark.parametrize("name", functions())
def test_both_clients_send_the_call_of_that_name(name: str) -> None:
    expected = made_by(functions()[name])
    parameters = inspect.signature(functions()[name]).parameters.values()
    first = [one.name for one in parameters if one.kind is one.POSITIONAL_OR_KEYWORD]
    named: dict[str, Any] = {
        one.name: one.name for one in parameters if one.kind is one.KEYWORD_ONLY
    }
    progress = told if "progress" in inspect.signature(getattr(Client, name)).parameters else None
    named |= {"progress": progress} if progress else {}
    with pytest.raises(Stop) as stop:
        list(getattr(Sent(), name)(*first, **named, timeout=4.0))
    assert stop.value.args == (expected, progress, 4.0)
    with pytest.raises(Stop) as stop:
        asyncio.run(drain(getattr(SentAsync(), name)(*first, **named, timeout=4.0)))
    assert stop.value.args == (expected, progress, 4.0)


def generate(*arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, str(GENERATOR), *arguments], capture_output=True, text=True, check=False
    )


def test_what_was_generated_is_what_the_contract_says() -> None:
    done = generate("--check")
    assert done.returncode == 0, done.stderr


def test_a_contract_that_has_moved_on_is_noticed(tmp_path: Path) -> None:
    document = json.loads(CONTRACT.read_bytes())
    document["components"]["schemas"]["Rule"]["properties"]["since"] = {"type": "string"}
    moved = tmp_path / "openapi.json"
    moved.write_text(json.dumps(document))
    done = generate("--check", "--contract", str(moved))
    assert done.returncode == 1
    assert "models" in done.stderr
    assert "calls.py" not in done.stderr


def test_the_package_brings_little_along_when_it_is_imported() -> None:
    """As in an environment of its own: httpx looks for these programs' libraries by itself.

    No module of types or calls is among it: those are loaded when they are asked for.
    """
    code = (
        "import sys\n"
        "sys.modules.update(dict.fromkeys(('click', 'rich', 'pygments')))\n"
        "import filmbuild_sdk\n"
        "print(*sys.modules)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = done.stdout.split()
    brought = {"filmbuild", "litestar", "sqlalchemy", "pydantic", "shapely", "attrs"}
    assert brought.isdisjoint(name.partition(".")[0] for name in loaded)
    of_models = ("filmbuild_sdk.models.", "filmbuild_sdk.calls.")
    assert [name for name in loaded if name.startswith(of_models)] == []
