"""Whole catalogues in and out, and many changes at once, over HTTP."""

import csv
import io
import zipfile
from collections.abc import Iterator
from typing import Any

import msgspec
import pytest
from serving import Client, NewDatabase, serving

from filmbuild.catalogue import wire

CHANGES = "/v1/catalogue/changes"
IMPORT, EXPORT = "/v1/catalogue/import", "/v1/catalogue/export"
TABLES = "/v1/catalogue/tables"
ZIP = {"content-type": "application/zip"}
CSV = {"content-type": "text/csv"}


@pytest.fixture
def client(new_database: NewDatabase) -> Iterator[Client]:
    with serving(new_database) as client:
        yield client


def revision(client: Client) -> int:
    number: int = client.get("/v1/catalogue").json()["revision"]
    return number


def pointers(response: Any) -> list[tuple[str, str]]:
    assert response.status_code == 422, response.text
    return [(one["pointer"], one["code"]) for one in response.json()["errors"]]


def table(client: Client, kind: str) -> list[dict[str, str]]:
    answer = client.get(TABLES, params={"kind": kind}, headers={"accept": "text/csv"})
    assert answer.status_code == 200, answer.text
    return list(csv.DictReader(io.StringIO(answer.text, newline="")))


def as_csv(rows: list[dict[str, str]]) -> bytes:
    text = io.StringIO(newline="")
    writer = csv.DictWriter(text, list(dict.fromkeys(name for row in rows for name in row)))
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue().encode()


def test_what_is_exported_is_what_was_written_and_changes_nothing(client: Client) -> None:
    exported = client.get(EXPORT)
    assert exported.headers["content-disposition"] == 'attachment; filename="catalogue-1.json"'
    document, demo = exported.json(), msgspec.json.decode(wire.demo())
    for kind in ("products", "packs", "systems", "rate_books", "consumables", "taxes", "suppliers"):
        written = {one["id"]: wire.canonical(one) for one in demo[kind]}
        assert {one["id"]: wire.canonical(one) for one in document[kind]} == written
    assert len(document["prices"]) == len(demo["prices"])
    for missing in ("keep", "retire"):
        again = client.post(IMPORT, json=document, params={"missing": missing})
        assert again.json() == {
            "revision": None,
            "based_on": 1,
            "checked_only": False,
            "counts": {},
            "changes": [],
        }


def test_tables_go_out_and_in_without_a_change(client: Client) -> None:
    archive = client.get(TABLES)
    assert archive.headers["content-type"] == "application/zip"
    with zipfile.ZipFile(io.BytesIO(archive.content)) as file:
        assert sorted(file.namelist()) == sorted(
            f"{one}.csv"
            for one in (
                "products", "packs", "systems", "rate_books", "consumables", "taxes", "suppliers",
                "prices",
            )
        )  # fmt: skip
    for missing in ("keep", "retire"):
        again = client.post(
            TABLES, content=archive.content, headers=ZIP, params={"missing": missing}
        )
        assert again.status_code == 200, again.text
        assert (again.json()["revision"], again.json()["changes"]) == (None, [])
    assert client.get(TABLES).content == archive.content


def test_a_table_is_changed_as_in_a_spreadsheet(client: Client) -> None:
    rows = table(client, "packs")
    rows[3]["/name"] = "=Not a formula"
    rows[4]["/minimum_order"] = "3"
    response = client.post(TABLES, content=as_csv(rows), headers=CSV, params={"kind": "packs"})
    assert response.status_code == 200, response.text
    report = response.json()
    assert report["revision"] == 2
    assert report["counts"] == {
        "packs": {"new": 0, "changed": 2, "unchanged": len(rows) - 2, "retired": 0}
    }
    fields = {one["id"]: one["fields"] for one in report["changes"]}
    assert fields[rows[4]["/id"]] == [{"pointer": "/minimum_order", "now": 3}]
    assert client.get(f"/v1/packs/{rows[3]['/id']}").json()["name"] == "=Not a formula"
    assert table(client, "packs")[3]["/name"] == "'=Not a formula"
    less = as_csv([{"/id": one["/id"]} for one in rows[:1]])
    refused = client.post(TABLES, content=less, headers=CSV, params={"kind": "packs"})
    assert sorted(pointers(refused)) == [
        (f"/packs.csv/2/~1{one}", "missing-field") for one in ("contents", "name", "product")
    ]


