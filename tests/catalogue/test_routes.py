"""Reading the demo catalogue over HTTP."""

from collections.abc import Iterator

import pytest
from serving import Client, NewDatabase, serving

LISTS = {
    "/v1/products": 16,
    "/v1/packs": 35,
    "/v1/systems": 6,
    "/v1/rate-books": 2,
    "/v1/tax-rules": 10,
    "/v1/suppliers": 2,
}


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving(new_sqlite) as client:
        yield client


def test_the_newest_revision_is_told(client: Client) -> None:
    answer = client.get("/v1/catalogue").json()
    assert answer["revision"] == 1
    assert answer["records"]["products"] == LISTS["/v1/products"]
    (first,) = client.get("/v1/catalogue/revisions").json()["items"]
    assert first["changes"]["products"]["new"] == LISTS["/v1/products"]
    assert first["created_at"] == answer["created_at"]


@pytest.mark.parametrize(("path", "count"), LISTS.items())
def test_a_list_is_walked_by_its_links(client: Client, path: str, count: int) -> None:
    seen: list[str] = []
    following = f"{path}?limit=2"
    while following:
        response = client.get(following)
        assert response.status_code == 200
        seen.extend(one["id"] for one in response.json()["items"])
        following = response.links["next"]["url"] if "next" in response.links else ""
        assert bool(following) == (response.json()["next"] is not None)
    assert seen == sorted(set(seen))
    assert len(seen) == count


@pytest.mark.parametrize("path", LISTS)
def test_what_a_list_names_can_be_read(client: Client, path: str) -> None:
    first = client.get(path, params={"limit": 1}).json()["items"][0]
    assert client.get(f"{path}/{first['id']}").json() == first
    missing = client.get(f"{path}/no-such-record")
    assert missing.status_code == 404
    assert missing.json()["type"] == "/problems/not-found"


def test_units_are_those_asked_for(client: Client) -> None:
    path = "/v1/products/harbour-20"
    assert client.get(path).json()["wet_film_minimum"] == {"value": 3.0, "unit": "mil"}
    film = client.get(path, params={"units": "si"}).json()["wet_film_minimum"]
    assert film == {"value": 76.2, "unit": "um"}  # 1 mil = 25.4 um, exactly


def test_filters_choose(client: Client) -> None:
    roles = client.get("/v1/products", params={"role": "primer"}).json()["items"]
    assert {one["role"] for one in roles} == {"primer"}
    packs = client.get("/v1/packs", params={"product": "harbour-20"}).json()["items"]
    assert {one["product"] for one in packs} == {"harbour-20"}


@pytest.mark.parametrize(
    ("day", "amount"), [("2025-12-31", None), ("2026-06-30", "184.50"), ("2026-07-01", "189.90")]
)
def test_a_pack_has_the_price_of_the_day(client: Client, day: str, amount: str | None) -> None:
    pack = client.get("/v1/packs/harbour-20-kit-3gal", params={"priced_on": day}).json()
    if amount is None:
        assert pack["price"] is None
        assert pack["price_since"] is None
    else:
        assert pack["price"] == {"amount": amount, "currency": "USD"}


@pytest.mark.parametrize(
    ("path", "pointers"),
    [
        ("/v1/products?limit=0", ["/limit"]),
        ("/v1/products?limit=101&units=metric", ["/limit", "/units"]),
        ("/v1/products?revision=2", ["/revision"]),
        ("/v1/products?role=paint", ["/role"]),
        ("/v1/packs?currency=usd&priced_on=2026-02-30", ["/currency", "/priced_on"]),
        ("/v1/systems?cursor=AAAA", ["/cursor"]),
        ("/v1/systems?page=2", ["/page"]),
        ("/v1/catalogue?units=us", ["/units"]),
    ],
)
def test_a_wrong_query_is_refused(client: Client, path: str, pointers: list[str]) -> None:
    response = client.get(path)
    assert response.status_code == 422
    assert [fault["pointer"] for fault in response.json()["errors"]] == pointers


def test_a_cursor_of_another_list_is_refused(client: Client) -> None:
    following = client.get("/v1/packs?limit=1").json()["next"]
    response = client.get("/v1/systems", params={"limit": 1, "cursor": following})
    assert response.status_code == 422
    assert response.json()["errors"][0]["code"] == "invalid-cursor"
