"""Invoices over HTTP, on both databases."""

import asyncio
import csv
import io
from collections.abc import Callable, Iterator, Sequence
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from itertools import count
from typing import Any

import msgspec
import pytest
import ubl_schemas
from invoice_cases import DEPOSIT_PLAN, QUOTATION, SELLER, accepted, line, offer, request, tax
from litestar import Litestar
from litestar.testing import TestClient
from lxml import etree
from open_gate import OPEN_GATE
from sqlalchemy import URL
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.db import Database
from filmbuild.edge.http import handlers, routing_failed
from filmbuild.errors import Conflict, FilmbuildError, InvalidInput, NotFound
from filmbuild.quotations.accepted import AcceptedQuotation
from filmbuild.quotations.invoices.routes import invoice_operations
from filmbuild.quotations.invoices.service import InvoiceService

S20, S6 = tax("S", "20"), tax("S", "6")
OPEN, CHANGED, UNNUMBERED = ("quo_" + letter * 26 for letter in "abc")
MANY = tuple(f"quo_{number:026}" for number in range(100, 120))
OFFER = offer(
    [line("1000.01", S20, quantity="98.7", unit="MTK"), line("33.35", S6)], [S20, S6], DEPOSIT_PLAN
)
PATH = f"/v1/quotations/{QUOTATION}/invoices"
LINES = f"/v1/quotations/{QUOTATION}/invoice-lines"
BODY = {"issued_on": "2026-09-01"}
Client = TestClient[Litestar]


class Quotations:
    """One that was accepted, with a change order that takes work out; one that is still open."""

    def __init__(self) -> None:
        change = offer([line("-100.00", S20)], [S20])
        self._change = msgspec.structs.replace(
            accepted(change, kind="change_order", number="Q-0013", changes="Q-0012"),
            id=CHANGED,
            changes=QUOTATION,
        )
        nameless = msgspec.structs.replace(SELLER, vat_number=None)
        self._all = {
            QUOTATION: accepted(OFFER),
            CHANGED: self._change,
            UNNUMBERED: accepted(OFFER, seller=nameless),
        }

    async def accepted(
        self, _connection: AsyncConnection, _organisation: str, quotation: str
    ) -> AcceptedQuotation:
        if quotation == OPEN:
            raise Conflict("The quotation is a draft.")
        if quotation in MANY:
            return msgspec.structs.replace(accepted(OFFER), id=quotation)
        if quotation not in self._all:
            raise NotFound("No quotation has this id.")
        return self._all[quotation]

    async def change_orders(
        self, _connection: AsyncConnection, _organisation: str, quotation: str
    ) -> Sequence[AcceptedQuotation]:
        return (self._change,) if quotation == QUOTATION else ()


def clock() -> Callable[[], datetime]:
    """A second later each time."""
    seconds = count()
    return lambda: datetime(2026, 9, 1, 12, tzinfo=UTC) + timedelta(seconds=next(seconds))


@pytest.fixture
def client(database_url: URL) -> Iterator[Client]:
    database = Database(database_url)
    service = InvoiceService(database, Quotations(), clock())
    app = Litestar(
        [*handlers(invoice_operations(service), 1 << 20, OPEN_GATE)],
        on_shutdown=[database.dispose],
        exception_handlers={Exception: routing_failed},
        openapi_config=None,
        logging_config=None,
    )
    with TestClient(app) as client:
        yield client


def bill(client: Client, path: str = PATH, **body: Any) -> dict[str, Any]:
    response = client.post(path, json=BODY | body)
    assert response.status_code == 201, response.text
    made: dict[str, Any] = response.json()
    assert response.headers["location"] == f"/v1/invoices/{made['id']}"
    return made


def refused(client: Client, status: int, path: str = PATH, **body: Any) -> list[tuple[str, str]]:
    response = client.post(path, json=BODY | body)
    assert response.status_code == status, response.text
    return [(one["pointer"], one["code"]) for one in response.json().get("errors", [])]


def test_stages_are_invoiced_one_after_the_other_until_none_is_left(client: Client) -> None:
    made = [bill(client) for _ in range(3)]
    assert [one["stages"] for one in made] == [["deposit"], ["final"], ["retention"]]
    assert [one["invoice"]["number"] for one in made] == ["INV-0001", "INV-0002", "INV-0003"]
    assert [one["invoice"]["due_on"] for one in made] == ["2026-09-01", "2026-09-15", "2026-11-30"]
    assert [one["number"] for one in made[2]["invoice"]["earlier"]] == ["INV-0001", "INV-0002"]
    assert refused(client, 409) == [("", "nothing-left")]
    paid = sum(Decimal(one["invoice"]["total"]["amount"]) for one in made)
    assert paid == OFFER.total.amount


