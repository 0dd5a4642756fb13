"""From an estimate to the invoices of what a customer accepted of it, over HTTP."""

import csv
import io
from collections.abc import Iterator
from decimal import Decimal
from typing import Any

import en16931
import msgspec
import pytest
import ubl_schemas
from invoice_cases import BUYER, SELLER
from lxml import etree
from quotation_cases import PROFILE, estimate_body, quotation_body
from quotations.leaks import assert_no_costs
from quotations.test_leaks import unusual_catalogue
from serving import Client, NewDatabase, client_of, load_catalogue

from filmbuild.quotations.invoices.records import EN_16931

PLAN = [
    {"id": "deposit", "label": "Deposit", "occasion": "on_acceptance", "percent": "33.33"},
    {"id": "visits", "label": "Visit", "occasion": "per_visit", "percent": "40", "due_days": 14},
    {"id": "end", "label": "Completion", "occasion": "on_completion", "due_days": 30},
    {"id": "held", "label": "Retention", "occasion": "retention", "percent": "5", "due_days": 90},
]
OPTION = {
    "id": "line",
    "label": "Marked walkway",
    "description": "A yellow line along the wall",
    "extras": [
        {
            "id": "walkway",
            "description": "Line marking",
            "quantity": "12.5",
            "unit": "MTR",
            "unit_cost": "31.07",
        }
    ],
}
VAT = {"tax_place": "Velmara"}
BANK = {"account": "BE00 0000-0000 0000", "holder": "Quayside Floors", "bic": "DEMOBEBB"}


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with new_sqlite(True) as url:
        load_catalogue(url, unusual_catalogue())
        with client_of(url) as client:
            profile = PROFILE | {"seller": msgspec.to_builtins(SELLER), "bank": BANK}
            assert client.put("/v1/organisation", json=profile).status_code == 201
            yield client


@pytest.fixture(scope="module")
def rules(tmp_path_factory: pytest.TempPathFactory) -> Iterator[en16931.Rules]:
    with en16931.rules(tmp_path_factory.mktemp("judged")) as found:
        yield found


def made(client: Client, path: str, body: Any, status: int = 201, **headers: str) -> dict[str, Any]:
    response = client.post(path, json=body, headers=headers)
    assert response.status_code == status, response.text
    answer: dict[str, Any] = response.json()
    return answer


def estimate(client: Client, terms: dict[str, Any]) -> dict[str, Any]:
    body = estimate_body() | {"options": [OPTION]}
    body["job"]["terms"] |= terms
    return made(client, "/v1/estimates", body)


def accept(client: Client, quotation: str, options: list[str]) -> dict[str, Any]:
    """Issued, and accepted by its customer; answers what is then shown of it."""
    path = f"/v1/quotations/{quotation}"
    tag = client.get(path).headers["etag"]
    link = made(client, f"{path}/issue", {}, 200, **{"if-match": tag})["link"]
    (alternate,) = client.get(link).json()["content"]["alternates"]
    offer = alternate["offer"]
    total = Decimal(offer["total"]["amount"])
    ticked = [one for one in offer["options"] if one["id"] in options]
    rate = Decimal(offer["taxes"][0]["rate_percent"]) if ticked else Decimal(0)
    net = sum((Decimal(one["net"]["amount"]) for one in ticked), Decimal(offer["net"]["amount"]))
    if ticked:
        total = net + round(net * rate / 100 + Decimal("1e-9"), 2)
    choice = {
        "name": "A. Sample",
        "alternate": alternate["id"],
        "options": options,
        "total": {"amount": str(total), "currency": offer["currency"]},
    }
    return made(client, f"{link}/acceptance", choice, 200)


def with_untold_options(document: dict[str, Any]) -> dict[str, Any]:
    """The estimate's document with the costs of its options alone: their prices are told."""
    return document | {"options": [{"cost": one["cost"]} for one in document["options"]]}


@pytest.mark.parametrize(
    ("terms", "category"),
    [
        (VAT, "S"),
        (VAT | {"tax_rules": ["velmara-vat-zero"]}, "Z"),
        (VAT | {"tax_rules": ["velmara-vat-exempt"]}, "E"),
        (VAT | {"tax_rules": ["velmara-vat-reverse-charge"]}, "AE"),
    ],
)
def test_invoices_of_accepted_work_keep_the_rules_and_come_to_its_total(
    client: Client, rules: en16931.Rules, terms: dict[str, Any], category: str
) -> None:
    document = estimate(client, terms)
    untold = with_untold_options(document["document"])
    more = {"buyer": msgspec.to_builtins(BUYER), "payments": PLAN}
    quotation = made(client, "/v1/quotations", quotation_body(document["id"], **more))["id"]
    shown = accept(client, quotation, ["line"])
    total = Decimal(shown["decision"]["total"]["amount"])
    path = f"/v1/quotations/{quotation}"
    lines = client.get(f"{path}/invoice-lines")
    assert_no_costs(lines.content, untold)
    stages = lines.json()["stages"]
    assert len(stages) >= len(PLAN)
    billed = Decimal(0)
    for stage in stages:
        answer = made(client, f"{path}/invoices", {"issued_on": "2026-09-01"})
        invoice = answer["invoice"]
        assert answer["stages"] == [stage["stage"]]
        assert invoice["conforms_to"] == EN_16931
        assert {one["category"] for one in invoice["taxes"]} == {category}
        billed += Decimal(invoice["total"]["amount"])
        where = f"/v1/invoices/{answer['id']}"
        xml = client.get(where, headers={"accept": "application/xml"}).content
        assert ubl_schemas.faults(xml) == []
        assert rules.judge(xml).broken == ()
        table = client.get(where, headers={"accept": "text/csv"}).content
        for content in (msgspec.json.encode(answer), xml, table):
            assert_no_costs(content, untold)
    assert billed == total == Decimal(lines.json()["total"]["amount"])


