"""Calls of the service, described without sending them: consumable rules.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

from typing import Any, Literal

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, key, path, query
from filmbuild_sdk.values import Choice


def list_consumable_rules(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
    q: str | None = None,
    retired: bool | None = None,
    kind: Choice[Literal["consumable", "protective_equipment", "tool"]] | None = None,
    currency: str | None = None,
) -> Call[models.ConsumableRulePage]:
    """The catalogue's consumable rules, a page at a time."""
    return Call(
        "GET",
        "/v1/consumable-rules",
        models.ConsumableRulePage,
        query=query(
            limit=limit,
            cursor=cursor,
            units=units,
            revision=revision,
            q=q,
            retired=retired,
            kind=kind,
            currency=currency,
        ),
    )


def create_consumable_rule(
    request: models.ConsumableRuleInput,
    *,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
    idempotency_key: str | None = None,
) -> Call[models.ConsumableRule]:
    """Add a consumable rule to the catalogue."""
    return Call(
        "POST",
        "/v1/consumable-rules",
        models.ConsumableRule,
        query=query(units=units, note=note),
        body=request,
        idempotency_key=key(idempotency_key),
    )


def retire_consumable_rule(
    consumable_rule_id: str, *, if_match: str, note: str | None = None
) -> Call[None]:
    """Retire a consumable rule."""
    return Call(
        "DELETE",
        path("/v1/consumable-rules/{}", consumable_rule_id),
        type(None),
        query=query(note=note),
        if_match=if_match,
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


def patch_consumable_rule(
    consumable_rule_id: str,
    request: dict[str, Any],
    *,
    if_match: str,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
) -> Call[models.ConsumableRule]:
    """Change some members of a consumable rule."""
    return Call(
        "PATCH",
        path("/v1/consumable-rules/{}", consumable_rule_id),
        models.ConsumableRule,
        query=query(units=units, note=note),
        body=request,
        if_match=if_match,
    )


def put_consumable_rule(
    consumable_rule_id: str,
    request: models.ConsumableRuleInput,
    *,
    if_match: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
) -> Call[models.ConsumableRule]:
    """Replace a consumable rule, or make it under its id."""
    return Call(
        "PUT",
        path("/v1/consumable-rules/{}", consumable_rule_id),
        models.ConsumableRule,
        query=query(units=units, note=note),
        body=request,
        if_match=if_match,
        making=if_match is None,
    )


def get_consumable_rule_history(
    consumable_rule_id: str, *, limit: int | None = None, cursor: str | None = None
) -> Call[models.RecordHistoryPage]:
    """What became of a consumable rule, newest first."""
    return Call(
        "GET",
        path("/v1/consumable-rules/{}/history", consumable_rule_id),
        models.RecordHistoryPage,
        query=query(limit=limit, cursor=cursor),
    )
