"""The sheets over HTTP, in each of their forms."""

import csv
import io
import re
from base64 import b64encode
from collections.abc import Iterator
from hashlib import sha256
from typing import Any

import pytest
import serving
from serving import Client, NewDatabase
from sheet_cases import asked

HTML, CSV, TEXT = "text/html", "text/csv", "text/plain"
PATHS = ("/v1/mixing-sheet", "/v1/loading-list")


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving.serving(new_sqlite) as client:
        yield client


def page(client: Client, path: str, body: dict[str, Any], **query: str) -> str:
    answer = client.post(path, json=body, params=query, headers={"accept": HTML})
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "text/html; charset=utf-8"
    return answer.text


@pytest.mark.parametrize("path", PATHS)
def test_data_a_page_and_a_table(client: Client, path: str) -> None:
    data = client.post(path, json=asked())
    assert data.headers["content-type"] == "application/json"
    assert data.headers["vary"] == "Accept"
    table = client.post(path, json=asked(), headers={"accept": CSV})
    assert table.headers["content-type"] == "text/csv; charset=utf-8; header=present"
    lines = list(csv.reader(io.StringIO(table.text, newline=""), strict=True))
    assert len({len(line) for line in lines}) == 1
    text = page(client, path, asked())
    for caution in data.json()["cautions"]:
        assert caution["title"] in text
    assert text == page(client, path, asked())


@pytest.mark.parametrize("path", PATHS)
def test_paper_is_that_of_the_units_unless_it_is_chosen(client: Client, path: str) -> None:
    sizes = {}
    for units in ("us", "si"):
        body = asked(units=units)
        for paper in ("", "a4", "letter"):
            text = page(client, path, body, **({"paper": paper} if paper else {}))
            found = re.search(r"@page \{ size: (A4|letter)", text)
            assert found is not None
            sizes[units, paper] = found[1]
    assert sizes["us", ""] == sizes["us", "letter"] == sizes["si", "letter"] == "letter"
    assert sizes["si", ""] == sizes["si", "a4"] == sizes["us", "a4"] == "A4"
    wrong = client.post(path, json=asked(), params={"paper": "a3"}, headers={"accept": HTML})
    assert wrong.status_code == 422
    assert wrong.json()["errors"][0]["pointer"] == "/paper"


@pytest.mark.parametrize("path", PATHS)
def test_a_page_runs_nothing_and_takes_no_markup(client: Client, path: str) -> None:
    name = "<script>alert('hall')</script>"
    answer = client.post(path, json=asked(name=name), headers={"accept": HTML})
    assert "<script" not in answer.text
    assert "&lt;script&gt;" in answer.text
    style = re.search(r"<style>(.*?)</style>", answer.text, re.DOTALL)
    assert style is not None
    digest = b64encode(sha256(style[1].encode()).digest()).decode()
    policy = answer.headers["content-security-policy"]
    assert policy == f"default-src 'none'; style-src 'sha256-{digest}', frame-ancestors 'none'"


def test_every_mix_is_on_the_page(client: Client) -> None:
    data = client.post("/v1/mixing-sheet", json=asked()).json()
    text = page(client, "/v1/mixing-sheet", asked())
    mixes = sum(len(coat["mixes"]) for coat in data["sheet"]["coats"])
    assert text.count('<td class="number">') == mixes
    assert text.count('<td class="clock"></td>') == mixes


def test_the_sheets_follow_from_the_materials(client: Client) -> None:
    body = asked()
    materials = client.post("/v1/materials", json=body).json()
    handed = {"units": "us", "job": body["job"], "materials": materials}
    for path in (*PATHS, "/v1/explanations"):
        fresh, later = client.post(path, json=body), client.post(path, json=handed)
        assert later.status_code == 200, later.text
        assert later.json().keys() == fresh.json().keys()
    both = client.post(PATHS[0], json={**body, "materials": materials})
    neither = client.post(PATHS[0], json={"units": "us", "job": body["job"]})
    for answer in (both, neither):
        assert answer.status_code == 422
        assert answer.json()["errors"][0]["pointer"] == "/site"


def test_sentences_are_lines_of_text(client: Client) -> None:
    data = client.post("/v1/explanations", json=asked()).json()
    answer = client.post("/v1/explanations", json=asked(), headers={"accept": TEXT})
    assert answer.headers["content-type"] == "text/plain; charset=utf-8"
    assert answer.text.splitlines() == [one["text"] for one in data["explanations"]]
    assert len(answer.text.splitlines()) > 50
