"""Drawings sent to the application, and what it answers."""

import asyncio
from collections.abc import Iterator
from typing import Any

import pytest
from plan_cases import by_hand, square
from serving import Client, NewDatabase, serving

from filmbuild.errors import InvalidInput, Unavailable
from filmbuild.plans import reading as module
from filmbuild.plans.outcome import Asked, Outcome
from filmbuild.plans.reading import PlanReader
from filmbuild.plans.wire import PlanQuery

ROOMS = by_hand(square(0, 0), square(9, 9), square(1, 1, 1, layer="columns"))
DXF = {"content-type": "image/vnd.dxf"}


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving(new_sqlite) as client:
        yield client


def send(
    client: Client,
    content: bytes = ROOMS,
    query: str = "layers=floor",
    headers: dict[str, str] | None = None,
) -> Any:
    return client.post(f"/v1/plans?{query}", content=content, headers={**DXF, **(headers or {})})


def test_areas_read_go_into_a_site_as_they_are(client: Client) -> None:
    answer = send(client, query="layers=floor&islands_layer=columns")
    assert answer.status_code == 200, answer.text
    areas = answer.json()["areas"]
    takeoff = client.post("/v1/takeoff", json={"units": "si", "site": {"areas": areas}})
    assert takeoff.status_code == 200, takeoff.text
    assert takeoff.json()["takeoff"]["totals"]["floor"] == {"value": 49.0, "unit": "m2"}


@pytest.mark.parametrize(
    "kind", ["image/vnd.dxf", "application/dxf", "Application/DXF; charset=utf-8"]
)
def test_media_types_of_drawings_are_accepted(client: Client, kind: str) -> None:
    assert send(client, headers={"content-type": kind}).status_code == 200


@pytest.mark.parametrize(
    ("content", "query", "headers", "status", "code", "pointer"),
    [
        (ROOMS, "layers=floor", {"content-type": "application/json"}, 415, None, None),
        (ROOMS, "layers=floor", {"content-encoding": "gzip"}, 415, None, None),
        (ROOMS, "layers=floor", {"accept": "text/csv"}, 406, None, None),
        (b"x" * 20_000_001, "layers=floor", {}, 413, None, None),
        (b"", "layers=floor", {}, 422, "not-dxf", ""),
        (b"\x1f\x8b" + bytes(1_000), "layers=floor", {}, 422, "not-dxf", ""),
        (b"<a/>", "layers=floor", {}, 422, "not-dxf", ""),
        (b"0\nSECTION\n" + bytes(1_000), "layers=floor", {}, 422, "not-dxf", ""),
        (ROOMS, "layers=roof", {}, 422, "unknown-layer", "/layers"),
        (
            ROOMS,
            "layers=floor&islands_layer=holes",
            {},
            422,
            "unknown-islands-layer",
            "/islands_layer",
        ),
        (ROOMS, "layers=floor&unit=ft", {}, 422, "unit-contradicts-drawing", "/unit"),
        (ROOMS, "layers=floor&unit=parsec", {}, 422, "invalid-parameter", "/unit"),
        (ROOMS, "layers=floor&layer=floor", {}, 422, "unknown-parameter", "/layer"),
    ],
)
def test_what_is_not_read_is_answered_with_a_problem(
    client: Client,
    content: bytes,
    query: str,
    headers: dict[str, str],
    status: int,
    code: str | None,
    pointer: str | None,
) -> None:
    answer = send(client, content, query, headers)
    assert answer.status_code == status, answer.text
    assert answer.headers["content-type"] == "application/problem+json"
    if code is not None:
        (fault,) = answer.json()["errors"]
        assert (fault["code"], fault["pointer"]) == (code, pointer)


def test_other_operations_keep_their_own_limit_and_media_type(client: Client) -> None:
    assert client.post("/v1/takeoff", content=ROOMS, headers=DXF).status_code == 415
    body = {"content-type": "application/json"}
    assert client.post("/v1/takeoff", content=b" " * 9_000_000, headers=body).status_code == 413


async def test_a_reader_that_does_not_come_to_an_end_is_stopped(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(module, "SECONDS", 0.05)
    with pytest.raises(InvalidInput) as caught:
        await PlanReader().read(ROOMS, PlanQuery(layers="floor"))
    (fault,) = caught.value.faults
    assert fault.code == "plan-too-large"
    assert "time or memory" in fault.detail


async def test_few_drawings_are_read_at_once_and_few_wait(monkeypatch: pytest.MonkeyPatch) -> None:
    reading, most = 0, 0
    go_on = asyncio.Event()

    async def wait(_content: bytes, _asked: Asked) -> Outcome:
        nonlocal reading, most
        reading += 1
        most = max(most, reading)
        await go_on.wait()
        reading -= 1
        return Outcome(code="not-dxf", detail="no")

    monkeypatch.setattr(module, "_in_child", wait)
    reader = PlanReader()
    sent = [
        asyncio.create_task(reader.read(ROOMS, PlanQuery(layers="floor")))
        for _ in range(module.MOST_WAITING)
    ]
    await asyncio.sleep(0)
    with pytest.raises(Unavailable):
        await reader.read(ROOMS, PlanQuery(layers="floor"))
    go_on.set()
    answers = await asyncio.gather(*sent, return_exceptions=True)
    assert all(isinstance(one, InvalidInput) for one in answers)
    assert most == module.AT_ONCE
