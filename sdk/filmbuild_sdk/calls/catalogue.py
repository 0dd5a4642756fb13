"""Calls of the service, described without sending them: catalogue.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

from typing import Any, Literal

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, key, query
from filmbuild_sdk.uploads import Upload
from filmbuild_sdk.values import Choice


def get_catalogue() -> Call[models.CurrentRevision]:
    """The newest revision of the catalogue."""
    return Call("GET", "/v1/catalogue", models.CurrentRevision)


def change_catalogue(
    request: models.CatalogueChanges, *, idempotency_key: str | None = None
) -> Call[models.ChangesReport]:
    """Put, patch and retire records of several kinds together."""
    return Call(
        "POST",
        "/v1/catalogue/changes",
        models.ChangesReport,
        body=request,
        idempotency_key=key(idempotency_key),
    )


def export_catalogue(*, revision: int | None = None) -> Call[dict[str, Any]]:
    """The whole catalogue as one document."""
    return Call("GET", "/v1/catalogue/export", dict[str, Any], query=query(revision=revision))


def import_catalogue(
    request: models.CatalogueImport | Upload,
    *,
    check_only: bool | None = None,
    missing: Choice[Literal["keep", "retire"]] | None = None,
    based_on: int | None = None,
    note: str | None = None,
    idempotency_key: str | None = None,
) -> Call[models.ChangesReport]:
    """Bring the catalogue to what a document says."""
    return Call(
        "POST",
        "/v1/catalogue/import",
        models.ChangesReport,
        query=query(check_only=check_only, missing=missing, based_on=based_on, note=note),
        body=request,
        idempotency_key=key(idempotency_key),
    )


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


def export_catalogue_tables_archive(
    *,
    revision: int | None = None,
    kind: Choice[
        Literal[
            "consumables",
            "packs",
            "prices",
            "products",
            "rate_books",
            "suppliers",
            "systems",
            "taxes",
        ]
    ]
    | None = None,
) -> Call[bytes]:
    """The whole catalogue as tables."""
    return Call(
        "GET",
        "/v1/catalogue/tables",
        bytes,
        query=query(revision=revision, kind=kind),
        accept="application/zip",
    )


def export_catalogue_tables_table(
    *,
    revision: int | None = None,
    kind: Choice[
        Literal[
            "consumables",
            "packs",
            "prices",
            "products",
            "rate_books",
            "suppliers",
            "systems",
            "taxes",
        ]
    ]
    | None = None,
) -> Call[str]:
    """One table of the catalogue."""
    return Call(
        "GET",
        "/v1/catalogue/tables",
        str,
        query=query(revision=revision, kind=kind),
        accept="text/csv",
    )


def import_catalogue_tables(
    content: Upload,
    *,
    media_type: Choice[Literal["application/zip", "text/csv"]] = "application/zip",
    check_only: bool | None = None,
    missing: Choice[Literal["keep", "retire"]] | None = None,
    based_on: int | None = None,
    note: str | None = None,
    kind: Choice[
        Literal[
            "consumables",
            "packs",
            "prices",
            "products",
            "rate_books",
            "suppliers",
            "systems",
            "taxes",
        ]
    ]
    | None = None,
    idempotency_key: str | None = None,
) -> Call[models.ChangesReport]:
    """Bring the catalogue to what tables say."""
    return Call(
        "POST",
        "/v1/catalogue/tables",
        models.ChangesReport,
        query=query(
            check_only=check_only, missing=missing, based_on=based_on, note=note, kind=kind
        ),
        body=content,
        media_type=media_type,
        idempotency_key=key(idempotency_key),
    )
