"""Estimates over HTTP, on the demo catalogue: what is computed, kept, and refused."""

import copy
import json
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from itertools import pairwise
from typing import Any

import httpx
import pytest
from serving import Client, NewDatabase, serving

import examples
from filmbuild.app import LARGEST_BODY_BYTES
from filmbuild.estimates.stages import LONG_BODY_BYTES

STAGES = ("takeoff", "materials", "labour", "schedule")
COMPUTING = ("/v1/materials", "/v1/labour", "/v1/schedule", "/v1/calculations", "/v1/estimates")
EVERY = ("/v1/takeoff", *COMPUTING)
JSON = {"content-type": "application/json"}


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving(new_sqlite) as client:
        yield client


@pytest.fixture
def asked() -> dict[str, Any]:
    """The request of the contract's example, to be changed at will."""
    body = copy.deepcopy(examples.read("calculateEstimate")[0].body)
    assert isinstance(body, dict)
    return body


def body_for(path: str, asked: dict[str, Any]) -> dict[str, Any]:
    names = ("units", "site") if path == "/v1/takeoff" else tuple(asked)
    return {name: asked[name] for name in names if name in asked}


def stored(client: Client) -> int:
    return len(client.get("/v1/estimates?limit=100").json()["items"])


def refused(response: httpx.Response, status: int = 422) -> list[str]:
    """The pointers of the faults of a problem."""
    assert response.status_code == status, response.text
    assert response.headers["content-type"] == "application/problem+json"
    problem = response.json()
    assert problem["status"] == status
    assert problem["request_id"] == response.headers["x-request-id"]
    return [fault["pointer"] for fault in problem["errors"]]


@pytest.mark.parametrize("path", [path for path in EVERY if path != "/v1/estimates"])
def test_the_same_request_gets_the_same_bytes(
    client: Client, asked: dict[str, Any], path: str
) -> None:
    body = body_for(path, asked)
    first, second = client.post(path, json=body), client.post(path, json=body)
    assert first.status_code == 200, first.text
    assert first.content == second.content


def test_each_stage_takes_the_answer_of_the_one_before(
    client: Client, asked: dict[str, Any]
) -> None:
    whole = client.post("/v1/schedule", json=asked).json()
    answer = client.post("/v1/takeoff", json=body_for("/v1/takeoff", asked)).json()
    for before, stage in pairwise(STAGES):
        body = {"units": asked["units"], "job": asked["job"], before: answer}
        response = client.post(f"/v1/{stage}", json=body)
        assert response.status_code == 200, response.text
        answer = response.json()
    assert [one["activity"] for one in answer["schedule"]["activities"]] == [
        one["activity"] for one in whole["schedule"]["activities"]
    ]
    assert answer["schedule"]["last_day"] == whole["schedule"]["last_day"]


def test_units_are_the_callers(client: Client, asked: dict[str, Any]) -> None:
    body = body_for("/v1/takeoff", asked)
    floors = {
        units: client.post("/v1/takeoff", json={**body, "units": units}).json()["takeoff"]
        for units in ("us", "si")
    }
    assert floors["us"]["totals"]["floor"] == {"value": 441.0, "unit": "ft2"}  # 24.5 ft by 18 ft
    assert floors["si"]["totals"]["floor"]["unit"] == "m2"
    # 1 ft = 0.3048 m exactly (international foot, NIST SP 811 appendix B.6)
    expected = pytest.approx(441.0 * 0.3048**2, rel=1e-9)
    assert floors["si"]["totals"]["floor"]["value"] == expected


def test_a_kept_estimate_is_read_as_it_was_answered(client: Client, asked: dict[str, Any]) -> None:
    made = client.post("/v1/estimates", json={**asked, "reference": "Demo, first offer"})
    assert made.status_code == 201, made.text
    read = client.get(made.headers["location"])
    assert read.content == made.content
    estimate = made.json()
    assert made.headers["location"] == f"/v1/estimates/{estimate['id']}"
    assert estimate["reference"] == "Demo, first offer"
    computed = client.post("/v1/calculations", json=asked).json()
    assert estimate["document"] == computed
    (summary, *_) = client.get("/v1/estimates").json()["items"]
    assert summary["id"] == estimate["id"]
    assert summary["total"] == computed["price"]["total"]


