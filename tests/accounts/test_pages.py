"""Keys in web pages: which pages may use them, and what browsers are told (the Fetch standard)."""

from collections.abc import Iterator

import calling
import pytest
from accounts_cases import PAGE, bearer, make_key
from litestar import Litestar
from litestar.testing import TestClient
from serving import Client, NewDatabase, client_of
from sqlalchemy import URL

from filmbuild.accounts.gate import KeyGate, utc_now
from filmbuild.accounts.usage import Usage
from filmbuild.db import Database
from filmbuild.edge.http import handlers
from filmbuild.edge.operations import Answer, Call, NoQuery, Operation

OTHER = "https://elsewhere.example"


async def answer(call: Call[None, NoQuery]) -> Answer:
    return Answer(f'"{call.caller.kind} of {call.caller.organisation}"'.encode())


def operation(path: str, *, publishable: bool) -> Operation[None, NoQuery]:
    return Operation(
        method="GET",
        path=path,
        id=f"get{publishable}",
        tag="estimates",
        summary="",
        description="",
        handler=answer,
        query=NoQuery,
        answer=str,
        publishable=publishable,
    )


@pytest.fixture
def url(new_database: NewDatabase) -> Iterator[URL]:
    with new_database(True) as url:
        yield url


@pytest.fixture
def secret(url: URL) -> str:
    with client_of(url) as client:
        made = make_key(client, kind="publishable", origins=[PAGE, "http://localhost:8000"])
    text: str = made["secret"]
    return text


@pytest.fixture
def client(url: URL, secret: str) -> Iterator[Client]:
    assert secret
    database = Database(url)
    usage = Usage(database, utc_now)
    gate = KeyGate(database, usage)
    operations = [operation("/open", publishable=True), operation("/closed", publishable=False)]
    app = Litestar(
        handlers(operations, 1 << 10, gate),
        openapi_config=None,
        on_shutdown=[usage.settled, database.dispose],
    )
    with TestClient(app, base_url="https://service.example") as client:
        yield client


def test_a_page_of_its_origin_may_call_what_is_for_pages(client: Client, secret: str) -> None:
    response = client.get("/open", headers={**bearer(secret), "origin": PAGE})
    assert response.json() == "publishable of default"
    assert response.headers["access-control-allow-origin"] == PAGE
    assert "Origin" in response.headers["vary"]
    assert "access-control-allow-credentials" not in response.headers


def test_it_may_call_nothing_else(client: Client, secret: str) -> None:
    response = client.get("/closed", headers={**bearer(secret), "origin": PAGE})
    assert response.status_code == 403
    assert response.headers["access-control-allow-origin"] == PAGE, "the page is to read why"


@pytest.mark.parametrize("origin", [OTHER, "null", f"{PAGE}.evil.example", PAGE.upper(), ""])
def test_other_pages_may_not(client: Client, secret: str, origin: str) -> None:
    headers = {**bearer(secret), "origin": origin} if origin else bearer(secret)
    response = client.get("/open", headers=headers)
    assert response.status_code == 403
    assert "access-control-allow-origin" not in response.headers


def test_a_page_of_the_service_itself_may_where_its_origin_is_listed(
    client: Client, secret: str
) -> None:
    """Browsers send no Origin with a page's reading from its own host, but Sec-Fetch-Site."""
    headers = {**bearer(secret), "sec-fetch-site": "same-origin"}
    assert client.get("/open", headers=headers).status_code == 403
    listed = headers | {"host": PAGE.removeprefix("https://")}
    assert client.get("/open", headers=listed).status_code == 200


def preflight(client: Client, path: str, origin: str) -> dict[str, str]:
    asked = {
        "origin": origin,
        "access-control-request-method": "GET",
        "access-control-request-headers": "authorization",
    }
    return dict(client.options(path, headers=asked).headers)


def test_browsers_are_told_beforehand(client: Client) -> None:
    told = preflight(client, "/open", PAGE)
    assert told["access-control-allow-origin"] == PAGE
    assert "GET" in told["access-control-allow-methods"]
    assert "Authorization" in told["access-control-allow-headers"]
    assert "access-control-allow-origin" not in preflight(client, "/open", OTHER)
    assert "access-control-allow-origin" not in preflight(client, "/closed", PAGE)


def test_a_revoked_key_ends_what_browsers_are_told(client: Client, url: URL) -> None:
    with client_of(url) as owner:
        (name,) = [
            one["id"] for one in owner.get("/v1/keys").json()["items"] if one["kind"] != "secret"
        ]
        owner.post(f"/v1/keys/{name}/revocation")
    assert "access-control-allow-origin" not in preflight(client, "/open", PAGE)


def test_a_page_can_read_that_its_key_is_wrong(client: Client) -> None:
    wrong = bearer("filmbuild-public_" + "x" * 43)
    response = client.get("/open", headers={**wrong, "origin": PAGE})
    assert response.status_code == 401
    assert response.headers["access-control-allow-origin"] == PAGE
    elsewhere = client.get("/open", headers={**wrong, "origin": OTHER})
    assert "access-control-allow-origin" not in elsewhere.headers


def test_a_secret_key_in_a_page_is_answered_so_that_no_page_can_read_it(client: Client) -> None:

    response = client.get("/closed", headers={**calling.HEADERS, "origin": PAGE})
    assert response.status_code == 200
    assert "access-control-allow-origin" not in response.headers
