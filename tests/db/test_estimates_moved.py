"""Estimates from before they had revisions keep all that was stored of them."""

import json
from typing import Any

import pytest
from revision_cases import asked, estimated
from sqlalchemy import URL, column, select, table, text

from filmbuild.db import EVERYONE, Database, migrate
from filmbuild.db.engine import open_migrating_engine
from filmbuild.edge.encoding import encode
from filmbuild.estimates import store
from filmbuild.estimates.records import loaded
from filmbuild.estimates.texts import packed, unpacked

BEFORE, AFTER = "0003", "0004"
MADE_AT = "2026-02-03 04:05:06.123456"
OLD = (
    "organisation_id",
    "id",
    "created_at",
    "site_name",
    "reference",
    "system_id",
    "currency",
    "total",
    "catalogue_revision",
    "engine_version",
    "request",
    "result",
)


def old_row(name: str, reference: str | None) -> dict[str, Any]:
    document = estimated(asked())
    return {
        "organisation_id": "default",
        "id": name,
        "created_at": f"{MADE_AT}+00:00",
        "site_name": "Halle für Boote",
        "reference": reference,
        "system_id": "harbour-thin-film",
        "currency": "USD",
        "total": str(document.price.total.amount),
        "catalogue_revision": 1,
        "engine_version": "0.1.0",
        "request": json.dumps(asked()),
        "result": encode(document, "us").decode(),
    }


def insert_old(url: URL, rows: list[dict[str, Any]]) -> None:
    names = ", ".join(OLD)
    values = ", ".join(
        "CAST(:created_at AS TIMESTAMPTZ)"
        if name == "created_at" and url.get_backend_name() == "postgresql"
        else f":{name}"
        for name in OLD
    )
    if url.get_backend_name() == "sqlite":
        rows = [{**row, "created_at": MADE_AT} for row in rows]
    statement = f"INSERT INTO estimate ({names}) VALUES ({values})"  # noqa: S608 - names of columns, given above
    with open_migrating_engine(url).begin() as connection:
        connection.execute(text(statement), rows)


def old_rows(url: URL) -> list[dict[str, Any]]:
    estimate = table("estimate", *(column(name) for name in OLD))
    with open_migrating_engine(url).begin() as connection:
        found = connection.execute(select(estimate).order_by(estimate.c.id)).mappings()
        return [{name: str(value) for name, value in row.items()} for row in found]


@pytest.fixture
def rows() -> list[dict[str, Any]]:
    return [old_row("est_a", "R-1"), old_row("est_b", None)]


async def test_a_stored_estimate_becomes_its_first_revision(
    empty_database_url: URL, rows: list[dict[str, Any]]
) -> None:
    migrate.upgrade(empty_database_url, BEFORE)
    insert_old(empty_database_url, rows)
    migrate.upgrade(empty_database_url, AFTER)
    database = Database(empty_database_url)
    async with database.reader(EVERYONE) as connection:
        for row in rows:
            found = await store.get_estimate(connection, "default", row["id"])
            assert found is not None
            head, first = found.head, found.revision
            assert (head.site_name, head.reference) == (row["site_name"], row["reference"])
            assert (head.latest_revision, head.state, head.accepted_revision) == (1, "open", None)
            assert head.created_at == first.created_at
            assert head.created_at.isoformat() == "2026-02-03T04:05:06.123456+00:00"
            assert (first.actor, first.cause, first.cause_id) == ("anyone", None, None)
            assert unpacked(first.request).decode() == row["request"]
            assert unpacked(first.result).decode() == row["result"]
            read = loaded(found)
            assert first.priced_on == read.document.priced_on
            assert first.net == read.document.price.net.amount
            assert first.total == read.document.price.total.amount
            assert first.margin_percent == read.document.price.margin_percent
            assert (first.system_id, first.catalogue_revision) == ("harbour-thin-film", 1)
    await database.dispose()


async def test_going_back_keeps_the_latest_revision(
    empty_database_url: URL, rows: list[dict[str, Any]]
) -> None:
    migrate.upgrade(empty_database_url, BEFORE)
    insert_old(empty_database_url, rows)
    before = old_rows(empty_database_url)
    migrate.upgrade(empty_database_url, AFTER)
    migrate.downgrade(empty_database_url, BEFORE)
    assert old_rows(empty_database_url) == before
    migrate.upgrade(empty_database_url, AFTER)
    with open_migrating_engine(empty_database_url).begin() as connection:
        connection.execute(
            text(
                "INSERT INTO estimate_revision SELECT organisation_id, estimate_id, 2, created_at, "
                "actor, 'why', NULL, 4, priced_on, engine_version, system_id, currency, net, "
                "'9.99', margin_percent, request, :result FROM estimate_revision "
                "WHERE estimate_id = 'est_b'"
            ),
            {"result": packed(b'{"second": true}')},
        )
        connection.execute(text("UPDATE estimate SET latest_revision = 2 WHERE id = 'est_b'"))
    migrate.downgrade(empty_database_url, BEFORE)
    first, second = old_rows(empty_database_url)
    assert first == before[0]
    changed = {"total": "9.99", "catalogue_revision": "4", "result": '{"second": true}'}
    assert second == {**before[1], **changed}
