"""The contract under generated requests: every operation, good data and bad, all response checks.

Cases are the same on every run. For a longer search: python tests/fuzz_effort.py 20
"""

import json
import random
from collections import Counter
from collections.abc import Iterator
from functools import cache
from itertools import count
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import calling
import fuzz_effort
import new_databases
import pytest
import schemathesis
from fuzz_damage import TEXTS, damaged, damages, leads_to_place, torn
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from schemathesis.checks import load_all_checks
from schemathesis.core.parameters import ParameterLocation
from schemathesis.core.result import Ok
from schemathesis.generation.feedback import NO_FEEDBACK
from schemathesis.generation.meta import TestPhase
from schemathesis.pytest._test_builder import build_operation_test
from schemathesis.specs.openapi.schemas import OpenApiSchema
from serving import Client, client_of, load_demo, settings_for
from sqlalchemy import URL

import examples
import filmbuild
from filmbuild.app import contract_document, create_app
from filmbuild.edge.openapi import text_of

# Thousands of requests over lines that other tests cover: measuring them would take minutes.
pytestmark = pytest.mark.no_cover


@schemathesis.serializer("application/x-ndjson", "text/csv")
def as_it_is(_context: object, value: object) -> bytes:
    """Rows of which the schema says nothing but their media type."""
    return value if isinstance(value, bytes) else str(value).encode("utf-8", "replace")


GENERATED = 8 * fuzz_effort.TIMES
DAMAGED = 100 * fuzz_effort.TIMES
BOUNDARY_SHARE = 0.15 if fuzz_effort.TIMES == 1 else 1.0
TAKEN_ELSEWHERE = {
    "changeCatalogue",
    "computeLabour",
    "createEstimate",
    "explainMaterials",
    "importCatalogue",
    "planPurchases",
    "reviseEstimate",
    "reviseQuotation",
    "writeJobPack",
    "writeLoadingList",
    *(f"create{kind}" for kind in examples.RECORDS),
}
"""Operations whose bodies, or the entries of their lists, are those of other operations too: the
boundary cases are made of those, which takes up to a minute for each. Generated cases are made of
all."""
WITHOUT_BOUNDARIES = TAKEN_ELSEWHERE if fuzz_effort.TIMES == 1 else set[str]()
STAGES = ("takeoff", "materials", "labour", "schedule", "calculations", "estimates")
STUDIO = json.loads(Path(filmbuild.__file__).with_name("quickstart_request.json").read_bytes())
JSON = {"content-type": "application/json"}
DXF = ("image/vnd.dxf", "application/dxf")

FOLDER = TemporaryDirectory(prefix="filmbuild-fuzz-")
DATABASE = URL.create("sqlite+aiosqlite", database=f"{FOLDER.name}/fuzz.sqlite3")
DOCUMENT = json.loads(text_of(contract_document(settings_for(DATABASE))))
OPERATIONS = examples.routes(DOCUMENT)


def load_contract() -> OpenApiSchema:
    """From the document, not from its address: else the operation that answers it is left out."""
    contract = schemathesis.openapi.from_dict(DOCUMENT)
    contract.app = create_app(settings_for(DATABASE))
    checks = contract.config.checks
    # What a schema cannot say is refused with 422 though the body fits its schema: that outlines
    # are simple polygons, that names are in the catalogue, that a cursor was given by a page. Good
    # data may therefore be answered with 422, with 404 where a path names nothing, and with no
    # other refusal but those that tell of the records there: an id that is taken (409), and
    # preconditions that fail (412) or are missing (428), or find nothing new (304). That it is not always refused is asserted
    # of the damaged requests below.
    expected = ["2xx", "304", "404", "409", "412", "422", "428"]
    checks.positive_data_acceptance.expected_statuses = expected
    return contract


for kind in DXF:
    # most are refused at a glance; those that begin as drawings do are read, each in its process
    texts = st.one_of(st.binary(max_size=200), st.text(max_size=50).map(str.encode))
    starts = st.sampled_from([b"", b"0\nSECTION\n", b"0\nSECTION\n2\nENTITIES\n"])
    schemathesis.openapi.media_type(kind, st.builds(bytes.__add__, starts, texts))
