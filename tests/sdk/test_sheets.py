"""The sheets and the sentences through the SDK, from the whole application."""

from collections.abc import Iterator

import httpx
import msgspec
import pytest
import serving
from calling import KEY
from serving import NewDatabase
from sheet_cases import asked

from filmbuild_sdk import Client, InvalidInput, models

BASE = "http://127.0.0.1"


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving.serving(new_sqlite) as service:
        carrier = httpx.MockTransport(
            lambda request: httpx.Response(
                (answer := service.send(request)).status_code,
                headers=answer.headers,
                content=answer.content,
            )
        )
        with Client(BASE, key=KEY, transport=carrier) as client:
            yield client


@pytest.fixture(scope="module")
def request_() -> models.SheetRequest:
    return msgspec.convert(asked(), models.SheetRequest)


def test_the_mixing_sheet_follows_from_the_materials(
    client: Client, request_: models.SheetRequest
) -> None:
    whole = models.MaterialsRequest(site=request_.site, job=request_.job)
    materials = client.materials(whole)
    handed = models.SheetRequest(materials=materials, job=request_.job)
    for one in (request_, handed):
        sheet = client.write_mixing_sheet(one).sheet
        assert [coat.layer for coat in sheet.coats] == [
            coat.layer for coat in materials.materials.coats
        ]


def test_each_form_has_a_method(client: Client, request_: models.SheetRequest) -> None:
    loads = client.write_loading_list(request_).loading_list
    assert loads.power is not None
    table = client.write_loading_list_table(request_)
    assert len(table.splitlines()) == 1 + sum(len(one.items) for one in loads.stages)
    for page in (
        client.write_loading_list_page(request_, paper="a4"),
        client.write_mixing_sheet_page(request_, paper="a4"),
    ):
        assert page.startswith("<!doctype html>")
        assert "size: A4" in page
    assert client.write_mixing_sheet_table(request_).startswith("layer,")


def test_figures_are_explained(client: Client, request_: models.SheetRequest) -> None:
    found = client.explain_materials(request_).explanations
    lines = client.explain_materials_text(request_).splitlines()
    assert lines == [one.text for one in found]


def test_neither_a_site_nor_materials_is_refused(
    client: Client, request_: models.SheetRequest
) -> None:
    with pytest.raises(InvalidInput) as refused:
        client.write_mixing_sheet(models.SheetRequest(job=request_.job))
    assert [fault.pointer for fault in refused.value.errors] == ["/site"]
