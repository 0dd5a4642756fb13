"""Reads what is stored of quotations, and writes it as it is answered."""

from datetime import date, datetime
from typing import TypeVar

import msgspec

from filmbuild.edge.decoding import decode
from filmbuild.money import Currency, Money
from filmbuild.quotations.content import (
    Decision,
    QuotationContent,
    QuotationKind,
    QuotationState,
)
from filmbuild.quotations.store import QuotationSummary, StoredQuotation, StoredStep
from filmbuild.quotations.wire import HistoryStep
from filmbuild.quotations.wire import QuotationSummary as ListedQuotation

T = TypeVar("T")


class Shown(msgspec.Struct, frozen=True, kw_only=True):
    """A quotation for documents: what is in them, and how it stands. `link` is the customer's path."""

    id: str
    state: QuotationState
    content: QuotationContent
    decision: Decision | None
    link: str | None


class _Envelope(msgspec.Struct, frozen=True, kw_only=True):
    """Fields as of `wire.Quotation`, around texts that stay as they were first written."""

    id: str
    kind: QuotationKind
    state: QuotationState
    number: str | None
    created_at: datetime
    updated_at: datetime
    issued_at: datetime | None
    valid_until: date
    supersedes: str | None
    superseded_by: str | None
    changes: str | None
    link: str | None
    costs: msgspec.Raw
    decision: msgspec.Raw
    content: msgspec.Raw


class _OfferEnvelope(msgspec.Struct, frozen=True, kw_only=True):
    """Fields as of `offer_wire.OfferShown`, likewise."""

    state: QuotationState
    decision: msgspec.Raw
    content: msgspec.Raw


def read(kind: type[T], text: str) -> T:
    content = text.encode()
    return decode(kind, content, max_bytes=len(content))


def shown_content(quotation: StoredQuotation) -> QuotationContent:
    return read(QuotationContent, quotation.content)


def decision_of(quotation: StoredQuotation) -> Decision | None:
    return None if quotation.decision is None else read(Decision, quotation.decision)


def shown(quotation: StoredQuotation, link: str | None) -> Shown:
    return Shown(
        id=quotation.id,
        state=quotation.state,
        content=shown_content(quotation),
        decision=decision_of(quotation),
        link=link,
    )


def tag_of(quotation: QuotationSummary) -> str:
    """It changes with every step of the history."""
    return f'"{quotation.version}"'


def for_the_seller(
    quotation: StoredQuotation, link: str | None, superseded_by: str | None
) -> bytes:
    """JSON of `wire.Quotation`."""
    return msgspec.json.encode(
        _Envelope(
            id=quotation.id,
            kind=quotation.kind,
            state=quotation.state,
            number=quotation.number,
            created_at=quotation.created_at,
            updated_at=quotation.updated_at,
            issued_at=quotation.issued_at,
            valid_until=quotation.valid_until,
            supersedes=quotation.supersedes,
            superseded_by=superseded_by,
            changes=quotation.changes,
            link=link,
            costs=msgspec.Raw(quotation.costs),
            decision=_raw(quotation.decision),
            content=msgspec.Raw(quotation.content),
        )
    )


def for_the_customer(quotation: StoredQuotation) -> bytes:
    """JSON of `offer_wire.OfferShown`."""
    return msgspec.json.encode(
        _OfferEnvelope(
            state=quotation.state,
            decision=_raw(quotation.decision),
            content=msgspec.Raw(quotation.content),
        )
    )


def listed(one: QuotationSummary) -> ListedQuotation:
    return ListedQuotation(
        id=one.id,
        kind=one.kind,
        state=one.state,
        number=one.number,
        created_at=one.created_at,
        updated_at=one.updated_at,
        issued_at=one.issued_at,
        valid_until=one.valid_until,
        buyer=one.buyer_name,
        site=one.site_name,
        reference=one.reference,
        total=Money(one.total, Currency(one.currency)),
        supersedes=one.supersedes,
        changes=one.changes,
    )


def step_of(one: StoredStep) -> HistoryStep:
    return HistoryStep(
        position=one.position,
        at=one.at,
        actor=one.actor,
        kind=one.kind,
        detail=msgspec.json.decode(one.detail),
    )


def _raw(text: str | None) -> msgspec.Raw:
    return msgspec.Raw("null" if text is None else text)
