"""Calls of the service, described without sending them: prices.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import Literal

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, key, path, query
from filmbuild_sdk.uploads import Upload
from filmbuild_sdk.values import Choice


def explain_pack_price(
    pack_id: str,
    *,
    currency: str | None = None,
    tier: str | None = None,
    on: dt.date | None = None,
    revision: int | None = None,
) -> Call[models.PackPrices]:
    """The price of a pack on a day, and why it is that one."""
    return Call(
        "GET",
        path("/v1/packs/{}/prices", pack_id),
        models.PackPrices,
        query=query(currency=currency, tier=tier, on=on, revision=revision),
    )


def apply_price_formula(
    request: models.PriceFormula, *, idempotency_key: str | None = None
) -> Call[models.CheckedUpdate]:
    """Change many prices at once, by a formula."""
    return Call(
        "POST",
        "/v1/price-formulas",
        models.CheckedUpdate,
        body=request,
        idempotency_key=key(idempotency_key),
    )


def apply_price_formula_table(
    request: models.PriceFormula, *, idempotency_key: str | None = None
) -> Call[str]:
    """The differences of a check as a table."""
    return Call(
        "POST",
        "/v1/price-formulas",
        str,
        body=request,
        accept="text/csv",
        idempotency_key=key(idempotency_key),
    )


def list_price_lists(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    currency: str | None = None,
    revision: int | None = None,
) -> Call[models.PriceListPage]:
    """The price lists: one for each currency and customers' tier."""
    return Call(
        "GET",
        "/v1/price-lists",
        models.PriceListPage,
        query=query(limit=limit, cursor=cursor, currency=currency, revision=revision),
    )


def list_price_updates(
    *, limit: int | None = None, cursor: str | None = None
) -> Call[models.PriceUpdatePage]:
    """All price updates, newest first."""
    return Call(
        "GET", "/v1/price-updates", models.PriceUpdatePage, query=query(limit=limit, cursor=cursor)
    )


def update_prices(
    content: Upload,
    *,
    media_type: Choice[
        Literal["application/json", "application/x-ndjson", "text/csv"]
    ] = "application/json",
    check_only: bool | None = None,
    currency: str | None = None,
    tier: str | None = None,
    effective_from: dt.date | None = None,
    limit_percent: Decimal | None = None,
    note: str | None = None,
    idempotency_key: str | None = None,
) -> Call[models.CheckedUpdate]:
    """Change many prices at once, from a file."""
    return Call(
        "POST",
        "/v1/price-updates",
        models.CheckedUpdate,
        query=query(
            check_only=check_only,
            currency=currency,
            tier=tier,
            effective_from=effective_from,
            limit_percent=limit_percent,
            note=note,
        ),
        body=content,
        media_type=media_type,
        idempotency_key=key(idempotency_key),
    )


def update_prices_table(
    content: Upload,
    *,
    media_type: Choice[
        Literal["application/json", "application/x-ndjson", "text/csv"]
    ] = "application/json",
    check_only: bool | None = None,
    currency: str | None = None,
    tier: str | None = None,
    effective_from: dt.date | None = None,
    limit_percent: Decimal | None = None,
    note: str | None = None,
    idempotency_key: str | None = None,
) -> Call[str]:
    """The differences of a check as a table."""
    return Call(
        "POST",
        "/v1/price-updates",
        str,
        query=query(
            check_only=check_only,
            currency=currency,
            tier=tier,
            effective_from=effective_from,
            limit_percent=limit_percent,
            note=note,
        ),
        body=content,
        media_type=media_type,
        accept="text/csv",
        idempotency_key=key(idempotency_key),
    )


def get_price_update(update_id: str) -> Call[models.PriceUpdate]:
    """One price update."""
    return Call("GET", path("/v1/price-updates/{}", update_id), models.PriceUpdate)


def list_price_changes(
    update_id: str, *, limit: int | None = None, cursor: str | None = None
) -> Call[models.PriceChangePage]:
    """What a price update changed."""
    return Call(
        "GET",
        path("/v1/price-updates/{}/changes", update_id),
        models.PriceChangePage,
        query=query(limit=limit, cursor=cursor),
    )


def list_price_changes_table(
    update_id: str, *, limit: int | None = None, cursor: str | None = None
) -> Call[str]:
    """All changes as one table."""
    return Call(
        "GET",
        path("/v1/price-updates/{}/changes", update_id),
        str,
        query=query(limit=limit, cursor=cursor),
        accept="text/csv",
    )


def undo_price_update(
    update_id: str, *, idempotency_key: str | None = None
) -> Call[models.CheckedUpdate]:
    """Take a whole update back."""
    return Call(
        "POST",
        path("/v1/price-updates/{}/undo", update_id),
        models.CheckedUpdate,
        idempotency_key=key(idempotency_key),
    )
