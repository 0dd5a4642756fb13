import asyncio
from datetime import date
from decimal import Decimal
from typing import Any

import catalogue_cases as cases
import pytest
from catalogue_cases import ORGANISATION, load_document
from sqlalchemy import URL, update

from filmbuild.catalogue import service, store, tables
from filmbuild.catalogue.snapshot import CatalogueSnapshot, CatalogueSnapshots, StoredRecordError
from filmbuild.db import EVERYONE, Database
from filmbuild.errors import NotFound, Unavailable
from filmbuild.money import Currency

USD, EUR = Currency("USD"), Currency("EUR")


class CountingSnapshots(CatalogueSnapshots):
    """Counts how often a revision is read from the database."""

    loads = 0

    async def _load(self, organisation: str, revision: int) -> CatalogueSnapshot:
        self.loads += 1
        return await super()._load(organisation, revision)


async def test_a_snapshot_stays_as_it_was_and_a_new_one_follows_at_once(
    database: Database,
) -> None:
    await load_document(database, cases.document())
    snapshots = CatalogueSnapshots(database)
    before = await snapshots.current(ORGANISATION)
    document = cases.document()
    document["products"][1]["name"] = "Changed"
    await load_document(database, document)
    after = await snapshots.current(ORGANISATION)
    assert (before.revision, after.revision) == (1, 2)
    assert before.products.by_id["body"].name == "Quay body"
    assert after.products.by_id["body"].name == "Changed"
    for record, member in ((before, "made"), (before.products.by_id["body"], "name")):
        with pytest.raises(AttributeError):
            setattr(record, member, None)


async def test_a_change_by_another_process_is_seen_by_the_next_request(
    database: Database, database_url: URL
) -> None:
    other = Database(database_url)
    try:
        document = cases.document()
        await load_document(other, document)
        snapshots = CatalogueSnapshots(database)
        for number in range(1, 6):
            assert (await snapshots.current(ORGANISATION)).revision == number
            document["taxes"][0]["name"] = f"Tax {number}"
            await load_document(other, document)
    finally:
        await other.dispose()


async def test_many_requests_share_one_load(database: Database) -> None:
    await load_document(database, cases.document())
    snapshots = CountingSnapshots(database)
    first = await snapshots.current(ORGANISATION)
    found = await asyncio.gather(*(snapshots.current(ORGANISATION) for _ in range(20)))
    assert {id(one) for one in found} == {id(first)}
    assert snapshots.loads == 1


async def test_requests_that_come_together_at_the_start_load_once(database: Database) -> None:
    await load_document(database, cases.document())
    snapshots = CountingSnapshots(database)
    await asyncio.gather(*(snapshots.current(ORGANISATION) for _ in range(5)))
    assert snapshots.loads == 1


async def test_only_the_last_used_snapshots_are_kept(database: Database) -> None:
    document = cases.document()
    for name in ("one", "two", "three"):
        document["taxes"][0]["name"] = name
        await load_document(database, document)
    snapshots = CountingSnapshots(database, capacity=2)
    for revision in (1, 2, 1, 3, 1):
        found = await snapshots.at(ORGANISATION, revision)
        assert found.revision == revision
    assert snapshots.loads == 3
    await snapshots.at(ORGANISATION, 2)
    assert snapshots.loads == 4


async def test_snapshots_are_dropped_by_what_they_hold(database: Database) -> None:
    document = cases.document()
    for name in ("one", "two", "three"):
        document["taxes"][0]["name"] = name
        await load_document(database, document)
    weight = (await CatalogueSnapshots(database).at(ORGANISATION, 1)).weight
    assert weight == 5 + 5 + 1 + 1 + 1 + 1 + 5  # the records of each kind, and the prices
    snapshots = CountingSnapshots(database, most_records=2 * weight)
    for revision in (1, 2, 3, 2, 3, 1):
        await snapshots.at(ORGANISATION, revision)
    assert snapshots.loads == 4
    tiny = CountingSnapshots(database, most_records=1)
    for revision in (1, 1, 2, 2):
        await tiny.at(ORGANISATION, revision)
    assert tiny.loads == 2


async def test_a_snapshot_made_of_the_one_before_is_as_one_read_whole(database: Database) -> None:
    """Through every kind of change, forwards and with revisions left out."""
    document = cases.document()
    document["prices"] = PRICES
    await load_document(database, document)
    document["products"][1]["name"] = "Changed"
    await load_document(database, document)
    document["packs"][1]["product"] = "spare"
    document["packs"].append(cases.kit("aaa-30l", "body", 10))
    document["packs"][0]["name"] = "Renamed"
    await load_document(database, document)
    document["prices"] = [cases.price("aaa-30l", "700.00"), cases.price("body-15l", "380.00")]
    await load_document(database, document)
    del document["packs"][2], document["taxes"][0]
    document["prices"] = []
    await load_document(database, document)
    warm, skipping = CatalogueSnapshots(database), CatalogueSnapshots(database)
    await skipping.at(ORGANISATION, 1)
    for revision in range(1, 6):
        stepwise = await warm.at(ORGANISATION, revision)
        whole = await CatalogueSnapshots(database).at(ORGANISATION, revision)
        assert same_contents(stepwise, whole)
        if revision in (3, 5):
            assert same_contents(await skipping.at(ORGANISATION, revision), whole)
    first, second = await warm.at(ORGANISATION, 1), await warm.at(ORGANISATION, 2)
    assert first.prices is second.prices
    assert first.packs is second.packs
    assert first.products.by_id["primer"] is second.products.by_id["primer"]


