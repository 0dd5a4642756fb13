"""Spans for OpenTelemetry. Imported only where traces are switched on: its libraries are optional.

Where they are sent, and how many, the libraries read from their own variables (OTEL_...). Spans tell
no error's message, no path and no caller: these may hold what is a customer's.
"""

from contextlib import AbstractContextManager

from litestar.types import HTTPScope
from opentelemetry import context, trace
from opentelemetry.exporter.otlp.proto.http.trace_exporter import OTLPSpanExporter
from opentelemetry.sdk.resources import OTELResourceDetector, Resource
from opentelemetry.sdk.trace import TracerProvider
from opentelemetry.sdk.trace.export import BatchSpanProcessor
from opentelemetry.trace import Span, SpanKind, Status, StatusCode
from opentelemetry.trace.propagation.tracecontext import TraceContextTextMapPropagator

from filmbuild.watching.exchange import Exchange
from filmbuild.watching.request_lines import METHODS

HANDED_ON = (b"traceparent", b"tracestate")
_STATE = "trace_span"
_SERVER_ERROR = 500
_propagator = TraceContextTextMapPropagator()


class Traces:
    """Both an observer of requests and, by `span`, a watcher of work."""

    def __init__(self, provider: TracerProvider) -> None:
        self._provider = provider
        self._tracer = provider.get_tracer("filmbuild")

    def begin(self, exchange: Exchange) -> None:
        """The caller's trace is gone on with, where it sends one (W3C Trace Context)."""
        method = _method(exchange.scope)
        came = _propagator.extract(_carried(exchange.scope))
        span = self._tracer.start_span(
            method, came, SpanKind.SERVER, {"http.request.method": method}
        )
        token = context.attach(trace.set_span_in_context(span, came))
        exchange.scope["state"][_STATE] = (span, token)

    def end(self, exchange: Exchange) -> None:
        span, token = exchange.scope["state"][_STATE]
        context.detach(token)
        _describe(span, exchange)
        span.end()

    def span(self, name: str) -> AbstractContextManager[object]:
        return self._tracer.start_as_current_span(
            name, record_exception=False, set_status_on_exception=False
        )

    def shut_down(self) -> None:
        """Blocking: sends what has not been sent."""
        self._provider.shutdown()


def handed_on() -> dict[str, str]:
    """Headers for a request that the work under way makes of another service."""
    carrier: dict[str, str] = {}
    _propagator.inject(carrier)
    return carrier


def exporting() -> Traces:
    own = Resource({"service.name": "filmbuild"})
    provider = TracerProvider(resource=own.merge(OTELResourceDetector().detect()))
    provider.add_span_processor(BatchSpanProcessor(OTLPSpanExporter()))
    return Traces(provider)


def _carried(scope: HTTPScope) -> dict[str, str]:
    return {
        name.decode("latin-1"): value.decode("latin-1")
        for name, value in scope["headers"]
        if name in HANDED_ON
    }


def _method(scope: HTTPScope) -> str:
    return scope["method"] if scope["method"] in METHODS else "_OTHER"


def _describe(span: Span, exchange: Exchange) -> None:
    """By OpenTelemetry's semantic conventions for HTTP servers."""
    span.set_attribute("http.response.status_code", exchange.status)
    request = exchange.scope["state"].get("request_id")
    if request is not None:
        span.set_attribute("filmbuild.request_id", request)
    if exchange.operation is not None:
        span.update_name(f"{_method(exchange.scope)} {exchange.operation.path}")
        span.set_attribute("http.route", exchange.operation.path)
        span.set_attribute("filmbuild.operation", exchange.operation.id)
    if exchange.status >= _SERVER_ERROR:
        span.set_status(Status(StatusCode.ERROR))
