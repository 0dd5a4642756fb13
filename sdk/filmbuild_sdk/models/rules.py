"""What the service is sent and what it answers: rules.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from filmbuild_sdk.values import Answer


class Rule(Answer, frozen=True, kw_only=True):
    """One rule of the estimating method, as published to callers."""

    id: str
    statement: str
    source: str
    equation: str | None = None


class RulePage(Answer, frozen=True, kw_only=True):
    """Rules in order of their ids."""

    items: tuple[Rule, ...]
    next: str | None
