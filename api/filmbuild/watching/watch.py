"""All that watches one application, put together by its settings."""

from contextlib import ExitStack
from typing import TYPE_CHECKING

from litestar import Litestar
from litestar.handlers import HTTPRouteHandler

from filmbuild.edge.protection import Protected
from filmbuild.settings import Settings
from filmbuild.spans import Watcher
from filmbuild.watching.exchange import Observer, Watched
from filmbuild.watching.gauges import Gauges
from filmbuild.watching.lag import Lag
from filmbuild.watching.request_lines import RequestLog

if TYPE_CHECKING:
    from filmbuild.watching.metrics import Metrics
    from filmbuild.watching.traces import Traces


class Watch:
    """`request_log` is told each request; without one there is no log of them."""

    def __init__(
        self,
        settings: Settings,
        request_log: RequestLog | None = None,
        traces: "Traces | None" = None,
    ) -> None:
        self.gauges = Gauges()
        self.lag = Lag()
        self.metrics = _metrics(settings)
        self.traces = traces or _traces(settings)
        self._settings = settings
        self._request_log = request_log
        self.gauges.add(
            "event_loop_lag_seconds", "How late the event loop was last.", self.lag.read
        )

    def around(self, app: Litestar) -> None:
        """Watches the application from outside, so that what fails before a route is seen too."""
        tls = (self._settings.public_url or "").startswith("https:")
        protected = Protected(app.asgi_handler, tls=tls)
        observers: list[Observer] = [
            one for one in (self.traces, self.metrics, self._request_log) if one is not None
        ]
        app.asgi_handler = Watched(protected, observers, self.watcher) if observers else protected

    @property
    def routes(self) -> list[HTTPRouteHandler]:
        if self.metrics is None or self._settings.metrics == "off":
            return []
        from filmbuild.watching.metrics_route import metrics_route  # noqa: PLC0415 - loads what only metrics need

        return [metrics_route(self.metrics, self.gauges, self._settings.metrics)]

    @property
    def watcher(self) -> Watcher | None:
        """What is told of work, by name."""
        watchers: list[Watcher] = []
        if self.metrics is not None:
            watchers.append(self.metrics.timed)
        if self.traces is not None:
            watchers.append(self.traces.span)
        if len(watchers) <= 1:
            return watchers[0] if watchers else None
        return lambda name: _all(watchers, name)

    def failed(self, part: str) -> None:
        """For a part that goes on without what failed; `part` is one of a few names."""
        if self.metrics is not None:
            self.metrics.failed(part)

    def end(self) -> None:
        """Blocking."""
        if self.traces is not None:
            self.traces.shut_down()


def _all(watchers: list[Watcher], name: str) -> ExitStack:
    stack = ExitStack()
    for one in watchers:
        stack.enter_context(one(name))
    return stack


def _metrics(settings: Settings) -> "Metrics | None":
    if settings.metrics == "off":
        return None
    from filmbuild.watching.metrics import Metrics  # noqa: PLC0415 - loads what only metrics need

    return Metrics()


def _traces(settings: Settings) -> "Traces | None":
    if settings.traces == "off":
        return None
    from filmbuild.watching.traces import exporting  # noqa: PLC0415 - its libraries are optional

    return exporting()