schemathesis.openapi.media_type("application/zip", st.binary(max_size=200))
CONTRACT = load_contract()


@CONTRACT.auth()
class Keyed:
    """Every request brings the tests' key; that it must is one of the library's own checks."""

    def get(self, case: Any, context: Any) -> str:
        assert case.operation is context.operation
        return calling.HEADERS["authorization"]

    def set(self, case: Any, data: str, context: Any) -> None:
        assert case.operation is context.operation
        case.headers["authorization"] = data


CASES = settings(
    max_examples=GENERATED,
    derandomize=True,
    deadline=None,
    suppress_health_check=list(HealthCheck),
)


@cache
def ready() -> None:
    """The database of this process, for all modules that send requests to it."""
    new_databases.make(DATABASE)
    load_demo(DATABASE)


@pytest.fixture(scope="module", autouse=True)
def database() -> None:
    ready()


@pytest.fixture(scope="module")
def client() -> Iterator[Client]:
    with client_of(DATABASE) as client:
        yield client


@pytest.fixture(scope="module")
def kept(client: Client) -> str:
    """The id of an estimate that can be read."""
    made = client.post("/v1/estimates", json=STUDIO)
    assert made.status_code == 201, made.text
    identity: str = made.json()["id"]
    return identity


@pytest.mark.parametrize("operation", OPERATIONS)
def test_every_operation_keeps_the_contract(operation: str, kept: str) -> None:
    # `CONTRACT.parametrize()` would make the cases of every operation whenever tests are collected,
    # in each process that collects them: that takes longer than most of the cases take to run.
    chance = random.Random(operation)  # noqa: S311 - the same cases on every run
    turns = count()

    def check(case: schemathesis.Case[Any]) -> None:
        if not is_left_out(case, chance):
            fit_to_database(case, kept, f"fuzz-{next(turns)}")
            case.call_and_validate()

    load_all_checks()
    CONTRACT.config.phases.coverage.enabled = operation not in WITHOUT_BOUNDARIES
    build_operation_test(
        config=CONTRACT.config,
        operation=CONTRACT.find_operation_by_id(operation),
        test_func=check,
        given_kwargs={},
        feedback=NO_FEEDBACK,
        explicit_settings=CASES,
    )()


def is_left_out(case: schemathesis.Case[Any], chance: random.Random) -> bool:
    """By default, most boundary cases of bodies: there are tens of thousands of them.

    Operations without a body are always tested whole.
    """
    if case.meta is not None and _has_only_a_foreign_header(case.meta.phase.data):
        return True
    if case.operation.method != "post" or case.meta is None:
        return False
    return case.meta.phase.name is TestPhase.COVERAGE and chance.random() >= BOUNDARY_SHARE


def _has_only_a_foreign_header(data: Any) -> bool:
    """A field that nobody knows is no fault of a request (RFC 9110, section 5.1)."""
    place = getattr(data, "parameter_location", None)
    said = getattr(data, "description", None) or ""
    return place is ParameterLocation.HEADER and said.lower() == "object with unexpected properties"


def fit_to_database(case: schemathesis.Case[Any], kept: str, key: str) -> None:
    """What the contract's examples name is there: else they would be 404, or a key used before."""
    shown = {
        parameter["name"]: parameter.get("example")
        for parameter in case.operation.definition.raw.get("parameters", ())
    }
    given_id = case.path_parameters.get("estimate_id")
    if given_id is not None and given_id == shown["estimate_id"]:
        case.path_parameters["estimate_id"] = kept
    tag = case.headers.get("If-Match")
    if tag is not None and tag == shown["If-Match"]:
        case.headers["If-Match"] = "*"
    given_key = case.headers.get("Idempotency-Key")
    if given_key is not None and given_key == shown["Idempotency-Key"]:
        case.headers["Idempotency-Key"] = key


