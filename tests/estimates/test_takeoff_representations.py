"""The takeoff over HTTP in each of its forms."""

import csv
import io
from collections.abc import Iterator
from typing import Any
from xml.etree import ElementTree as ET

import pytest
import serving
from drawing_cases import SITES
from serving import Client, NewDatabase

PATH = "/v1/takeoff"
BODY: dict[str, Any] = {"units": "us", "site": SITES["corridor"]}
SVG, CSV = "image/svg+xml", "text/csv"


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving.serving(new_sqlite) as client:
        yield client


def test_json_is_what_is_answered_unless_something_else_is_preferred(client: Client) -> None:
    plain = client.post(PATH, json=BODY)
    for accept in ("*/*", "application/json", "image/svg+xml;q=0.5, application/json"):
        answer = client.post(PATH, json=BODY, headers={"accept": accept})
        assert answer.headers["content-type"] == "application/json"
        assert answer.content == plain.content
    assert plain.headers["vary"] == "Accept"


def test_the_drawing_is_one_that_runs_nothing(client: Client) -> None:
    answer = client.post(PATH, json=BODY, headers={"accept": f"{SVG}, application/problem+json"})
    assert answer.status_code == 200
    assert answer.headers["content-type"] == SVG
    assert answer.headers["vary"] == "Accept"
    assert answer.headers["content-security-policy"] == "default-src 'none', frame-ancestors 'none'"
    assert ET.fromstring(answer.content).tag == "{http://www.w3.org/2000/svg}svg"  # noqa: S314 - the service's own
    again = client.post(PATH, json=BODY, headers={"accept": SVG})
    assert again.content == answer.content


def test_the_table_says_its_charset_and_its_header(client: Client) -> None:
    """RFC 7111 section 5.1: the parameters of text/csv."""
    answer = client.post(PATH, json=BODY, headers={"accept": "text/*"})
    assert answer.headers["content-type"] == "text/csv; charset=utf-8; header=present"
    lines = list(csv.DictReader(io.StringIO(answer.content.decode(), newline=""), strict=True))
    takeoff = client.post(PATH, json=BODY).json()["takeoff"]
    assert [line["id"] for line in lines[:-1]] == [area["id"] for area in takeoff["areas"]]
    assert float(lines[-1]["floor [ft2]"]) == takeoff["totals"]["floor"]["value"]


def test_a_site_of_well_known_text_is_drawn(client: Client) -> None:
    text = "POLYGON ((0 0, 9 0, 9 6, 0 6, 0 0), (2 2, 2 3, 3 3, 3 2, 2 2))"
    area = {"id": "hall", "outline": {"kind": "wkt", "unit": "m", "text": text}}
    shaped = {"kind": "l_shape", "length": "6 m", "width": "5 m", "end_width": "2 m"}
    other = {"id": "ell", "outline": {**shaped, "end_length": "2 m"}}
    body = {"units": "si", "site": {"areas": [area, other]}}
    answer = client.post(PATH, json=body, headers={"accept": SVG})
    assert answer.status_code == 200, answer.text
    assert "53 m\u00b2" in answer.text
    assert "not to position" in answer.text


@pytest.mark.parametrize("accept", [SVG, CSV])
def test_a_refused_site_is_a_problem_in_any_form(client: Client, accept: str) -> None:
    body = {"site": {"areas": [{"id": "a b", "outline": {"kind": "rectangle"}}]}}
    answer = client.post(PATH, json=body, headers={"accept": accept})
    assert answer.status_code == 422
    assert answer.headers["content-type"] == "application/problem+json"
    assert {one["pointer"] for one in answer.json()["errors"]} >= {"/site/areas/0/id"}


def test_another_form_is_refused_with_those_on_offer(client: Client) -> None:
    answer = client.post(PATH, json=BODY, headers={"accept": "application/pdf"})
    assert answer.status_code == 406
    for media_type in ("application/json", SVG, CSV):
        assert media_type in answer.json()["detail"]


def test_the_contract_lists_every_form(client: Client) -> None:
    described = client.get("/v1/openapi.json").json()["paths"][PATH]["post"]["responses"]["200"]
    assert set(described["content"]) == {"application/json", SVG, CSV}
    page = client.get("/v1/docs").text
    assert SVG in page
    assert CSV in page
