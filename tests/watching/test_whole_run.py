"""Everything the contract shows is sent once: what the log tells of it, and how answers are guarded."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import calling
import httpx
import pytest
from litestar import get
from logged import Kept, logged
from new_databases import NewDatabase
from serving import Client
from sqlalchemy import URL

import examples

SECRET = "whsec_bm90LXRvLWJlLWxvZ2dlZA"  # noqa: S105 - of no webhook
CUSTOMER = "Marigold Sample of 14 Quay Lane"
ADDRESS = "m.sample@customer.example"
IDEMPOTENCY_KEY = "one-of-a-customers-own-numbers"
_WORTH_HIDING = re.compile(r".*[ @].*|.{30,}", re.DOTALL)
_TOLD_ONCE = re.compile(r"(?:whsec_|secret-token:|filmbuild-public_)[A-Za-z0-9+/=_-]{20,}")
_TOKEN = re.compile(r"/offers/([A-Za-z0-9_.-]{40,})")


@dataclass
class Run:
    kept: Kept = field(default_factory=Kept)
    given: set[str] = field(default_factory=set)
    answers: list[tuple[str, httpx.Response]] = field(default_factory=list)
    document: dict[str, Any] = field(default_factory=dict)


@get("/failing", sync_to_thread=False)
def failing() -> str:
    raise RuntimeError(f"{CUSTOMER}, {ADDRESS}") from ValueError(SECRET)


@pytest.fixture(scope="module")
def run(new_sqlite: NewDatabase) -> Run:
    made = Run()
    with (
        new_sqlite(True, loaded=True) as url,
        logged(url, made.kept, failing) as client,
    ):
        made.document = client.get("/v1/openapi.json").json()
        for operation, example, response in examples.exchanges(client, made.document):
            made.answers.append((operation, response))
            made.given |= set(texts([example.body, example.query]))
            made.given |= set(_TOKEN.findall(response.text))
            made.given |= set(_TOLD_ONCE.findall(response.text))
            made.given |= set(_TOKEN.findall(str(response.request.url)))
        made.answers += [("failed", one) for one in failures(client)]
    made.given = {one for one in made.given if _WORTH_HIDING.fullmatch(one)}
    return made


def failures(client: Client) -> Iterator[httpx.Response]:
    bad = {"authorization": "Bearer secret-token:filmbuild_that-is-not-known-here"}
    yield client.get("/failing")
    yield client.get(f"/v1/nowhere/{SECRET}")
    yield client.get("/v1/products", params={"filter": CUSTOMER})
    yield client.get("/v1/products", headers=bad)
    yield client.get("/v1/products", headers={"user-agent": f"{ADDRESS} ({CUSTOMER})"})
    yield client.post("/v1/estimates", headers={"idempotency-key": IDEMPOTENCY_KEY})
    yield client.post("/v1/takeoff", content=f'{{"site": "{CUSTOMER}"')
    yield client.post("/v1/takeoff", json={"site": {"name": CUSTOMER}})
    yield client.request(SECRET.upper(), "/v1/products")
    yield client.delete("/v1/products")
    yield client.options("/v1/products")


def texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for one in value.values():
            yield from texts(one)
    elif isinstance(value, list | tuple):
        for one in value:
            yield from texts(one)


def test_nothing_secret_and_nothing_of_a_customer_is_logged(run: Run) -> None:
    secret = {calling.KEY, "that-is-not-known-here", SECRET, CUSTOMER, ADDRESS, IDEMPOTENCY_KEY}
    for kind in ("whsec_", "secret-token:", "filmbuild-public_"):
        assert any(one.startswith(kind) for one in run.given), kind
    assert len(run.given) > 100, "the examples hold names, addresses, notes and links"
    assert len(run.kept.requests()) > len(run.answers)
    told = run.kept.text.casefold()
    assert [one for one in run.given | secret if one.casefold() in told] == []


def test_each_request_is_one_line_with_its_template(run: Run) -> None:
    paths = set(run.document["paths"])
    seen = {one["path"] for one in run.kept.requests()}
    assert seen - paths == {None, "/failing"}
    for line in run.kept.requests():
        assert line["request_id"]
        assert line["duration_ms"] > 0
        assert (line["level"] == "error") == (line["status"] >= 500)
    keyed = [one for one in run.kept.requests() if one["operation"] == "createEstimate"]
    assert {one["organisation"] for one in keyed} == {calling.ORGANISATION}
    assert {one["actor"] for one in keyed} == {calling.KEY_ID}


def test_a_failure_is_told_by_its_types_and_places(run: Run) -> None:
    (told,) = [one for one in run.kept.lines if one.get("failures")]
    assert [one["type"] for one in told["failures"]] == ["RuntimeError", "ValueError"]
    assert "test_whole_run.py" in told["failures"][0]["at"][-1]
    assert told["level"] == "error"


def test_every_answer_is_guarded(run: Run) -> None:
    """Names and values: OWASP HTTP Headers Cheat Sheet, from memory."""
    for operation, answer in run.answers:
        for name in ("x-content-type-options", "referrer-policy", "permissions-policy"):
            assert answer.headers[name], f"{operation} {name}"
        policy = answer.headers["content-security-policy"]
        assert "frame-ancestors 'none'" in policy, operation
        if answer.headers.get("content-type") != "application/pdf":
            assert "default-src 'none'" in policy, operation
        assert answer.headers["cross-origin-resource-policy"], operation
        assert "strict-transport-security" not in answer.headers
        assert len(answer.headers.get_list("x-content-type-options")) == 1


def test_what_a_key_protects_is_not_kept(run: Run) -> None:
    keyed = {
        one["operationId"]
        for methods in run.document["paths"].values()
        for one in methods.values()
        if one["security"]
    }
    for operation, answer in run.answers:
        if operation in keyed:
            assert answer.headers["cache-control"] in {"no-store", "private, no-cache"}, operation
        if answer.status_code >= 400:
            assert answer.headers["cache-control"] == "no-store", operation


def test_only_what_pages_may_call_can_be_loaded_by_them(run: Run) -> None:
    reachable = {
        one["operationId"]
        for methods in run.document["paths"].values()
        for one in methods.values()
        if one.get("x-publishable")
    } | {"getQuoteFormScript"}
    for operation, answer in run.answers:
        said = answer.headers["cross-origin-resource-policy"]
        assert said == ("cross-origin" if operation in reachable else "same-origin"), operation


def test_a_password_of_the_database_is_not_logged() -> None:
    kept = Kept()
    password = "password-of-the-database"  # noqa: S105 - of no database
    url = URL.create("postgresql+asyncpg", "service", password, "127.0.0.1", 1, "filmbuild")
    with logged(url, kept) as client:
        assert client.get("/v1/products").status_code == 503
        assert client.get("/v1/readiness").status_code == 503
    assert [one["status"] for one in kept.requests()] == [503, 503]
    assert password not in kept.text
