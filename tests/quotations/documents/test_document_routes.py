"""Documents by content negotiation, on an application of their operations alone."""

import csv
import io
import json
import threading
from collections.abc import AsyncIterator
from datetime import date
from types import SimpleNamespace
from typing import Any

import httpx
import msgspec
import pypdf
import pytest
from document_cases import STUDIO, accepted, catalogue, estimated, two_ways
from document_readings import parsed, print_text, words
from litestar import Litestar
from open_gate import OPEN_GATE

from filmbuild.edge.http import handlers, routing_failed
from filmbuild.edge.operations import Answer, Call, NoQuery, Operation, PathParameter
from filmbuild.errors import NotFound
from filmbuild.money import exact_text
from filmbuild.pipeline.job import Job
from filmbuild.pipeline.specification import Catalogue
from filmbuild.quotations.accepted import accepted_offer
from filmbuild.quotations.content import Decision, QuotationContent, QuotationState
from filmbuild.quotations.documents import answers
from filmbuild.quotations.documents.answers import confirmation, file_name, offer_representations
from filmbuild.quotations.documents.job_pack_routes import Loaded, job_pack_operations

ESTIMATE = "est_" + "0" * 26
PRIVATE = (("cache-control", "no-store"),)


class Offered(msgspec.Struct, frozen=True):
    content: QuotationContent
    state: QuotationState
    decision: Decision | None
    link: str | None


class Filled(msgspec.Struct, frozen=True):
    name: str
    alternate: str | None
    options: tuple[str, ...]


OFFERS = {
    "open": Offered(two_ways(), "issued", None, "/v1/offers/open"),
    "accepted": Offered(two_ways(), "accepted", accepted(two_ways()), "/v1/offers/accepted"),
}


async def show(call: Call[None, NoQuery]) -> Offered:
    if call.path["token"] not in OFFERS:
        raise NotFound("There is no such offer.")
    return OFFERS[call.path["token"]]


async def as_data(call: Call[None, NoQuery]) -> Answer:
    await show(call)
    return Answer(b"{}")


def operation(path: str, *, decides: bool) -> Operation[None, NoQuery]:
    return Operation(
        method="GET",
        path=f"{path}/{{token}}",
        id=path,
        tag="offers",
        summary="",
        description="",
        handler=as_data,
        answer=dict[str, str],
        query=NoQuery,
        failures=("missing",),
        path_parameters=(PathParameter("token", "", "[a-z]+"),),
        representations=offer_representations(show, decides=decides, headers=PRIVATE),
    )


async def catalogue_for(
    organisation: str, job: Job, revision: int | None, priced_on: date | None
) -> Catalogue:
    assert organisation == "default"
    assert revision in (None, 1)
    assert job.currency == "USD"
    assert priced_on in (None, catalogue().priced_on)
    return catalogue()


async def load(organisation: str, name: str, revision: int | None) -> Loaded:
    if revision not in (None, 1):
        raise NotFound("There is no such revision.")
    assert (organisation, name) == ("default", ESTIMATE)
    request, document = estimated()
    return SimpleNamespace(request=request, document=document)


@pytest.fixture
async def client() -> AsyncIterator[httpx.AsyncClient]:
    operations = (
        operation("/v1/offers", decides=True),
        operation("/v1/quotations", decides=False),
        *job_pack_operations(catalogue_for, load),
    )
    app = Litestar(
        list(handlers(operations, 1 << 20, OPEN_GATE)),
        openapi_config=None,
        exception_handlers={Exception: routing_failed},
        logging_config=None,
    )
    transport = httpx.ASGITransport(app)  # type: ignore[arg-type]  # litestar's own ASGI types
    async with httpx.AsyncClient(transport=transport, base_url="http://test") as client:
        yield client


async def got(client: httpx.AsyncClient, path: str, accept: str) -> httpx.Response:
    answer = await client.get(path, headers={"accept": accept})
    assert answer.status_code == 200, answer.text
    assert answer.headers["vary"] == "Accept"
    return answer


async def test_what_was_accepted_has_one_total_in_every_form(client: httpx.AsyncClient) -> None:
    """With the option that was ticked; the page and print show beside it what was not chosen."""
    content, decision = two_ways(), accepted(two_ways())
    offer = accepted_offer(content, decision)
    total = exact_text(offer.total.amount)
    assert offer.total != content.alternates[-1].offer.total
    table = await got(client, "/v1/offers/accepted", "text/csv")
    rows = list(csv.DictReader(io.StringIO(table.text, newline=""), strict=True))
    assert [(one["alternate"], one["net"]) for one in rows if one["row"] == "total"] == [
        (decision.alternate, total)
    ]
    assert [one["id"] for one in rows if one["row"] == "optional"] == [
        one.id for one in offer.options
    ]
    linked = (await got(client, "/v1/offers/accepted", "application/ld+json")).json()
    assert (linked["@type"], linked["price"]) == ("Offer", total)
    page = await got(client, "/v1/offers/accepted", "text/html")
    printed = await got(client, "/v1/offers/accepted", "application/pdf")
    for text in (words(parsed(page.text)), print_text(printed.content)):
        assert f"Total as accepted: ${offer.total.amount:,.2f}" in text.replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("accept", "kind"),
    [
        ("*/*", "application/json"),
        ("text/html,application/xhtml+xml,*/*;q=0.8", "text/html; charset=utf-8"),
        ("application/pdf", "application/pdf"),
        ("text/csv", "text/csv; charset=utf-8; header=present"),
        ("application/ld+json", "application/ld+json"),
    ],
)
async def test_accept_chooses_the_form(client: httpx.AsyncClient, accept: str, kind: str) -> None:
    answer = await got(client, "/v1/offers/open", accept)
    assert answer.headers["content-type"] == kind
    if kind != "application/json":
        assert answer.headers["cache-control"] == "no-store"
    refused = await client.get("/v1/offers/open", headers={"accept": "image/png"})
    assert refused.status_code == 406
    missing = await client.get("/v1/offers/none", headers={"accept": accept})
    assert missing.status_code == 404
    assert missing.headers["content-type"] == "application/problem+json"


