"""Calls of the service, described without sending them: invoices.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, key, path, query


def get_invoice_series() -> Call[models.InvoiceSeries]:
    """The series of invoice numbers."""
    return Call("GET", "/v1/invoice-series", models.InvoiceSeries)


def put_invoice_series(
    request: models.InvoiceSeries, *, if_match: str
) -> Call[models.InvoiceSeries]:
    """Say how invoices are numbered."""
    return Call("PUT", "/v1/invoice-series", models.InvoiceSeries, body=request, if_match=if_match)


def list_invoices(
    *, limit: int | None = None, cursor: str | None = None, quotation: str | None = None
) -> Call[models.InvoicePage]:
    """Invoices and credit notes, newest first."""
    return Call(
        "GET",
        "/v1/invoices",
        models.InvoicePage,
        query=query(limit=limit, cursor=cursor, quotation=quotation),
    )


def get_invoice(invoice_id: str) -> Call[models.StoredInvoice]:
    """One invoice or credit note."""
    return Call("GET", path("/v1/invoices/{}", invoice_id), models.StoredInvoice)


def get_invoice_xml(invoice_id: str) -> Call[str]:
    """UBL 2.1."""
    return Call("GET", path("/v1/invoices/{}", invoice_id), str, accept="application/xml")


def get_invoice_table(invoice_id: str) -> Call[str]:
    """Its lines as a table."""
    return Call("GET", path("/v1/invoices/{}", invoice_id), str, accept="text/csv")


def get_invoice_lines(quotation_id: str) -> Call[models.LinesToInvoice]:
    """What there is to invoice."""
    return Call("GET", path("/v1/quotations/{}/invoice-lines", quotation_id), models.LinesToInvoice)


def get_invoice_lines_table(quotation_id: str) -> Call[str]:
    """The lines as a table."""
    return Call(
        "GET", path("/v1/quotations/{}/invoice-lines", quotation_id), str, accept="text/csv"
    )


def create_invoice(
    quotation_id: str, request: models.InvoiceRequest, *, idempotency_key: str | None = None
) -> Call[models.StoredInvoice]:
    """Invoice stages of an accepted quotation."""
    return Call(
        "POST",
        path("/v1/quotations/{}/invoices", quotation_id),
        models.StoredInvoice,
        body=request,
        idempotency_key=key(idempotency_key),
    )
