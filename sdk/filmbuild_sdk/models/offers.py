"""What the service is sent and what it answers: offers.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from collections.abc import Sequence

from filmbuild_sdk.models.common import Decision, QuotationContent
from filmbuild_sdk.values import Answer, Input, Money


class Acceptance(Input, frozen=True, kw_only=True):
    """Who accepts what: `total` is what the customer saw, with the options that are ticked."""

    name: str
    alternate: str
    total: Money
    options: Sequence[str] = ()


class OfferShown(Answer, frozen=True, kw_only=True):
    """An offer as its customer sees it. What was decided stays, and is told again."""

    state: str
    decision: Decision | None
    content: QuotationContent


class Refusal(Input, frozen=True, kw_only=True):
    """Who declines, and why, if they say so."""

    name: str
    reason: str | None = None
