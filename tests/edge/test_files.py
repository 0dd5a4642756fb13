"""Bodies that are files, on an application of one small operation."""

from collections.abc import AsyncIterator

import httpx
import pytest
from litestar import Litestar
from open_gate import OPEN_GATE

from filmbuild.edge.http import handlers, routing_failed
from filmbuild.edge.openapi import document
from filmbuild.edge.operations import Answer, Call, NoQuery, Operation

LIMIT = 100
FILE_LIMIT = 5_000


async def weigh(call: Call[bytes, NoQuery]) -> Answer:
    return Answer(b'{"bytes":%d,"odd":%d}' % (len(call.body), call.body.count(b"\xff")))


OPERATION = Operation(
    method="POST",
    path="/v1/files",
    id="weigh",
    tag="files",
    summary="Weigh",
    description="",
    handler=weigh,
    answer=dict[str, int],
    body=bytes,
    body_media_types=("image/png", "image/webp"),
    body_limit=FILE_LIMIT,
    query=NoQuery,
)


@pytest.fixture
async def client() -> AsyncIterator[httpx.AsyncClient]:
    app = Litestar(
        handlers((OPERATION,), LIMIT, OPEN_GATE),
        openapi_config=None,
        exception_handlers={Exception: routing_failed},
        logging_config=None,
    )
    transport = httpx.ASGITransport(app)  # type: ignore[arg-type]  # litestar's own ASGI types
    async with httpx.AsyncClient(transport=transport, base_url="http://testserver") as client:
        yield client


async def test_bytes_arrive_as_they_were_sent_up_to_the_operations_own_limit(
    client: httpx.AsyncClient,
) -> None:
    content = b"\xff{" * (FILE_LIMIT // 2)
    for kind in ("image/png", "IMAGE/WebP; lossless=1"):
        headers = {"content-type": kind}
        answer = await client.post("/v1/files", content=content, headers=headers)
        assert answer.json() == {"bytes": FILE_LIMIT, "odd": FILE_LIMIT // 2}
    answer = await client.post("/v1/files", content=content + b"x", headers=headers)
    assert answer.status_code == 413
    assert str(FILE_LIMIT) in answer.json()["detail"]


@pytest.mark.parametrize("kind", ["", "application/json", "image/png2", "image"])
async def test_other_media_types_are_refused_with_those_accepted(
    client: httpx.AsyncClient, kind: str
) -> None:
    answer = await client.post("/v1/files", content=b"x", headers={"content-type": kind})
    assert answer.status_code == 415
    assert "image/png or image/webp" in answer.json()["detail"]


def test_the_contract_names_the_media_types_of_files() -> None:
    described = document((OPERATION,), {"title": "t", "version": "1"}, ())["paths"]["/v1/files"]
    content = described["post"]["requestBody"]["content"]
    assert content == {
        kind: {"schema": {"contentMediaType": kind}} for kind in ("image/png", "image/webp")
    }
    assert "400" not in described["post"]["responses"]
    assert {"413", "415"} <= described["post"]["responses"].keys()
