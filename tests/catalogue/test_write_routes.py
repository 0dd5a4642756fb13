"""Changing single records of the demo catalogue over HTTP."""

from collections.abc import Iterator
from typing import Any

import pytest
from calling import KEY_ID
from serving import Client, NewDatabase, serving

PRODUCTS, PACKS = "/v1/products", "/v1/packs"
NEW = {
    "id": "quay-7",
    "name": "Quay 7 sealer (demo data)",
    "supplier": "Quay Coatings (demo data)",
    "role": "topcoat",
    "parts": [
        {"name": "resin", "ratio_by_volume": 3, "density": "1.1 kg/L"},
        {"name": "hardener", "ratio_by_volume": 1, "density": "1.0 kg/L"},
    ],
    "working_life": [{"temperature": "20 degC", "duration": "PT30M"}],
    "wet_film_maximum": "8 mil",
}
KIT = {
    "id": "quay-7-kit",
    "product": "quay-7",
    "name": "Quay 7, 4 L kit (demo data)",
    "contents": [{"part": "resin", "volume": "3 L"}, {"part": "hardener", "volume": "1 L"}],
}


@pytest.fixture
def client(new_database: NewDatabase) -> Iterator[Client]:
    with serving(new_database) as client:
        yield client


def revision(client: Client) -> int:
    number: int = client.get("/v1/catalogue").json()["revision"]
    return number


def tag(client: Client, path: str) -> dict[str, str]:
    return {"If-Match": client.get(path).headers["etag"]}


def pointers(response: Any) -> list[tuple[str, str]]:
    return [(one["pointer"], one["code"]) for one in response.json()["errors"]]


def test_a_product_lives_from_creation_to_retirement(client: Client) -> None:
    path = f"{PRODUCTS}/quay-7"
    made = client.post(PRODUCTS, json=NEW, params={"note": "On trial"})
    assert made.status_code == 201, made.text
    assert made.headers["location"] == path
    assert made.json() == client.get(path).json()
    assert made.headers["etag"] == client.get(path).headers["etag"]

    replaced = client.put(path, json={**NEW, "name": "Quay 7"}, headers=tag(client, path))
    assert replaced.status_code == 200
    assert replaced.headers["etag"] != made.headers["etag"]
    patched = client.patch(
        path,
        json={"volume_solids": 0.5, "wet_film_maximum": None},
        headers=tag(client, path),
    )
    assert patched.status_code == 200
    assert patched.json()["volume_solids"] == 0.5
    assert patched.json()["wet_film_maximum"] is None
    assert revision(client) == 4

    gone = client.delete(path, headers=tag(client, path))
    assert (gone.status_code, gone.content) == (204, b"")
    assert client.get(path).status_code == 404
    assert client.get(path, params={"revision": 3}).json()["name"] == "Quay 7"
    assert client.get(path, params={"revision": 4}).json() == patched.json()
    listed = client.get(PRODUCTS, params={"retired": "true"}).json()["items"]
    assert listed == [patched.json()]
    again = client.put(path, json=NEW, headers={"If-None-Match": "*"})
    assert again.status_code == 201

    events = client.get(f"{path}/history").json()["items"]
    assert [(one["revision"], one["action"]) for one in events] == [
        (6, "restored"),
        (5, "retired"),
        (4, "changed"),
        (3, "changed"),
        (2, "created"),
    ]
    assert events[2]["fields"] == [
        {"pointer": "/volume_solids", "now": 0.5},
        {"pointer": "/wet_film_maximum", "was": "8 mil"},
    ]
    assert events[3]["fields"] == [
        {"pointer": "/name", "was": "Quay 7 sealer (demo data)", "now": "Quay 7"}
    ]
    assert events[4]["fields"] == [{"pointer": "", "now": NEW}]
    assert (events[4]["note"], events[4]["author"]) == ("On trial", KEY_ID)
    assert events[3]["note"] == "Put product quay-7"
    walked: list[int] = []
    following = f"{path}/history?limit=2"
    while following:
        page = client.get(following)
        walked += [one["revision"] for one in page.json()["items"]]
        following = page.links["next"]["url"] if "next" in page.links else ""
    assert walked == [6, 5, 4, 3, 2]


KINDS = ("products", "packs", "systems", "rate-books", "consumable-rules", "suppliers", "tax-rules")


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_is_written_alike(client: Client, kind: str) -> None:
    """What a reading answers may be written back, under the tag that came with it."""
    first = client.get(f"/v1/{kind}", params={"limit": 1}).json()["items"][0]
    path = f"/v1/{kind}/{first['id']}"
    shown = ("price", "breaks", "price_since", "priced_on")
    record = {name: one for name, one in first.items() if kind != "packs" or name not in shown}
    renamed = client.put(path, json={**record, "name": first["name"]}, headers=tag(client, path))
    assert renamed.status_code == 200, renamed.text
    assert renamed.json()["name"] == first["name"]
    name = first["name"] if kind == "suppliers" else "Another name"
    patched = client.patch(path, json={"name": name}, headers=tag(client, path))
    assert patched.status_code == 200, patched.text
    assert client.get(path).json()["name"] == name
    assert client.patch(path, json={"name": name}).status_code == 428
    assert client.patch(f"/v1/{kind}/none", json={}, headers={"If-Match": "*"}).status_code == 404
    assert client.delete(f"/v1/{kind}/none", headers={"If-Match": "*"}).status_code == 404
    assert client.get(f"/v1/{kind}/none/history").status_code == 404
    again = client.post(f"/v1/{kind}", json=record)
    assert again.status_code == 409
    missing = client.put(f"/v1/{kind}/none", json={**record, "id": "none"})
    assert missing.status_code == 428
    assert client.get(f"{path}/history").json()["items"][-1]["action"] == "created"


