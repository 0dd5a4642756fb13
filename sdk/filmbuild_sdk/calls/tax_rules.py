"""Calls of the service, described without sending them: tax rules.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

from typing import Any, Literal

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, key, path, query
from filmbuild_sdk.values import Choice


def list_tax_rules(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
    q: str | None = None,
    retired: bool | None = None,
    place: str | None = None,
) -> Call[models.TaxRulePage]:
    """The catalogue's tax rules, a page at a time."""
    return Call(
        "GET",
        "/v1/tax-rules",
        models.TaxRulePage,
        query=query(
            limit=limit,
            cursor=cursor,
            units=units,
            revision=revision,
            q=q,
            retired=retired,
            place=place,
        ),
    )


def create_tax_rule(
    request: models.TaxRuleInput,
    *,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
    idempotency_key: str | None = None,
) -> Call[models.TaxRule]:
    """Add a tax rule to the catalogue."""
    return Call(
        "POST",
        "/v1/tax-rules",
        models.TaxRule,
        query=query(units=units, note=note),
        body=request,
        idempotency_key=key(idempotency_key),
    )


def retire_tax_rule(tax_rule_id: str, *, if_match: str, note: str | None = None) -> Call[None]:
    """Retire a tax rule."""
    return Call(
        "DELETE",
        path("/v1/tax-rules/{}", tax_rule_id),
        type(None),
        query=query(note=note),
        if_match=if_match,
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


def patch_tax_rule(
    tax_rule_id: str,
    request: dict[str, Any],
    *,
    if_match: str,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
) -> Call[models.TaxRule]:
    """Change some members of a tax rule."""
    return Call(
        "PATCH",
        path("/v1/tax-rules/{}", tax_rule_id),
        models.TaxRule,
        query=query(units=units, note=note),
        body=request,
        if_match=if_match,
    )


def put_tax_rule(
    tax_rule_id: str,
    request: models.TaxRuleInput,
    *,
    if_match: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
) -> Call[models.TaxRule]:
    """Replace a tax rule, or make it under its id."""
    return Call(
        "PUT",
        path("/v1/tax-rules/{}", tax_rule_id),
        models.TaxRule,
        query=query(units=units, note=note),
        body=request,
        if_match=if_match,
        making=if_match is None,
    )


def get_tax_rule_history(
    tax_rule_id: str, *, limit: int | None = None, cursor: str | None = None
) -> Call[models.RecordHistoryPage]:
    """What became of a tax rule, newest first."""
    return Call(
        "GET",
        path("/v1/tax-rules/{}/history", tax_rule_id),
        models.RecordHistoryPage,
        query=query(limit=limit, cursor=cursor),
    )