def same_contents(one: CatalogueSnapshot, other: CatalogueSnapshot) -> bool:
    days = [date(2026, month, 1) for month in (1, 3, 7)]
    return (
        all(one.records(kind.name) == other.records(kind.name) for kind in store.KINDS)
        and all(
            list(one.records(kind.name).by_id) == [*one.records(kind.name).ids]
            for kind in store.KINDS
        )
        and one.packs_of == other.packs_of
        and one.weight == other.weight
        and set(one.prices.rows()) == set(other.prices.rows())
        and all(one.priced(USD, day) == other.priced(USD, day) for day in days)
        and all(one.priced(EUR, day) == other.priced(EUR, day) for day in days)
    )


async def test_without_a_catalogue_nothing_can_be_estimated(database: Database) -> None:
    snapshots = CatalogueSnapshots(database)
    with pytest.raises(Unavailable):
        await snapshots.current(ORGANISATION)
    await load_document(database, cases.document())
    assert (await snapshots.current(ORGANISATION)).revision == 1
    with pytest.raises(NotFound):
        await snapshots.at(ORGANISATION, 2)
    with pytest.raises(NotFound):
        await snapshots.at("another", 1)


async def test_a_stored_record_that_cannot_be_read_is_not_the_callers_fault(
    database: Database,
) -> None:
    await load_document(database, cases.document())
    async with database.writer(EVERYONE) as connection:
        await connection.execute(update(tables.pack).values(specification='{"id": "body-3l"}'))
    with pytest.raises(StoredRecordError, match="packs body-15l"):
        await CatalogueSnapshots(database).current(ORGANISATION)


PRICES = [
    cases.price("body-3l", "80.00", "2026-01-01"),
    cases.price("body-3l", "90.00", "2026-07-01"),
    cases.price("body-15l", "400.00", "2026-03-01"),
    cases.price("body-3l", "70.00", "2026-01-01", "EUR"),
]


async def priced_body(
    snapshots: CatalogueSnapshots, currency: Currency, day: str, revision: int = 1
) -> dict[str, tuple[str, str]]:
    catalogue = await snapshots.priced(
        ORGANISATION, currency, date.fromisoformat(day), revision=revision
    )
    return {
        one.pack.id: (str(one.price), one.effective_from.isoformat())
        for one in catalogue.packs.get("body", ())
    }


async def test_the_latest_price_up_to_the_day_holds(database: Database) -> None:
    document = cases.document()
    document["prices"] = PRICES
    await load_document(database, document)
    snapshots = CatalogueSnapshots(database)
    january, march, july = "2026-01-01", "2026-03-01", "2026-07-01"
    assert await priced_body(snapshots, USD, "2025-12-31") == {}
    assert await priced_body(snapshots, USD, january) == {"body-3l": ("80.00", january)}
    assert await priced_body(snapshots, USD, "2026-06-30") == {
        "body-15l": ("400.00", march),
        "body-3l": ("80.00", january),
    }
    assert await priced_body(snapshots, USD, "2027-01-01") == {
        "body-15l": ("400.00", march),
        "body-3l": ("90.00", july),
    }
    assert await priced_body(snapshots, EUR, "2027-01-01") == {"body-3l": ("70.00", january)}
    assert await priced_body(snapshots, Currency("JPY"), "2027-01-01") == {}


async def test_a_correction_holds_from_its_revision_on(database: Database) -> None:
    document = cases.document()
    document["prices"] = PRICES
    await load_document(database, document)
    document["prices"] = [cases.price("body-3l", "91.00", "2026-07-01")]
    await load_document(database, document)
    snapshots = CatalogueSnapshots(database)
    assert (await priced_body(snapshots, USD, "2026-08-01", revision=1))["body-3l"][0] == "90.00"
    assert (await priced_body(snapshots, USD, "2026-08-01", revision=2))["body-3l"][0] == "91.00"
    assert (await priced_body(snapshots, USD, "2026-06-01", revision=2))["body-3l"][0] == "80.00"


