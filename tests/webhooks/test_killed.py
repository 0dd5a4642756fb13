"""The service is killed while it sends: nothing is lost, and what came twice has one id."""

import time
from collections import defaultdict
from contextlib import ExitStack
from itertools import pairwise

import msgspec
import pytest
from running import Running, running
from serving import NewDatabase
from waiting import until
from webhook_cases import Sent, accepting, receiving

ENDPOINTS = "/v1/webhook-endpoints"
MANY = 12


def make(service: Running, port: int) -> str:
    body = {"url": f"http://127.0.0.1:{port}/in"}
    made = service.client.post(ENDPOINTS, json=body)
    assert made.status_code == 201, made.text
    return str(made.json()["id"])


def test_killed_in_the_middle_of_sending(
    new_database: NewDatabase, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("FILMBUILD_WEBHOOK_PRIVATE_NETWORKS", "on")

    def slow(_sent: Sent) -> tuple[int, dict[str, str], bytes]:
        time.sleep(0.1)
        return accepting(_sent)

    with new_database(True, loaded=True) as url, receiving(slow) as receiver, ExitStack() as stack:
        service = stack.enter_context(running(url))
        names = [make(service, receiver.port) for _ in range(2)]
        for number in range(MANY):
            answer = service.client.post(f"{ENDPOINTS}/{names[number % 2]}/test")
            assert answer.status_code == 202, answer.text
        anew = {"name": "Harbour 100 (demo data, renamed)"}
        headers = {"if-match": "*"}
        made = service.client.patch("/v1/products/harbour-100", json=anew, headers=headers)
        assert made.status_code == 200, made.text
        until(lambda: len(receiver.received) > 2)
        service.kill()
        before = len(receiver.received)
        assert before < MANY, "it was not in the middle of anything"
        service = stack.enter_context(running(url))

        def states() -> list[str]:
            found = service.client.get("/v1/webhook-deliveries", params={"limit": 100}).json()
            return [one["state"] for one in found["items"]]

        until(lambda: set(states()) == {"delivered"})
        assert len(states()) == MANY + 2
        service.ask_to_stop()
        assert service.stopped() in (0, -15)
    check(receiver.received)


def check(received: list[Sent]) -> None:
    """Every message came, and of each subject none before the one that happened before it."""
    contents = defaultdict[str, set[bytes]](set)
    first_seen = defaultdict[str, dict[str, str]](dict)
    for one in received:
        contents[one.id].add(one.content)
        message = msgspec.json.decode(one.content)
        if message["type"] == "webhook.test":
            first_seen[message["data"]["endpoint"]].setdefault(one.id, message["timestamp"])
    # the product's event went to both endpoints under one id
    assert len(contents) == MANY + 1
    assert {len(texts) for texts in contents.values()} == {1}
    for order in first_seen.values():
        assert len(order) == MANY // 2
        assert all(earlier <= later for earlier, later in pairwise(order.values()))
