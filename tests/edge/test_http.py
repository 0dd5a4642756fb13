"""The form of requests and answers, on an application of two small operations."""

import logging
from collections.abc import AsyncIterator
from typing import Annotated, Any

import httpx
import msgspec
import pytest
from litestar import Litestar
from open_gate import OPEN_GATE

from filmbuild.edge.http import handlers, routing_failed
from filmbuild.edge.operations import Answer, Call, Header, NoQuery, Operation, PathParameter
from filmbuild.edge.paging import PageQuery
from filmbuild.quantities import Length

LIMIT = 60_000


class Box(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    length: Length
    count: Annotated[int, msgspec.Meta(ge=1)] = 1
    inner: list[Any] = []


async def echo(call: Call[Box, NoQuery]) -> Answer:
    if call.body.count == 13:
        raise RuntimeError("secret: the thirteenth box")
    return Answer(b'{"count":%d}' % call.body.count)


async def show(call: Call[None, PageQuery]) -> Answer:
    return Answer(b'{"id":"%s"}' % call.path["box_id"].encode())


OPERATIONS = (
    Operation(
        method="POST",
        path="/v1/boxes",
        id="echo",
        tag="boxes",
        summary="Echo",
        description="",
        handler=echo,
        answer=dict[str, int],
        body=Box,
        query=NoQuery,
        headers=(Header("Marker", "up to three letters", "[a-z]{1,3}", "abc"),),
    ),
    Operation(
        method="GET",
        path="/v1/boxes/{box_id}",
        id="show",
        tag="boxes",
        summary="Show",
        description="",
        handler=show,
        answer=dict[str, str],
        query=PageQuery,
        path_parameters=(PathParameter("box_id", "The box's id.", "^[a-z]{1,8}$"),),
    ),
)


@pytest.fixture
async def client() -> AsyncIterator[httpx.AsyncClient]:
    app = Litestar(
        handlers(OPERATIONS, LIMIT, OPEN_GATE),
        openapi_config=None,
        exception_handlers={Exception: routing_failed},
        logging_config=None,
    )
    transport = httpx.ASGITransport(app)  # type: ignore[arg-type]  # litestar's own ASGI types
    async with httpx.AsyncClient(transport=transport, base_url="http://testserver") as client:
        yield client


def refused(response: httpx.Response, status: int) -> dict[str, Any]:
    """The problem, after the checks that hold for every one of them."""
    assert response.status_code == status, response.text
    assert response.headers["content-type"] == "application/problem+json"
    problem: dict[str, Any] = response.json()
    assert problem["status"] == status
    assert problem["type"].startswith("/problems/")
    assert problem["title"]
    assert problem["detail"]
    assert problem["request_id"] == response.headers["x-request-id"]
    assert "errors" in problem
    return problem


async def test_a_request_of_the_right_form_is_answered(client: httpx.AsyncClient) -> None:
    response = await client.post("/v1/boxes", json={"length": "2 m", "count": 3})
    assert response.status_code == 200
    assert response.json() == {"count": 3}
    assert response.headers["content-type"] == "application/json"


@pytest.mark.parametrize(
    "content_type",
    ["application/json", "Application/JSON", "application/json; charset=utf-8"],
)
async def test_json_may_say_its_charset(client: httpx.AsyncClient, content_type: str) -> None:
    headers = {"content-type": content_type}
    response = await client.post("/v1/boxes", content=b'{"length": "2 m"}', headers=headers)
    assert response.status_code == 200


@pytest.mark.parametrize(
    "headers",
    [
        {},
        {"content-type": "text/plain"},
        {"content-type": "application/xml"},
        {"content-type": "application/json; charset=latin-1"},
        {"content-type": "application/x-www-form-urlencoded"},
        {"content-type": "application/json", "content-encoding": "gzip"},
    ],
)
async def test_another_content_type_is_refused(
    client: httpx.AsyncClient, headers: dict[str, str]
) -> None:
    response = await client.post("/v1/boxes", content=b'{"length": "2 m"}', headers=headers)
    refused(response, 415)


async def test_every_fault_is_reported_at_once(client: httpx.AsyncClient) -> None:
    response = await client.post("/v1/boxes", json={"length": "3 kg", "count": 0, "width": 1})
    pointers = {fault["pointer"] for fault in refused(response, 422)["errors"]}
    assert pointers == {"/length", "/count", "/width"}


@pytest.mark.parametrize("text", ["", "{", "{'length': 1}", '{"length": NaN}', "\xff", "[1,]"])
async def test_what_is_not_json_is_refused(client: httpx.AsyncClient, text: str) -> None:
    headers = {"content-type": "application/json"}
    content = text.encode("latin-1")
    refused(await client.post("/v1/boxes", content=content, headers=headers), 400)


async def test_deep_nesting_is_refused(client: httpx.AsyncClient) -> None:
    deep = b'{"length": "1 m", "inner": ' + b"[" * 25_000 + b"]" * 25_000 + b"}"
    headers = {"content-type": "application/json"}
    response = await client.post("/v1/boxes", content=deep, headers=headers)
    refused(response, 400)


async def test_a_large_body_is_refused_by_its_announcement(client: httpx.AsyncClient) -> None:
    response = await client.post("/v1/boxes", json={"length": "1" * LIMIT})
    refused(response, 413)
    assert response.headers["connection"] == "close"


async def test_a_large_body_without_a_length_is_not_read_to_its_end(
    client: httpx.AsyncClient,
) -> None:
    sent = 0

    async def body() -> AsyncIterator[bytes]:
        nonlocal sent
        for _ in range(1_000):
            sent += 1
            yield b" " * 1_000

    headers = {"content-type": "application/json"}
    response = await client.post("/v1/boxes", content=body(), headers=headers)
    refused(response, 413)
    assert sent < 70


async def test_an_unknown_path_is_not_found(client: httpx.AsyncClient) -> None:
    refused(await client.get("/v1/crates"), 404)
    refused(await client.get("/"), 404)


async def test_a_path_parameter_of_another_form_is_not_found(client: httpx.AsyncClient) -> None:
    refused(await client.get("/v1/boxes/Not-A-Box"), 404)


@pytest.mark.parametrize(
    ("method", "path", "allow"),
    [
        ("GET", "/v1/boxes", "OPTIONS, POST"),
        ("DELETE", "/v1/boxes", "OPTIONS, POST"),
        ("POST", "/v1/boxes/red", "GET, HEAD, OPTIONS"),
        ("TRACE", "/v1/boxes/red", "GET, HEAD, OPTIONS"),
    ],
)
async def test_another_method_is_told_what_is_allowed(
    client: httpx.AsyncClient, method: str, path: str, allow: str
) -> None:
    response = await client.request(method, path)
    refused(response, 405)
    assert response.headers["allow"] == allow
    options = await client.options(path)
    assert options.status_code == 200
    assert options.headers["allow"] == allow


async def test_head_answers_like_get_without_content(client: httpx.AsyncClient) -> None:
    shown = await client.get("/v1/boxes/red")
    head = await client.head("/v1/boxes/red")
    assert shown.status_code == head.status_code == 200
    assert head.content == b""
    assert head.headers["content-length"] == str(len(shown.content))
    missing = await client.head("/v1/crates")
    assert (missing.status_code, missing.content) == (404, b"")


@pytest.mark.parametrize(
    ("accept", "status"),
    [
        ("application/json", 200),
        ("*/*", 200),
        ("application/*", 200),
        ("text/html, application/json;q=0.5", 200),
        ("text/html", 406),
        ("application/json;q=0", 406),
        ("application/xml, text/*", 406),
    ],
)
async def test_accept_decides(client: httpx.AsyncClient, accept: str, status: int) -> None:
    response = await client.get("/v1/boxes/red", headers={"accept": accept})
    assert response.status_code == status
    if status == 406:
        refused(response, 406)


@pytest.mark.parametrize(
    ("query", "names"),
    [
        ("limit=0", ["limit"]),
        ("limit=101", ["limit"]),
        ("limit=ten", ["limit"]),
        ("limit=", ["limit"]),
        ("limit=null", ["limit"]),
        ("limit=1&limit=2", ["limit"]),
        ("colour=red", ["colour"]),
        ("cursor=!&size=3&limit=1e9", ["cursor", "size", "limit"]),
    ],
)
async def test_wrong_query_parameters_are_all_named(
    client: httpx.AsyncClient, query: str, names: list[str]
) -> None:
    problem = refused(await client.get(f"/v1/boxes/red?{query}"), 422)
    assert [fault["pointer"] for fault in problem["errors"]] == [f"/{name}" for name in names]


async def test_very_many_parameters_are_refused(client: httpx.AsyncClient) -> None:
    query = "&".join(f"p{number}=1" for number in range(200))
    refused(await client.get(f"/v1/boxes/red?{query}"), 422)


async def test_a_declared_header_must_match(client: httpx.AsyncClient) -> None:
    body = {"length": "1 m"}
    good = await client.post("/v1/boxes", json=body, headers={"marker": "abc"})
    assert good.status_code == 200
    refused(await client.post("/v1/boxes", json=body, headers={"marker": "abcd"}), 422)


async def test_a_sane_request_id_is_echoed_and_another_replaced(client: httpx.AsyncClient) -> None:
    named = await client.get("/v1/boxes/red", headers={"x-request-id": "job-17.a_b"})
    assert named.headers["x-request-id"] == "job-17.a_b"
    spoiled = await client.get("/v1/boxes/red", headers={"x-request-id": "a b\tc"})
    assert spoiled.headers["x-request-id"] not in ("", "a b\tc")
    missing = await client.get("/v1/crates", headers={"x-request-id": "job-18"})
    assert refused(missing, 404)["request_id"] == "job-18"


async def test_an_unexpected_failure_says_nothing_but_is_logged(
    client: httpx.AsyncClient, caplog: pytest.LogCaptureFixture
) -> None:
    with caplog.at_level(logging.ERROR, logger="filmbuild.http"):
        response = await client.post("/v1/boxes", json={"length": "1 m", "count": 13})
    problem = refused(response, 500)
    assert "thirteenth" not in response.text
    assert problem["request_id"] in caplog.text
    assert "thirteenth" in caplog.text


async def test_a_caller_who_hangs_up_is_no_failure(caplog: pytest.LogCaptureFixture) -> None:
    app = Litestar(handlers(OPERATIONS, LIMIT, OPEN_GATE), openapi_config=None, logging_config=None)
    messages = iter(
        [
            {"type": "http.request", "body": b'{"len', "more_body": True},
            {"type": "http.disconnect"},
        ]
    )
    sent: list[Any] = []

    async def receive() -> Any:
        return next(messages)

    async def send(message: Any) -> None:
        sent.append(message)

    scope: Any = {
        "type": "http",
        "method": "POST",
        "path": "/v1/boxes",
        "query_string": b"",
        "headers": [(b"content-type", b"application/json")],
    }
    await app(scope, receive, send)
    assert sent[0]["status"] == 499
    assert not caplog.records


async def test_a_bad_host_is_a_problem(client: httpx.AsyncClient) -> None:
    refused(await client.get("/v1/boxes/red", headers={"host": "a b"}), 400)