async def test_the_priced_catalogue_holds_the_whole_revision(database: Database) -> None:
    await load_document(database, cases.document())
    catalogue = await CatalogueSnapshots(database).priced(ORGANISATION, USD, date(2026, 2, 1))
    assert (catalogue.revision, catalogue.currency) == (1, "USD")
    assert catalogue.priced_on == date(2026, 2, 1)
    assert set(catalogue.products) == {"primer", "body", "filler", "quartz", "spare"}
    assert [one.pack.id for one in catalogue.packs["body"]] == ["body-15l", "body-3l"]
    assert catalogue.packs["quartz"][0].price == Decimal("12.3456")
    assert "spare" not in catalogue.packs
    assert set(catalogue.systems) == {"two-coat"}
    assert set(catalogue.rate_books) == {"rates"}
    assert [one.id for one in catalogue.consumables] == ["tape"]
    assert [one.id for one in catalogue.taxes] == ["sales"]


async def test_lists_go_by_id_and_go_on_after_the_last_one(database: Database) -> None:
    await load_document(database, cases.document())
    snapshot = await CatalogueSnapshots(database).current(ORGANISATION)

    def found(kind: str, /, q: str | None = None, **filters: object) -> list[str]:
        return [one.id for one in service.find(snapshot, kind, filters, q=q).records]

    first = service.find(snapshot, "products", limit=3)
    assert [one.id for one in first.records] == ["body", "filler", "primer"]
    assert first.more
    rest = service.find(snapshot, "products", after="primer", limit=3)
    assert [one.id for one in rest.records] == ["quartz", "spare"]
    assert not rest.more
    bodies = service.find(snapshot, "products", {"role": "body_coat"}, after="body")
    assert [one.id for one in bodies.records] == ["spare"]
    packs = service.find(snapshot, "packs", {"product": "body"}, limit=1)
    assert ([one.id for one in packs.records], packs.more) == (["body-15l"], True)
    packs = service.find(snapshot, "packs", {"product": "body"}, after="body-15l", limit=1)
    assert ([one.id for one in packs.records], packs.more) == (["body-3l"], False)
    assert len(found("packs")) == 5
    assert found("rate_books", currency="EUR") == []
    assert found("rate_books", currency="USD") == ["rates"]
    assert found("taxes", place="Quayside") == ["sales"]
    assert found("taxes", place="Elsewhere") == []
    assert found("consumables", kind="consumable") == ["tape"]
    assert found("consumables", currency="EUR") == []
    assert found("systems") == ["two-coat"]
    assert found("packs", q="KIT 15l") == ["body-15l"]
    assert found("packs", q="kit nothing") == []
    assert found("packs", q="3l", product="body") == ["body-3l"]


async def test_one_record_is_found_by_id_or_not_found(database: Database) -> None:
    await load_document(database, cases.document())
    snapshot = await CatalogueSnapshots(database).current(ORGANISATION)
    assert service.one(snapshot, "products", "body").name == "Quay body"
    assert service.one(snapshot, "packs", "body-3l").product == "body"
    assert service.one(snapshot, "systems", "two-coat").id == "two-coat"
    assert service.one(snapshot, "rate_books", "rates").currency == "USD"
    assert service.one(snapshot, "consumables", "tape").unit_price == Decimal("7.00")
    assert service.one(snapshot, "taxes", "sales").rate_percent == Decimal("7.25")
    day = date(2026, 2, 1)
    priced = service.priced_packs(snapshot, "body", "USD", day)
    assert [one.pack.id for one in priced] == ["body-15l", "body-3l"]
    assert service.priced_packs(snapshot, "spare", "USD", day) == ()
    for kind in store.KINDS:
        with pytest.raises(NotFound, match="nothing"):
            service.one(snapshot, kind.name, "nothing")
    with pytest.raises(NotFound):
        service.priced_packs(snapshot, "nothing", "USD", day)


async def test_retired_records_are_listed_as_they_were_last(database: Database) -> None:
    document = cases.document()
    document["packs"] += [cases.kit(f"spare-{number}l", "spare", number) for number in range(1, 6)]
    await load_document(database, document)
    document["packs"][9]["name"] = "The last name"
    await load_document(database, document)
    await load_document(database, cases.document())
    back = cases.document()
    back["packs"].append(cases.kit("spare-2l", "spare", 2))
    await load_document(database, back)
    snapshots = CatalogueSnapshots(database)
    packs = next(kind for kind in store.KINDS if kind.name == "packs")

    async def retired(revision: int, **more: Any) -> list[str]:
        snapshot = await snapshots.at(ORGANISATION, revision)
        page = await service.retired(database, snapshot, packs, {}, **more)
        return [one.name if one.id == "spare-5l" else one.id for one in page.records]

    assert await retired(2) == []
    gone = ["spare-1l", "spare-2l", "spare-3l", "spare-4l", "The last name"]
    assert await retired(3) == gone
    assert await retired(4) == [one for one in gone if one != "spare-2l"]
    assert await retired(4, limit=2) == ["spare-1l", "spare-3l"]
    assert await retired(4, after="spare-3l", limit=1) == ["spare-4l"]
    assert await retired(4, q="last name") == ["The last name"]
