"""What happened is written with the change, or not at all."""

from datetime import timedelta

import calling
import msgspec
import pytest
from calling import ORGANISATION
from sqlalchemy import URL, func, select, text
from webhook_cases import NOON, Office, event

from filmbuild.db import EVERYONE, Database, metadata
from filmbuild.db.pinned import GuardError
from filmbuild.webhooks import outbox, tables
from filmbuild.webhooks.delivery_store import find_delivery, payload

OTHER = "other"


async def rows(database: Database) -> tuple[int, int]:
    """Of events and of deliveries."""
    async with database.reader(EVERYONE) as connection:
        events = await connection.scalar(select(func.count()).select_from(tables.event))
        deliveries = await connection.scalar(select(func.count()).select_from(tables.delivery))
    return events or 0, deliveries or 0


async def test_nothing_is_written_where_nobody_listens(office: Office) -> None:
    await office.tell("quo_1")
    assert await rows(office.database) == (0, 0)
    await office.endpoint("/in", "invoice.created")
    await office.tell("quo_1")
    assert await rows(office.database) == (0, 0)


async def test_each_endpoint_is_told_what_it_chose(office: Office) -> None:
    everything = await office.endpoint("/all")
    invoices = await office.endpoint("/invoices", "invoice.created", "catalogue.changed")
    await office.tell("quo_1", kind="quotation.issued")
    await office.tell("inv_1", kind="invoice.created")
    assert await rows(office.database) == (2, 3)
    told = {(one.endpoint_id, one.type) for one in await office.deliveries()}
    assert told == {
        (everything, "quotation.issued"),
        (everything, "invoice.created"),
        (invoices, "invoice.created"),
    }


async def test_what_is_rolled_back_never_happened(office: Office) -> None:
    await office.endpoint()

    async def fail() -> None:
        async with office.database.writer(ORGANISATION) as connection:
            await outbox.write(connection, ORGANISATION, event("quo_1", 1, "invoice.created", NOON))
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        await fail()
    assert await rows(office.database) == (0, 0)
    await office.send()
    assert office.postman.sent == []


async def test_events_of_one_subject_are_numbered_as_they_happen(office: Office) -> None:
    await office.endpoint()
    async with office.database.writer(ORGANISATION) as connection:
        several = [
            event(subject, number, "catalogue.changed", NOON)
            for subject, number in (("a", 1), ("b", 2), ("a", 3))
        ]
        await outbox.write_all(connection, ORGANISATION, several)
    await office.tell("a", 4)
    found = sorted((one.subject, one.position) for one in await office.deliveries())
    assert found == [("a", 1), ("a", 2), ("a", 3), ("b", 1)]


async def test_the_text_is_what_the_specification_asks_for(office: Office) -> None:
    """`type`, `timestamp` and `data` (Standard Webhooks 1.0, "Payload structure")."""
    await office.endpoint()
    await office.tell("catalogue", 7)
    (made,) = await office.deliveries()
    async with office.database.reader(ORGANISATION) as connection:
        written = await payload(connection, ORGANISATION, made.event_id)
    assert msgspec.json.decode(written) == {
        "type": "catalogue.changed",
        "timestamp": "2026-09-01T12:00:00Z",
        "data": {"revision": 7},
    }


async def test_a_type_that_the_contract_does_not_have_is_a_fault_of_ours(office: Office) -> None:
    """Even where nobody listens, so that no test misses it."""
    with pytest.raises(ValueError, match="not a type of event"):
        await office.tell("floor", kind="floor.baked")


async def test_postgresql_hides_the_rows_of_others_by_itself(office: Office) -> None:
    """Row security, forced on the tables' owner too (PostgreSQL manual, section 5.9)."""
    async with office.database.reader(EVERYONE) as connection:
        if connection.dialect.name != "postgresql":
            return
        query = text(
            "SELECT relname FROM pg_class WHERE relname LIKE 'webhook%' AND relkind = 'r' "
            "AND relrowsecurity AND relforcerowsecurity"
        )
        secured = set(await connection.scalars(query))
    assert secured == {name for name in metadata.tables if name.startswith("webhook")}


async def test_organisations_are_told_their_own_alone(office: Office, database_url: URL) -> None:
    calling.add_organisation(database_url, OTHER, "secret-token:filmbuild_of-the-other")
    await office.endpoint()
    async with office.database.writer(OTHER) as connection:
        await outbox.write(connection, OTHER, event("catalogue", 1, "catalogue.changed", NOON))
    assert await rows(office.database) == (0, 0)
    await office.tell("catalogue", 2)
    (mine,) = await office.deliveries()
    assert await office.deliveries(OTHER) == []
    async with office.database.reader(OTHER) as connection:
        assert await find_delivery(connection, OTHER, mine.id) is None
    with pytest.raises(GuardError):
        async with office.database.writer(OTHER) as connection:
            await outbox.write(
                connection,
                ORGANISATION,
                event("catalogue", 3, "catalogue.changed", NOON + timedelta(days=1)),
            )
