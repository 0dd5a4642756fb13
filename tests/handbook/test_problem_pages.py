"""Every kind of problem has a page at its type, which says what to do."""

import json
from collections.abc import Iterator
from typing import Any

import handbook_examples
import msgspec
import pytest
from handbook_examples import PAGES, blocks, contains, text_of
from serving import Client, NewDatabase, client_of, serving

from filmbuild.edge.problems import KINDS, Problem, ProblemKind, problem_for
from filmbuild.handbook.markdown import written

SECTIONS = ("Usual causes", "What to do", "Does trying again help?")
ONLY_LATER = ("Yes", "No", "Only", "Not", "Rarely")
"""How the answer to the question of every page begins."""


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving(new_sqlite) as client:
        yield client


@pytest.mark.parametrize("kind", list(KINDS.values()), ids=list(KINDS))
def test_the_type_leads_to_a_page(client: Client, kind: ProblemKind) -> None:
    response = client.get(kind.type)
    assert response.status_code == 200
    assert response.headers["content-type"] == "text/html; charset=utf-8"
    assert f"Status {kind.status}" in response.text


@pytest.mark.parametrize("kind", list(KINDS.values()), ids=list(KINDS))
def test_the_page_says_what_it_means_and_what_to_do(kind: ProblemKind) -> None:
    name = f"problems/{kind.code}"
    page = written(text_of(name), name)
    assert page.title == kind.title
    assert tuple(one.text for one in page.headings) == SECTIONS
    advice = text_of(name).rpartition("## Does trying again help?\n\n")[2]
    assert advice.startswith(ONLY_LATER)


@pytest.mark.parametrize("kind", list(KINDS.values()), ids=list(KINDS))
def test_the_page_shows_a_document_of_this_kind(kind: ProblemKind) -> None:
    """That the service answers with it is seen to with the other examples, where it can be had."""
    document = shown_on(f"problems/{kind.code}")
    assert (document["type"], document["title"], document["status"]) == (
        kind.type,
        kind.title,
        kind.status,
    )
    assert set(document) <= set(Problem.__struct_fields__)
    assert "request_id" in document


def shown_on(page: str) -> dict[str, Any]:
    (shown,) = (one for one in blocks(text_of(page)) if one.language == "json")
    document: dict[str, Any] = json.loads(shown.content)
    return document


def test_a_service_without_a_catalogue_answers_as_shown(new_sqlite: NewDatabase) -> None:
    with new_sqlite(True) as url, client_of(url) as client:
        answered = client.get("/v1/products").json()
    assert contains(answered, shown_on("problems/unavailable"))


def test_a_fault_of_the_service_is_answered_as_shown() -> None:
    answered = msgspec.to_builtins(problem_for(RuntimeError(), "an-id"))
    assert contains(answered, shown_on("problems/internal-error"))


def test_there_are_no_pages_of_other_kinds() -> None:
    assert {one.stem for one in (PAGES / "problems").iterdir()} == set(KINDS)


def test_what_is_answered_says_where_its_page_is(client: Client) -> None:
    problem = client.get("/v1/estimates/nothing").json()
    assert client.get(problem["type"]).status_code == 200


def test_all_are_listed(client: Client) -> None:
    listed = client.get("/docs/errors").text
    for kind in KINDS.values():
        assert f'href="{kind.type}"' in listed


def test_a_kind_without_a_page_would_be_noticed() -> None:
    with pytest.raises(FileNotFoundError):
        handbook_examples.text_of("problems/no-such-kind")
