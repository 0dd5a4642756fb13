"""Headers that are added to an answer, and those of the answer's own that stay as they are."""

from typing import Any

import pytest
from litestar.types import Message

from filmbuild.edge.operations import Answer, AnyOperation, Call, NoQuery, Operation
from filmbuild.edge.protection import Protected

POLICY = "content-security-policy"
FORM = b"default-src 'none'; frame-ancestors https://floors.example"


async def answered(
    operation: AnyOperation | None, *headers: tuple[bytes, bytes], status: int = 200
) -> dict[str, list[str]]:
    sent: list[Message] = []

    async def inner(_scope: object, _receive: object, send: Any) -> None:
        start = {"type": "http.response.start", "status": status, "headers": list(headers)}
        await send(start)

    async def send(message: Message) -> None:
        sent.append(message)

    async def receive() -> Any:
        raise AssertionError

    scope: Any = {"type": "http", "state": {"operation": operation}}
    await Protected(inner, tls=False)(scope, receive, send)
    told: dict[str, list[str]] = {}
    for name, value in sent[0]["headers"]:  # type: ignore[typeddict-item] # it is the one that starts
        told.setdefault(name.decode(), []).append(value.decode())
    return told


def operation(**more: Any) -> AnyOperation:
    async def nothing(_call: Call[None, NoQuery]) -> Answer:
        return Answer()

    return Operation(
        method="GET",
        path="/v1/things",
        id="getThings",
        tag="things",
        summary="Things",
        description="Things.",
        handler=nothing,
        query=NoQuery,
        answer=None,
        **more,
    )


async def test_what_web_pages_may_call_they_may_load() -> None:
    """Fetch standard, section 3.7: cross-origin resource policy."""
    name = "cross-origin-resource-policy"
    assert (await answered(operation()))[name] == ["same-origin"]
    assert (await answered(operation(publishable=True)))[name] == ["cross-origin"]
    own = (name.encode(), b"cross-origin")
    assert (await answered(operation(public=True), own))[name] == ["cross-origin"]


@pytest.mark.parametrize(
    ("headers", "told"),
    [
        ((), ["default-src 'none'; frame-ancestors 'none'"]),
        (((POLICY.encode(), FORM),), [FORM.decode()]),
        (
            ((POLICY.encode(), b"default-src 'none'; style-src 'self'"),),
            ["default-src 'none'; style-src 'self'", "frame-ancestors 'none'"],
        ),
        (((b"content-type", b"application/pdf"),), ["frame-ancestors 'none'"]),
    ],
)
async def test_nothing_is_framed_unless_it_says_by_whom(
    headers: tuple[tuple[bytes, bytes], ...], told: list[str]
) -> None:
    assert (await answered(operation(), *headers))[POLICY] == told


@pytest.mark.parametrize(
    ("more", "headers", "status", "told"),
    [
        ({}, (), 200, ["no-store"]),
        ({"other_statuses": (304,)}, (), 200, ["private, no-cache"]),
        ({"other_statuses": (304,)}, (), 404, ["no-store"]),
        ({}, ((b"cache-control", b"max-age=60"),), 200, ["max-age=60"]),
        ({"public": True}, (), 200, None),
        ({"public": True}, (), 404, ["no-store"]),
    ],
)
async def test_what_a_key_protects_is_kept_by_nobody(
    more: dict[str, Any], headers: tuple[tuple[bytes, bytes], ...], status: int, told: object
) -> None:
    """RFC 9111 section 5.2.2."""
    found = await answered(operation(**more), *headers, status=status)
    assert found.get("cache-control") == told
