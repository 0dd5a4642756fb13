"""Writing below HTTP: whose catalogue it is, and what others do meanwhile."""

import catalogue_cases as cases
import msgspec
import pytest
from catalogue_cases import ORGANISATION, Document, load_document

from filmbuild.catalogue import store
from filmbuild.catalogue.history import history
from filmbuild.catalogue.kinds import RESOURCES, record_part
from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.catalogue.wishes import create, patch, text_of
from filmbuild.catalogue.writing import Basis, CatalogueWriter, Order, Outcome, Wish
from filmbuild.db import EVERYONE, Database
from filmbuild.edge.decoding import decode
from filmbuild.edge.operations import Caller
from filmbuild.edge.paging import PageQuery
from filmbuild.errors import Conflict, NotFound, PreconditionFailed

PRODUCTS = next(one for one in RESOURCES if one.name == "Product")


def order(
    organisation: str = ORGANISATION, actor: str = "foreman", *, check_only: bool = False
) -> Order:
    caller = Caller(organisation=organisation, actor=actor)
    return Order(caller=caller, note="a test", check_only=check_only)


async def made(writer: CatalogueWriter, asked: Order, document: Document) -> Outcome:
    content = msgspec.json.encode(document)
    record = decode(PRODUCTS.body, content)

    async def wish(basis: Basis) -> Wish:
        return await create(basis, PRODUCTS, record, text_of(content))

    return await writer.apply(asked, wish)


async def test_a_catalogue_begins_with_its_first_record(database: Database) -> None:
    snapshots = CatalogueSnapshots(database)
    writer = CatalogueWriter(database, snapshots)
    checked = await made(writer, order(check_only=True), cases.product("first"))
    assert (checked.revision, checked.counts["products"].new) == (None, 1)
    assert await snapshots.newest(ORGANISATION) is None
    outcome = await made(writer, order(), cases.product("first"))
    assert (outcome.based_on, outcome.revision) == (0, 1)
    assert (await snapshots.current(ORGANISATION)).products.ids == ("first",)


async def test_organisations_have_catalogues_of_their_own(database: Database) -> None:
    snapshots = CatalogueSnapshots(database)
    writer = CatalogueWriter(database, snapshots)
    await made(writer, order("one", "ann"), cases.product("same"))
    await made(writer, order("two", "bob"), {**cases.product("same"), "name": "Another"})
    with pytest.raises(Conflict):
        await made(writer, order("one"), cases.product("same"))
    assert (await snapshots.current("one")).products.by_id["same"].name == "Quay same"
    assert (await snapshots.current("two")).products.by_id["same"].name == "Another"
    for owner, actor in (("one", "ann"), ("two", "bob")):
        page = await history(database, owner, PRODUCTS.stored, "same", PageQuery(), "/")
        assert [(one.revision, one.author) for one in page.items] == [(1, actor)]
    with pytest.raises(NotFound):
        await history(database, "three", PRODUCTS.stored, "same", PageQuery(), "/")


async def test_a_change_is_worked_out_anew_where_another_came_between(database: Database) -> None:
    """The other changes another record, and then the same one."""
    await load_document(database, cases.document())
    snapshots = CatalogueSnapshots(database)
    writer = CatalogueWriter(database, snapshots)
    seen: list[int] = []

    async def rename(basis: Basis, name: str, note: str, tag: str) -> Wish:
        return await patch(basis, PRODUCTS, name, {"name": note}, {"if-match": tag})

    async def disturbed(basis: Basis, other: str, tag: str) -> Wish:
        seen.append(basis.snapshot.revision)
        wanted = await rename(basis, "body", "Mine" if tag == "*" else "Mine again", tag)
        if len(seen) in (1, 3):
            await writer.apply(order(), lambda now: rename(now, other, f"Theirs {len(seen)}", "*"))
        return wanted

    outcome = await writer.apply(order(), lambda basis: disturbed(basis, "spare", "*"))
    assert (seen, outcome.revision) == ([1, 2], 3)
    current = (await snapshots.current(ORGANISATION)).products.by_id
    assert (current["body"].name, current["spare"].name) == ("Mine", "Theirs 1")
    tag = f'"{record_part(current["body"])}"'
    with pytest.raises(PreconditionFailed):
        await writer.apply(order(), lambda basis: disturbed(basis, "body", tag))
    assert (await snapshots.current(ORGANISATION)).products.by_id["body"].name == "Theirs 3"


async def rename(writer: CatalogueWriter, name: str) -> None:
    async def wish(basis: Basis) -> Wish:
        return await patch(basis, PRODUCTS, "body", {"name": name}, {"if-match": "*"})

    await writer.apply(order(), wish)


async def test_the_database_keeps_every_version(database: Database) -> None:
    await load_document(database, cases.document())
    writer = CatalogueWriter(database, CatalogueSnapshots(database))
    for number in range(3):
        await rename(writer, f"Version {number}")
    async with database.reader(EVERYONE) as connection:
        names = [
            msgspec.json.decode(texts["body"])["name"]
            for revision in range(1, 5)
            for texts in [
                await store.specifications(connection, ORGANISATION, PRODUCTS.stored, revision)
            ]
        ]
    assert names == ["Quay body", "Version 0", "Version 1", "Version 2"]
