"""Calls of the service, described without sending them: rules.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, path, query


def list_rules(*, limit: int | None = None, cursor: str | None = None) -> Call[models.RulePage]:
    """The estimating rules, a page at a time."""
    return Call("GET", "/v1/rules", models.RulePage, query=query(limit=limit, cursor=cursor))


def get_rule(rule_id: str) -> Call[models.Rule]:
    """One estimating rule."""
    return Call("GET", path("/v1/rules/{}", rule_id), models.Rule)