def test_what_does_not_differ_makes_no_revision(client: Client) -> None:
    assert client.post(PRODUCTS, json=NEW).status_code == 201
    path = f"{PRODUCTS}/quay-7"
    before = tag(client, path)
    again = client.put(path, json=dict(reversed(NEW.items())), headers=before)
    assert again.status_code == 200
    assert again.headers["etag"] == before["If-Match"]
    assert client.patch(path, json={}, headers=before).status_code == 200
    assert revision(client) == 2


def test_conditions_on_what_is_there(client: Client) -> None:
    path = f"{PRODUCTS}/harbour-20"
    before = tag(client, path)
    assert client.patch(path, json={"name": "Changed"}, headers=before).status_code == 200
    stale = client.patch(path, json={"name": "Lost"}, headers=before)
    assert stale.status_code == 412
    assert stale.json()["type"] == "/problems/precondition-failed"
    assert client.delete(path, headers=before).status_code == 412
    assert client.delete(path).status_code == 428
    whole = client.get(path, params={"revision": 1}).json()
    assert client.put(path, json=whole, headers=before).status_code == 412
    assert client.put(path, json=whole, headers={"If-None-Match": "*"}).status_code == 412
    assert client.put(path, json=whole, headers={"If-Match": 'W/"x"'}).status_code == 422
    assert client.get(path).json()["name"] == "Changed"
    nothing = client.put(f"{PRODUCTS}/quay-7", json=NEW, headers={"If-Match": "*"})
    assert nothing.status_code == 412


def test_a_tag_is_good_in_whatever_units_it_was_read(client: Client) -> None:
    path = f"{PACKS}/harbour-20-kit-3gal"
    us, si = client.get(path), client.get(path, params={"units": "si"})
    later = client.get(path, params={"priced_on": "2026-07-01"})
    assert len({one.headers["etag"] for one in (us, si, later)}) == 3
    for number, one in enumerate((si, us, later)):
        headers = {"If-Match": f'"other", {one.headers["etag"]}'}
        same = client.patch(path, json={"name": us.json()["name"]}, headers=headers)
        assert same.status_code == 200, number


def test_what_was_read_already_is_not_sent_again(client: Client) -> None:
    path = f"{PRODUCTS}/harbour-20"
    known = client.get(path).headers["etag"]
    again = client.get(path, headers={"If-None-Match": known})
    assert (again.status_code, again.content, again.headers["etag"]) == (304, b"", known)
    other = client.get(path, params={"units": "si"}, headers={"If-None-Match": known})
    assert other.status_code == 200


def test_a_create_is_repeated_by_its_key(client: Client) -> None:
    client.post(PRODUCTS, json=NEW)
    headers = {"Idempotency-Key": "kit-once"}
    first = client.post(PACKS, json=KIT, headers=headers)
    path = f"{PACKS}/quay-7-kit"
    client.patch(path, json={"name": "Changed since"}, headers=tag(client, path))
    again = client.post(PACKS, json=KIT, headers=headers)
    assert (first.status_code, again.status_code) == (201, 201)
    assert again.content == first.content
    for name in ("etag", "location"):
        assert again.headers[name] == first.headers[name]
    other = client.post(PACKS, json={**KIT, "id": "other"}, headers=headers)
    assert pointers(other) == [("", "idempotency-key-reused")]
    assert revision(client) == 4


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        ({"id": "harbour-21"}, [("/id", "id-differs")]),
        ({"name": None}, [("/name", "missing-field")]),
        ({"paint": 1}, [("/paint", "unknown-field")]),
        (
            {
                "working_life": [
                    {"temperature": "20 degC", "duration": "PT40M"},
                    {"temperature": "10 degC", "duration": "PT60M"},
                ],
                "wet_film_minimum": "11 mil",
            },
            [
                ("/wet_film_minimum", "range-reversed"),
                ("/working_life/1/temperature", "temperatures-not-rising"),
                ("", "film-out-of-range"),
            ],
        ),
        (
            {
                "parts": [
                    {"name": "resin", "ratio_by_volume": 4, "density": "1.08 kg/L"},
                    {"name": "hardener", "ratio_by_volume": 1, "density": "0.98 kg/L"},
                ]
            },
            [("", "kit-out-of-ratio")] * 3,
        ),
        ({"role": "topcoat", "supplier": "Nobody"}, []),
        ({"role": "joint_filler"}, [("", "wrong-role")]),
    ],
)
def test_a_change_is_checked_against_the_whole_catalogue(
    client: Client, change: dict[str, Any], expected: list[tuple[str, str]]
) -> None:
    path = f"{PRODUCTS}/harbour-20"
    response = client.patch(path, json=change, headers=tag(client, path))
    if expected:
        assert response.status_code == 422
        assert set(pointers(response)) == set(expected)
        assert revision(client) == 1
    else:
        assert response.status_code == 200


