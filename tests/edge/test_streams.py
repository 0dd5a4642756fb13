"""Bodies that are read, and answers that are sent, piece by piece; and success without content."""

import asyncio
import json
from collections.abc import AsyncIterator
from typing import Any

import httpx
import pytest
from litestar import Litestar
from open_gate import OPEN_GATE

from filmbuild.edge.http import Reply, handlers, routing_failed
from filmbuild.edge.operations import Answer, Call, NoQuery, Operation, Stream

LIMIT = 100


async def count(call: Call[Stream, NoQuery]) -> Answer:
    sizes = [len(piece) async for piece in call.body.pieces if piece]
    return Answer(json.dumps({"pieces": len(sizes), "bytes": sum(sizes)}).encode())


async def tell(_call: Call[None, NoQuery]) -> Answer:
    async def pieces() -> AsyncIterator[bytes]:
        for number in range(3):
            yield b"data: %d\n\n" % number

    return Answer(pieces=pieces())


async def remove(_call: Call[None, NoQuery]) -> Answer:
    return Answer(status=204)


OPERATIONS = (
    Operation(
        method="POST",
        path="/v1/rows",
        id="count",
        tag="rows",
        summary="Count",
        description="",
        handler=count,
        answer=dict[str, int],
        body=Stream,
        body_media_types=("text/csv", "application/x-ndjson"),
        body_limit=LIMIT,
        query=NoQuery,
    ),
    Operation(
        method="GET",
        path="/v1/rows",
        id="tell",
        tag="rows",
        summary="Tell",
        description="",
        handler=tell,
        answer=str,
        media_type="text/event-stream",
        query=NoQuery,
    ),
    Operation(
        method="DELETE",
        path="/v1/rows",
        id="remove",
        tag="rows",
        summary="Remove",
        description="",
        handler=remove,
        answer=None,
        status=204,
        query=NoQuery,
    ),
)


@pytest.fixture
async def client() -> AsyncIterator[httpx.AsyncClient]:
    app = Litestar(
        handlers(OPERATIONS, LIMIT, OPEN_GATE),
        exception_handlers={Exception: routing_failed},
        openapi_config=None,
        logging_config=None,
    )
    transport = httpx.ASGITransport(app)  # type: ignore[arg-type] # two spellings of one interface
    async with httpx.AsyncClient(transport=transport, base_url="http://test") as client:
        yield client


class Pieces(httpx.AsyncByteStream):
    def __init__(self, *pieces: bytes) -> None:
        self._pieces = pieces

    async def __aiter__(self) -> AsyncIterator[bytes]:
        for piece in self._pieces:
            yield piece


async def test_a_body_is_read_as_it_comes(client: httpx.AsyncClient) -> None:
    headers = {"content-type": "text/csv; charset=utf-8"}
    answered = await client.post("/v1/rows", content=Pieces(b"a" * 40, b"b" * 50), headers=headers)
    assert answered.json() == {"pieces": 2, "bytes": 90}


async def test_more_than_the_limit_is_refused_while_it_comes(client: httpx.AsyncClient) -> None:
    headers = {"content-type": "application/x-ndjson"}
    answered = await client.post("/v1/rows", content=Pieces(b"a" * 60, b"b" * 60), headers=headers)
    assert answered.status_code == 413
    assert answered.json()["type"] == "/problems/payload-too-large"


async def test_another_media_type_is_refused(client: httpx.AsyncClient) -> None:
    answered = await client.post("/v1/rows", content=b"", headers={"content-type": "text/plain"})
    assert answered.status_code == 415
    assert "text/csv or application/x-ndjson" in answered.json()["detail"]


async def test_an_answer_is_sent_as_it_is_made(client: httpx.AsyncClient) -> None:
    answered = await client.get("/v1/rows")
    assert answered.headers["content-type"].startswith("text/event-stream")
    assert "content-length" not in answered.headers
    assert answered.text == "data: 0\n\ndata: 1\n\ndata: 2\n\n"
    assert (await client.head("/v1/rows")).content == b""


async def test_success_without_content_has_no_media_type(client: httpx.AsyncClient) -> None:
    answered = await client.delete("/v1/rows")
    assert answered.status_code == 204
    assert answered.content == b""
    assert "content-type" not in answered.headers


async def test_an_answer_without_end_stops_when_the_caller_hangs_up() -> None:
    made: list[int] = []
    hung_up = asyncio.Event()
    sent: list[Any] = []

    async def endless() -> AsyncIterator[bytes]:
        while True:
            made.append(len(made))
            yield b": still here\n\n"
            await asyncio.sleep(0)

    async def receive() -> Any:
        if not hung_up.is_set():
            hung_up.set()
            return {"type": "http.request", "body": b"", "more_body": False}
        return {"type": "http.disconnect"}

    async def send(message: Any) -> None:
        sent.append(message)

    reply = Reply(200, b"", "text/event-stream", "id", pieces=endless())
    scope: Any = {"method": "GET"}
    async with asyncio.timeout(5):
        await reply(scope, receive, send)
    assert len(made) >= 1
    assert sent[0]["type"] == "http.response.start"
    assert sent[-1]["more_body"] is False
