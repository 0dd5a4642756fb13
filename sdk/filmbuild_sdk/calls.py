"""Every call of the service, described without sending it.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

# ruff: noqa: D404 - the contract's words, and the HTTP client's timeout

import datetime as dt
from typing import Any, Literal

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, key, path, query
from filmbuild_sdk.values import Choice


def calculate(request: models.EstimateRequest) -> Call[models.EstimateDocument]:
    """The whole estimate, without keeping it."""
    return Call("POST", "/v1/calculations", models.EstimateDocument, body=request)


def get_catalogue() -> Call[models.CurrentRevision]:
    """The newest revision of the catalogue."""
    return Call("GET", "/v1/catalogue", models.CurrentRevision)


def list_catalogue_revisions(
    *, limit: int | None = None, cursor: str | None = None
) -> Call[models.RevisionPage]:
    """All revisions of the catalogue, newest first."""
    return Call(
        "GET",
        "/v1/catalogue/revisions",
        models.RevisionPage,
        query=query(limit=limit, cursor=cursor),
    )


def compare(request: models.ComparisonRequest) -> Call[models.ComparisonDocument]:
    """The same job in several ways, side by side."""
    return Call("POST", "/v1/comparisons", models.ComparisonDocument, body=request)


def list_consumable_rules(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
) -> Call[models.ConsumableRulePage]:
    """The catalogue's consumable rules, a page at a time."""
    return Call(
        "GET",
        "/v1/consumable-rules",
        models.ConsumableRulePage,
        query=query(limit=limit, cursor=cursor, units=units, revision=revision),
    )


def get_consumable_rule(
    consumable_rule_id: str,
    *,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
) -> Call[models.ConsumableRule]:
    """One consumable rule."""
    return Call(
        "GET",
        path("/v1/consumable-rules/{}", consumable_rule_id),
        models.ConsumableRule,
        query=query(units=units, revision=revision),
    )


def list_estimates(
    *, limit: int | None = None, cursor: str | None = None
) -> Call[models.EstimatePage]:
    """Stored estimates, newest first."""
    return Call(
        "GET", "/v1/estimates", models.EstimatePage, query=query(limit=limit, cursor=cursor)
    )


def create_estimate(
    request: models.EstimateRequest, *, idempotency_key: str | None = None
) -> Call[models.StoredEstimate]:
    """Make an estimate and keep it."""
    return Call(
        "POST",
        "/v1/estimates",
        models.StoredEstimate,
        body=request,
        idempotency_key=key(idempotency_key),
    )


def get_estimate(estimate_id: str) -> Call[models.StoredEstimate]:
    """One stored estimate."""
    return Call("GET", path("/v1/estimates/{}", estimate_id), models.StoredEstimate)


def explain_materials(request: models.SheetRequest) -> Call[models.ExplanationDocument]:
    """The figures of the materials as sentences."""
    return Call("POST", "/v1/explanations", models.ExplanationDocument, body=request)


def explain_materials_text(request: models.SheetRequest) -> Call[str]:
    """The sentences alone."""
    return Call("POST", "/v1/explanations", str, body=request, accept="text/plain")


def health() -> Call[models.Health]:
    """Whether the process is up."""
    return Call("GET", "/v1/health", models.Health)


def labour(request: models.LabourRequest) -> Call[models.LabourDocument]:
    """Tasks, crew hours and machines."""
    return Call("POST", "/v1/labour", models.LabourDocument, body=request)


def write_loading_list(
    request: models.SheetRequest, *, paper: Choice[Literal["a4", "letter"]] | None = None
) -> Call[models.LoadingListDocument]:
    """The loading list."""
    return Call(
        "POST",
        "/v1/loading-list",
        models.LoadingListDocument,
        query=query(paper=paper),
        body=request,
    )


def write_loading_list_table(
    request: models.SheetRequest, *, paper: Choice[Literal["a4", "letter"]] | None = None
) -> Call[str]:
    """The loading list as a table."""
    return Call(
        "POST", "/v1/loading-list", str, query=query(paper=paper), body=request, accept="text/csv"
    )