async def test_only_the_customer_gets_a_form(client: httpx.AsyncClient) -> None:
    mine = await got(client, "/v1/offers/open", "text/html")
    assert parsed(mine.text).forms[0].action == "/v1/offers/open/acceptance"
    assert "form-action 'self'" in mine.headers["content-security-policy"]
    for path in ("/v1/quotations/open", "/v1/offers/accepted"):
        other = await got(client, path, "text/html")
        assert parsed(other.text).forms == []
    data = await got(client, "/v1/offers/open", "application/ld+json")
    assert data.json()["url"] == "/v1/offers/open"
    assert "url" not in (await got(client, "/v1/quotations/open", "application/ld+json")).json()


async def test_print_has_a_file_name_and_what_was_accepted(client: httpx.AsyncClient) -> None:
    answer = await got(client, "/v1/offers/accepted", "application/pdf")
    assert answer.headers["content-disposition"] == 'inline; filename="Q-2026-0017.pdf"'
    assert "Accepted By Rosa Tide" in print_text(answer.content)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("Q/17", "Q-17.pdf"),
        ('a"; filename="b.exe', "a-filename-b.exe.pdf"),
        ("\r\nset-cookie: x", "set-cookie-x.pdf"),
        ("\u05e7\u05d5\u05de\u05d4", "document.pdf"),
        ("../../etc", "etc.pdf"),
    ],
)
def test_file_names_are_plain(text: str, name: str) -> None:
    assert file_name(text, "pdf") == name


async def test_documents_are_made_off_the_event_loop(
    client: httpx.AsyncClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    threads = []

    def made(*_: Any) -> bytes:
        threads.append(threading.get_ident())
        return b"%PDF"

    monkeypatch.setattr(answers, "offer_pdf", made)
    assert (await got(client, "/v1/offers/open", "application/pdf")).content == b"%PDF"
    assert threads != [threading.get_ident()]
    assert len(threads) == 1


async def test_the_confirmation_is_a_page_that_may_post() -> None:
    chosen = Filled("R. Tide", "thin", ("stripe",))
    answer = await confirmation(PRIVATE)(OFFERS["open"], chosen)
    headers = dict(answer.headers)
    assert "form-action 'self'" in headers["content-security-policy"]
    assert headers["cache-control"] == "no-store"
    (form,) = parsed(answer.content.decode()).forms
    assert form.action == "/v1/offers/open/acceptance"


def body(**changes: Any) -> dict[str, Any]:
    job = {**STUDIO["job"], "system": "harbour-broadcast"}
    return {"units": "us", "site": STUDIO["site"], "job": job, **changes}


@pytest.mark.parametrize("stored", [False, True])
async def test_a_job_pack_as_data_page_and_print(
    client: httpx.AsyncClient, *, stored: bool
) -> None:
    async def asked(accept: str, **query: str) -> httpx.Response:
        headers = {"accept": accept}
        if stored:
            path = f"/v1/estimates/{ESTIMATE}/job-pack"
            return await client.get(path, headers=headers, params=query)
        return await client.post("/v1/job-pack", json=body(), headers=headers, params=query)

    data = (await asked("application/json")).json()
    assert data["days"][0]["date"] == "2026-06-15"
    assert data["mixing_sheet"]["coats"][0]["mixes"][0]["volume"]["unit"] == "gal"
    assert data["drawing"].startswith("<svg")
    page = await asked("text/html", language="es-MX")
    assert page.headers["content-type"] == "text/html; charset=utf-8"
    assert "form-action 'none'" in page.headers["content-security-policy"]
    assert "Lista de carga" in words(parsed(page.text))
    made = await asked("application/pdf", language="es")
    assert made.headers["content-disposition"].endswith('"Saltmarsh-Pottery-demo-studio.pdf"')
    root: Any = pypdf.PdfReader(io.BytesIO(made.content)).trailer["/Root"]
    assert root["/Lang"] == "es"
    wrong = await asked("text/html", language="Spanish")
    assert wrong.status_code == 422
    assert wrong.json()["errors"][0]["pointer"] == "/language"


async def test_a_job_pack_refuses_what_an_estimate_refuses(client: httpx.AsyncClient) -> None:
    answer = await client.post("/v1/job-pack", json=body(job={**body()["job"], "system": "none"}))
    assert answer.status_code == 422
    assert [one["pointer"] for one in answer.json()["errors"]] == ["/job/system"]
    malformed = await client.post(
        "/v1/job-pack", content=b"{", headers={"content-type": "application/json"}
    )
    assert malformed.status_code == 400
    missing = await client.get(f"/v1/estimates/{ESTIMATE}/job-pack", params={"revision": "7"})
    assert missing.status_code == 404
    assert json.loads(missing.text)["type"] == "/problems/not-found"
