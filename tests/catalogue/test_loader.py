import asyncio

import catalogue_cases as cases
import pytest
from catalogue_cases import ORGANISATION, load_document

from filmbuild.catalogue import service, store
from filmbuild.catalogue.loader import Counts, LoadReport
from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.db import EVERYONE, Database
from filmbuild.errors import Conflict, InvalidInput


async def held(database: Database, kind: str, revision: int) -> set[str]:
    chosen = next(one for one in store.KINDS if one.name == kind)
    async with database.reader(EVERYONE) as connection:
        return set(await store.specifications(connection, ORGANISATION, chosen, revision))


async def test_the_first_load_makes_revision_one_of_everything(database: Database) -> None:
    report = await load_document(database, cases.document())
    assert report.revision == 1
    assert report.warnings == ()
    assert report.counts == {
        "products": Counts(new=5),
        "packs": Counts(new=5),
        "systems": Counts(new=1),
        "rate_books": Counts(new=1),
        "consumables": Counts(new=1),
        "taxes": Counts(new=1),
        "suppliers": Counts(),
        "prices": Counts(new=5),
    }


async def test_loading_the_same_again_changes_nothing(database: Database) -> None:
    await load_document(database, cases.document())
    report = await load_document(database, cases.document())
    assert report.revision is None
    assert report.counts["products"] == Counts(unchanged=5)
    assert report.counts["prices"] == Counts(unchanged=5)
    found, more = await service.revisions(database, ORGANISATION)
    assert [one.revision for one in found] == [1]
    assert not more


async def test_the_same_meaning_in_other_text_is_no_change(database: Database) -> None:
    await load_document(database, cases.document())
    document = cases.document()
    document["products"][0]["parts"][0]["ratio_by_volume"] = 2.0
    document["products"].reverse()
    document["products"][0] = dict(reversed(document["products"][0].items()))
    document["prices"][0]["amount"] = "61"
    report = await load_document(database, document)
    assert report.revision is None


async def test_only_what_changed_is_written_and_old_revisions_stay(database: Database) -> None:
    await load_document(database, cases.document())
    document = cases.document()
    document["products"][1]["name"] = "Quay body, new recipe"
    document["products"][4]["id"] = "other"
    document["packs"].append(cases.kit("body-30l", "body", 10))
    report = await load_document(database, document)
    assert report.revision == 2
    assert report.counts["products"] == Counts(new=1, changed=1, unchanged=3, retired=1)
    assert report.counts["packs"] == Counts(new=1, unchanged=5)
    assert report.counts["systems"] == Counts(unchanged=1)
    assert await held(database, "products", 1) == {"primer", "body", "filler", "quartz", "spare"}
    assert await held(database, "products", 2) == {"primer", "body", "filler", "quartz", "other"}
    snapshots = CatalogueSnapshots(database)
    before, after = await snapshots.at(ORGANISATION, 1), await snapshots.at(ORGANISATION, 2)
    assert before.products.by_id["body"].name == "Quay body"
    assert after.products.by_id["body"].name == "Quay body, new recipe"


async def test_a_retired_record_may_come_back(database: Database) -> None:
    full = cases.document()
    without = cases.document()
    del without["taxes"][0]
    for document in (full, without, full):
        await load_document(database, document)
    assert [len(await held(database, "taxes", revision)) for revision in (1, 2, 3)] == [1, 0, 1]


async def test_prices_are_added_to_and_never_retired(database: Database) -> None:
    await load_document(database, cases.document())
    document = cases.document()
    document["prices"] = [
        cases.price("body-3l", "81.10"),
        cases.price("body-3l", "85.00", since="2026-07-01"),
    ]
    report = await load_document(database, document)
    assert report.counts["prices"] == Counts(new=1, changed=1, unchanged=4)
    async with database.reader(EVERYONE) as connection:
        rows = await store.prices(connection, ORGANISATION, 2)
    kept = [(str(row.amount), row.revision) for row in rows if row.pack == "body-3l"]
    assert sorted(kept) == [("80.10", 1), ("81.10", 2), ("85.00", 2)]


async def test_prices_are_exact(database: Database) -> None:
    document = cases.document()
    amounts = ["0.1", "999999999999.999999", "12.50", "0.000001", "0"]
    packs = [one["id"] for one in document["packs"]]
    document["prices"] = [
        cases.price(pack, amount) for pack, amount in zip(packs, amounts, strict=True)
    ]
    await load_document(database, document)
    async with database.reader(EVERYONE) as connection:
        rows = await store.prices(connection, ORGANISATION, 1)
    assert {row.pack: str(row.amount) for row in rows} == dict(zip(packs, amounts, strict=True))


async def test_quantities_are_kept_in_the_units_authored(database: Database) -> None:
    await load_document(database, cases.document())
    kinds = {kind.name: kind for kind in store.KINDS}
    async with database.reader(EVERYONE) as connection:
        texts = await store.specifications(connection, ORGANISATION, kinds["packs"], 1)
    assert texts["quartz-25kg"] == (
        '{"contents":[{"mass":"25 kg","part":"grains"}],"id":"quartz-25kg","name":"Bag",'
        '"product":"quartz"}'
    )


async def test_nothing_of_a_faulty_catalogue_is_stored(database: Database) -> None:
    document = cases.document()
    document["packs"][0]["product"] = "nothing"
    with pytest.raises(InvalidInput):
        await load_document(database, document)
    async with database.reader(EVERYONE) as connection:
        assert await store.latest_revision(connection, ORGANISATION) is None


async def test_organisations_do_not_see_each_other(database: Database) -> None:
    await load_document(database, cases.document())
    other = cases.document()
    other["products"] = other["products"][:4]
    report = await load_document(database, other, "another")
    assert report.revision == 1
    assert report.counts["products"] == Counts(new=4)
    assert "spare" in await held(database, "products", 1)


async def test_revisions_say_who_made_them_and_what_they_changed(database: Database) -> None:
    document = cases.document()
    for name in ("one", "two", "three"):
        document["taxes"][0]["name"] = name
        await load_document(database, document)
    newest, more = await service.revisions(database, ORGANISATION, limit=2)
    assert [one.revision for one in newest] == [3, 2]
    assert more
    oldest, more = await service.revisions(database, ORGANISATION, before=2, limit=2)
    assert [one.revision for one in oldest] == [1]
    assert not more
    assert newest[0].author == "a test"
    assert newest[0].note == "Quay catalogue (demo data)"
    assert newest[0].created_at > newest[1].created_at > oldest[0].created_at
    assert '"taxes":{"new":0,"changed":1,"unchanged":0,"retired":0}' in newest[0].summary


async def test_two_loads_at_once_make_one_revision(database: Database) -> None:
    both = await asyncio.gather(
        *(load_document(database, cases.document()) for _ in range(2)), return_exceptions=True
    )
    made = [one.revision for one in both if isinstance(one, LoadReport)]
    assert made.count(1) == 1
    assert all(isinstance(one, LoadReport | Conflict) for one in both)
    found, _ = await service.revisions(database, ORGANISATION)
    assert [one.revision for one in found] == [1]