def test_the_request_of_a_kept_estimate_makes_the_same_estimate(
    client: Client, asked: dict[str, Any]
) -> None:
    estimate = client.post("/v1/estimates", json=asked).json()
    again = client.post("/v1/calculations", json=estimate["request"])
    assert again.status_code == 200, again.text
    assert again.json()["price"]["total"] == estimate["document"]["price"]["total"]


def test_estimates_are_listed_newest_first_and_in_pages(
    client: Client, asked: dict[str, Any]
) -> None:
    made = [client.post("/v1/estimates", json=asked).json()["id"] for _ in range(3)]
    seen: list[str] = []
    following = "/v1/estimates?limit=2"
    while following:
        page = client.get(following)
        seen.extend(one["id"] for one in page.json()["items"])
        following = page.links["next"]["url"] if "next" in page.links else ""
    assert seen[:3] == made[::-1]
    assert len(seen) == len(set(seen)) == stored(client)


def test_a_key_makes_creating_repeatable(client: Client, asked: dict[str, Any]) -> None:
    before = stored(client)
    quoted = client.post("/v1/estimates", json=asked, headers={"idempotency-key": '"key-1"'})
    bare = client.post("/v1/estimates", json=asked, headers={"idempotency-key": "key-1"})
    assert quoted.status_code == bare.status_code == 201
    assert quoted.content == bare.content
    assert quoted.headers["location"] == bare.headers["location"]
    assert stored(client) == before + 1
    other = {**asked, "reference": "another"}
    reused = client.post("/v1/estimates", json=other, headers={"idempotency-key": "key-1"})
    refused(reused)
    assert reused.json()["errors"][0]["code"] == "idempotency-key-reused"
    assert stored(client) == before + 1


def test_a_key_used_by_many_at_once_makes_one_estimate(
    client: Client, asked: dict[str, Any]
) -> None:
    before = stored(client)

    def make(_turn: int) -> httpx.Response:
        headers = {"idempotency-key": "key-of-many"}
        return client.post("/v1/estimates", json=asked, headers=headers)

    with ThreadPoolExecutor(8) as threads:
        answers = list(threads.map(make, range(8)))
    assert {answer.status_code for answer in answers} <= {201, 409}
    assert len({answer.content for answer in answers if answer.status_code == 201}) == 1
    assert stored(client) == before + 1


@pytest.mark.parametrize("key", ["", '""', "a b", "x" * 256, "a\tb"])
def test_a_key_of_another_form_is_refused(client: Client, asked: dict[str, Any], key: str) -> None:
    before = stored(client)
    refused(client.post("/v1/estimates", json=asked, headers={"idempotency-key": key}))
    assert stored(client) == before


def test_an_unknown_estimate_is_not_found(client: Client) -> None:
    refused(client.get("/v1/estimates/est_" + "0" * 26), 404)
    refused(client.get("/v1/estimates/1"), 404)


def outline(**changes: object) -> dict[str, Any]:
    return {"kind": "rectangle", "length": "6 m", "width": "4 m", **changes}


def polygon(*vertices: tuple[float, float]) -> dict[str, Any]:
    return {"kind": "polygon", "unit": "m", "vertices": [list(one) for one in vertices]}


def area(name: str, shape: dict[str, Any], **more: object) -> dict[str, Any]:
    return {"id": name, "outline": shape, **more}


AT_ORIGIN = {"x": "0 m", "y": "0 m"}
WRONG_SITES = {
    "a mass for a length": (outline(length="3 kg"), "/site/areas/0/outline/length"),
    "a number without unit": (outline(length=3), "/site/areas/0/outline/length"),
    "a negative length": (outline(length="-3 m"), "/site/areas/0/outline/length"),
    "no length at all": (outline(length="0 m"), "/site/areas/0/outline/length"),
    "a length of null": (outline(length=None), "/site/areas/0/outline/length"),
    "an unknown kind": (outline(kind="circle"), "/site/areas/0/outline/kind"),
    "an unknown field": (outline(colour="red"), "/site/areas/0/outline/colour"),
    "a list for an outline": ([1, 2], "/site/areas/0/outline"),
    "crossing sides": (polygon((0, 0), (4, 4), (4, 0), (0, 4)), "/site/areas/0/outline"),
    "no area": (polygon((0, 0), (4, 0), (8, 0)), "/site/areas/0/outline"),
    "two corners": (polygon((0, 0), (4, 0)), "/site/areas/0/outline/vertices"),
    "text for a corner": (
        {**polygon((0, 0), (4, 0), (4, 4)), "vertices": [["a", 0], [4, 0], [4, 4]]},
        "/site/areas/0/outline/vertices/0/0",
    ),
}


