"""What callers see of their allowances, through the whole application."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from ipaddress import ip_network
from pathlib import Path
from typing import Any

import calling
import httpx
import pytest
import serving
from litestar import Litestar
from litestar.testing import TestClient
from litestar.types import HTTPScope, Receive, Scope, Send
from msgspec import structs
from open_gate import OpenGate
from serving import NewDatabase
from sqlalchemy import URL

import examples
from filmbuild.app import contract_document, create_app
from filmbuild.edge.gate import Admission
from filmbuild.edge.operations import Answer, AnyOperation, Call, NoQuery, Operation
from filmbuild.errors import TooManyRequests
from filmbuild.limits.gate import FAILED_KEY_COST, LimitedGate
from filmbuild.limits.memory import MemoryStore
from filmbuild.limits.patience import OpenWhereItFails
from filmbuild.settings import Allowance, Limits, Network
from filmbuild.settings import read as read_settings

SLOW = 0.001
"""Rate at which nothing comes back while a test runs [1/s]."""
PLENTY = Allowance(SLOW, 10**6)
WIDE = Limits(
    url="memory:", secret_key=PLENTY, publishable_key=PLENTY, visitor=PLENTY, address=PLENTY
)
# RFC 9651: a list of strings, each with parameters that are integers
ITEM = r'"[a-z]+"(?:;[a-z]=[0-9]+)+'
FIELD = re.compile(rf"{ITEM}(?:, {ITEM})*")
PAGE = "https://quay-floors.example"
JSON = {"content-type": "application/json"}


async def unanswered(_call: Call[None, NoQuery]) -> Answer:
    raise NotImplementedError


CALCULATE = Operation(
    method="POST",
    path="/v1/x",
    id="x",
    tag="x",
    summary="x",
    description="x",
    handler=unanswered,
    answer=None,
    query=NoQuery,
    cost=5,
)


@pytest.fixture
def url(new_sqlite: NewDatabase) -> Iterator[URL]:
    with new_sqlite(True, loaded=True) as url:
        yield url


class FromAddresses:
    """Requests come from the address that a header of the tests' own names."""

    def __init__(self, app: Litestar) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        headers = dict(scope.get("headers", ()))
        scope["client"] = (headers.get(b"x-from", b"192.0.2.7").decode(), 4000)
        await self._app(scope, receive, send)


@contextmanager
def limited(
    url: URL, limits: Limits, folder: Path | None = None, proxies: tuple[Network, ...] = ()
) -> Iterator[TestClient[Any]]:
    """A client whose requests bring the tests' key."""
    settings = serving.settings_for(url)
    settings = structs.replace(
        settings,
        data_folder=folder or settings.data_folder,
        limits=limits,
        trusted_proxies=proxies,
    )
    with TestClient(FromAddresses(create_app(settings))) as client:
        client.headers.update(calling.HEADERS)
        yield client


def but(**changed: Any) -> Limits:
    return structs.replace(WIDE, **changed)


def other_key(url: URL) -> dict[str, str]:
    key = "secret-token:filmbuild_of-another-organisation-of-the-tests"
    calling.add_organisation(url, "other", key)
    return {"authorization": f"Bearer {key}"}


def refused(response: httpx.Response) -> int:
    """The seconds that the caller is told to wait."""
    assert response.status_code == 429, response.text
    assert response.headers["content-type"] == "application/problem+json"
    problem = response.json()
    assert (problem["type"], problem["status"]) == ("/problems/too-many-requests", 429)
    # RFC 9110 section 10.2.3: whole seconds
    seconds = int(response.headers["retry-after"])
    assert f"{seconds} s" in problem["detail"]
    assert seconds > 0
    # draft-ietf-httpapi-ratelimit-headers-11 section 6: no earlier than the effective window ends
    assert all(int(one) <= seconds for one in re.findall(r";t=([0-9]+)", limit_of(response)))
    return seconds


def limit_of(response: httpx.Response) -> str:
    field: str = response.headers["ratelimit"]
    assert FIELD.fullmatch(field)
    assert FIELD.fullmatch(response.headers["ratelimit-policy"])
    return field


def calculation() -> dict[str, Any]:
    body = examples.read("calculateEstimate")[0].body
    assert isinstance(body, dict)
    return body


