"""The published contract: valid, frozen in its names, and true of what the service answers."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema_rs
import msgspec
import pytest
from openapi_spec_validator import validate
from serving import Client, NewDatabase, serving, settings_for
from sqlalchemy import URL

import examples
from filmbuild.app import contract_document
from filmbuild.edge.openapi import text_of

PUBLISHED = Path(__file__).parents[1] / "openapi" / "openapi.json"
OPERATIONS = {
    "changeEnquiry",
    "createEnquiry",
    "eraseEnquiry",
    "getEnquiry",
    "getQuoteForm",
    "getQuoteFormChallenge",
    "getQuoteFormDemo",
    "getQuoteFormScript",
    "getQuoteFormSettings",
    "listEnquiries",
    "priceQuoteForm",
    "putQuoteForm",
    "acceptOffer",
    "createChangeOrder",
    "createQuotation",
    "declineOffer",
    "getOffer",
    "getOrganisation",
    "getOrganisationTexts",
    "getQuotation",
    "issueQuotation",
    "listQuotationHistory",
    "listQuotations",
    "putOrganisation",
    "putOrganisationTexts",
    "renewQuotationLink",
    "reviseQuotation",
    "withdrawQuotation",
    "applyPriceFormula",
    "calculateEstimate",
    "createInvoice",
    "getInvoice",
    "getInvoiceLines",
    "getInvoiceSeries",
    "getJobPack",
    "listInvoices",
    "putInvoiceSeries",
    "createKey",
    "listKeys",
    "getKey",
    "rotateKey",
    "revokeKey",
    "listAuditEntries",
    "writeJobPack",
    "compareEstimateRevisions",
    "changeCatalogue",
    "compareEstimates",
    "computeLabour",
    "computeMaterials",
    "computeSchedule",
    "computeTakeoff",
    "createConsumableRule",
    "createEstimate",
    "createPack",
    "createProduct",
    "createRateBook",
    "createSupplier",
    "createSystem",
    "createTaxRule",
    "explainMaterials",
    "exportCatalogue",
    "exportCatalogueTables",
    "explainPackPrice",
    "createRepricing",
    "followRepricing",
    "getCatalogue",
    "getConsumableRule",
    "getConsumableRuleHistory",
    "getContract",
    "getDocumentation",
    "getDocumentationStyle",
    "getEstimate",
    "getEstimateRevision",
    "getHealth",
    "getPack",
    "getPackHistory",
    "getPriceUpdate",
    "getProduct",
    "getProductHistory",
    "getRateBook",
    "getRateBookHistory",
    "getReadiness",
    "getRepricing",
    "getRule",
    "getSupplier",
    "getSupplierHistory",
    "getSystem",
    "getSystemHistory",
    "getTaxRule",
    "getTaxRuleHistory",
    "getVersion",
    "importCatalogue",
    "importCatalogueTables",
    "listCatalogueRevisions",
    "listConsumableRules",
    "listEstimateRevisions",
    "listEstimates",
    "listPacks",
    "listPriceChanges",
    "listPriceLists",
    "listPriceUpdates",
    "listProducts",
    "listRateBooks",
    "listRepricedEstimates",
    "listRepricings",
    "listRules",
    "listSuppliers",
    "listSystems",
    "listTaxRules",
    "patchConsumableRule",
    "patchPack",
    "patchProduct",
    "patchRateBook",
    "patchSupplier",
    "patchSystem",
    "patchTaxRule",
    "planPurchases",
    "putConsumableRule",
    "putPack",
    "putProduct",
    "putRateBook",
    "putSupplier",
    "putSystem",
    "putTaxRule",
    "readPlan",
    "recomputeEstimateRevision",
    "resumeRepricing",
    "reviseEstimate",
    "retireConsumableRule",
    "retirePack",
    "retireProduct",
    "retireRateBook",
    "retireSupplier",
    "retireSystem",
    "retireTaxRule",
    "undoPriceUpdate",
    "updatePrices",
    "stopRepricing",
    "writeLoadingList",
    "writeMixingSheet",
    "createWebhookEndpoint",
    "deleteWebhookEndpoint",
    "getWebhookDelivery",
    "getWebhookEndpoint",
    "listWebhookDeliveries",
    "listWebhookEndpoints",
    "patchWebhookEndpoint",
    "redeliverWebhook",
    "rotateWebhookSecret",
    "testWebhookEndpoint",
}


@pytest.fixture(scope="module")
def document() -> dict[str, Any]:
    settings = settings_for(URL.create("sqlite+aiosqlite", database="never-opened.sqlite3"))
    plain: dict[str, Any] = json.loads(text_of(contract_document(settings)))
    return plain


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving(new_sqlite) as client:
        yield client


def operations(document: dict[str, Any]) -> Iterator[tuple[str, str, dict[str, Any]]]:
    for path, methods in document["paths"].items():
        for method, operation in methods.items():
            yield path, method, operation


def validator(document: dict[str, Any], schema: dict[str, Any]) -> jsonschema_rs.Validator:
    """References of the schema are into the whole document."""
    return jsonschema_rs.Draft202012Validator(
        {**schema, "components": document["components"]}, validate_formats=True
    )


def test_it_is_an_openapi_document(document: dict[str, Any]) -> None:
    validate(document)
    assert document["openapi"].startswith("3.1")


def test_the_published_file_is_what_the_service_answers(client: Client) -> None:
    answered = client.get("/v1/openapi.json").content
    assert PUBLISHED.read_bytes() == answered, "run filmbuild openapi --write"


def test_no_two_types_share_a_name(document: dict[str, Any]) -> None:
    """Those that do would be told apart by the modules of the code that they are from."""
    assert [one for one in document["components"]["schemas"] if not one.isidentifier()] == []


def test_names_of_operations_stay(document: dict[str, Any]) -> None:
    assert {operation["operationId"] for _, _, operation in operations(document)} == OPERATIONS


def test_every_operation_is_described_and_shown(document: dict[str, Any]) -> None:
    for _, _, operation in operations(document):
        assert operation["summary"]
        assert operation["description"]
        assert examples.read(operation["operationId"])
        if "requestBody" in operation:
            first = next(iter(operation["requestBody"]["content"].values()))
            assert first["examples"]


def test_every_failure_is_a_problem(document: dict[str, Any]) -> None:
    shared = document["components"]["responses"]
    for _, _, operation in operations(document):
        for status, response in operation["responses"].items():
            if status < "400":
                continue
            resolved = (
                shared[response["$ref"].rpartition("/")[2]] if "$ref" in response else response
            )
            assert list(resolved["content"]) == ["application/problem+json"]


def test_answers_may_grow_and_requests_may_not(document: dict[str, Any]) -> None:
    schemas = document["components"]["schemas"]
    assert schemas["EstimateRequest"]["additionalProperties"] is False
    for name in ("Product", "EstimateDocument", "ProductPage", "Problem"):
        assert schemas[name].get("additionalProperties") is not False


def test_the_examples_are_what_the_service_answers(
    client: Client, document: dict[str, Any]
) -> None:
    seen = set()
    for operation, example, response in examples.exchanges(client, document):
        where = f"{operation} {example.name}"
        seen.add(operation)
        assert response.status_code == example.status, f"{where}: {response.text}"
        route = examples.routes(document)[operation]
        described = document["paths"][route.path][route.method.lower()]
        answer = described["responses"][str(example.status)]
        if "$ref" in answer:
            answer = document["components"]["responses"][answer["$ref"].rpartition("/")[2]]
        kind = response.headers.get("content-type", "").partition(";")[0]
        if kind.endswith("json"):
            schema = answer["content"][kind]["schema"]
            validator(document, schema).validate(response.json())
            if example.answer is not msgspec.UNSET:
                validator(document, schema).validate(example.answer)
        # a form is text, and its schema is of the fields
        form = example.media_type == "application/x-www-form-urlencoded"
        if "requestBody" in described and example.status < 400 and not form:
            schema = described["requestBody"]["content"][example.media_type]["schema"]
            validator(document, schema).validate(example.body)
        if examples.is_shown(response) and operation not in examples.SELF_DESCRIBING:
            answered = examples.shown_as(response)
            recorded = (example.answer_media_type, example.answer, example.abridged)
            assert recorded == answered, f"{where}: run python tests/examples.py"
    assert seen == OPERATIONS
