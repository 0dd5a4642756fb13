"""No request reads or changes what is another organisation's: tried on every operation.

The attacks are made from the contract: whatever its examples have one organisation ask is asked
again by another, with the first one's ids, conditions and keys. So a new operation is attacked as
soon as it has an example, which it cannot be without.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import attack_victim as victim
import httpx
import new_databases
import pytest
import serving
from attack_victim import MARK, Attack, Victim
from careless import careless
from private_cluster import Cluster
from serving import Client
from sqlalchemy import URL

from filmbuild.accounts import keys
from filmbuild.app import contract_document
from filmbuild.db import metadata

# Hundreds of requests over lines that other tests cover.
pytestmark = pytest.mark.no_cover


class Prepared(dict[str, Any]):
    """By kind of database, one that the victim has used, and what it did there."""


@pytest.fixture(scope="module")
def prepared() -> Prepared:
    return Prepared()


@pytest.fixture(params=["sqlite", "postgresql"])
def kind(request: pytest.FixtureRequest) -> str:
    chosen: str = request.param
    return chosen


@pytest.fixture
def scene(
    kind: str, prepared: Prepared, tmp_path_factory: pytest.TempPathFactory, request: Any
) -> Iterator[tuple[URL, Victim]]:
    """A copy of a database that the victim has used."""
    if kind == "sqlite":
        path = tmp_path_factory.mktemp("scene") / "scene.sqlite3"
        url = URL.create("sqlite+aiosqlite", database=str(path))
        if kind not in prepared:
            new_databases.make(url)
            made = victim.make(url)
            prepared[kind] = (path.read_bytes(), made)
        content, made = prepared[kind]
        path.write_bytes(content)
        yield url, made
        return
    cluster: Cluster = request.getfixturevalue("postgresql_cluster")
    if kind not in prepared:
        url = cluster.create("scene")
        new_databases.make(url)
        prepared[kind] = victim.make(url)
    yield cluster.create("attacked", "scene"), prepared[kind]
    cluster.drop("attacked")


def told(response: httpx.Response, made: Victim) -> bool:
    """Whether an answer tells something that only the victim should know.

    What a request itself said proves nothing when it is said back.
    """
    asked = f"{response.request.url} {response.request.content.decode('utf-8', 'replace')}"
    text = response.text + " ".join(response.headers.values())
    return MARK in text or any(one in text and one not in asked for one in made.secrets)


def send(client: Client, attack: Attack) -> httpx.Response:
    request = attack.request
    headers = {
        name: value
        for name, value in request.headers.items()
        if name in ("content-type", "accept", "idempotency-key", "if-none-match")
    }
    if "if-match" in request.headers:
        headers["if-match"] = "*"
    return client.request(
        request.method, request.url.raw_path.decode(), content=request.content, headers=headers
    )


@contextmanager
def attacking(url: URL) -> Iterator[Client]:
    with serving.client_of(url) as client:
        client.headers["authorization"] = f"Bearer {victim.ATTACKERS_KEY}"
        yield client


def leaks(url: URL, made: Victim) -> list[str]:
    """The operations by which the attacker saw or changed what is the victim's."""
    before = victim.rows_of(url, "default")
    with attacking(url) as client:
        tried = [one for one in made.attacks if not one.public]
        found = [one.operation for one in tried if told(send(client, one), made)]
    after = victim.rows_of(url, "default")
    changed = [f"rows of {name}" for name in before if before[name] != after[name]]
    return [*found, *changed]


def test_nobody_reads_or_changes_what_is_anothers(scene: tuple[URL, Victim]) -> None:
    url, made = scene
    assert leaks(url, made) == []
    with attacking(url) as client:
        answers = [send(client, one) for one in made.attacks if not one.public]
    assert any(one.is_success for one in answers), "attacks that all fail prove nothing"
    assert not [one.request.url for one in answers if one.status_code >= 500]


