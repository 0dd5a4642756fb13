"""The contract under generated requests: every operation, good data and bad, all response checks.

Cases are the same on every run. For a longer search raise the two EXAMPLES.
"""

import json
import random
from collections.abc import Iterator
from copy import deepcopy
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from litestar.testing import TestClient
from schemathesis.core.result import Ok
from serving import load_demo, settings_for
from sqlalchemy import URL

import filmbuild
from filmbuild.app import contract_document, create_app
from filmbuild.db import migrate

# Thousands of requests over lines that other tests cover: measuring them would take minutes.
pytestmark = pytest.mark.no_cover

OPERATION_EXAMPLES = 12
DAMAGE_EXAMPLES = 60
STAGES = ("takeoff", "materials", "labour", "schedule", "calculations", "estimates")
STUDIO = json.loads(Path(filmbuild.__file__).with_name("quickstart_request.json").read_bytes())
POINTER_STATUSES = {400, 413, 415, 422}

FOLDER = TemporaryDirectory(prefix="filmbuild-fuzz-")
DATABASE = URL.create("sqlite+aiosqlite", database=f"{FOLDER.name}/fuzz.sqlite3")
APP = create_app(settings_for(DATABASE))
contract = schemathesis.openapi.from_asgi("/v1/openapi.json", APP)
# What a schema cannot say is refused with 422 though the body fits its schema: that outlines are
# simple polygons, that names are in the catalogue, that a cursor was given by a page. Good data may
# therefore be answered with 422, with 404 where a path names nothing, or with 400 for text that
# JSON parsers differ on, and with no other refusal.
contract.config.checks.positive_data_acceptance.expected_statuses = ["2xx", "400", "404", "422"]


@pytest.fixture(scope="module", autouse=True)
def database() -> None:
    migrate.upgrade(DATABASE)
    load_demo(DATABASE)


@pytest.fixture(scope="module")
def client() -> Iterator[TestClient[Any]]:
    with TestClient(create_app(settings_for(DATABASE))) as client:
        yield client


@contract.parametrize()
@settings(
    max_examples=OPERATION_EXAMPLES,
    derandomize=True,
    deadline=None,
    suppress_health_check=list(HealthCheck),
)
def test_every_operation_keeps_the_contract(case: schemathesis.Case[Any]) -> None:
    case.call_and_validate()


def test_every_operation_is_fuzzed() -> None:
    """All but the one that answers with the contract, from which these requests are made."""
    paths = contract_document()["paths"]
    named = {operation["operationId"] for path in paths.values() for operation in path.values()}
    found = [one.ok() for one in contract.get_all_operations() if isinstance(one, Ok)]
    assert {one.definition.raw["operationId"] for one in found} == named - {"getContract"}


WEIRD: tuple[Any, ...] = (
    None, True, 0, -1, 1e308, 10**25, "", "NaN", "1e400 m", "3 kg", "-2 ft", "\u0000", "\ud7ff" * 70,
    [], {}, [[]], {"value": 1}, {"value": -1e300, "unit": "ft"}, {"value": 1, "unit": "\u202e"},
    "2026-02-30", "P1Y", "9" * 400, "harbour-20", "__proto__", ["x"] * 300,
)  # fmt: skip


def places(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    found = [path] if path else []
    if isinstance(value, dict):
        for name, one in value.items():
            found += places(one, (*path, name))
    elif isinstance(value, list):
        for index, one in enumerate(value):
            found += places(one, (*path, index))
    return found


def damaged(document: Any, seed: int) -> Any:
    """One to three members deleted, replaced, doubled or added, anywhere."""
    chance = random.Random(seed)  # noqa: S311 - cases must be the same on every run
    document = deepcopy(document)
    for _ in range(chance.randint(1, 3)):
        path = chance.choice(places(document))
        parent = document
        for token in path[:-1]:
            parent = parent[token]
        action = chance.choice(("delete", "replace", "replace", "double", "add"))
        if action == "delete":
            del parent[path[-1]]
        elif action == "double" and isinstance(parent, list):
            parent.append(deepcopy(parent[path[-1]]))
        elif action == "add" and isinstance(parent, dict):
            parent[chance.choice(("extra", "id", "kind", "edges", "unit"))] = deepcopy(
                chance.choice(WEIRD)
            )
        else:
            parent[path[-1]] = deepcopy(chance.choice(WEIRD))
        if not places(document):
            break
    return document


def resolves(document: Any, pointer: str) -> bool:
    """Whether a pointer leads to a member, or to where one is missing or one too many was."""
    value = document
    for token in pointer.split("/")[1:-1]:
        name = token.replace("~1", "/").replace("~0", "~")
        if isinstance(value, dict):
            if name not in value:
                return True
            value = value[name]
        elif isinstance(value, list):
            if not name.isdecimal() or int(name) >= len(value):
                return False
            value = value[int(name)]
        else:
            return True
    return True


def check_answer(asked: Any, response: Any) -> None:
    assert response.status_code < 500, response.text
    if response.status_code < 300:
        return
    problem = response.json()
    assert response.headers["content-type"].startswith("application/problem+json")
    assert problem["status"] == response.status_code
    if response.status_code in POINTER_STATUSES:
        assert problem["errors"], problem
        for fault in problem["errors"]:
            assert fault["code"]
            assert fault["detail"]
            assert resolves(asked, fault["pointer"]), fault


@pytest.mark.parametrize("stage", STAGES)
@given(seed=st.integers(0, 2**31))
@settings(max_examples=DAMAGE_EXAMPLES, derandomize=True, deadline=None)
def test_a_damaged_site_is_never_more_than_refused(
    stage: str, seed: int, client: TestClient[Any]
) -> None:
    asked = damaged(request_for(stage), seed)
    kept = estimates(client)
    response = client.post(f"/v1/{stage}", json=asked)
    check_answer(asked, response)
    assert estimates(client) == kept + (stage == "estimates" and response.status_code == 201)


def request_for(stage: str) -> dict[str, Any]:
    if stage == "takeoff":
        return {"units": "us", "site": STUDIO["site"]}
    if stage in {"calculations", "estimates"}:
        return dict(STUDIO)
    return {"units": "us", "site": STUDIO["site"], "job": STUDIO["job"]}


def estimates(client: TestClient[Any]) -> int:
    count, query = 0, "/v1/estimates?limit=100"
    while query:
        page = client.get(query).json()
        count += len(page["items"])
        query = f"/v1/estimates?limit=100&cursor={page['next']}" if page["next"] else ""
    return count


@pytest.mark.parametrize("stage", ["materials", "labour", "schedule"])
@given(seed=st.integers(0, 2**31))
@settings(max_examples=DAMAGE_EXAMPLES, derandomize=True, deadline=None)
def test_a_damaged_answer_handed_back_is_never_more_than_refused(
    stage: str, seed: int, client: TestClient[Any], answers: dict[str, Any]
) -> None:
    before = {"materials": "takeoff", "labour": "materials", "schedule": "labour"}[stage]
    asked = {"units": "us", "job": STUDIO["job"], before: damaged(answers[before], seed)}
    check_answer(asked, client.post(f"/v1/{stage}", json=asked))


@pytest.fixture(scope="module")
def answers(client: TestClient[Any]) -> dict[str, Any]:
    return {
        stage: client.post(f"/v1/{stage}", json=request_for(stage)).json()
        for stage in ("takeoff", "materials", "labour")
    }