def test_faults_of_tables_stand_at_row_and_column(client: Client) -> None:
    rows = table(client, "packs")
    rows[0]["/contents/0/volume"] = "2 kg"
    rows[1]["/product"] = "nothing"
    rows[5]["/minimum_order"] = "many"
    text = as_csv(rows)
    form = client.post(TABLES, content=text, headers=CSV, params={"kind": "packs"})
    assert pointers(form) == [
        ("/packs.csv/2/~1contents~10~1volume", "wrong-dimension"),
        ("/packs.csv/7/~1minimum_order", "wrong-type"),
    ]
    assert form.json()["errors"][0]["detail"].startswith("row 2, column /contents/0/volume: ")
    rows = table(client, "packs")
    rows[1]["/product"] = "nothing"
    rows[4]["/id"] = rows[2]["/id"]
    unfit = client.post(TABLES, content=as_csv(rows), headers=CSV, params={"kind": "packs"})
    assert pointers(unfit) == [("/packs.csv/6/~1id", "duplicate")]
    rows = table(client, "packs")
    rows[1]["/product"] = "nothing"
    unfit = client.post(TABLES, content=as_csv(rows), headers=CSV, params={"kind": "packs"})
    assert pointers(unfit) == [("/packs.csv/3/~1product", "unknown-product")]
    assert revision(client) == 1


@pytest.mark.parametrize(
    ("content", "expected"),
    [
        (b"/id,/name,/colour\r\n", [("/taxes.csv/1/~1colour", "unknown-column")]),
        (b"/id,name,/id\r\n", [
            ("/taxes.csv/1/~1name", "unknown-column"), ("/taxes.csv/1/~1id", "duplicate")
        ]),
        (b"/id,/name\r\na,b,c\r\n", [("/taxes.csv/2", "too-many-cells")]),
        (b",".join(b"/%d" % one for one in range(200_000)), [("/taxes.csv/1", "too-many-columns")]),
        (b'/id,/name\r\na,"b', [("/taxes.csv", "not-a-table")]),
        (b"/id,/name\r\na,\xff\r\n", [("/taxes.csv", "not-text")]),
    ],
)  # fmt: skip
def test_a_file_that_is_no_table_of_the_kind_is_refused(
    client: Client, content: bytes, expected: list[tuple[str, str]]
) -> None:
    response = client.post(TABLES, content=content, headers=CSV, params={"kind": "taxes"})
    assert pointers(response) == expected


