"""GET /metrics, where it is switched on, and outside of the contract."""

from collections.abc import Iterable, Iterator
from ipaddress import ip_address

from litestar import Request, Response, get
from litestar.datastructures import State
from litestar.exceptions import NotFoundException
from litestar.handlers import HTTPRouteHandler
from litestar.types import HTTPScope
from prometheus_client import CollectorRegistry, generate_latest
from prometheus_client.core import GaugeMetricFamily, Metric
from prometheus_client.registry import Collector

from filmbuild.settings import MetricsAccess
from filmbuild.watching.gauges import Figure, Gauges
from filmbuild.watching.metrics import Metrics

PATH = "/metrics"
TEXT_FORMAT = "text/plain; version=0.0.4; charset=utf-8"
FORWARDED = frozenset({b"forwarded", b"via", b"x-forwarded-for", b"x-real-ip"})


def metrics_route(metrics: Metrics, gauges: Gauges, access: MetricsAccess) -> HTTPRouteHandler:
    @get(PATH, include_in_schema=False)
    async def scrape(request: Request[object, object, State]) -> Response[bytes]:
        if access == "loopback" and not from_here(request.scope):
            raise NotFoundException
        ready = CollectorRegistry()
        ready.register(_Figures(await gauges.read(metrics.failed)))
        text = generate_latest(metrics.registry) + generate_latest(ready)
        return Response(text, media_type=TEXT_FORMAT)

    return scrape


def from_here(scope: HTTPScope) -> bool:
    """From this machine, and not handed on by a proxy on it that says so."""
    client = scope["client"]
    if client is None or any(name in FORWARDED for name, _ in scope["headers"]):
        return False
    try:
        return ip_address(client[0]).is_loopback
    except ValueError:
        return False


class _Figures(Collector):
    """Those that are known already, in the form in which the library asks for them."""

    def __init__(self, figures: Iterable[Figure]) -> None:
        self._figures = figures

    def collect(self) -> Iterator[Metric]:
        for one in self._figures:
            yield GaugeMetricFamily(one.name, one.help, value=one.value)
