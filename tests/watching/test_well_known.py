"""What is found at well-known addresses, by the RFCs that name them."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta

import msgspec
import pytest
from litestar.testing import TestClient
from new_databases import NewDatabase
from serving import Client, settings_for

from filmbuild.app import create_app

CATALOG = "/.well-known/api-catalog"
SECURITY = "/.well-known/security.txt"


@contextmanager
def reached_as(
    new: NewDatabase, public_url: str | None, contact: str | None = None
) -> Iterator[Client]:
    with new(False) as url:
        settings = msgspec.structs.replace(
            settings_for(url), public_url=public_url, security_contact=contact
        )
        with TestClient(create_app(settings)) as client:
            yield client


@pytest.mark.parametrize("base", [None, "https://floors.example"])
def test_the_api_catalog_leads_to_the_contract(new_sqlite: NewDatabase, base: str | None) -> None:
    """RFC 9727 sections 2 to 4, RFC 9264 section 4.2 and RFC 8631 section 4."""
    with reached_as(new_sqlite, base) as client:
        answer = client.get(CATALOG, headers={"accept": "application/linkset+json"})
        kind, _, profile = answer.headers["content-type"].partition("; profile=")
        assert kind == "application/linkset+json"
        assert profile == '"https://www.rfc-editor.org/info/rfc9727"'
        own, api = answer.json()["linkset"]
        assert own["anchor"] == (base or "") + CATALOG
        assert [one["href"] for one in own["item"]] == [api["anchor"]]
        for relation in ("service-desc", "service-doc"):
            (link,) = api[relation]
            found = client.get(link["href"].removeprefix(base or ""))
            assert found.is_success
            assert found.headers["content-type"].startswith(link["type"])
        (status,) = api["status"]
        assert client.get(status["href"].removeprefix(base or "")).status_code == 503
        head = client.head(CATALOG)
    assert head.is_success
    assert head.content == b""
    assert f'<{base or ""}{CATALOG}>; rel="api-catalog"' in head.headers["link"]


def test_security_text_has_its_two_fields_and_is_good_for_less_than_a_year(
    new_sqlite: NewDatabase,
) -> None:
    """RFC 9116 sections 2.5.3, 2.5.5, 2.5.2 and 3."""
    contact = "mailto:security@floors.example"
    with reached_as(new_sqlite, "https://floors.example", contact) as client:
        answer = client.get(SECURITY)
    assert answer.headers["content-type"] == "text/plain; charset=utf-8"
    fields = [line.partition(": ")[::2] for line in answer.text.splitlines()]
    assert len(fields) == len(dict(fields))
    told = dict(fields)
    assert told["Contact"] == contact
    assert told["Canonical"] == f"https://floors.example{SECURITY}"
    left = datetime.fromisoformat(told["Expires"]) - datetime.now(UTC)
    assert timedelta(days=90) < left < timedelta(days=365)


def test_without_a_contact_there_is_no_security_text(new_sqlite: NewDatabase) -> None:
    with reached_as(new_sqlite, None) as client:
        assert client.get(SECURITY).status_code == 404


@pytest.mark.parametrize(
    ("base", "told"),
    [(None, None), ("http://floors.example", None), ("https://floors.example", "max-age=31536000")],
)
def test_only_what_is_reached_by_tls_asks_for_it(
    new_sqlite: NewDatabase, base: str | None, told: str | None
) -> None:
    """RFC 6797 section 7.2: never over plain HTTP."""
    with reached_as(new_sqlite, base) as client:
        for path in ("/v1/health", "/nowhere"):
            assert client.get(path).headers.get("strict-transport-security") == told
