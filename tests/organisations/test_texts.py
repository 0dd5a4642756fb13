"""The words of offers: the service's own, and what an organisation says instead."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import msgspec
import pytest
from serving import Client, NewDatabase, client_of

import filmbuild
from filmbuild.db import EVERYONE, Database
from filmbuild.organisations.defaults import default_texts
from filmbuild.organisations.profile import OrganisationTexts
from filmbuild.organisations.service import OrganisationService, texts_of

CAUTIONS = Path(filmbuild.__file__).parent / "pipeline" / "cautions"
PATH = "/v1/organisation/texts/{}"
OWN: dict[str, Any] = {
    "scope": ["We lay the floor."],
    "cautions": [{"code": "slip-resistance", "title": "Slippery", "detail": "When wet."}],
}


@pytest.fixture
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with new_sqlite(True) as url, client_of(url) as client:
        yield client


def test_both_languages_say_as_much() -> None:
    english, spanish = default_texts()["en"], default_texts()["es"]
    for name in OrganisationTexts.__struct_fields__:
        one, other = getattr(english, name), getattr(spanish, name)
        assert len(one) == len(other) > 0
    assert [one.code for one in english.cautions] == [one.code for one in spanish.cautions]
    said = msgspec.to_builtins(english), msgspec.to_builtins(spanish)
    for one, other in zip(*(list(paragraphs(each)) for each in said), strict=True):
        assert one != other


def paragraphs(texts: object) -> Iterator[str]:
    if isinstance(texts, str):
        yield texts
    elif isinstance(texts, dict):
        for name, one in texts.items():
            yield from paragraphs(one) if name != "code" else ()
    elif isinstance(texts, list | tuple):
        for one in texts:
            yield from paragraphs(one)


def test_cautions_for_customers_are_of_hazards_that_there_are() -> None:
    source = "".join(path.read_text() for path in sorted(CAUTIONS.glob("*.py")))
    known = set(re.findall(r'code="([a-z-]+)"', source))
    for texts in default_texts().values():
        assert {one.code for one in texts.cautions} <= known


@pytest.mark.parametrize(("language", "above"), [("en", "above this"), ("es", "prevalecen")])
def test_every_caution_defers_to_those_who_decide(language: str, above: str) -> None:
    for one in default_texts()[language].cautions:
        assert above in one.detail


def test_the_service_has_words_until_the_organisation_has_its_own(client: Client) -> None:
    path = PATH.format("en")
    default = client.get(path)
    assert default.status_code == 200
    assert default.json()["own"] is False
    assert client.put(path, json=OWN, headers={"if-match": '"7"'}).status_code == 412
    made = client.put(path, json=OWN, headers={"if-match": default.headers["etag"]})
    assert made.status_code == 201, made.text
    assert client.get(path).content == made.content
    assert made.json()["own"] is True
    assert made.json()["texts"]["scope"] == OWN["scope"]
    assert made.json()["texts"]["conditions"] == []
    assert client.put(path, json=OWN).status_code == 428
    stale = {"if-match": default.headers["etag"]}
    assert client.put(path, json=OWN, headers=stale).status_code == 412
    tag = {"if-match": made.headers["etag"]}
    assert client.put(path, json={}, headers=tag).status_code == 200
    assert client.get(PATH.format("es")).json()["own"] is False


def test_other_languages_can_be_added(client: Client) -> None:
    path = PATH.format("fi")
    assert client.get(path).status_code == 404
    assert client.put(path, json=OWN).status_code == 201
    assert client.get(path).json()["language"] == "fi"
    assert client.get(PATH.format("Finnish")).status_code == 404


def test_a_hazard_has_one_wording(client: Client) -> None:
    twice = {"cautions": OWN["cautions"] * 2}
    response = client.put(PATH.format("en"), json=twice)
    assert response.status_code == 422
    (fault,) = response.json()["errors"]
    assert (fault["pointer"], fault["code"]) == ("/cautions/1/code", "repeated-code")


async def test_the_nearest_words_are_used(database: Database) -> None:
    service = OrganisationService(database)

    async def scope(language: str) -> tuple[str, ...] | None:
        async with database.reader(EVERYONE) as connection:
            found = await texts_of(connection, "a", language)
        return None if found is None else found.scope

    assert await scope("es-MX") == default_texts()["es"].scope
    assert await scope("fi") is None
    await service.put_texts("a", "es", OrganisationTexts(scope=("del idioma",)), {})
    assert await scope("es-MX") == ("del idioma",)
    await service.put_texts("a", "es-MX", OrganisationTexts(scope=("del lugar",)), {})
    assert await scope("es-MX") == ("del lugar",)
    assert await scope("es") == ("del idioma",)
    async with database.reader(EVERYONE) as connection:
        other = await texts_of(connection, "b", "es-MX")
    assert other == default_texts()["es"]
