"""Accept against what is on offer, and an operation with several representations."""

from collections.abc import AsyncIterator
from typing import Any

import httpx
import pytest
from hypothesis import given
from hypothesis import strategies as st
from litestar import Litestar
from open_gate import OPEN_GATE

from filmbuild.edge.http import handlers, routing_failed
from filmbuild.edge.negotiation import negotiate
from filmbuild.edge.openapi import document
from filmbuild.edge.operations import Answer, Call, NoQuery, Operation, Representation
from filmbuild.errors import NotFound

JSON, SVG = "application/json", "image/svg+xml"
CSV = "text/csv; charset=utf-8; header=present"
OFFERED = (JSON, SVG, CSV)


@pytest.mark.parametrize(
    ("accept", "chosen"),
    [
        ("image/svg+xml", SVG),
        ("IMAGE/SVG+XML", SVG),
        ("text/csv", CSV),
        ("text/*", CSV),
        ("*/*", JSON),
        ("", JSON),
        (" , ", JSON),
        ("image/*, */*;q=0.1", SVG),
        ("image/png, image/svg+xml;q=0.8, */*;q=0.5", SVG),
        ("application/json;q=0.5, text/csv;q=0.51", CSV),
        ("application/json;q=0.5, text/csv;q=0.5", JSON),
        ("text/csv, application/json", JSON),
        ("application/json;q=0, */*", SVG),
        ("*/*, application/json;q=0, image/*;q=0", CSV),
        ("*/*;q=0.9, application/*;q=0.2, image/svg+xml;q=0.3, text/csv;q=0.1", SVG),
        ("text/csv;header=absent, image/svg+xml;q=0.1", SVG),
        ('text/csv;header="present"', CSV),
        ("text/csv;header=present;q=0.2, text/csv;q=0.9, application/json;q=0.5", JSON),
        ("application/json; charset=utf-8", JSON),
        ("application/json;v=2, application/json;q=0.1, text/csv;q=0.5", CSV),
        ('text/html;title="a, application/json", text/csv', CSV),
        ('text/html;title="a\\", text/csv", image/svg+xml', SVG),
        ("application/json ; q=1.000", JSON),
        ("text/html, application/xml", None),
        ("application/json;q=0", None),
        ("application/json;q=0.000, image/*;q=0, text/*;q=0.", None),
        ("*/csv", None),
        ("csv", None),
        ("text/csv;q=high", None),
        ("text/csv;q=1.5", None),
        ("text/csv;q=0.1234", None),
    ],
)
def test_the_best_that_is_accepted_is_chosen(accept: str, chosen: str | None) -> None:
    assert negotiate(accept, OFFERED) == chosen


def test_the_example_of_rfc_9110_is_weighed_as_it_says() -> None:
    """RFC 9110 section 12.5.1, the table of quality values."""
    accept = "text/*;q=0.3, text/plain;q=0.7, text/plain;format=flowed, text/plain;format=fixed;q=0.4, */*;q=0.5"
    best_first = [
        "text/plain; format=flowed",
        "text/plain",
        "image/jpeg",
        "text/plain; format=fixed",
        "text/html",
    ]
    for index in range(len(best_first) - 1):
        assert negotiate(accept, best_first[index:][::-1]) == best_first[index]


@given(st.text(st.sampled_from('*/;,="\\q0.1 abtextcsv'), max_size=60))
def test_any_header_gets_one_of_the_offers_or_none(accept: str) -> None:
    assert negotiate(accept, OFFERED) in (*OFFERED, None)


def test_a_long_header_is_read_once() -> None:
    """Unclosed quotes and escapes, of which a careless pattern would try every beginning."""
    assert negotiate('"\\' * 200_000, OFFERED) is None


async def as_json(call: Call[None, NoQuery]) -> Answer:
    return Answer(b'{"as":"%s"}' % call.media_type.encode())


async def as_svg(_call: Call[None, NoQuery]) -> Answer:
    return Answer(b"<svg/>", (("x-sheet", "1"),))


async def as_table(_call: Call[None, NoQuery]) -> Answer:
    raise NotFound("There is no table.")


OPERATION = Operation(
    method="GET",
    path="/v1/plan",
    id="plan",
    tag="plans",
    summary="Plan",
    description="",
    handler=as_json,
    answer=dict[str, str],
    query=NoQuery,
    representations=(
        Representation(media_type=SVG, summary="Drawing", description="A drawing.", handler=as_svg),
        Representation(media_type=CSV, summary="Table", description="A table.", handler=as_table),
    ),
)


@pytest.fixture
async def client() -> AsyncIterator[httpx.AsyncClient]:
    app = Litestar(
        handlers((OPERATION,), 1_000, OPEN_GATE),
        openapi_config=None,
        exception_handlers={Exception: routing_failed},
        logging_config=None,
    )
    transport = httpx.ASGITransport(app)  # type: ignore[arg-type]  # litestar's own ASGI types
    async with httpx.AsyncClient(transport=transport, base_url="http://testserver") as client:
        yield client


@pytest.mark.parametrize(
    ("accept", "media_type", "content"),
    [
        ("*/*", JSON, b'{"as":"application/json"}'),
        (JSON, JSON, b'{"as":"application/json"}'),
        (SVG, SVG, b"<svg/>"),
        ("image/*, application/json;q=0.9", SVG, b"<svg/>"),
    ],
)
async def test_an_operation_answers_in_what_is_accepted(
    client: httpx.AsyncClient, accept: str, media_type: str, content: bytes
) -> None:
    response = await client.get("/v1/plan", headers={"accept": accept})
    assert (response.status_code, response.content) == (200, content)
    assert response.headers["content-type"] == media_type
    assert response.headers["vary"] == "Accept"
    assert ("x-sheet" in response.headers) == (media_type == SVG)


async def test_head_is_negotiated_like_get(client: httpx.AsyncClient) -> None:
    head = await client.head("/v1/plan", headers={"accept": SVG})
    assert (head.status_code, head.content) == (200, b"")
    assert head.headers["content-type"] == SVG
    assert head.headers["content-length"] == "6"
    options = await client.options("/v1/plan", headers={"accept": SVG})
    assert options.headers["allow"] == "GET, HEAD, OPTIONS"


async def test_what_is_not_on_offer_is_refused_with_what_is(client: httpx.AsyncClient) -> None:
    response = await client.get("/v1/plan", headers={"accept": "application/pdf"})
    assert response.status_code == 406
    assert response.headers["content-type"] == "application/problem+json"
    assert response.headers["vary"] == "Accept"
    problem = response.json()
    assert problem["type"] == "/problems/not-acceptable"
    for media_type in (JSON, SVG, "text/csv"):
        assert media_type in problem["detail"]


async def test_a_failure_is_a_problem_whatever_is_accepted(client: httpx.AsyncClient) -> None:
    response = await client.get("/v1/plan", headers={"accept": "text/csv"})
    assert response.status_code == 404
    assert response.headers["content-type"] == "application/problem+json"


def test_the_contract_lists_every_representation() -> None:
    described: Any = document((OPERATION,), {"title": "Plans", "version": "1"}, ())
    success = described["paths"]["/v1/plan"]["get"]["responses"]["200"]
    assert list(success["content"]) == [JSON, SVG, "text/csv"]
    assert success["content"][SVG]["schema"] == {
        "type": "string",
        "title": "Drawing",
        "description": "A drawing.",
    }
    assert "Vary" in success["headers"]