def test_every_answer_to_a_key_tells_what_is_left(url: URL) -> None:
    with limited(url, but(secret_key=Allowance(SLOW, 100))) as client:
        read = client.get("/v1/products")
        assert read.headers["ratelimit-policy"] == '"key";q=100;w=100000'
        assert limit_of(read) == '"key";r=99;t=1000'
        computed = client.post("/v1/calculations", json=calculation())
        assert computed.status_code == 200, computed.text
        assert limit_of(computed).startswith('"key";r=94;')
        missing = client.get("/v1/products/unknown")
        assert (missing.status_code, limit_of(missing)[:11]) == (404, '"key";r=93;')
        bad = client.post("/v1/calculations", json={"site": 1})
        assert (bad.status_code, limit_of(bad)[:11]) == (422, '"key";r=88;')


def test_a_key_that_is_used_up_is_refused_until_it_has_room(url: URL) -> None:
    with limited(url, but(secret_key=Allowance(SLOW, 7))) as client:
        assert client.post("/v1/calculations", json=calculation()).status_code == 200
        # 2 are left and 5 are asked for, at 0.001 a second
        seconds = refused(client.post("/v1/calculations", json=calculation()))
        assert 2900 < seconds <= 3000
        # what is cheaper still goes through
        assert client.get("/v1/products").status_code == 200
        assert client.get("/v1/products").status_code == 200
        refused(client.get("/v1/products"))
        other = client.get("/v1/estimates", headers=other_key(url))
        assert other.status_code == 200


def test_a_request_that_is_refused_does_nothing(url: URL) -> None:
    with limited(url, but(secret_key=Allowance(SLOW, 1))) as client:
        body = examples.read("createEstimate")[0].body
        assert client.post("/v1/estimates", json=body).status_code == 201
        refused(client.post("/v1/estimates", json=body))
        listed = client.get("/v1/estimates", headers=other_key(url))
        assert listed.json()["items"] == []
    with limited(url, WIDE) as client:
        assert len(client.get("/v1/estimates").json()["items"]) == 1


def test_keys_cannot_be_tried_fast(url: URL) -> None:
    tries = 5
    allowance = Allowance(SLOW, tries * (FAILED_KEY_COST + 1))
    with limited(url, but(address=allowance)) as client:
        guess = {"authorization": "Bearer secret-token:filmbuild_a-guess-of-enough-letters"}
        for _ in range(tries):
            assert client.get("/v1/products", headers=guess).status_code == 401
        refused(client.get("/v1/products", headers=guess))
        # who has hit upon a good one meanwhile is not told so
        refused(client.get("/v1/products"))


def test_what_asks_for_no_key_is_limited_by_address(url: URL) -> None:
    with limited(url, but(address=Allowance(SLOW, 3))) as client:
        del client.headers["authorization"]
        for _ in range(3):
            assert client.get("/v1/docs").status_code == 200
        response = client.get("/v1/docs")
        refused(response)
        assert limit_of(response).startswith('"address";r=0;')
        # those who watch the service are not kept from it
        assert client.get("/v1/health").status_code == 200


def test_addresses_are_limited_apart(url: URL) -> None:
    with limited(url, but(address=Allowance(SLOW, 1))) as client:

        def ask(address: str) -> httpx.Response:
            return client.get("/v1/docs", headers={"x-from": address})

        assert ask("2001:db8:1:2::1").status_code == 200
        # another address of the same household
        refused(ask("2001:db8:1:2:ffff::9"))
        assert ask("2001:db8:1:3::1").status_code == 200
        assert ask("192.0.2.1").status_code == 200
        refused(ask("::ffff:192.0.2.1"))


def test_callers_behind_a_trusted_proxy_are_told_apart(url: URL) -> None:
    one = but(address=Allowance(SLOW, 1))
    with limited(url, one, proxies=(ip_network("10.0.0.0/8"),)) as client:

        def ask(address: str, forwarded: str) -> httpx.Response:
            headers = {"x-from": address, "x-forwarded-for": forwarded}
            return client.get("/v1/docs", headers=headers)

        for name in ("198.51.100.1", "198.51.100.2"):
            assert ask("10.0.0.1", f"203.0.113.9, {name}, 10.0.0.5").status_code == 200
            refused(ask("10.0.0.1", f"203.0.113.10, {name}, 10.0.0.5"))
        assert ask("192.0.2.7", "1.1.1.1").status_code == 200
        refused(ask("192.0.2.7", "1.1.1.2"))


