"""One of three processes is told to stop under load: no request fails, though none is sent twice."""

import threading
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from pathlib import Path

import calling
import httpx
import pytest
import repricing_cases as cases
from new_databases import NewDatabase
from proxy import proxied
from running import Running, running, several
from waiting import until

PROCESSES = 3
CALLERS = 4
BEFORE = 40
"""Requests that are answered before it is told to, and after it has ended."""
DRAINING = {"FILMBUILD_DRAIN_SECONDS": "2"}
LONG_DRAINING = {"FILMBUILD_DRAIN_SECONDS": "100"}

pytestmark = pytest.mark.no_cover


@pytest.fixture(scope="module")
def processes(new_sqlite: NewDatabase) -> Iterator[list[Running]]:
    with (
        new_sqlite(True, loaded=True) as url,
        several(url, "--no-work", ports=[0] * PROCESSES, environment=DRAINING) as begun,
    ):
        yield begun


class Load:
    """Callers that ask one thing after another until `over`, and try nothing again."""

    def __init__(self, address: str) -> None:
        self.over = threading.Event()
        self.answered: list[int] = []
        self.failed: list[str] = []
        self._address = address

    def call(self, caller: int) -> None:
        body = cases.request(caller)
        with httpx.Client(base_url=self._address, headers=calling.HEADERS, timeout=60) as client:
            while not self.over.is_set():
                try:
                    answer = client.post("/v1/estimates", json=body)
                except httpx.TransportError as error:
                    self.failed.append(repr(error))
                else:
                    self._note(answer)

    def _note(self, answer: httpx.Response) -> None:
        self.answered.append(answer.status_code)
        if answer.status_code != 201:
            self.failed.append(answer.text)


@pytest.mark.parametrize(
    ("kind", "patient"),
    # nginx checks nobody: it learns from a refused connection, over which nothing was sent
    [("haproxy", False), ("nginx", True)],
)
def test_a_process_that_is_told_to_stop_loses_no_request(
    processes: list[Running], tmp_path: Path, kind: str, patient: bool
) -> None:
    leaving, *staying = [one for one in processes if not one.ended()]
    ports = [one.port for one in (leaving, *staying)]
    with ExitStack() as stack:
        address = stack.enter_context(proxied(ports, tmp_path, kind, patient=patient))
        until(lambda: httpx.get(f"{address}/v1/readiness").status_code == 200)
        load = Load(address)
        threads = stack.enter_context(ThreadPoolExecutor(CALLERS))
        callers = [threads.submit(load.call, caller) for caller in range(CALLERS)]
        stack.callback(load.over.set)
        until(lambda: len(load.answered) > BEFORE)
        leaving.ask_to_stop()
        assert leaving.stopped() in (0, -15)
        already = len(load.answered)
        until(lambda: len(load.answered) > already + BEFORE)
        load.over.set()
        for one in callers:
            one.result()
    assert load.failed == []


def test_one_that_drains_still_answers_and_lets_go_of_connections(
    new_sqlite: NewDatabase,
) -> None:
    """RFC 9112 section 9.6: a server says `close` in the last answer that it gives on a connection."""
    with new_sqlite(True) as url, running(url, "--no-work", environment=LONG_DRAINING) as service:
        assert "connection" not in service.client.get("/v1/health").headers
        service.ask_to_stop()
        until(lambda: service.client.get("/v1/readiness").status_code == 503)
        last = service.client.get("/v1/estimates")
        assert last.status_code == 200
        assert last.headers["connection"] == "close"
        assert service.listening()