def test_every_operation_is_fuzzed() -> None:
    found = [one.ok() for one in CONTRACT.get_all_operations() if isinstance(one, Ok)]
    assert {one.definition.raw["operationId"] for one in found} == set(OPERATIONS)


def request_for(stage: str) -> dict[str, Any]:
    if stage == "takeoff":
        return {"units": "us", "site": STUDIO["site"]}
    if stage in {"calculations", "estimates"}:
        return dict(STUDIO)
    return {"units": "us", "site": STUDIO["site"], "job": STUDIO["job"]}


def check_answer(asked: Any, response: Any) -> None:
    assert response.status_code in {200, 201, 400, 413, 422}, response.text
    if response.status_code < 300:
        return
    assert response.headers["content-type"] == "application/problem+json"
    problem = response.json()
    assert problem["status"] == response.status_code
    assert problem["errors"], problem
    for fault in problem["errors"]:
        assert fault["code"]
        assert fault["detail"]
        if response.status_code == 422:
            assert leads_to_place(asked, fault["pointer"]), fault
        else:
            assert fault["pointer"] == ""


def newest(client: Client) -> str:
    (summary,) = client.get("/v1/estimates?limit=1").json()["items"]
    identity: str = summary["id"]
    return identity


@pytest.mark.parametrize("stage", STAGES)
def test_a_damaged_request_is_never_more_than_refused(
    stage: str, client: Client, kept: str
) -> None:
    good = request_for(stage)
    answered = Counter[int]()

    @given(done=damages())
    @settings(max_examples=DAMAGED, derandomize=True, deadline=None)
    def check(done: Any) -> None:
        asked = damaged(good, done)
        before = newest(client)
        response = client.post(f"/v1/{stage}", json=asked)
        check_answer(asked, response)
        made = response.json()["id"] if response.status_code == 201 else before
        assert newest(client) == made
        answered[response.status_code] += 1

    assert kept
    check()
    computed = answered[200] + answered[201]
    assert computed > DAMAGED / 20, answered
    assert answered[422] > DAMAGED / 4, answered


EARLIER = {"materials": "takeoff", "labour": "materials", "schedule": "labour"}


@pytest.fixture(scope="module")
def answers(client: Client) -> dict[str, Any]:
    return {
        stage: client.post(f"/v1/{stage}", json=request_for(stage)).json()
        for stage in EARLIER.values()
    }


@pytest.mark.parametrize("stage", EARLIER)
def test_a_damaged_answer_handed_back_is_never_more_than_refused(
    stage: str, client: Client, answers: dict[str, Any]
) -> None:
    before = EARLIER[stage]
    answered = Counter[int]()

    @given(done=damages())
    @settings(max_examples=DAMAGED, derandomize=True, deadline=None)
    def check(done: Any) -> None:
        asked = {"units": "us", "job": STUDIO["job"], before: damaged(answers[before], done)}
        response = client.post(f"/v1/{stage}", json=asked)
        check_answer(asked, response)
        answered[response.status_code] += 1

    check()
    assert answered[200] > DAMAGED / 20, answered
    assert answered[422] > DAMAGED / 4, answered


@pytest.mark.parametrize("stage", STAGES)
def test_torn_text_is_never_more_than_refused(stage: str, client: Client, kept: str) -> None:
    text = json.dumps(request_for(stage)).encode()

    @given(
        at=st.integers(0, len(text)),
        length=st.sampled_from((0, 0, 1, 9, len(text))),
        piece=st.sampled_from(TEXTS) | st.binary(max_size=4),
    )
    @settings(max_examples=DAMAGED, derandomize=True, deadline=None)
    def check(at: int, length: int, piece: bytes) -> None:
        content = torn(text, at, length, piece)
        before = newest(client)
        response = client.post(f"/v1/{stage}", content=content, headers=JSON)
        asked = json.loads(content, parse_int=str) if response.status_code in (201, 422) else None
        check_answer(asked, response)
        assert (newest(client) == before) == (response.status_code != 201)

    assert kept
    check()
