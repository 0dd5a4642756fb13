"""An organisation that has made use of every operation, and what it was that it asked."""

import re
from typing import Any, NamedTuple

import calling
import httpx
import serving
from accounts_cases import make_key
from sqlalchemy import URL, Connection, create_engine, event, select
from sqlalchemy.pool import NullPool

import examples
from filmbuild.app import contract_document
from filmbuild.catalogue import wire
from filmbuild.db import metadata
from filmbuild.db.engine import SYNCHRONOUS_DRIVERS

ATTACKER = "attacker"
ATTACKERS_KEY = "secret-token:filmbuild_of-one-who-has-no-business-here"
MARK = "of the victim alone"
"""Stands in every record of the victim's catalogue, and in all that it was made to say."""
_SECRETS = re.compile(r"\b[a-z]{2,4}_[0-9a-hjkmnp-tv-z]{26}\b|(?<=/offers/)[A-Za-z0-9_.-]{40,}")


class Attack(NamedTuple):
    """One request of the victim's, to be sent again by someone else."""

    operation: str
    request: httpx.Request
    public: bool


class Victim(NamedTuple):
    attacks: tuple[Attack, ...]
    secrets: frozenset[str]
    """Ids and links that only the victim was told."""


def make(url: URL) -> Victim:
    """Both have the same catalogue, but for the marks; the victim's requests are the contract's."""
    demo = wire.demo()
    marked = demo.replace(b"(demo data", f"({MARK}; demo data".encode())
    calling.add_organisation(url, ATTACKER, ATTACKERS_KEY)
    serving.load_catalogue(url, marked)
    serving.load_catalogue(url, demo, ATTACKER)
    document = contract_document(serving.settings_for(url))
    attacks: list[Attack] = []
    secrets: set[str] = set()
    with serving.client_of(url) as client:
        for operation, _, response in examples.exchanges(client, document):
            described = described_in(document, operation)
            attacks.append(Attack(operation, response.request, public=not described["security"]))
            if response.is_success:
                secrets.update(_SECRETS.findall(response.text))
        # the keys of the examples have ended: one more that is good, for the attacker to end
        live = make_key(client, scopes=["estimates:read"])["key"]["id"]
        ending = client.build_request("POST", f"/v1/keys/{live}/revocation")
        attacks.append(Attack("revokeKey", ending, public=False))
        secrets.add(live)
    return Victim(tuple(attacks), frozenset(secrets))


def described_in(document: dict[str, Any], operation: str) -> dict[str, Any]:
    route = examples.routes(document)[operation]
    described: dict[str, Any] = document["paths"][route.path][route.method.lower()]
    return described


def rows_of(url: URL, organisation: str) -> dict[str, list[tuple[Any, ...]]]:
    """Everything that is stored of an organisation; when its keys were used is left out."""
    engine = create_engine(
        url.set(drivername=SYNCHRONOUS_DRIVERS[url.drivername]), poolclass=NullPool
    )
    if engine.dialect.name == "postgresql":

        @event.listens_for(engine, "begin")
        def see(connection: Connection) -> None:
            connection.exec_driver_sql("SELECT set_config('filmbuild.organisation', '*', true)")

    found: dict[str, list[tuple[Any, ...]]] = {}
    with engine.begin() as connection:
        for table in metadata.tables.values():
            columns = [one for one in table.c if one.name != "last_used_at"]
            query = select(*columns).where(table.c.organisation_id == organisation)
            found[table.name] = sorted(map(tuple, connection.execute(query)), key=repr)
    engine.dispose()
    return found
