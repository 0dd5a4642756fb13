"""The application as a whole: its state, its page, and what it is made of."""

import re
from collections.abc import Iterator

import pytest
from litestar import get
from serving import Client, NewDatabase, client_of, serving, settings_for

from filmbuild.app import create_app


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving(new_sqlite) as client:
        yield client


def test_it_is_up_and_ready(client: Client) -> None:
    assert client.get("/v1/health").json() == {"status": "up"}
    readiness = client.get("/v1/readiness").json()
    assert readiness == {"status": "ready", "worker": "none", "warnings": []}


def test_what_is_missing_for_work_is_told(new_sqlite: NewDatabase) -> None:
    with new_sqlite(False) as url, client_of(url) as client:
        assert client.get("/v1/health").status_code == 200
        readiness = client.get("/v1/readiness")
        assert readiness.status_code == 503
        assert readiness.headers["content-type"] == "application/problem+json"
        assert re.search("filmbuild migrate|never made", readiness.json()["detail"])


def test_reading_before_a_catalogue_is_loaded_is_not_available(new_sqlite: NewDatabase) -> None:
    with new_sqlite(True) as url, client_of(url) as client:
        assert client.get("/v1/products").status_code == 503


def test_the_page_asks_nobody_else_and_runs_nothing(client: Client) -> None:
    response = client.get("/v1/docs", headers={"accept": "text/html,application/xhtml+xml"})
    assert response.headers["content-type"] == "text/html; charset=utf-8"
    policy = response.headers["content-security-policy"]
    assert policy.startswith("default-src 'none'; style-src 'self';")
    assert "unsafe" not in policy
    assert "<script" not in response.text
    assert not re.search(r'(?:src|href)="(?:https?:)?//', response.text)
    (style,) = re.findall(r'<link rel="stylesheet" href="([^"]+)"', response.text)
    assert client.get(style).headers["content-type"] == "text/css; charset=utf-8"


def test_the_page_names_every_operation_and_schema(client: Client) -> None:
    document = client.get("/v1/openapi.json").json()
    text = client.get("/v1/docs").text
    for methods in document["paths"].values():
        for operation in methods.values():
            assert f'<h3 id="{operation["operationId"]}">' in text
    for target in set(re.findall(r'href="#([^"]+)"', text)):
        assert f'id="{target}"' in text


def test_routes_can_be_added_without_being_part_of_the_service(new_sqlite: NewDatabase) -> None:
    @get("/extra", sync_to_thread=False)
    def extra() -> str:
        return "extra"

    with new_sqlite(False) as url:
        paths = {route.path for route in create_app(settings_for(url), [extra]).routes}
        usual = {route.path for route in create_app(settings_for(url)).routes}
    assert paths - usual == {"/extra"}
