"""Calls of the service, described without sending them: rate books.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

from typing import Any, Literal

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, key, path, query
from filmbuild_sdk.values import Choice


def list_rate_books(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
    q: str | None = None,
    retired: bool | None = None,
    currency: str | None = None,
) -> Call[models.RateBookPage]:
    """The catalogue's rate books, a page at a time."""
    return Call(
        "GET",
        "/v1/rate-books",
        models.RateBookPage,
        query=query(
            limit=limit,
            cursor=cursor,
            units=units,
            revision=revision,
            q=q,
            retired=retired,
            currency=currency,
        ),
    )


def create_rate_book(
    request: models.RateBookInput,
    *,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
    idempotency_key: str | None = None,
) -> Call[models.RateBook]:
    """Add a rate book to the catalogue."""
    return Call(
        "POST",
        "/v1/rate-books",
        models.RateBook,
        query=query(units=units, note=note),
        body=request,
        idempotency_key=key(idempotency_key),
    )


def retire_rate_book(rate_book_id: str, *, if_match: str, note: str | None = None) -> Call[None]:
    """Retire a rate book."""
    return Call(
        "DELETE",
        path("/v1/rate-books/{}", rate_book_id),
        type(None),
        query=query(note=note),
        if_match=if_match,
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


def patch_rate_book(
    rate_book_id: str,
    request: dict[str, Any],
    *,
    if_match: str,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
) -> Call[models.RateBook]:
    """Change some members of a rate book."""
    return Call(
        "PATCH",
        path("/v1/rate-books/{}", rate_book_id),
        models.RateBook,
        query=query(units=units, note=note),
        body=request,
        if_match=if_match,
    )


def put_rate_book(
    rate_book_id: str,
    request: models.RateBookInput,
    *,
    if_match: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
) -> Call[models.RateBook]:
    """Replace a rate book, or make it under its id."""
    return Call(
        "PUT",
        path("/v1/rate-books/{}", rate_book_id),
        models.RateBook,
        query=query(units=units, note=note),
        body=request,
        if_match=if_match,
        making=if_match is None,
    )


def get_rate_book_history(
    rate_book_id: str, *, limit: int | None = None, cursor: str | None = None
) -> Call[models.RecordHistoryPage]:
    """What became of a rate book, newest first."""
    return Call(
        "GET",
        path("/v1/rate-books/{}/history", rate_book_id),
        models.RecordHistoryPage,
        query=query(limit=limit, cursor=cursor),
    )
