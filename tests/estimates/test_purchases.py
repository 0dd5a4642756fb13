"""One purchase list for several jobs, over HTTP."""

import copy
from collections.abc import Iterator
from decimal import Decimal
from typing import Any

import pytest
from serving import Client, NewDatabase, serving

import examples


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving(new_sqlite) as client:
        yield client


@pytest.fixture
def job() -> dict[str, Any]:
    """The site and job of the contract's example, to be changed at will."""
    body = copy.deepcopy(examples.read("calculateEstimate")[0].body)
    return {"site": body["site"], "job": body["job"]}


def amount(money: dict[str, Any]) -> Decimal:
    return Decimal(money["amount"])


def beside_goods(order: dict[str, Any]) -> Decimal:
    return amount(order["freight"]) + amount(order["short_of_minimum"])


def test_two_jobs_cost_no_more_together_than_apart(client: Client, job: dict[str, Any]) -> None:
    jobs = [{"reference": name, **job} for name in ("first", "second")]
    answer = client.post("/v1/purchases", json={"units": "si", "jobs": jobs})
    assert answer.status_code == 200, answer.text
    found = answer.json()["purchase_list"]
    apart = client.post("/v1/materials", json={"units": "si", **job}).json()["materials"]
    alone = sum((amount(one["cost"]) for one in apart["purchases"]), Decimal(0))
    alone += sum((beside_goods(one) for one in apart["orders"]), Decimal(0))
    assert amount(found["cost_apart"]) == 2 * alone
    assert amount(found["cost"]) + amount(found["saving"]) == 2 * alone
    assert amount(found["saving"]) >= 0
    assert sum(amount(one["cost"]) for one in found["jobs"]) == amount(found["cost"])
    (order,) = found["orders"]
    assert amount(order["freight"]) < 2 * amount(apart["orders"][0]["freight"])
    assert amount(found["cost"]) == amount(order["cost"])
    shares = [amount(one["cost"]) for one in found["jobs"]]
    assert abs(shares[0] - shares[1]) <= Decimal("0.01")


def test_a_document_handed_in_buys_what_its_site_does(client: Client, job: dict[str, Any]) -> None:
    document = client.post("/v1/materials", json={"units": "si", **job}).json()
    handed = {"reference": "a", "job": job["job"], "materials": document}
    found = [
        client.post("/v1/purchases", json={"units": "si", "jobs": [one]}).json()
        for one in ({"reference": "a", **job}, handed)
    ]
    lists = [[one["packs"] for one in each["purchase_list"]["purchases"]] for each in found]
    assert lists[0] == lists[1]


def test_each_fault_points_into_its_job(client: Client, job: dict[str, Any]) -> None:
    other = copy.deepcopy(job)
    other["job"]["currency"] = "EUR"
    jobs = [{"reference": "a", **job}, {"reference": "a", **other}]
    answer = client.post("/v1/purchases", json={"jobs": jobs})
    pointers = {one["pointer"] for one in answer.json()["errors"]}
    assert (answer.status_code, pointers) == (
        422,
        {"/jobs/1/reference", "/jobs/1/job/currency"},
    )
    past = copy.deepcopy(job)
    past["job"]["stock"] = [
        {
            "product": "harbour-100",
            "pack": "harbour-100-kit-3gal",
            "count": 1,
            "lot": "L1",
            "expires": "2020-01-01",
        }
    ]
    jobs = [{"reference": "a", **job}, {"reference": "b", **past}]
    answer = client.post("/v1/purchases", json={"jobs": jobs})
    assert [one["pointer"] for one in answer.json()["errors"]] == ["/jobs/1/job/stock/0/expires"]


def test_what_was_taken_from_stock_is_handed_on_to_the_labour(
    client: Client, job: dict[str, Any]
) -> None:
    document = client.post("/v1/materials", json={"units": "si", **job}).json()
    bought = document["materials"]["purchases"][0]
    pack = bought["packs"][0]["pack"]
    job["job"]["stock"] = [{"product": bought["product"], "pack": pack, "count": 1, "lot": "L1"}]
    stocked = client.post("/v1/materials", json={"units": "si", **job}).json()
    found = stocked["materials"]["purchases"][0]
    assert found["stock"][0]["lot"] == "L1"
    assert amount(found["cost"]) < amount(bought["cost"])
    body = {"units": "si", "job": job["job"], "materials": stocked}
    answer = client.post("/v1/labour", json=body)
    assert answer.status_code == 200, answer.text
    found["from_stock"] = {}
    answer = client.post("/v1/labour", json=body)
    assert answer.status_code == 422


