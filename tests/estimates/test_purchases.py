"""One purchase list for several jobs, over HTTP."""

import copy
from collections.abc import Iterator
from decimal import Decimal
from typing import Any

import examples
import pytest
from serving import Client, NewDatabase, serving


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


def test_two_jobs_cost_no_more_together_than_apart(client: Client, job: dict[str, Any]) -> None:
    jobs = [{"reference": name, **job} for name in ("first", "second")]
    answer = client.post("/v1/purchases", json={"units": "si", "jobs": jobs})
    assert answer.status_code == 200, answer.text
    found = answer.json()["purchase_list"]
    apart = client.post("/v1/materials", json={"units": "si", **job}).json()["materials"]
    alone = sum(amount(one["cost"]) for one in apart["purchases"])
    assert amount(found["cost_apart"]) == 2 * alone
    assert amount(found["cost"]) + amount(found["saving"]) == 2 * alone
    assert amount(found["saving"]) >= 0
    assert sum(amount(one["cost"]) for one in found["jobs"]) == amount(found["cost"])
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
