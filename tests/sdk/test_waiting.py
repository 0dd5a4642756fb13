"""Waiting for a repricing to be over, in both clients."""

import asyncio
import time
from typing import Any

import pytest

import examples
from filmbuild_sdk import AsyncClient, Client, NotFound
from filmbuild_sdk.looking import FIRST_PAUSE, LONGEST_PAUSE
from filmbuild_sdk.testing import FakeService

BASE = "http://testserver.local"
NAME = "rep_" + 26 * "0"
PLACE = ("GET", f"/v1/repricings/{NAME}")


def repricing(state: str) -> dict[str, Any]:
    """As the contract shows one."""
    shown: dict[str, Any] = examples.read("getRepricing")[0].answer
    return shown | {"id": NAME, "state": state}


@pytest.fixture
def pauses(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """What was slept, instead of sleeping."""
    slept = list[float]()

    async def nap(seconds: float) -> None:
        slept.append(seconds)

    monkeypatch.setattr(time, "sleep", slept.append)
    monkeypatch.setattr(asyncio, "sleep", nap)
    return slept


@pytest.mark.parametrize("state", ["done", "stopped", "failed"])
def test_both_clients_ask_until_it_is_over(state: str, pauses: list[float]) -> None:
    answers = {PLACE: [*[repricing("running")] * 20, repricing(state)]}
    with Client(BASE, transport=FakeService(answers)) as client:
        assert client.wait_for_repricing(NAME).state == state
    waited = pauses.copy()
    assert (waited[0], waited[-1]) == (FIRST_PAUSE, LONGEST_PAUSE)
    assert (len(waited), waited) == (20, sorted(waited))

    async def wait() -> str:
        async with AsyncClient(BASE, transport=FakeService(answers)) as client:
            return (await client.wait_for_repricing(NAME)).state

    assert asyncio.run(wait()) == state
    assert pauses == waited * 2


def test_no_longer_than_is_said() -> None:
    answers = {PLACE: repricing("running")}
    with (
        Client(BASE, transport=FakeService(answers)) as client,
        pytest.raises(TimeoutError, match="goes on"),
    ):
        client.wait_for_repricing(NAME, longest=0.001)


def test_one_that_is_not_there_is_not_waited_for(pauses: list[float]) -> None:
    with Client(BASE, transport=FakeService({})) as client, pytest.raises(NotFound):
        client.wait_for_repricing(NAME)
    assert pauses == []
