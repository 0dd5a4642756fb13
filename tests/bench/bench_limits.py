"""What a request with a key pays for its two allowances, by the place where buckets are kept."""

import asyncio
import statistics
import tempfile
import time
from pathlib import Path
from typing import Any

import private_valkey
from open_gate import OpenGate

from filmbuild.edge.gate import Gate
from filmbuild.edge.operations import Answer, AnyOperation, Call, NoQuery, Operation
from filmbuild.limits.buckets import Store
from filmbuild.limits.file import FileStore
from filmbuild.limits.gate import LimitedGate
from filmbuild.limits.memory import MemoryStore
from filmbuild.limits.patience import OpenWhereItFails
from filmbuild.limits.valkey import ValkeyStore
from filmbuild.settings import Allowance, Limits

REQUESTS = 500
ROUNDS = 15
ADDRESSES = 200
PLENTY = Allowance(10_000, 10**8)
LIMITS = Limits(secret_key=PLENTY, address=PLENTY)


async def _unanswered(_call: Call[None, NoQuery]) -> Answer:
    raise NotImplementedError


READ = Operation(
    method="GET",
    path="/v1/x",
    id="x",
    tag="x",
    summary="x",
    description="x",
    handler=_unanswered,
    answer=None,
    query=NoQuery,
)


def figures() -> list[dict[str, Any]]:
    """Processor time of this process a request, less that of an open gate: the median of rounds."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        with private_valkey.server(folder) as server:
            stores: dict[str, Store] = {
                "memory": MemoryStore(),
                "file": FileStore(folder / "limits.sqlite3"),
                "valkey": ValkeyStore(server.url),
            }
            return asyncio.run(_compared(stores))


async def _compared(stores: dict[str, Store]) -> list[dict[str, Any]]:
    found = []
    bare = await _microseconds(OpenGate())
    for name, store in stores.items():
        gate = LimitedGate(OpenGate(), OpenWhereItFails(store), LIMITS)
        took = await _microseconds(gate) - bare
        found.append({"name": f"limits.request.{name}", "value": took, "unit": "us"})
        await store.close()
    return found


async def _microseconds(gate: Gate) -> float:
    rounds = []
    operation: AnyOperation = READ
    for _ in range(ROUNDS):
        start = time.process_time()
        for number in range(REQUESTS):
            client = (f"192.0.2.{number % ADDRESSES}", 1)
            scope: Any = {"type": "http", "method": "GET", "client": client, "headers": []}
            admission = await gate.admit(operation, scope)
            admission.check()
        rounds.append((time.process_time() - start) / REQUESTS * 1e6)
    return statistics.median(rounds)
