"""Calls of the service, described without sending them: stages.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

from typing import Literal

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, query
from filmbuild_sdk.uploads import Upload
from filmbuild_sdk.values import Choice


def explain_materials(request: models.SheetRequest) -> Call[models.ExplanationDocument]:
    """The figures of the materials as sentences."""
    return Call(
        "POST", "/v1/explanations", models.ExplanationDocument, body=request, computing=True
    )


def explain_materials_text(request: models.SheetRequest) -> Call[str]:
    """The sentences alone."""
    return Call("POST", "/v1/explanations", str, body=request, accept="text/plain", computing=True)


def write_job_pack(
    request: models.EstimateRequest, *, language: str | None = None
) -> Call[models.JobPack]:
    """The crew's papers for a job."""
    return Call(
        "POST",
        "/v1/job-pack",
        models.JobPack,
        query=query(language=language),
        body=request,
        computing=True,
    )


def write_job_pack_print(
    request: models.EstimateRequest, *, language: str | None = None
) -> Call[bytes]:
    """The job pack for print."""
    return Call(
        "POST",
        "/v1/job-pack",
        bytes,
        query=query(language=language),
        body=request,
        accept="application/pdf",
        computing=True,
    )


def write_job_pack_page(
    request: models.EstimateRequest, *, language: str | None = None
) -> Call[str]:
    """The job pack as a page."""
    return Call(
        "POST",
        "/v1/job-pack",
        str,
        query=query(language=language),
        body=request,
        accept="text/html",
        computing=True,
    )


def labour(request: models.LabourRequest) -> Call[models.LabourDocument]:
    """Tasks, crew hours and machines."""
    return Call("POST", "/v1/labour", models.LabourDocument, body=request, computing=True)


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
        computing=True,
    )


def write_loading_list_table(
    request: models.SheetRequest, *, paper: Choice[Literal["a4", "letter"]] | None = None
) -> Call[str]:
    """The loading list as a table."""
    return Call(
        "POST",
        "/v1/loading-list",
        str,
        query=query(paper=paper),
        body=request,
        accept="text/csv",
        computing=True,
    )


def write_loading_list_page(
    request: models.SheetRequest, *, paper: Choice[Literal["a4", "letter"]] | None = None
) -> Call[str]:
    """The loading list as a page to print."""
    return Call(
        "POST",
        "/v1/loading-list",
        str,
        query=query(paper=paper),
        body=request,
        accept="text/html",
        computing=True,
    )


def materials(request: models.MaterialsRequest) -> Call[models.MaterialsDocument]:
    """Coats, mixes, packs and consumables."""
    return Call("POST", "/v1/materials", models.MaterialsDocument, body=request, computing=True)


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
        computing=True,
    )


def write_mixing_sheet_table(
    request: models.SheetRequest, *, paper: Choice[Literal["a4", "letter"]] | None = None
) -> Call[str]:
    """The mixing sheet as a table."""
    return Call(
        "POST",
        "/v1/mixing-sheet",
        str,
        query=query(paper=paper),
        body=request,
        accept="text/csv",
        computing=True,
    )


def write_mixing_sheet_page(
    request: models.SheetRequest, *, paper: Choice[Literal["a4", "letter"]] | None = None
) -> Call[str]:
    """The mixing sheet as a page to print."""
    return Call(
        "POST",
        "/v1/mixing-sheet",
        str,
        query=query(paper=paper),
        body=request,
        accept="text/html",
        computing=True,
    )


def read_plan(
    content: Upload,
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
        computing=True,
    )


def plan_purchases(request: models.PurchasesRequest) -> Call[models.PurchaseListDocument]:
    """One purchase list for several jobs."""
    return Call("POST", "/v1/purchases", models.PurchaseListDocument, body=request, computing=True)


def schedule(request: models.ScheduleRequest) -> Call[models.ScheduleDocument]:
    """Dates of the work, and when the floor may be used."""
    return Call("POST", "/v1/schedule", models.ScheduleDocument, body=request, computing=True)


def schedule_drawing(request: models.ScheduleRequest) -> Call[str]:
    """A bar chart of the schedule."""
    return Call("POST", "/v1/schedule", str, body=request, accept="image/svg+xml", computing=True)


def schedule_calendar(request: models.ScheduleRequest) -> Call[str]:
    """A calendar of the schedule."""
    return Call("POST", "/v1/schedule", str, body=request, accept="text/calendar", computing=True)


def schedule_table(request: models.ScheduleRequest) -> Call[str]:
    """A table of the schedule."""
    return Call("POST", "/v1/schedule", str, body=request, accept="text/csv", computing=True)


def takeoff(request: models.TakeoffRequest) -> Call[models.TakeoffDocument]:
    """Measure a site."""
    return Call("POST", "/v1/takeoff", models.TakeoffDocument, body=request, computing=True)


def takeoff_drawing(request: models.TakeoffRequest) -> Call[str]:
    """A drawing of the takeoff."""
    return Call("POST", "/v1/takeoff", str, body=request, accept="image/svg+xml", computing=True)


def takeoff_table(request: models.TakeoffRequest) -> Call[str]:
    """A table of the takeoff."""
    return Call("POST", "/v1/takeoff", str, body=request, accept="text/csv", computing=True)
