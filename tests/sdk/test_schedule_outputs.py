"""The schedule's other forms, and the comparison of several ways, through the SDK."""

from collections.abc import Iterator

import httpx
import icalendar
import msgspec
import pytest
import serving
from calling import KEY
from serving import NewDatabase

import examples
from filmbuild_sdk import Client, InvalidInput, models

BASE = "http://127.0.0.1"


class Line(httpx.BaseTransport):
    def __init__(self, service: httpx.Client) -> None:
        self._service = service

    def handle_request(self, request: httpx.Request) -> httpx.Response:
        answer = self._service.send(request)
        return httpx.Response(answer.status_code, headers=answer.headers, content=answer.content)


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with (
        serving.serving(new_sqlite) as service,
        Client(BASE, key=KEY, transport=Line(service), retries=None) as client,
    ):
        yield client


@pytest.fixture(scope="module")
def asked() -> models.EstimateRequest:
    body = examples.read("calculateEstimate")[0].body
    return msgspec.json.decode(msgspec.json.encode(body), type=models.EstimateRequest)


def test_the_schedule_is_drawn_listed_and_put_in_a_calendar(
    client: Client, asked: models.EstimateRequest
) -> None:
    request = models.ScheduleRequest(site=asked.site, job=asked.job)
    activities = client.schedule(request).schedule.activities
    assert client.schedule_drawing(request).startswith("<svg")
    events = icalendar.Calendar.from_ical(client.schedule_calendar(request)).walk("VEVENT")
    assert len(events) > len(activities)
    assert client.schedule_table(request).count("\r\n") > len(activities)


def test_ways_to_do_a_job_are_compared(client: Client, asked: models.EstimateRequest) -> None:
    found = client.compare(
        models.ComparisonRequest(
            site=asked.site,
            job=asked.job,
            variants=[
                models.Variant(label="as asked"),
                models.Variant(label="nowhere", system="no-such-system"),
            ],
        )
    )
    first, second = found.variants
    assert first.figures is not None
    assert first.figures.total.amount == client.calculate(asked).price.total.amount
    assert second.problem is not None
    assert [one.pointer for one in second.problem.errors] == ["/variants/1/system"]
    assert found.cheapest == found.earliest == "as asked"


def test_a_refused_calendar_is_an_error_like_any_other(
    client: Client, asked: models.EstimateRequest
) -> None:
    job = msgspec.structs.replace(asked.job, start=None)
    with pytest.raises(InvalidInput) as refused:
        client.schedule_calendar(models.ScheduleRequest(site=asked.site, job=job))
    assert [one.pointer for one in refused.value.errors] == ["/job/start"]
