"""Figures of this process in Prometheus' form: one registry each, so that several are scraped apart.

Labels are few and of known values: operations, classes of status, names of work, and reasons.
Nothing is told by organisation.
"""

from contextlib import AbstractContextManager
from http import HTTPStatus
from time import perf_counter
from types import TracebackType

from prometheus_client import (
    CollectorRegistry,
    Counter,
    Gauge,
    Histogram,
    PlatformCollector,
    ProcessCollector,
)

from filmbuild.watching.exchange import Exchange

SECONDS = (0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1.0, 2.5, 5.0, 10.0, 30.0)
BYTES = (256.0, 1024.0, 4096.0, 16_384.0, 65_536.0, 262_144.0, 1_048_576.0, 8_388_608.0)
REASONS = {
    HTTPStatus.UNAUTHORIZED: "unauthorized",
    HTTPStatus.FORBIDDEN: "forbidden",
    HTTPStatus.TOO_MANY_REQUESTS: "too-many-requests",
}
NO_OPERATION = "none"


class Metrics:
    """Both an observer of requests and, by `timed`, a watcher of work."""

    def __init__(self) -> None:
        self.registry = CollectorRegistry()
        ProcessCollector(registry=self.registry)
        PlatformCollector(registry=self.registry)
        self._requests = Histogram(
            "filmbuild_request_seconds",
            "From the first byte of a request to the last of its answer.",
            ("operation", "status"),
            registry=self.registry,
            buckets=SECONDS,
        )
        self._in_flight = Gauge(
            "filmbuild_requests_in_flight", "Requests under way.", registry=self.registry
        )
        sizes = Histogram(
            "filmbuild_body_bytes",
            "Sizes of bodies.",
            ("direction",),
            registry=self.registry,
            buckets=BYTES,
        )
        self._received, self._sent = sizes.labels("in"), sizes.labels("out")
        refusals = Counter(
            "filmbuild_refusals",
            "Requests that were not let in, by reason.",
            ("reason",),
            registry=self.registry,
        )
        self._refusals = {status: refusals.labels(reason) for status, reason in REASONS.items()}
        self._work = Histogram(
            "filmbuild_work_seconds",
            "Stages of the pipeline, blocks of database work, and portions of jobs.",
            ("work",),
            registry=self.registry,
            buckets=SECONDS,
        )
        self.failures = Counter(
            "filmbuild_failures",
            "What did not work and did not stop a request, by part.",
            ("part",),
            registry=self.registry,
        )
        # finding a child by its labels costs as much as all else
        self._known: dict[tuple[str, int], Histogram] = {}
        self._known_work: dict[str, Histogram] = {}

    def begin(self, _exchange: Exchange) -> None:
        self._in_flight.inc()

    def end(self, exchange: Exchange) -> None:
        self._in_flight.dec()
        operation, status = exchange.operation, exchange.status
        key = (operation.id if operation else NO_OPERATION, status // 100)
        child = self._known.get(key)
        if child is None:
            child = self._known[key] = self._requests.labels(key[0], f"{key[1]}xx")
        child.observe(exchange.seconds)
        self._received.observe(exchange.received)
        self._sent.observe(exchange.sent)
        refused = self._refusals.get(HTTPStatus(status)) if status in REASONS else None
        if refused is not None:
            refused.inc()

    def failed(self, part: str) -> None:
        """For parts that go on without what failed, such as the store of rate limits."""
        self.failures.labels(part).inc()

    def timed(self, name: str) -> AbstractContextManager[object]:
        child = self._known_work.get(name)
        if child is None:
            child = self._known_work[name] = self._work.labels(name)
        return _Timed(child)


class _Timed:
    __slots__ = ("_begun", "_child")

    def __init__(self, child: Histogram) -> None:
        self._child = child
        self._begun = perf_counter()

    def __enter__(self) -> None:
        self._begun = perf_counter()

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._child.observe(perf_counter() - self._begun)