def test_a_change_that_leaves_work_out_is_credited(client: Client, rules: en16931.Rules) -> None:
    document = estimate(client, VAT)
    more = {"buyer": msgspec.to_builtins(BUYER), "payments": PLAN[:1] + PLAN[2:3]}
    quotation = made(client, "/v1/quotations", quotation_body(document["id"], **more))["id"]
    accept(client, quotation, [])
    made(client, f"/v1/quotations/{quotation}/invoices", {"issued_on": "2026-09-01"})
    less = estimate_body()
    less["site"]["areas"][0]["outline"]["length"] = "12 ft"
    less["job"]["terms"] |= VAT
    small = made(client, "/v1/estimates", less)["id"]
    order = made(client, f"/v1/quotations/{quotation}/change-orders", {"estimate": small})["id"]
    accept(client, order, [])
    answer = made(client, f"/v1/quotations/{order}/invoices", {"issued_on": "2026-09-20"})
    assert answer["invoice"]["kind"] == "credit_note"
    where = f"/v1/invoices/{answer['id']}"
    xml = client.get(where, headers={"accept": "application/xml"}).content
    assert ubl_schemas.faults(xml) == []
    assert rules.judge(xml).broken == ()
    number = made(client, f"/v1/quotations/{quotation}/invoices", {"issued_on": "2026-10-01"})
    assert answer["invoice"]["earlier"] == number["invoice"]["earlier"]
    lines = client.get(f"/v1/quotations/{quotation}/invoice-lines").json()
    assert [one["invoice"] for one in lines["stages"]][-1] == answer["id"]


def test_the_sales_tax_of_one_place_on_materials_alone_makes_no_claim(client: Client) -> None:
    document = estimate(client, {"tax_place": "Eastwharf"})
    quotation = made(client, "/v1/quotations", quotation_body(document["id"]))["id"]
    accept(client, quotation, [])
    answer = made(client, f"/v1/quotations/{quotation}/invoices", {"issued_on": "2026-09-01"})
    where = f"/v1/invoices/{answer['id']}"
    xml = client.get(where, headers={"accept": "application/xml"}).content
    assert ubl_schemas.faults(xml) == []
    assert b"CustomizationID" not in xml
    assert answer["invoice"]["conforms_to"] is None
    table = client.get(where, headers={"accept": "text/csv"}).text
    rows = list(csv.DictReader(io.StringIO(table)))
    net = sum(Decimal(row["net"]) for row in rows)
    assert net == Decimal(answer["invoice"]["net"]["amount"])


def test_what_is_not_accepted_is_not_invoiced(client: Client) -> None:
    document = estimate(client, VAT)
    quotation = made(client, "/v1/quotations", quotation_body(document["id"]))["id"]
    path = f"/v1/quotations/{quotation}"
    refusal = made(client, f"{path}/invoices", {"issued_on": "2026-09-01"}, 409)
    assert refusal["errors"][0]["code"] == "quotation-draft"
    assert client.get(f"{path}/invoice-lines").status_code == 409
    issued = {"if-match": client.get(path).headers["etag"]}
    made(client, f"{path}/issue", {}, 200, **issued)
    refusal = made(client, f"{path}/invoices", {"issued_on": "2026-09-01"}, 409)
    assert refusal["errors"][0]["code"] == "quotation-issued"
    assert "has not decided" in refusal["detail"]


def test_invoices_are_paid_to_the_account_of_the_profile_or_to_the_one_asked_for(
    client: Client,
) -> None:
    document = estimate(client, VAT)
    more = {"buyer": msgspec.to_builtins(BUYER), "payments": PLAN[:1] + PLAN[2:3]}
    quotation = made(client, "/v1/quotations", quotation_body(document["id"], **more))["id"]
    accept(client, quotation, [])
    path, other = f"/v1/quotations/{quotation}/invoices", {"account": "BE11 1111 1111 1111"}
    first = made(client, path, {"issued_on": "2026-09-01"})
    second = made(client, path, {"issued_on": "2026-09-02", "payee": other})
    for answer, account, bank in (
        (first, "BE00000000000000", "DEMOBEBB"),
        (second, "BE11 1111 1111 1111", None),
    ):
        where = f"/v1/invoices/{answer['id']}"
        xml = etree.fromstring(client.get(where, headers={"accept": "application/xml"}).content)
        (paid_to,) = xml.findall(".//{*}PayeeFinancialAccount")
        assert paid_to.findtext("{*}ID") == account
        assert paid_to.findtext("{*}FinancialInstitutionBranch/{*}ID") == bank
        assert answer["invoice"]["payee"]["account"] == account