def write_loading_list_page(
    request: models.SheetRequest, *, paper: Choice[Literal["a4", "letter"]] | None = None
) -> Call[str]:
    """The loading list as a page to print."""
    return Call(
        "POST", "/v1/loading-list", str, query=query(paper=paper), body=request, accept="text/html"
    )


def materials(request: models.MaterialsRequest) -> Call[models.MaterialsDocument]:
    """Coats, mixes, packs and consumables."""
    return Call("POST", "/v1/materials", models.MaterialsDocument, body=request)


def write_mixing_sheet(
    request: models.SheetRequest, *, paper: Choice[Literal["a4", "letter"]] | None = None
) -> Call[models.MixingSheetDocument]:
    """The mixing sheet."""
    return Call(
        "POST",
        "/v1/mixing-sheet",
        models.MixingSheetDocument,
        query=query(paper=paper),
        body=request,
    )


def write_mixing_sheet_table(
    request: models.SheetRequest, *, paper: Choice[Literal["a4", "letter"]] | None = None
) -> Call[str]:
    """The mixing sheet as a table."""
    return Call(
        "POST", "/v1/mixing-sheet", str, query=query(paper=paper), body=request, accept="text/csv"
    )


def write_mixing_sheet_page(
    request: models.SheetRequest, *, paper: Choice[Literal["a4", "letter"]] | None = None
) -> Call[str]:
    """The mixing sheet as a page to print."""
    return Call(
        "POST", "/v1/mixing-sheet", str, query=query(paper=paper), body=request, accept="text/html"
    )


def contract() -> Call[dict[str, Any]]:
    """This contract, as an OpenAPI 3.1 document."""
    return Call("GET", "/v1/openapi.json", dict[str, Any])


def list_packs(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
    product: str | None = None,
    currency: str | None = None,
    priced_on: dt.date | None = None,
) -> Call[models.PackPage]:
    """The catalogue's packs, a page at a time."""
    return Call(
        "GET",
        "/v1/packs",
        models.PackPage,
        query=query(
            limit=limit,
            cursor=cursor,
            units=units,
            revision=revision,
            product=product,
            currency=currency,
            priced_on=priced_on,
        ),
    )


def get_pack(
    pack_id: str,
    *,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
    currency: str | None = None,
    priced_on: dt.date | None = None,
) -> Call[models.PackRecord]:
    """One pack."""
    return Call(
        "GET",
        path("/v1/packs/{}", pack_id),
        models.PackRecord,
        query=query(units=units, revision=revision, currency=currency, priced_on=priced_on),
    )


def read_plan(
    content: bytes,
    *,
    media_type: Choice[Literal["application/dxf", "image/vnd.dxf"]] = "application/dxf",
    layers: str | None = None,
    islands_layer: str | None = None,
    names_layer: str | None = None,
    unit: Choice[Literal["cm", "ft", "in", "m", "mm", "yd"]] | None = None,
) -> Call[models.PlanReading]:
    """Read areas from a DXF drawing."""
    return Call(
        "POST",
        "/v1/plans",
        models.PlanReading,
        query=query(layers=layers, islands_layer=islands_layer, names_layer=names_layer, unit=unit),
        body=content,
        media_type=media_type,
    )


def list_products(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
    role: Choice[
        Literal[
            "body_coat",
            "broadcast_aggregate",
            "cove_mortar",
            "crack_filler",
            "joint_filler",
            "patch_mortar",
            "primer",
            "solvent",
            "topcoat",
        ]
    ]
    | None = None,
) -> Call[models.ProductPage]:
    """The catalogue's products, a page at a time."""
    return Call(
        "GET",
        "/v1/products",
        models.ProductPage,
        query=query(limit=limit, cursor=cursor, units=units, revision=revision, role=role),
    )


def get_product(
    product_id: str,
    *,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
) -> Call[models.Product]:
    """One product."""
    return Call(
        "GET",
        path("/v1/products/{}", product_id),
        models.Product,
        query=query(units=units, revision=revision),
    )


def plan_purchases(request: models.PurchasesRequest) -> Call[models.PurchaseListDocument]:
    """One purchase list for several jobs."""
    return Call("POST", "/v1/purchases", models.PurchaseListDocument, body=request)