def test_an_archive_that_is_none_is_refused(client: Client) -> None:
    assert pointers(client.post(TABLES, content=b"PK", headers=ZIP)) == [("", "not-an-archive")]
    whole = client.get(TABLES).content
    torn = client.post(TABLES, content=whole[: len(whole) // 2], headers=ZIP)
    assert pointers(torn) == [("", "not-an-archive")]
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w") as archive:
        archive.writestr("paint.csv", "/id\r\n")
    unknown = client.post(TABLES, content=made.getvalue(), headers=ZIP)
    assert pointers(unknown) == [("/paint.csv", "unknown-table")]
    assert pointers(client.post(TABLES, content=b"", headers=CSV)) == [
        ("/kind", "missing-parameter")
    ]
    none = client.get(TABLES, headers={"accept": "text/csv"})
    assert pointers(none) == [("/kind", "missing-parameter")]
    empty = client.post(TABLES, content=b"\xef\xbb\xbf", headers=CSV, params={"kind": "taxes"})
    assert empty.json()["counts"] == {}


def test_an_import_is_checked_without_being_made(client: Client) -> None:
    document = client.get(EXPORT).json()
    document["packs"][0]["name"] = "Renamed"
    document["prices"][0]["amount"] = "1.00"
    extra = {**document["taxes"][0], "id": "new-tax"}
    document["taxes"].append(extra)
    gone = document["consumables"].pop()
    query = {"check_only": "true", "missing": "retire"}
    checked = client.post(IMPORT, json=document, params=query).json()
    assert (checked["revision"], checked["checked_only"], revision(client)) == (None, True, 1)
    made = client.post(IMPORT, json=document, params={"missing": "retire", "note": "By hand"})
    assert made.json() == {**checked, "revision": 2, "checked_only": False}
    actions = {(one["kind"], one["id"]): one["action"] for one in checked["changes"]}
    assert actions == {
        ("packs", document["packs"][0]["id"]): "changed",
        ("taxes", "new-tax"): "created",
        ("consumables", gone["id"]): "retired",
        ("prices", document["prices"][0]["pack"]): "changed",
    }
    (price,) = (one["fields"][0] for one in checked["changes"] if one["kind"] == "prices")
    assert price["now"] == {"amount": "1.00"}
    assert price["pointer"].startswith("/USD/2026-")
    (newest, _) = client.get("/v1/catalogue/revisions").json()["items"]
    assert newest["note"] == "By hand"
    assert newest["changes"] == made.json()["counts"]


def test_an_import_keeps_what_it_does_not_name(client: Client) -> None:
    tax = {**client.get(EXPORT).json()["taxes"][0], "id": "new-tax"}
    part = {"name": "Another tax", "taxes": [tax]}
    assert client.post(IMPORT, json=part).json()["revision"] == 2
    left = client.post(IMPORT, json=part, params={"missing": "retire"}).json()
    assert left["counts"]["taxes"]["retired"] == 10
    records = client.get("/v1/catalogue").json()["records"]
    assert (records["taxes"], records["products"]) == (1, 16)


def test_all_faults_of_an_import_are_told_and_nothing_is_made(client: Client) -> None:
    document = client.get(EXPORT).json()
    document["packs"][0]["product"] = "nothing"
    document["taxes"][1]["effective_to"] = "2020-01-01"
    document["prices"][2]["pack"] = "nothing"
    faults = pointers(client.post(IMPORT, json=document))
    assert faults == [
        ("/packs/0/product", "unknown-product"),
        ("/prices/2/pack", "unknown-pack"),
        ("/taxes/1/effective_from", "range-reversed"),
    ]
    assert revision(client) == 1


def test_an_import_based_on_an_older_revision_writes_nothing_over(client: Client) -> None:
    document = client.get(EXPORT).json()
    path = f"/v1/packs/{document['packs'][0]['id']}"
    headers = {"If-Match": client.get(path).headers["etag"]}
    client.patch(path, json={"name": "Changed meanwhile"}, headers=headers)
    stale = client.post(IMPORT, json=document, params={"based_on": 1})
    assert stale.status_code == 412
    del document["packs"][0]
    document["packs"][0]["name"] = "Changed by the import"
    assert client.post(IMPORT, json=document, params={"based_on": 1}).status_code == 200
    assert client.get(path).json()["name"] == "Changed meanwhile"


def test_several_changes_are_made_together(client: Client) -> None:
    body: dict[str, Any] = {
        "catalogue_revision": 1,
        "note": "A product leaves",
        "check_only": True,
        "retire": [{"kind": "products", "id": "harbour-20"}],
    }
    refused = client.post(CHANGES, json=body)
    assert {pointer for pointer, _ in pointers(refused)} == {""}
    document = client.get(EXPORT).json()
    systems = [
        one["id"]
        for one in document["systems"]
        if any(layer["product"] == "harbour-20" for layer in one["layers"])
    ]
    packs = [one["id"] for one in document["packs"] if one["product"] == "harbour-20"]
    body["retire"] += [{"kind": "packs", "id": one} for one in packs]
    body["patch"] = [
        {"kind": "taxes", "id": document["taxes"][0]["id"], "patch": {"rate_percent": "8.5"}}
    ]
    product = {**document["products"][0], "id": "harbour-20", "name": "Put back"}
    body["put"] = {"taxes": [{**document["taxes"][1], "name": "Put"}]}
    body["retire"] += [{"kind": "systems", "id": one} for one in systems]
    checked = client.post(CHANGES, json=body)
    assert checked.status_code == 200, checked.text
    assert revision(client) == 1
    made = client.post(CHANGES, json={**body, "check_only": False}).json()
    assert made == {**checked.json(), "revision": 2, "checked_only": False}
    assert made["counts"]["packs"]["retired"] == len(packs)
    assert made["counts"]["taxes"] == {"new": 0, "changed": 2, "unchanged": 8, "retired": 0}
    stale = client.post(CHANGES, json={"catalogue_revision": 1, "put": {"products": [product]}})
    assert stale.status_code == 412
    back = client.post(CHANGES, json={"catalogue_revision": 2, "put": {"products": [product]}})
    assert back.json()["revision"] == 3


def test_faults_of_several_changes_stand_at_each(client: Client) -> None:
    tax = client.get(EXPORT).json()["taxes"][0]
    body = {
        "catalogue_revision": 1,
        "put": {"taxes": [{**tax, "effective_to": "2020-01-01"}, tax]},
        "patch": [
            {"kind": "taxes", "id": "none", "patch": {}},
            {"kind": "packs", "id": "harbour-20-kit-3gal", "patch": {"paint": 1, "name": ""}},
            {"kind": "packs", "id": "harbour-20-kit-15gal", "patch": {"id": "other"}},
        ],
        "retire": [{"kind": "systems", "id": "none"}],
    }
    assert sorted(pointers(client.post(CHANGES, json=body))) == [
        ("/patch/0/id", "unknown-record"),
        ("/patch/1/patch/name", "too-short"),
        ("/patch/1/patch/paint", "unknown-field"),
        ("/patch/2/patch/id", "id-differs"),
        ("/put/taxes/1/id", "duplicate"),
        ("/retire/0/id", "unknown-record"),
    ]
    body = {"catalogue_revision": 1, "put": {"taxes": [{**tax, "effective_to": "2020-01-01"}]}}
    refused = client.post(CHANGES, json=body)
    assert pointers(refused) == [("/put/taxes/0/effective_from", "range-reversed")]


def test_changes_are_repeated_by_their_key(client: Client) -> None:
    tax = {**client.get(EXPORT).json()["taxes"][0], "id": "new-tax"}
    body = {"catalogue_revision": 1, "put": {"taxes": [tax]}}
    headers = {"Idempotency-Key": "one-tax"}
    first = client.post(CHANGES, json=body, headers=headers)
    again = client.post(CHANGES, json=body, headers=headers)
    assert first.status_code == 200
    assert again.content == first.content
    assert revision(client) == 2
