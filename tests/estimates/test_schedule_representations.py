"""The schedule over HTTP in each of its forms, and the comparison of several ways."""

import csv
import io
from collections.abc import Iterator
from typing import Any
from xml.etree import ElementTree as ET

import icalendar
import pytest
import serving
from serving import Client, NewDatabase
from timeline_cases import body, hall

PATH = "/v1/schedule"
BODY: dict[str, Any] = body(hall("6 m"), system="harbour-thin-film")
SVG, CALENDAR, CSV = "image/svg+xml", "text/calendar", "text/csv"


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving.serving(new_sqlite) as client:
        yield client


def test_json_is_what_is_answered_unless_something_else_is_preferred(client: Client) -> None:
    plain = client.post(PATH, json=BODY)
    assert plain.headers["vary"] == "Accept"
    for accept in ("*/*", "application/json", f"{CALENDAR};q=0.5, application/json"):
        answer = client.post(PATH, json=BODY, headers={"accept": accept})
        assert answer.headers["content-type"] == "application/json"
        assert answer.content == plain.content


def test_the_calendar_imports_whole(client: Client) -> None:
    answer = client.post(PATH, json=BODY, headers={"accept": CALENDAR})
    assert answer.headers["content-type"] == "text/calendar; charset=utf-8"
    events = icalendar.Calendar.from_ical(answer.content).walk("VEVENT")
    schedule = client.post(PATH, json=BODY).json()["schedule"]
    assert len(events) > len(schedule["activities"])
    assert client.post(PATH, json=BODY, headers={"accept": CALENDAR}).content == answer.content


def test_the_chart_runs_nothing(client: Client) -> None:
    answer = client.post(PATH, json=BODY, headers={"accept": SVG})
    assert answer.headers["content-type"] == SVG
    assert answer.headers["content-security-policy"] == "default-src 'none', frame-ancestors 'none'"
    assert ET.fromstring(answer.content).tag == "{http://www.w3.org/2000/svg}svg"  # noqa: S314 - the service's own


def test_text_without_a_kind_is_a_calendar_and_the_table_is_to_be_named(client: Client) -> None:
    answer = client.post(PATH, json=BODY, headers={"accept": CSV})
    assert answer.headers["content-type"] == "text/csv; charset=utf-8; header=present"
    lines = list(csv.DictReader(io.StringIO(answer.content.decode(), newline=""), strict=True))
    schedule = client.post(PATH, json=BODY).json()["schedule"]
    work = [line["activity"] for line in lines if line["kind"] == "work"]
    assert work == [one["activity"] for one in schedule["activities"]]
    kind = client.post(PATH, json=BODY, headers={"accept": "text/*"}).headers["content-type"]
    assert kind.startswith(CALENDAR)


@pytest.mark.parametrize("accept", [SVG, CALENDAR, CSV])
def test_labour_that_is_handed_back_takes_every_form(client: Client, accept: str) -> None:
    labour = client.post("/v1/labour", json=BODY).json()
    handed = {"units": BODY["units"], "job": BODY["job"], "labour": labour}
    answer = client.post(PATH, json=handed, headers={"accept": accept})
    assert answer.status_code == 200, answer.text
    assert answer.content == client.post(PATH, json=BODY, headers={"accept": accept}).content


@pytest.mark.parametrize("accept", [SVG, CALENDAR, CSV])
def test_a_job_without_a_start_is_a_problem_in_any_form(client: Client, accept: str) -> None:
    job = {name: value for name, value in BODY["job"].items() if name != "start"}
    answer = client.post(PATH, json={**BODY, "job": job}, headers={"accept": accept})
    assert answer.status_code == 422
    assert answer.headers["content-type"] == "application/problem+json"
    assert [one["pointer"] for one in answer.json()["errors"]] == ["/job/start"]


def test_another_form_is_refused_with_those_on_offer(client: Client) -> None:
    answer = client.post(PATH, json=BODY, headers={"accept": "application/pdf"})
    assert answer.status_code == 406
    for media_type in ("application/json", SVG, CALENDAR, CSV):
        assert media_type in answer.json()["detail"]


def test_the_contract_lists_every_form(client: Client) -> None:
    described = client.get("/v1/openapi.json").json()["paths"][PATH]["post"]["responses"]["200"]
    assert set(described["content"]) == {"application/json", SVG, CALENDAR, CSV}


def test_ways_to_do_a_job_are_answered_side_by_side(client: Client) -> None:
    variants = [
        {"label": "as asked"},
        {"label": "August", "start": "2026-08-03"},
        {"label": "nobody", "crew": [{"labour_class": "nobody", "count": 1}]},
    ]
    answer = client.post("/v1/comparisons", json={**BODY, "variants": variants})
    assert answer.status_code == 200, answer.text
    found = answer.json()
    assert [one["label"] for one in found["variants"]] == ["as asked", "August", "nobody"]
    asked, later, nobody = found["variants"]
    assert asked["figures"]["total"] == later["figures"]["total"]
    assert later["figures"]["first_day"] == "2026-08-03"
    assert nobody["figures"] is None
    assert nobody["problem"]["errors"][0]["pointer"] == "/variants/2/crew/0/labour_class"
    assert (found["cheapest"], found["earliest"]) == ("as asked", "as asked")
    whole = client.post("/v1/calculations", json=BODY).json()
    assert asked["figures"]["total"] == whole["price"]["total"]
    assert (
        client.post("/v1/comparisons", json={**BODY, "variants": variants}).content
        == answer.content
    )
