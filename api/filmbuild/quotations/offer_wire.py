"""Offers as customers see and answer them, through their links."""

from typing import Annotated

import msgspec
from msgspec import Meta

from filmbuild.money import Money
from filmbuild.organisations.profile import Paragraph
from filmbuild.pipeline.site import Identifier, Input, Label
from filmbuild.quotations.content import Decision, QuotationContent, QuotationState
from filmbuild.quotations.wire import Options


class Acceptance(Input, frozen=True, kw_only=True):
    """Who accepts what: `total` is what the customer saw, with the options that are ticked."""

    name: Label
    alternate: Identifier
    options: Options = ()
    total: Money


class AcceptanceForm(Input, frozen=True, kw_only=True):
    """The same as fields of a form: `options` once for each that is ticked.

    `total` is an amount with its currency, such as "1234.50 USD". `alternate` may be left out where
    there is one alone.
    """

    name: Label
    alternate: Identifier | None = None
    options: Options = ()
    total: (
        Annotated[str, Meta(pattern=r"^-?[0-9]{1,12}(\.[0-9]{1,6})?( [A-Z]{3})?$(?!\n)")] | None
    ) = None


class Refusal(Input, frozen=True, kw_only=True):
    """Who declines, and why, if they say so."""

    name: Label
    reason: Paragraph | None = None


class OfferShown(msgspec.Struct, frozen=True, kw_only=True):
    """An offer as its customer sees it. What was decided stays, and is told again."""

    state: QuotationState
    decision: Decision | None
    content: QuotationContent
