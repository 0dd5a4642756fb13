"""The life of a key: made, used, rotated, ended."""

import asyncio
import re
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from typing import Any

import calling
import pytest
from accounts_cases import PAGE, bearer, make_key
from serving import Client, NewDatabase, client_of
from sqlalchemy import URL

from filmbuild.accounts import store
from filmbuild.accounts.gate import KeyGate
from filmbuild.accounts.service import KeyService
from filmbuild.accounts.usage import Usage
from filmbuild.accounts.wire import KeyRequest, RotationRequest
from filmbuild.db import EVERYONE, Database
from filmbuild.edge.operations import AnyOperation, Caller, NoQuery, Operation
from filmbuild.errors import Forbidden, Unauthorized

READ = ["estimates:read"]


@pytest.fixture
def url(new_database: NewDatabase) -> Iterator[URL]:
    with new_database(True) as url:
        yield url


@pytest.fixture
def client(url: URL) -> Iterator[Client]:
    with client_of(url) as client:
        yield client


def status(client: Client, secret: str, path: str = "/v1/estimates") -> int:
    return client.get(path, headers=bearer(secret)).status_code


def test_a_secret_key_has_the_form_of_rfc_8959_and_is_told_once(client: Client) -> None:
    """RFC 8959 section 2: a URI of the scheme secret-token."""
    made = make_key(client, scopes=READ)
    assert re.fullmatch(r"secret-token:filmbuild_[A-Za-z0-9_-]{43}", made["secret"])
    assert status(client, made["secret"]) == 200
    name = made["key"]["id"]
    assert made["secret"] not in client.get(f"/v1/keys/{name}").text
    assert made["secret"] not in client.get("/v1/keys").text
    assert made["secret"].endswith(made["key"]["hint"])


async def test_the_key_itself_is_kept_nowhere(database: Database) -> None:
    text = "secret-token:filmbuild_" + "k" * 43
    await asyncio.to_thread(calling.add_organisation, database.url, "harbour", text)
    async with database.reader(EVERYONE) as connection:
        stored = await store.find_key(connection, "harbour", calling.KEY_ID)
    assert stored is not None
    assert text not in repr(stored)


@pytest.mark.parametrize(
    "given",
    [
        "",
        "Bearer",
        "Bearer secret-token:filmbuild_" + "x" * 43,
        f"Basic {calling.KEY}",
        f"Bearer {calling.KEY}x",
        f"Bearer {calling.KEY[:-1]}",
        f"Bearer {calling.KEY} {calling.KEY}",
        f"Bearer {calling.KEY.upper()}",
    ],
)
def test_what_is_no_good_key_is_refused_in_one_way(client: Client, given: str) -> None:
    answer = client.get("/v1/estimates", headers={"authorization": given})
    assert answer.status_code == 401
    assert answer.json()["type"] == "/problems/unauthorized"
    assert answer.headers["www-authenticate"].startswith('Bearer realm="filmbuild"')
    assert given[8:] not in answer.text or not given[8:]


def test_two_keys_at_once_are_none(client: Client) -> None:
    """Which of them counts would be a guess, and a way past something in between."""
    twice = [("authorization", f"Bearer {calling.KEY}")] * 2
    assert client.get("/v1/estimates", headers=twice).status_code == 401


def test_writing_holds_reading_and_nothing_of_others(client: Client) -> None:
    secret = make_key(client, scopes=["estimates:write"])["secret"]
    assert status(client, secret) == 200
    refused = client.get("/v1/quotations", headers=bearer(secret))
    assert refused.status_code == 403
    assert "quotations:read" in refused.json()["detail"]


def test_no_key_makes_one_that_may_do_more(client: Client) -> None:
    limited = make_key(client, scopes=["keys:write", "estimates:read"])["secret"]
    asked = {"name": "More", "scopes": ["estimates:read", "estimates:write"]}
    refused = client.post("/v1/keys", json=asked, headers=bearer(limited))
    assert refused.status_code == 403
    assert "estimates:write" in refused.json()["detail"]
    everything = {"name": "More", "scopes": ["*"]}
    assert client.post("/v1/keys", json=everything, headers=bearer(limited)).status_code == 403
    strong = make_key(client, scopes=["*"])["key"]["id"]
    rotation = client.post(f"/v1/keys/{strong}/rotation", json={}, headers=bearer(limited))
    assert rotation.status_code == 403


