"""Three processes on one PostgreSQL behind a real proxy, one of them killed under load."""

import time
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from pathlib import Path
from typing import Any, NamedTuple

import calling
import httpx
import msgspec
import pytest
import repricing_cases as cases
from accounts_cases import bearer, make_key
from new_databases import NewDatabase
from proxy import proxied
from running import Running, running
from sqlalchemy import URL
from waiting import until

from filmbuild_sdk import Client, Retries, models

PROCESSES = 3
CALLERS = 4
EACH = 20
PATIENT = Retries(tries=8)

pytestmark = pytest.mark.no_cover


class Group(NamedTuple):
    """The address of the proxy, and the processes behind it."""

    address: str
    processes: list[Running]
    url: URL


@pytest.fixture(scope="module")
def group(new_postgresql: NewDatabase, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Group]:
    folder: Path = tmp_path_factory.mktemp("proxy")
    with ExitStack() as stack:
        url = stack.enter_context(new_postgresql(True, loaded=True))
        processes = [stack.enter_context(running(url)) for _ in range(PROCESSES)]
        address = stack.enter_context(proxied([one.port for one in processes], folder))
        yield Group(address, processes, url)


@pytest.fixture
def client(group: Group) -> Iterator[httpx.Client]:
    with httpx.Client(base_url=group.address, headers=calling.HEADERS, timeout=60) as client:
        until(lambda: client.get("/v1/readiness").status_code == 200)
        yield client


def test_a_key_is_good_for_all_and_ends_for_all(group: Group, client: httpx.Client) -> None:
    made = make_key(client, scopes=["estimates:read"])  # type: ignore[arg-type] # both are clients of httpx

    def answers() -> list[int]:
        headers = bearer(made["secret"])
        return [
            one.client.get("/v1/estimates", headers=headers).status_code for one in group.processes
        ]

    assert answers() == [200] * PROCESSES
    client.post(f"/v1/keys/{made['key']['id']}/revocation")
    assert answers() == [401] * PROCESSES


def test_one_idempotency_key_makes_one_record_whoever_is_asked(group: Group) -> None:
    body, headers = cases.request(), {"idempotency-key": '"asked-of-all"'}

    def ask(number: int) -> httpx.Response:
        process = group.processes[number % PROCESSES]
        return process.client.post("/v1/estimates", json=body, headers=headers)

    with ThreadPoolExecutor(6) as threads:
        answers = list(threads.map(ask, range(12)))
    assert {one.status_code for one in answers} <= {201, 409}
    made = {one.json()["id"] for one in answers if one.status_code == 201}
    again = {ask(number).json()["id"] for number in range(PROCESSES)}
    assert made == again
    assert len(made) == 1


def test_a_change_of_the_catalogue_is_seen_by_the_next_request_of_any(group: Group) -> None:
    for turn, writer in enumerate(group.processes):
        product = writer.client.get("/v1/products?limit=1").json()["items"][0]
        path = f"/v1/products/{product['id']}"
        answer = writer.client.patch(
            path,
            json={"name": f"Renamed by {turn} (demo data)"},
            headers={"if-match": "*", "content-type": "application/merge-patch+json"},
        )
        assert answer.status_code == 200, answer.text
        names = {one.client.get(path).json()["name"] for one in group.processes}
        assert names == {f"Renamed by {turn} (demo data)"}


def test_nothing_is_lost_when_one_of_them_is_killed_under_load(
    group: Group, client: httpx.Client
) -> None:
    """Requests with an idempotency key that are retried are each done once.

    So is the work in the background, by whichever process was the worker and whichever is it next.
    """
    begun = client.post("/v1/repricings", json={"note": "While one is killed"}).json()
    before = count(client)
    victim = group.processes[0]
    with ThreadPoolExecutor(CALLERS) as threads:
        made = [threads.submit(load, group.address, caller) for caller in range(CALLERS)]
        until(lambda: count(client) > before + CALLERS, 60)
        victim.kill()
        assert count(client) < before + CALLERS * EACH, "the load was over before"
        identities = Counter(name for one in made for name in one.result())
    assert len(identities) == CALLERS * EACH
    assert set(identities.values()) == {1}
    assert count(client) == before + CALLERS * EACH
    with running(group.url, port=victim.port) as restarted:
        until(lambda: restarted.client.get("/v1/readiness").status_code == 200)
        found: dict[str, Any] = {}

        def ended() -> bool:
            found.update(client.get(f"/v1/repricings/{begun['id']}").json())
            return bool(found["state"] == "done")

        until(ended, 60)
        assert found["done"] == found["estimates"]


def load(address: str, caller: int) -> list[str]:
    """The ids of what one caller has made, one after another."""
    with Client(address, key=calling.KEY, retries=PATIENT) as client:
        asked = msgspec.convert(cases.request(caller), models.EstimateRequest)
        return [client.create_estimate(asked).id for _ in range(EACH)]


def count(client: httpx.Client) -> int:
    """All estimates, page by page; a page that a dying process fails to give is asked for again."""
    found, query = 0, "?limit=100"
    while query:
        answer = client.get(f"/v1/estimates{query}")
        if answer.status_code >= 500:
            time.sleep(0.1)
            continue
        page = answer.json()
        found += len(page["items"])
        query = f"?limit=100&cursor={page['next']}" if page["next"] else ""
    return found