def list_rate_books(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
) -> Call[models.RateBookPage]:
    """The catalogue's rate books, a page at a time."""
    return Call(
        "GET",
        "/v1/rate-books",
        models.RateBookPage,
        query=query(limit=limit, cursor=cursor, units=units, revision=revision),
    )


def get_rate_book(
    rate_book_id: str,
    *,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
) -> Call[models.RateBook]:
    """One rate book."""
    return Call(
        "GET",
        path("/v1/rate-books/{}", rate_book_id),
        models.RateBook,
        query=query(units=units, revision=revision),
    )


def readiness() -> Call[models.Readiness]:
    """Whether the service can do its work."""
    return Call("GET", "/v1/readiness", models.Readiness)


def list_rules(*, limit: int | None = None, cursor: str | None = None) -> Call[models.RulePage]:
    """The estimating rules, a page at a time."""
    return Call("GET", "/v1/rules", models.RulePage, query=query(limit=limit, cursor=cursor))


def get_rule(rule_id: str) -> Call[models.Rule]:
    """One estimating rule."""
    return Call("GET", path("/v1/rules/{}", rule_id), models.Rule)


def schedule(request: models.ScheduleRequest) -> Call[models.ScheduleDocument]:
    """Dates of the work, and when the floor may be used."""
    return Call("POST", "/v1/schedule", models.ScheduleDocument, body=request)


def schedule_drawing(request: models.ScheduleRequest) -> Call[str]:
    """A bar chart of the schedule."""
    return Call("POST", "/v1/schedule", str, body=request, accept="image/svg+xml")


def schedule_calendar(request: models.ScheduleRequest) -> Call[str]:
    """A calendar of the schedule."""
    return Call("POST", "/v1/schedule", str, body=request, accept="text/calendar")


def schedule_table(request: models.ScheduleRequest) -> Call[str]:
    """A table of the schedule."""
    return Call("POST", "/v1/schedule", str, body=request, accept="text/csv")


def list_suppliers(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
) -> Call[models.SupplierPage]:
    """The catalogue's suppliers, a page at a time."""
    return Call(
        "GET",
        "/v1/suppliers",
        models.SupplierPage,
        query=query(limit=limit, cursor=cursor, units=units, revision=revision),
    )


def get_supplier(
    supplier_id: str,
    *,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
) -> Call[models.Supplier]:
    """One supplier."""
    return Call(
        "GET",
        path("/v1/suppliers/{}", supplier_id),
        models.Supplier,
        query=query(units=units, revision=revision),
    )


def list_systems(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
) -> Call[models.SystemPage]:
    """The catalogue's systems, a page at a time."""
    return Call(
        "GET",
        "/v1/systems",
        models.SystemPage,
        query=query(limit=limit, cursor=cursor, units=units, revision=revision),
    )


def get_system(
    system_id: str, *, units: Choice[Literal["si", "us"]] | None = None, revision: int | None = None
) -> Call[models.System]:
    """One system."""
    return Call(
        "GET",
        path("/v1/systems/{}", system_id),
        models.System,
        query=query(units=units, revision=revision),
    )


def takeoff(request: models.TakeoffRequest) -> Call[models.TakeoffDocument]:
    """Measure a site."""
    return Call("POST", "/v1/takeoff", models.TakeoffDocument, body=request)


def takeoff_drawing(request: models.TakeoffRequest) -> Call[str]:
    """A drawing of the takeoff."""
    return Call("POST", "/v1/takeoff", str, body=request, accept="image/svg+xml")


def takeoff_table(request: models.TakeoffRequest) -> Call[str]:
    """A table of the takeoff."""
    return Call("POST", "/v1/takeoff", str, body=request, accept="text/csv")


def list_tax_rules(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
) -> Call[models.TaxRulePage]:
    """The catalogue's tax rules, a page at a time."""
    return Call(
        "GET",
        "/v1/tax-rules",
        models.TaxRulePage,
        query=query(limit=limit, cursor=cursor, units=units, revision=revision),
    )


def get_tax_rule(
    tax_rule_id: str,
    *,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
) -> Call[models.TaxRule]:
    """One tax rule."""
    return Call(
        "GET",
        path("/v1/tax-rules/{}", tax_rule_id),
        models.TaxRule,
        query=query(units=units, revision=revision),
    )