@pytest.mark.parametrize("path", ["/v1/takeoff", "/v1/estimates"])
@pytest.mark.parametrize(("shape", "pointer"), WRONG_SITES.values(), ids=WRONG_SITES)
def test_a_wrong_outline_is_pointed_at(
    client: Client, asked: dict[str, Any], path: str, shape: Any, pointer: str
) -> None:
    before = stored(client)
    asked["site"] = {"areas": [area("hall", shape)]}
    pointers = refused(client.post(path, json=body_for(path, asked)))
    assert any(one.startswith(pointer) for one in pointers), pointers
    assert stored(client) == before


@pytest.mark.parametrize("number", ["NaN", "Infinity", "-Infinity", "1e400", "-1e400"])
@pytest.mark.parametrize("path", EVERY)
def test_numbers_that_are_none_are_refused(
    client: Client, asked: dict[str, Any], path: str, number: str
) -> None:
    asked["site"]["areas"][0]["outline"]["length"] = {"value": "NUMBER", "unit": "m"}
    text = json.dumps(body_for(path, asked)).replace('"NUMBER"', number)
    response = client.post(path, content=text, headers=JSON)
    assert response.status_code in (400, 422), response.text
    refused(response, response.status_code)


def test_a_site_of_very_many_areas_is_measured(client: Client, asked: dict[str, Any]) -> None:
    asked["site"] = {"areas": [area(f"bay-{number}", outline()) for number in range(2_000)]}
    body = json.dumps(body_for("/v1/takeoff", asked))
    assert len(body) > LONG_BODY_BYTES
    totals = client.post("/v1/takeoff", content=body, headers=JSON).json()["takeoff"]["totals"]
    # 2,000 x 6 m x 4 m; 1 ft = 0.3048 m exactly (international foot, NIST SP 811 appendix B.6)
    assert totals["floor"]["value"] == pytest.approx(48_000 / 0.3048**2, rel=1e-9)


def test_overlapping_areas_are_refused(client: Client, asked: dict[str, Any]) -> None:
    asked["site"] = {
        "areas": [
            area("one", outline(origin=AT_ORIGIN)),
            area("two", outline(origin={"x": "3 m", "y": "1 m"})),
        ]
    }
    for path in ("/v1/takeoff", "/v1/estimates"):
        (pointer, *_) = refused(client.post(path, json=body_for(path, asked)))
        assert pointer.startswith("/site/areas/")


def test_two_areas_of_one_name_are_refused(client: Client, asked: dict[str, Any]) -> None:
    asked["site"] = {"areas": [area("one", outline()), area("one", outline())]}
    pointers = refused(client.post("/v1/takeoff", json=body_for("/v1/takeoff", asked)))
    assert pointers == ["/site/areas/1/id"]


def test_faults_in_many_places_are_told_at_once(client: Client, asked: dict[str, Any]) -> None:
    asked["site"]["areas"][0]["outline"]["length"] = "3 kg"
    asked["site"]["areas"][0]["cracks"] = [{"length": "1 m", "width": "1 C"}]
    asked["job"]["terms"]["overhead_percent"] = 12.5
    asked["job"]["crew"] = [{"labour_class": "finisher", "count": 0}]
    asked["colour"] = "red"
    pointers = refused(client.post("/v1/estimates", json=asked))
    assert set(pointers) >= {
        "/site/areas/0/outline/length",
        "/site/areas/0/cracks/0/width",
        "/site/areas/0/cracks/0/depth",
        "/job/terms/overhead_percent",
        "/job/crew/0/count",
        "/colour",
    }


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("system", "harbour-unknown"),
        ("rate_book", "no-such-book"),
        ("currency", "XXX"),
        ("start", "2026-02-30"),
        ("start", None),
    ],
)
@pytest.mark.parametrize("path", ["/v1/calculations", "/v1/estimates"])
def test_what_the_job_names_must_exist(
    client: Client, asked: dict[str, Any], path: str, field: str, value: object
) -> None:
    before = stored(client)
    asked["job"][field] = value
    pointers = refused(client.post(path, json=asked))
    assert f"/job/{field}" in pointers
    assert stored(client) == before