def test_everything_wrong_is_told_at_once(client: Client) -> None:
    asked: dict[str, Any] = {
        "name": "Wrong",
        "scopes": ["estimates:read", "kitchens:read"],
        "origins": [PAGE],
        "expires_at": "2001-01-01T00:00:00Z",
    }
    answer = client.post("/v1/keys", json=asked)
    assert answer.status_code == 422
    pointers = {fault["pointer"] for fault in answer.json()["errors"]}
    assert pointers == {"/scopes/1", "/origins", "/expires_at"}
    publishable = {"name": "Wrong", "kind": "publishable", "scopes": READ, "origins": []}
    answer = client.post("/v1/keys", json=publishable)
    assert {one["pointer"] for one in answer.json()["errors"]} == {"/scopes", "/origins"}
    insecure = {"name": "Wrong", "kind": "publishable", "origins": ["http://floors.example"]}
    assert client.post("/v1/keys", json=insecure).json()["errors"][0]["pointer"] == "/origins/0"


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("name", "line\nfeed"),
        ("name", "nothing\0more"),
        # in UTC it is of a year that no calendar of ours has
        ("expires_at", "9999-12-31T23:59:59-14:00"),
    ],
)
def test_what_a_database_cannot_keep_is_refused(client: Client, field: str, value: str) -> None:
    answer = client.post("/v1/keys", json={"name": "Wrong", "scopes": READ, field: value})
    assert answer.status_code == 422
    assert [one["pointer"] for one in answer.json()["errors"]] == [f"/{field}"]


def test_a_revoked_key_is_refused_at_once_by_every_process(url: URL) -> None:
    with client_of(url) as one, client_of(url) as other:
        made = make_key(one, scopes=READ)
        assert status(one, made["secret"]) == status(other, made["secret"]) == 200
        ended = one.post(f"/v1/keys/{made['key']['id']}/revocation")
        assert ended.json()["state"] == "revoked"
        assert status(other, made["secret"]) == status(one, made["secret"]) == 401
        again = one.post(f"/v1/keys/{made['key']['id']}/revocation")
        assert again.json()["revoked_at"] == ended.json()["revoked_at"]


async def test_a_key_that_ends_while_its_request_comes_in_leaves_no_other_behind(
    url: URL,
) -> None:
    with client_of(url) as client:
        made = make_key(client, scopes=["keys:write"])["key"]
        other = make_key(client, scopes=["keys:write"])["key"]
        client.post(f"/v1/keys/{made['id']}/revocation")
    ended = Caller(organisation="default", actor=made["id"], scopes=("keys:write",))
    database = Database(url)
    try:
        service = KeyService(database, ("keys:write",), lambda: datetime.now(UTC))
        with pytest.raises(Forbidden):
            await service.create(ended, KeyRequest(name="Left", scopes=("keys:write",)), None)
        with pytest.raises(Forbidden):
            await service.rotate(ended, other["id"], RotationRequest(), None)
    finally:
        await database.dispose()


def test_a_rotated_key_goes_on_for_the_overlap(client: Client) -> None:
    old = make_key(client, scopes=READ)
    path = f"/v1/keys/{old['key']['id']}/rotation"
    new = client.post(path, json={"overlap": "PT2H"}).json()
    assert status(client, old["secret"]) == status(client, new["secret"]) == 200
    shown = client.get(f"/v1/keys/{old['key']['id']}").json()
    assert shown["replaced_by"] == new["key"]["id"]
    left = datetime.fromisoformat(shown["expires_at"]) - datetime.now(UTC)
    assert timedelta(hours=1, minutes=58) < left <= timedelta(hours=2)
    assert client.post(path, json={}).status_code == 409


def test_what_follows_a_key_that_ends_ends_too(client: Client) -> None:
    ends = datetime.now(UTC) + timedelta(hours=3)
    old = make_key(client, scopes=READ, expires_at=ends.isoformat())
    path = f"/v1/keys/{old['key']['id']}/rotation"
    far = (datetime.now(UTC) + timedelta(days=900)).isoformat()
    new = client.post(path, json={"expires_at": far}).json()["key"]
    lifetime = datetime.fromisoformat(new["expires_at"]) - datetime.fromisoformat(new["created_at"])
    assert timedelta(hours=2, minutes=58) < lifetime <= timedelta(hours=3)


