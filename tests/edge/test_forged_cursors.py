"""Cursors that the service did not make, of lists whose order is not that of their ids."""

from collections.abc import Iterator

import pytest
from serving import Client, NewDatabase, serving

from filmbuild.edge import paging
from filmbuild.edge.paging import PageQuery

LISTS = (
    "/v1/estimates",
    "/v1/quotations",
    "/v1/invoices",
    "/v1/price-updates",
    "/v1/repricings",
    "/v1/catalogue/revisions",
    "/v1/products/harbour-100/history",
)


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving(new_sqlite) as client:
        yield client


@pytest.mark.parametrize("key", ["garbage", "2026-01-01T00:00:00 a", "9" * 30])
@pytest.mark.parametrize("path", LISTS)
def test_they_are_refused(client: Client, path: str, key: str) -> None:
    cursor = paging.cursor(PageQuery(), path, key)
    refused = client.get(path, params={"cursor": cursor})
    assert refused.status_code == 422, refused.text
    assert refused.json()["errors"][0]["pointer"] == "/cursor"