def test_faults_elsewhere_name_the_record(client: Client) -> None:
    path = f"{PRODUCTS}/harbour-20"
    response = client.patch(path, json={"role": "joint_filler"}, headers=tag(client, path))
    detail = response.json()["errors"][0]["detail"]
    assert detail.startswith("systems harbour-")
    assert "at /layers/0/product: harbour-20 is a joint_filler" in detail


def test_what_others_need_is_not_retired(client: Client) -> None:
    path = f"{PRODUCTS}/harbour-20"
    refused = client.delete(path, headers=tag(client, path))
    assert refused.status_code == 409
    codes = {one["detail"].partition(" ")[0] for one in refused.json()["errors"]}
    assert codes == {"packs", "systems"}
    client.post(PRODUCTS, json=NEW)
    client.post(PACKS, json=KIT)
    for path in (f"{PACKS}/quay-7-kit", f"{PRODUCTS}/quay-7"):
        assert client.delete(path, headers=tag(client, path)).status_code == 204


def test_a_supplier_is_checked_with_its_products_and_packs(client: Client) -> None:
    terms: dict[str, Any] = {
        "id": "quay",
        "name": "Quay Coatings (demo data)",
        "currency": "USD",
        "freight": [{"up_to": "100 kg", "price": "50.00"}],
        "freight_beyond": {"each": "100 kg", "price": "40.00"},
    }
    unused = client.post("/v1/suppliers", json=terms)
    assert pointers(unused) == [("/name", "unused-supplier")]
    client.post(PRODUCTS, json=NEW)
    client.post(PACKS, json=KIT)
    unweighed = client.post("/v1/suppliers", json=terms)
    assert pointers(unweighed) == [("", "no-gross-mass")]
    path = f"{PACKS}/quay-7-kit"
    client.patch(path, json={"gross_mass": "5 kg"}, headers=tag(client, path))
    assert client.post("/v1/suppliers", json=terms).status_code == 201
    refused = client.patch(path, json={"gross_mass": None}, headers=tag(client, path))
    assert pointers(refused) == [("/gross_mass", "no-gross-mass")]
    same = client.post("/v1/suppliers", json={**terms, "id": "quay-2"})
    assert pointers(same) == [("/name", "duplicate")]
    path = f"{PRODUCTS}/quay-7"
    renamed = client.patch(path, json={"supplier": "Other"}, headers=tag(client, path))
    assert pointers(renamed) == [("", "unused-supplier")]


def test_a_change_is_computed_with_by_the_next_request(client: Client) -> None:
    request = {
        "units": "si",
        "site": {
            "areas": [
                {"id": "hall", "outline": {"kind": "rectangle", "length": "9 m", "width": "6 m"}}
            ]
        },
        "job": {"system": "harbour-thin-film"},
    }
    before = client.post("/v1/materials", json=request).json()
    path = "/v1/systems/harbour-thin-film"
    layers = client.get(path, params={"units": "si"}).json()["layers"]
    layers[0]["loss_fraction"] = 0.5
    changed = client.patch(path, json={"layers": layers}, headers=tag(client, path))
    assert changed.status_code == 200, changed.text
    after = client.post("/v1/materials", json=request).json()
    assert after["catalogue_revision"] == before["catalogue_revision"] + 1
    volumes = [one["materials"]["coats"][0]["ordered_volume"]["value"] for one in (before, after)]
    assert volumes[1] > volumes[0]
    old = client.post("/v1/materials", json={**request, "catalogue_revision": 1}).json()
    assert old["materials"] == before["materials"]


def test_lists_are_searched_and_filtered(client: Client) -> None:
    def ids(path: str, **query: str) -> list[str]:
        response = client.get(path, params={"limit": 100, **query})
        assert response.status_code == 200, response.text
        return [one["id"] for one in response.json()["items"]]

    assert ids(PACKS, q="HARBOUR-20 15 gal") == ["harbour-20-kit-15gal"]
    assert ids(PACKS, q="15 gal", product="harbour-100") == [
        one for one in ids(PACKS, product="harbour-100") if "15gal" in one
    ]
    assert ids("/v1/rate-books", currency="JPY") == []
    assert set(ids("/v1/consumable-rules", kind="tool")) < set(ids("/v1/consumable-rules"))
    assert ids(PRODUCTS, supplier="Nobody") == []
    assert ids(PRODUCTS, retired="true") == []
    page = client.get(PACKS, params={"q": "harbour", "limit": 1})
    following = client.get(page.links["next"]["url"])
    assert following.status_code == 200
    assert following.json()["items"][0]["id"] > page.json()["items"][0]["id"]