def test_a_stage_is_invoiced_once(client: Client) -> None:
    bill(client, stages=["final"])
    assert refused(client, 409, stages=["deposit", "final"]) == [("/stages/1", "already-invoiced")]
    assert refused(client, 422, stages=["deposit", "deposit", "third"]) == [
        ("/stages/1", "duplicate"),
        ("/stages/2", "unknown-stage"),
    ]
    assert bill(client)["stages"] == ["deposit"]


def test_several_stages_on_one_invoice_and_all_of_them_in_detail(client: Client) -> None:
    some = bill(client, stages=["retention", "deposit"])
    assert some["stages"] == ["deposit", "retention"]
    assert [one["unit"] for one in some["invoice"]["lines"]] == ["LS"] * 4
    whole = bill(client, path=f"/v1/quotations/{CHANGED}/invoices")
    assert whole["invoice"]["kind"] == "credit_note"
    assert whole["invoice"]["total"] == {"amount": "120.00", "currency": "EUR"}
    assert [one["number"] for one in whole["invoice"]["earlier"]] == ["INV-0001"]


def test_numbers_given_by_other_software_are_kept_out_of_the_series(client: Client) -> None:
    assert bill(client, number="INV-0001")["invoice"]["number"] == "INV-0001"
    assert refused(client, 409, number="INV-0001") == [("/number", "number-taken")]
    assert bill(client)["invoice"]["number"] == "INV-0002"


def test_what_lacks_is_told_before_a_number_is_taken(client: Client) -> None:
    path = f"/v1/quotations/{UNNUMBERED}/invoices"
    faults = refused(client, 422, path=path, due_on="2026-08-01")
    assert faults == [("/due_on", "before-issue"), ("/seller/vat_number", "missing")]
    assert bill(client)["invoice"]["number"] == "INV-0001"
    seller = msgspec.to_builtins(msgspec.structs.replace(SELLER, vat_number="BE0000000097"))
    assert bill(client, path=path, seller=seller)["invoice"]["number"] == "INV-0002"


def test_only_accepted_quotations_are_invoiced(client: Client) -> None:
    for quotation, status in ((OPEN, 409), ("quo_" + "d" * 26, 404)):
        assert refused(client, status, path=f"/v1/quotations/{quotation}/invoices") == []
        assert client.get(f"/v1/quotations/{quotation}/invoice-lines").status_code == status


def test_the_same_key_makes_one_invoice(client: Client) -> None:
    headers = {"idempotency-key": "once"}
    first = client.post(PATH, json=BODY, headers=headers)
    again = client.post(PATH, json=BODY, headers=headers)
    assert (first.status_code, again.status_code) == (201, 201)
    assert first.content == again.content
    other = client.post(PATH, json=BODY | {"stages": ["final"]}, headers=headers)
    assert other.status_code == 422
    assert len(client.get("/v1/invoices").json()["items"]) == 1


def test_an_invoice_is_read_as_json_xml_and_table(client: Client) -> None:
    made = client.post(PATH, json=BODY | {"stages": ["final"]})
    path = made.headers["location"]
    assert client.get(path).content == made.content
    xml = client.get(path, headers={"accept": "application/xml"})
    assert xml.headers["content-type"] == "application/xml"
    assert ubl_schemas.faults(xml.content) == []
    tree = etree.fromstring(xml.content)
    totals = tree.xpath("//*[local-name()='PayableAmount']/text()")
    assert totals == [made.json()["invoice"]["amount_due"]["amount"]]
    table = client.get(path, headers={"accept": "text/csv"}).text
    rows = list(csv.DictReader(io.StringIO(table)))
    assert [row["net"] for row in rows] == [
        one["net"]["amount"] for one in made.json()["invoice"]["lines"]
    ]
    assert client.get("/v1/invoices/inv_" + "0" * 26).status_code == 404


def test_invoices_are_listed_newest_first_in_pages(client: Client) -> None:
    made = [bill(client)["id"] for _ in range(3)]
    other = bill(client, path=f"/v1/quotations/{CHANGED}/invoices")["id"]
    found: list[str] = []
    query: dict[str, Any] = {"limit": 2}
    while True:
        page = client.get("/v1/invoices", params=query).json()
        found += [one["id"] for one in page["items"]]
        if page["next"] is None:
            break
        query["cursor"] = page["next"]
    assert sorted(found) == sorted([*made, other])
    some = client.get("/v1/invoices", params={"quotation": CHANGED}).json()["items"]
    assert [(one["id"], one["kind"]) for one in some] == [(other, "credit_note")]