class PageGate(OpenGate):
    """Lets in with the key of a web page."""

    async def admit(self, operation: AnyOperation, scope: HTTPScope) -> Admission:
        admission = await super().admit(operation, scope)
        caller = structs.replace(admission.caller, kind="publishable")
        return Admission(caller=caller, headers=(("access-control-allow-origin", PAGE),))


async def test_a_page_has_an_allowance_for_each_visitor() -> None:
    narrow = but(visitor=Allowance(SLOW, 5), publishable_key=Allowance(SLOW, 12))
    gate = LimitedGate(PageGate(), OpenWhereItFails(MemoryStore()), narrow)

    async def ask(address: str) -> tuple[bool, dict[str, str]]:
        scope: Any = {"type": "http", "method": "POST", "client": (address, 1), "headers": []}
        admission = await gate.admit(CALCULATE, scope)
        assert admission.refusal is None or isinstance(admission.refusal, TooManyRequests)
        return admission.refusal is None, dict(admission.headers)

    admitted, headers = await ask("192.0.2.10")
    assert admitted
    assert headers["ratelimit"].startswith('"key";r=7;')
    assert ', "visitor";r=0;' in headers["ratelimit"]
    admitted, headers = await ask("192.0.2.10")
    assert not admitted
    # the page may read why
    assert headers["access-control-allow-origin"] == PAGE
    assert headers["ratelimit"].startswith('"visitor";r=0;')
    assert (await ask("192.0.2.11"))[0]
    admitted, headers = await ask("192.0.2.12")
    assert not admitted
    assert headers["ratelimit"].startswith('"key";r=2;')


def test_limits_can_be_switched_off(url: URL, tmp_path: Path) -> None:
    for limits in (Limits(url="off"), but(secret_key=None, address=None)):
        with limited(url, limits, tmp_path / "none") as client:
            answer = client.get("/v1/products")
            assert answer.status_code == 200
            assert "ratelimit" not in answer.headers
    assert not (tmp_path / "none").exists()


def test_services_of_one_data_folder_share_allowances(url: URL, tmp_path: Path) -> None:
    two = but(url="file:", secret_key=Allowance(SLOW, 2))
    with limited(url, two, tmp_path / "data") as one, limited(url, two, tmp_path / "data") as other:
        assert one.get("/v1/products").status_code == 200
        assert other.get("/v1/products").status_code == 200
        refused(one.get("/v1/products"))
        refused(other.get("/v1/products"))


def test_a_store_that_fails_limits_nobody(url: URL, tmp_path: Path) -> None:
    (tmp_path / "data").write_text("a file where the folder should be")
    one = but(url="file:", secret_key=Allowance(SLOW, 1))
    with limited(url, one, tmp_path / "data") as client:
        for _ in range(3):
            answer = client.get("/v1/products")
            assert answer.status_code == 200
            assert "ratelimit" not in answer.headers


def test_a_browser_that_asks_beforehand_too_often_is_told_nothing(url: URL) -> None:
    with limited(url, but(address=Allowance(SLOW, 1))) as client:
        asked = {"origin": PAGE, "access-control-request-method": "POST"}
        first = client.options("/v1/calculations", headers=asked)
        assert "retry-after" not in first.headers
        again = client.options("/v1/calculations", headers=asked)
        assert int(again.headers["retry-after"]) > 0
        assert "access-control-allow-origin" not in again.headers


def test_a_large_body_costs_more(url: URL) -> None:
    """Whether it is announced or not: it takes long to refuse."""
    with limited(url, but(secret_key=Allowance(SLOW, 1000))) as client:
        body = b" " * (640 << 10)
        announced = client.post("/v1/takeoff", content=body, headers=JSON)
        assert announced.status_code == 400
        assert limit_of(announced).startswith('"key";r=985;')
        pieces = client.post("/v1/takeoff", content=iter([b"{", b"}"]), headers=JSON)
        assert pieces.status_code == 422
        assert limit_of(pieces).startswith('"key";r=964;')


def test_the_contract_says_who_is_told_of_allowances() -> None:
    document = contract_document(read_settings({}))
    told = document["paths"]["/v1/products"]["get"]["responses"]["200"]["headers"]
    assert {"RateLimit", "RateLimit-Policy"} <= set(told)
    untold = document["paths"]["/v1/docs"]["get"]["responses"]["200"]["headers"]
    assert "RateLimit" not in untold
    assert "Retry-After" in document["components"]["responses"]["TooMany"]["headers"]
    assert document["paths"]["/v1/calculations"]["post"]["x-cost"] == 5