def test_forgotten_conditions_leak_nothing_as_long_as_the_guard_is_in(
    scene: tuple[URL, Victim], monkeypatch: pytest.MonkeyPatch
) -> None:
    url, made = scene
    with careless(monkeypatch, guarded=True):
        assert leaks(url, made) == []


def test_the_attacks_find_the_leaks_of_a_build_without_the_guard(
    scene: tuple[URL, Victim], kind: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Else they would prove nothing; on PostgreSQL row security is there as well."""
    url, made = scene
    with careless(monkeypatch, guarded=False):
        found = leaks(url, made)
    if kind == "postgresql":
        assert found == []
        return
    assert {"getEstimate", "listEstimates", "getQuotation", "listInvoices", "listAuditEntries"} <= {
        *found
    }
    assert any(one.startswith("rows of ") for one in found)
    assert len(set(found)) > 30, found


def test_every_operation_asks_for_a_key(scene: tuple[URL, Victim]) -> None:
    url, made = scene
    with serving.client_of(url) as client:
        del client.headers["authorization"]
        for attack in made.attacks:
            response = send(client, attack)
            if not attack.public:
                assert response.status_code == 401, attack.operation
                assert response.headers["www-authenticate"].startswith("Bearer ")
                assert response.json()["type"] == "/problems/unauthorized"
                assert not told(response, made)


def test_every_operation_asks_for_its_scope(scene: tuple[URL, Victim]) -> None:
    """With all scopes but the one; and of those of its own resource, reading does not write."""
    url, made = scene
    document = contract_document(serving.settings_for(url))
    with serving.client_of(url) as client:
        scopes = every_scope(document)
        secrets = {one: key_without(client, one, scopes) for one in scopes}
        for attack in made.attacks:
            if attack.public:
                continue
            described = victim.described_in(document, attack.operation)
            (scope,) = described["security"][0]["key"]
            client.headers["authorization"] = f"Bearer {secrets[scope]}"
            response = send(client, attack)
            assert response.status_code == 403, attack.operation
            assert scope in response.json()["detail"]


def every_scope(document: dict[str, Any]) -> set[str]:
    found = {
        operation["security"][0]["key"][0]
        for methods in document["paths"].values()
        for operation in methods.values()
        if operation["security"]
    }
    return found | {one.replace(":read", ":write") for one in found}


def key_without(client: Client, scope: str, scopes: set[str]) -> str:
    allowed = sorted(one for one in scopes if not keys.allows((one,), scope))
    made = client.post("/v1/keys", json={"name": f"All but {scope}", "scopes": allowed})
    assert made.status_code == 201, made.text
    secret: str = made.json()["secret"]
    return secret


def test_a_publishable_key_is_good_for_nothing_else(scene: tuple[URL, Victim]) -> None:
    url, made = scene
    document = contract_document(serving.settings_for(url))
    origin = "https://floors.example"
    with serving.client_of(url) as client:
        asked = {"name": "Pages", "kind": "publishable", "origins": [origin]}
        secret = client.post("/v1/keys", json=asked).json()["secret"]
        client.headers["authorization"] = f"Bearer {secret}"
        client.headers["origin"] = origin
        for attack in made.attacks:
            described = victim.described_in(document, attack.operation)
            if not attack.public and not described.get("x-publishable"):
                assert send(client, attack).status_code == 403, attack.operation


def test_every_table_says_whose_its_rows_are_first_of_all() -> None:
    for table in metadata.tables.values():
        assert next(iter(table.primary_key.columns), None) is table.c.organisation_id or (
            next(iter(table.c)) is table.c.organisation_id
        ), table.name


def test_every_table_is_secured_on_postgresql(postgresql_cluster: Cluster) -> None:
    url = postgresql_cluster.create("secured")
    new_databases.make(url)
    rows = postgresql_cluster.ask(
        "secured",
        "SELECT c.relname FROM pg_class c JOIN pg_policy p ON p.polrelid = c.oid "
        "WHERE c.relrowsecurity AND c.relforcerowsecurity",
    )
    postgresql_cluster.drop("secured")
    assert {one[0] for one in rows} == set(metadata.tables)