def test_lines_to_invoice_say_what_has_been_billed(client: Client) -> None:
    deposit = bill(client)["id"]
    found = client.get(LINES).json()
    assert [(one["quotation"], one["stage"], one["invoice"]) for one in found["stages"]] == [
        ("Q-0012", "deposit", deposit),
        ("Q-0012", "final", None),
        ("Q-0012", "retention", None),
        ("Q-0013", "whole", None),
    ]
    assert [one["net"]["amount"] for one in found["lines"]] == ["1000.01", "33.35", "-100.00"]
    assert found["lines"][0]["unit"] == "MTK"
    assert found["net"] == {"amount": "933.36", "currency": "EUR"}
    assert found["total"] == {"amount": f"{OFFER.total.amount - 120}", "currency": "EUR"}
    table = client.get(LINES, headers={"accept": "text/csv"}).text
    rows = list(csv.DictReader(io.StringIO(table)))
    assert sum(Decimal(row["net"]) for row in rows) == Decimal("933.36")


def test_the_series_goes_on_where_other_software_stopped(client: Client) -> None:
    path = "/v1/invoice-series"
    now = client.get(path)
    assert now.json() == {"prefix": "INV-", "digits": 4, "next": 1}
    wanted = {"prefix": "F 26/", "digits": 3, "next": 41}
    assert client.put(path, json=wanted).status_code == 428
    match = {"if-match": now.headers["etag"]}
    assert client.put(path, json=wanted, headers=match).json() == wanted
    assert client.put(path, json=wanted, headers=match).status_code == 412
    assert bill(client)["invoice"]["number"] == "F 26/041"
    match = {"if-match": client.get(path).headers["etag"]}
    back = client.put(path, json=wanted, headers=match)
    assert back.status_code == 422
    assert back.json()["errors"][0]["pointer"] == "/next"


async def test_twenty_at_once_get_numbers_one_after_the_other(database: Database) -> None:
    """Those among them that are refused take none."""
    service = InvoiceService(database, Quotations(), clock())

    async def one(quotation: str) -> str | None:
        try:
            made = await service.create("main", quotation, request(), None)
        except InvalidInput:
            return None
        number: str = msgspec.json.decode(made.content)["invoice"]["number"]
        return number

    asked = [name for pair in zip(MANY, [UNNUMBERED] * len(MANY), strict=True) for name in pair]
    found = await asyncio.gather(*(one(name) for name in asked))
    numbers = sorted(one for one in found if one)
    assert numbers == [f"INV-{place:04}" for place in range(1, len(MANY) + 1)]


async def test_many_at_once_invoice_each_stage_once(database: Database) -> None:
    """Twenty ask for one of three stages each, from connections of their own."""
    service = InvoiceService(database, Quotations(), clock())
    stages = ["deposit", "final", "retention"] * 6 + ["deposit", "final"]

    async def one(stage: str) -> str | None:
        try:
            made = await service.create("main", QUOTATION, request(stages=(stage,)), None)
        except Conflict:
            return None
        number: str = msgspec.json.decode(made.content)["invoice"]["number"]
        return number

    found = await asyncio.gather(*(one(stage) for stage in stages))
    assert sorted(one for one in found if one) == ["INV-0001", "INV-0002", "INV-0003"]


async def test_organisations_have_series_and_invoices_of_their_own(database: Database) -> None:
    service = InvoiceService(database, Quotations(), clock())
    mine = await service.create("main", QUOTATION, request(), None)
    theirs = await service.create("other", QUOTATION, request(), None)
    for made in (mine, theirs):
        assert msgspec.json.decode(made.content)["invoice"]["number"] == "INV-0001"
    with pytest.raises(NotFound):
        await service.get("other", mine.id)


async def test_a_refused_invoice_leaves_nothing_behind(database: Database) -> None:
    service = InvoiceService(database, Quotations(), clock())
    for quotation in (OPEN, UNNUMBERED):
        with pytest.raises(FilmbuildError) as refusal:
            await service.create("main", quotation, request(), None)
        assert isinstance(refusal.value, (Conflict, InvalidInput))
    assert msgspec.json.decode(await service.series.get("main"))["next"] == 1
