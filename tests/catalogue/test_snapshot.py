import asyncio
from datetime import date
from decimal import Decimal

import catalogue_cases as cases
import pytest
from catalogue_cases import ORGANISATION, load_document
from sqlalchemy import update

from filmbuild.catalogue import service, tables
from filmbuild.catalogue.snapshot import CatalogueSnapshot, CatalogueSnapshots, StoredRecordError
from filmbuild.db import Database
from filmbuild.errors import NotFound, Unavailable
from filmbuild.money import Currency

USD, EUR = Currency("USD"), Currency("EUR")


class Clock:
    def __init__(self) -> None:
        self.time = 100.0

    def __call__(self) -> float:
        return self.time


class CountingSnapshots(CatalogueSnapshots):
    """Counts how often the database is asked for the newest revision, and for a whole one."""

    checks = 0
    loads = 0

    async def _newest(self, organisation: str) -> int:
        self.checks += 1
        return await super()._newest(organisation)

    async def _load(self, organisation: str, revision: int) -> CatalogueSnapshot:
        self.loads += 1
        return await super()._load(organisation, revision)


async def test_a_snapshot_stays_as_it_was_and_a_new_one_follows(database: Database) -> None:
    await load_document(database, cases.document())
    clock = Clock()
    snapshots = CatalogueSnapshots(database, clock=clock)
    before = await snapshots.current(ORGANISATION)
    document = cases.document()
    document["products"][1]["name"] = "Changed"
    await load_document(database, document)
    clock.time += 0.99
    assert await snapshots.current(ORGANISATION) is before
    clock.time += 0.02
    after = await snapshots.current(ORGANISATION)
    assert (before.revision, after.revision) == (1, 2)
    assert before.products.by_id["body"].name == "Quay body"
    assert after.products.by_id["body"].name == "Changed"
    for record, member in ((before, "made"), (before.products.by_id["body"], "name")):
        with pytest.raises(AttributeError):
            setattr(record, member, None)


async def test_many_requests_share_one_look_up_and_one_load(database: Database) -> None:
    await load_document(database, cases.document())
    clock = Clock()
    snapshots = CountingSnapshots(database, clock=clock)
    first = await snapshots.current(ORGANISATION)
    found = await asyncio.gather(*(snapshots.current(ORGANISATION) for _ in range(20)))
    assert {id(one) for one in found} == {id(first)}
    assert (snapshots.checks, snapshots.loads) == (1, 1)
    clock.time += 1.0
    await asyncio.gather(*(snapshots.current(ORGANISATION) for _ in range(20)))
    assert (snapshots.checks, snapshots.loads) == (2, 1)


async def test_requests_that_come_together_at_the_start_load_once(database: Database) -> None:
    await load_document(database, cases.document())
    snapshots = CountingSnapshots(database, clock=Clock())
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
    async with database.writer() as connection:
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
    first = service.products(snapshot, limit=3)
    assert [one.id for one in first.records] == ["body", "filler", "primer"]
    assert first.more
    rest = service.products(snapshot, after="primer", limit=3)
    assert [one.id for one in rest.records] == ["quartz", "spare"]
    assert not rest.more
    bodies = service.products(snapshot, role="body_coat", after="body")
    assert [one.id for one in bodies.records] == ["spare"]
    packs = service.packs(snapshot, product="body", limit=1)
    assert ([one.id for one in packs.records], packs.more) == (["body-15l"], True)
    packs = service.packs(snapshot, product="body", after="body-15l", limit=1)
    assert ([one.id for one in packs.records], packs.more) == (["body-3l"], False)
    assert len(service.packs(snapshot).records) == 5
    assert service.rate_books(snapshot, currency="EUR").records == ()
    assert [one.id for one in service.rate_books(snapshot, currency="USD").records] == ["rates"]
    assert [one.id for one in service.taxes(snapshot, place="Quayside").records] == ["sales"]
    assert service.taxes(snapshot, place="Elsewhere").records == ()
    assert [one.id for one in service.consumables(snapshot, kind="consumable").records] == ["tape"]
    assert service.consumables(snapshot, currency="EUR").records == ()
    assert [one.id for one in service.systems(snapshot).records] == ["two-coat"]


async def test_one_record_is_found_by_id_or_not_found(database: Database) -> None:
    await load_document(database, cases.document())
    snapshot = await CatalogueSnapshots(database).current(ORGANISATION)
    assert service.product(snapshot, "body").name == "Quay body"
    assert service.pack(snapshot, "body-3l").product == "body"
    assert service.system(snapshot, "two-coat").id == "two-coat"
    assert service.rate_book(snapshot, "rates").currency == "USD"
    assert service.consumable(snapshot, "tape").unit_price == Decimal("7.00")
    assert service.tax(snapshot, "sales").rate_percent == Decimal("7.25")
    day = date(2026, 2, 1)
    priced = service.priced_packs(snapshot, "body", "USD", day)
    assert [one.pack.id for one in priced] == ["body-15l", "body-3l"]
    assert service.priced_packs(snapshot, "spare", "USD", day) == ()
    for find in (
        service.product,
        service.pack,
        service.system,
        service.rate_book,
        service.consumable,
        service.tax,
    ):
        with pytest.raises(NotFound, match="nothing"):
            find(snapshot, "nothing")
    with pytest.raises(NotFound):
        service.priced_packs(snapshot, "nothing", "USD", day)