def test_a_key_that_was_seen_is_rotated_without_overlap(client: Client) -> None:
    old = make_key(client, scopes=READ)
    path = f"/v1/keys/{old['key']['id']}/rotation"
    new = client.post(path, json={"overlap": "PT0S"}).json()
    assert (status(client, old["secret"]), status(client, new["secret"])) == (401, 200)
    assert client.post(path, json={"overlap": "P31D"}).status_code == 422


def test_a_repeated_request_makes_one_key_and_does_not_tell_it_again(client: Client) -> None:
    headers = {"idempotency-key": '"one-key"'}
    asked = {"name": "Back office", "scopes": READ}
    first = client.post("/v1/keys", json=asked, headers=headers)
    second = client.post("/v1/keys", json=asked, headers=headers)
    assert (first.status_code, second.status_code) == (201, 201)
    assert second.json() == {"key": first.json()["key"], "secret": None}


async def test_a_key_ends_on_its_day(database: Database) -> None:
    now = datetime(2026, 3, 1, 12, tzinfo=UTC)
    ends = datetime(2026, 3, 2, 12, tzinfo=UTC)
    await asyncio.to_thread(calling.add_organisation, database.url, "harbour", "k" * 40)
    async with database.writer("harbour") as connection:
        await store.end_key(connection, "harbour", calling.KEY_ID, expires_at=ends)
    clock = [now]
    usage = Usage(database, lambda: clock[0])
    gate = KeyGate(database, usage, lambda: clock[0])
    asked = {"type": "http", "headers": [(b"authorization", b"Bearer " + b"k" * 40)]}

    async def refusal() -> Exception | None:
        return (await gate.admit(READING, asked)).refusal  # type: ignore[arg-type] # as much of a scope as is read

    assert await refusal() is None
    clock[0] = ends - timedelta(microseconds=1)
    assert await refusal() is None
    clock[0] = ends
    assert isinstance(await refusal(), Unauthorized)
    await usage.settled()


async def _nothing(_call: Any) -> Any:
    raise AssertionError


READING: AnyOperation = Operation(
    method="GET",
    path="/v1/estimates",
    id="listEstimates",
    tag="estimates",
    summary="",
    description="",
    handler=_nothing,
    answer=None,
    query=NoQuery,
)


def test_when_a_key_was_used_is_known_afterwards(url: URL) -> None:
    with client_of(url) as client:
        made = make_key(client, scopes=READ)
        assert made["key"]["last_used_at"] is None
        assert status(client, made["secret"]) == 200
    with client_of(url) as client:
        used = client.get(f"/v1/keys/{made['key']['id']}").json()["last_used_at"]
    assert abs(datetime.now(UTC) - datetime.fromisoformat(used)) < timedelta(minutes=5)


def test_what_was_done_with_keys_and_prices_is_logged(client: Client) -> None:
    made = make_key(client, scopes=READ)
    client.post(f"/v1/keys/{made['key']['id']}/revocation")
    entries = client.get("/v1/audit-log").json()["items"]
    assert [one["action"] for one in entries] == ["key.revoked", "key.created"]
    assert {one["actor"] for one in entries} == {calling.KEY_ID}
    assert {one["subject"] for one in entries} == {made["key"]["id"]}
    assert made["secret"] not in client.get("/v1/audit-log").text
    chosen = client.get("/v1/audit-log?action=key.created").json()["items"]
    assert [one["action"] for one in chosen] == ["key.created"]


def test_lists_page(client: Client) -> None:
    names = [
        make_key(client, name=f"Key {number}", scopes=READ)["key"]["id"] for number in range(5)
    ]
    found, query = [], "?limit=2"
    while query:
        page = client.get(f"/v1/keys{query}").json()
        found += [one["id"] for one in page["items"]]
        query = f"?limit=2&cursor={page['next']}" if page["next"] else ""
    assert found == [calling.KEY_ID, *names]
