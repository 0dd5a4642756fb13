"""Spans that OpenTelemetry's own in-memory exporter was given."""

import subprocess
import sys

import calling
import msgspec
import pytest
from litestar.testing import TestClient
from new_databases import NewDatabase
from opentelemetry.sdk.trace import ReadableSpan, TracerProvider
from opentelemetry.sdk.trace.export import SimpleSpanProcessor
from opentelemetry.sdk.trace.export.in_memory_span_exporter import InMemorySpanExporter
from opentelemetry.trace import format_span_id, format_trace_id
from serving import settings_for

from filmbuild import app as application
from filmbuild.jobs.work import Work
from filmbuild.repricing.batches import KIND
from filmbuild.spans import span, watched_by
from filmbuild.watching import traces
from filmbuild.watching.traces import Traces, handed_on

# W3C Trace Context, section 3.2: the example of a traceparent
PARENT = "00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01"
BODY = {
    "site": {
        "areas": [{"id": "a", "outline": {"kind": "rectangle", "length": "6 m", "width": "4 m"}}]
    }
}


@pytest.fixture
def exporter(monkeypatch: pytest.MonkeyPatch) -> InMemorySpanExporter:
    made = InMemorySpanExporter()
    provider = TracerProvider()
    provider.add_span_processor(SimpleSpanProcessor(made))
    monkeypatch.setattr(traces, "exporting", lambda: Traces(provider))
    return made


def by_name(exporter: InMemorySpanExporter) -> dict[str, ReadableSpan]:
    return {one.name: one for one in exporter.get_finished_spans()}


def test_a_request_goes_on_with_its_callers_trace(
    new_sqlite: NewDatabase, exporter: InMemorySpanExporter
) -> None:
    with new_sqlite(True, loaded=True) as url:
        settings = msgspec.structs.replace(settings_for(url), traces="on")
        with TestClient(application.create_app(settings)) as client:
            client.headers.update(calling.HEADERS)
            assert client.post("/v1/takeoff", json=BODY, headers={"traceparent": PARENT}).is_success
            assert client.get("/v1/products/nothing-of-that-name").status_code == 404
            spans = by_name(exporter)
    request, stage = spans["POST /v1/takeoff"], spans["stage.takeoff"]
    assert request.parent is not None
    assert format_trace_id(request.context.trace_id) == "4bf92f3577b34da6a3ce929d0e0e4736"
    assert format_span_id(request.parent.span_id) == "00f067aa0ba902b7"
    assert stage.parent is not None
    assert stage.parent.span_id == request.context.span_id
    other = spans["GET /v1/products/{product_id}"]
    assert other.context.trace_id != request.context.trace_id
    assert spans["database.read"].context.trace_id == other.context.trace_id
    assert dict(other.attributes or {})["http.response.status_code"] == 404
    told = repr([(one.name, one.attributes, one.events) for one in spans.values()])
    assert "nothing-of-that-name" not in told
    assert calling.KEY not in told


async def test_jobs_are_spans_and_hand_their_trace_on(exporter: InMemorySpanExporter) -> None:
    watcher = traces.exporting().span
    seen: list[dict[str, str]] = []

    async def portion(_organisation: str, _subject: str) -> bool:
        with span("database.write"):
            seen.append(handed_on())
        return False

    async def failed(*_what: object) -> None: ...

    watched = application.watched_work(KIND, Work(portion, failed), watcher)
    assert await watched.portion("organisation", "subject") is False
    spans = by_name(exporter)
    job, block = spans[f"job.{KIND}"], spans["database.write"]
    assert block.parent is not None
    assert block.parent.span_id == job.context.span_id
    trace, parent = format_trace_id(job.context.trace_id), format_span_id(block.context.span_id)
    assert [one["traceparent"][:53] for one in seen] == [f"00-{trace}-{parent}-"]
    assert handed_on() == {}


def test_errors_do_not_tell_their_messages(exporter: InMemorySpanExporter) -> None:
    with (
        watched_by(traces.exporting().span),
        pytest.raises(ValueError, match="Marigold"),
        span("stage.takeoff"),
    ):
        raise ValueError("Marigold Sample")
    assert "Marigold" not in by_name(exporter)["stage.takeoff"].to_json()


def test_nothing_of_it_is_imported_where_it_is_off() -> None:
    code = (
        "import sys; from filmbuild.app import create_app; from filmbuild import settings; "
        "create_app(settings.read({}));"
        "print([one for one in sys.modules "
        "if one.startswith(('opentelemetry.sdk', 'opentelemetry.exporter', 'prometheus_client'))])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