def in_store(**given: object) -> dict[str, Any]:
    return {"product": "harbour-20", "part": "resin", "volume": "1 gal", "lot": "L1", **given}


def test_a_job_with_other_stock_than_its_document_was_computed_for_is_refused(
    client: Client, job: dict[str, Any]
) -> None:
    job["job"]["stock"] = [in_store()]
    document = client.post("/v1/materials", json={"units": "si", **job}).json()
    assert len(document["basis"]["stock"]) == 1
    body = {"units": "si", "job": job["job"], "materials": document}
    assert client.post("/v1/labour", json=body).status_code == 200
    for stock in ([], [in_store(volume="2 gal")], [in_store(lot="L2")]):
        body["job"] = {**job["job"], "stock": stock}
        answer = client.post("/v1/labour", json=body)
        (fault,) = answer.json()["errors"]
        assert (fault["pointer"], fault["code"]) == ("/job/stock", "basis-mismatch")


def test_a_lot_that_two_jobs_list_is_refused_and_not_used_twice(
    client: Client, job: dict[str, Any]
) -> None:
    def bought_for(first: list[dict[str, Any]], second: list[dict[str, Any]]) -> Any:
        jobs = [
            {"reference": name, "site": job["site"], "job": {**job["job"], "stock": stock}}
            for name, stock in (("a", first), ("b", second))
        ]
        return client.post("/v1/purchases", json={"jobs": jobs})

    once = bought_for([in_store()], [])
    assert once.status_code == 200, once.text
    answer = bought_for([in_store()], [in_store(lot="L2"), in_store(volume="3 gal")])
    (fault,) = answer.json()["errors"]
    assert (fault["pointer"], fault["code"]) == ("/jobs/1/job/stock/1", "stock-listed-twice")
    for apart in (in_store(lot="L2"), in_store(expires="2090-01-01"), in_store(part="hardener")):
        assert bought_for([in_store()], [apart]).status_code == 200


@pytest.mark.parametrize(
    ("place", "code"),
    [
        (("freight", "amount"), "amount-mismatch"),
        (("short_of_minimum", "amount"), "amount-mismatch"),
        (("goods", "amount"), "amount-mismatch"),
        (("gross_mass", "value"), "order-mismatch"),
    ],
)
def test_an_order_that_was_changed_is_refused(
    client: Client, job: dict[str, Any], place: tuple[str, str], code: str
) -> None:
    document = client.post("/v1/materials", json={"units": "si", **job}).json()
    (order,) = document["materials"]["orders"]
    field, member = place
    order[field][member] = "7.00" if member == "amount" else 7.0
    body = {"units": "si", "job": job["job"], "materials": document}
    faults = client.post("/v1/labour", json=body).json()["errors"]
    at = f"/materials/materials/orders/0/{field}"
    assert code in {one["code"] for one in faults if one["pointer"].startswith(at)}


def test_an_order_that_was_left_out_is_refused(client: Client, job: dict[str, Any]) -> None:
    document = client.post("/v1/materials", json={"units": "si", **job}).json()
    document["materials"]["orders"] = []
    body = {"units": "si", "job": job["job"], "materials": document}
    (fault,) = client.post("/v1/labour", json=body).json()["errors"]
    assert (fault["pointer"], fault["code"]) == ("/materials/materials/orders", "missing-order")


def test_freight_is_a_line_of_the_price(client: Client, job: dict[str, Any]) -> None:
    found = client.post("/v1/calculations", json={"units": "si", **job}).json()
    (order,) = found["materials"]["orders"]
    lines = [one for one in found["price"]["lines"] if one["group"] == "freight"]
    assert sum(amount(one["amount"]) for one in lines) == beside_goods(order)
    assert order["trace"]["inputs"]["band_price"] == order["freight"]