def test_an_unknown_labour_class_is_pointed_at(client: Client, asked: dict[str, Any]) -> None:
    asked["job"]["crew"] = [{"labour_class": "diver", "count": 1}]
    pointers = refused(client.post("/v1/labour", json=asked))
    assert pointers == ["/job/crew/0/labour_class"]


@pytest.mark.parametrize("path", COMPUTING)
def test_a_revision_that_is_not_there_is_pointed_at(
    client: Client, asked: dict[str, Any], path: str
) -> None:
    response = client.post(path, json={**asked, "catalogue_revision": 7})
    assert refused(response) == ["/catalogue_revision"]
    beyond = client.post(path, json={**asked, "catalogue_revision": 10**20})
    assert refused(beyond) == ["/catalogue_revision"]
    known = client.post(path, json={**asked, "catalogue_revision": 1})
    assert known.status_code in (200, 201), known.text


def test_a_layer_that_cannot_be_bought_is_told(client: Client, asked: dict[str, Any]) -> None:
    """The demo catalogue has no price in US dollars before 2026."""
    asked["job"]["priced_on"] = "2025-01-01"
    before = stored(client)
    for path in ("/v1/materials", "/v1/estimates"):
        pointers = refused(client.post(path, json=asked))
        assert pointers
        assert all(one.startswith("/job") for one in pointers)
    assert stored(client) == before


@pytest.mark.parametrize("path", EVERY)
def test_a_body_of_50_megabytes_is_refused(client: Client, path: str) -> None:
    sent = 0

    def body() -> Iterator[bytes]:
        nonlocal sent
        for _ in range(50):
            sent += 1 << 20
            yield b" " * (1 << 20)

    announced = client.post(path, content=b" " * (50 << 20), headers=JSON)
    refused(announced, 413)
    refused(client.post(path, content=body(), headers=JSON), 413)
    assert LARGEST_BODY_BYTES < 50 << 20


@pytest.mark.parametrize("path", EVERY)
@pytest.mark.parametrize(
    ("content", "status"),
    [
        (b"", 400),
        (b"{", 400),
        (b'{"site": {', 400),
        (b"\xff\xfe", 400),
        (b"[" * 100_000 + b"]" * 100_000, 400),
        (b'{"site":' * 50_000 + b"1" + b"}" * 50_000, 400),
        (b"null", 422),
        (b"[]", 422),
        (b'"text"', 422),
        (b"{}", 422),
    ],
    ids=lambda value: value[:12] if isinstance(value, bytes) else str(value),
)
def test_a_body_that_is_no_request_is_refused(
    client: Client, path: str, content: bytes, status: int
) -> None:
    refused(client.post(path, content=content, headers=JSON), status)


@pytest.mark.parametrize("path", EVERY)
def test_another_form_of_request_is_refused(
    client: Client, asked: dict[str, Any], path: str
) -> None:
    body = json.dumps(body_for(path, asked)).encode()
    refused(client.post(path, content=body, headers={"content-type": "text/plain"}), 415)
    refused(client.post(path, content=body, headers={**JSON, "accept": "text/html"}), 406)
    put = client.put(path, content=body, headers=JSON)
    refused(put, 405)
    assert "POST" in put.headers["allow"]


@pytest.mark.parametrize("stage", STAGES[1:])
def test_exactly_one_of_site_and_earlier_answer_is_needed(
    client: Client, asked: dict[str, Any], stage: str
) -> None:
    del asked["site"]
    assert refused(client.post(f"/v1/{stage}", json=asked)) == ["/site"]
