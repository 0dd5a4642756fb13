"""What is told to other systems: the types of events, and what each says.

Events are small: ids, states and what a customer is asked to pay. They tell no costs or margins, and
nothing of who a customer is: a receiver that needs more fetches it by the id, with a key of its own.
"""

from datetime import date, datetime

import msgspec

from filmbuild.edge.openapi import Webhook
from filmbuild.money import Money

CATALOGUE = "catalogue"
"""The subject of all events about the catalogue and its prices: they are of one object."""


class EstimateEventData(msgspec.Struct, frozen=True, kw_only=True):
    """`repricing` is the one that made the revision, if any did."""

    id: str
    revision: int
    total: Money
    repricing: str | None = None


class EstimateEvent(msgspec.Struct, frozen=True, kw_only=True):
    """A stored estimate has a new revision."""

    type: str
    timestamp: datetime
    data: EstimateEventData


class RepricingEventData(msgspec.Struct, frozen=True, kw_only=True):
    """`state` is "done" or "failed"; what became of each estimate is told by the repricing itself."""

    id: str
    state: str
    estimates: int
    repriced: int
    unchanged: int
    accepted: int
    refused: int


class RepricingEvent(msgspec.Struct, frozen=True, kw_only=True):
    """A repricing has come to its end."""

    type: str
    timestamp: datetime
    data: RepricingEventData


class QuotationEventData(msgspec.Struct, frozen=True, kw_only=True):
    """As the quotation is after the step; `number` is missing from drafts.

    `changes` is the quotation that a change order is to, `supersedes` the one that it replaces.
    """

    id: str
    kind: str
    state: str
    number: str | None
    total: Money
    valid_until: date
    supersedes: str | None
    changes: str | None


class QuotationEvent(msgspec.Struct, frozen=True, kw_only=True):
    """A quotation has taken a step."""

    type: str
    timestamp: datetime
    data: QuotationEventData


class InvoiceEventData(msgspec.Struct, frozen=True, kw_only=True):
    """`kind` is "invoice" or "credit_note"."""

    id: str
    kind: str
    number: str
    quotation: str
    issued_on: date
    total: Money


class InvoiceEvent(msgspec.Struct, frozen=True, kw_only=True):
    """An invoice was made."""

    type: str
    timestamp: datetime
    data: InvoiceEventData


class PricesEventData(msgspec.Struct, frozen=True, kw_only=True):
    """`revision` is of the catalogue; `undoes` is the update that this one takes back, if any."""

    update: str
    revision: int
    undoes: str | None


class PricesEvent(msgspec.Struct, frozen=True, kw_only=True):
    """Prices have changed."""

    type: str
    timestamp: datetime
    data: PricesEventData


class EnquiryEventData(msgspec.Struct, frozen=True, kw_only=True):
    """`estimate` is what was made of it, where the floor could be computed."""

    id: str
    estimate: str | None


class EnquiryEvent(msgspec.Struct, frozen=True, kw_only=True):
    """Somebody has asked by the form of a web page."""

    type: str
    timestamp: datetime
    data: EnquiryEventData


class CatalogueEventData(msgspec.Struct, frozen=True, kw_only=True):
    """`revision` is the one that was made."""

    revision: int


class CatalogueEvent(msgspec.Struct, frozen=True, kw_only=True):
    """The catalogue has a new revision."""

    type: str
    timestamp: datetime
    data: CatalogueEventData


class WebhookTestEventData(msgspec.Struct, frozen=True, kw_only=True):
    """`endpoint` is the one that the test was asked of."""

    endpoint: str


class WebhookTestEvent(msgspec.Struct, frozen=True, kw_only=True):
    """Somebody asked for a test: nothing has happened."""

    type: str
    timestamp: datetime
    data: WebhookTestEventData


TEST = "webhook.test"
_QUOTATIONS = {
    "drafted": "A quotation was drafted",
    "issued": "A quotation was issued",
    "accepted": "A customer accepted a quotation",
    "declined": "A customer declined a quotation",
    "expired": "The last day of a quotation has passed",
    "superseded": "A newer offer took the place of a quotation",
    "withdrawn": "A quotation was withdrawn",
}
_EVERY: tuple[tuple[str, str, str, type[msgspec.Struct]], ...] = (
    ("estimate.created", "An estimate was stored", "Its first revision.", EstimateEvent),
    ("estimate.revised", "An estimate was revised", "By a new request.", EstimateEvent),
    (
        "estimate.repriced",
        "An estimate comes out at another price",
        "One for each estimate of a repricing that got a new revision.",
        EstimateEvent,
    ),
    (
        "repricing.finished",
        "A repricing is done, or has failed",
        "One for the whole of it. One that was stopped has not finished.",
        RepricingEvent,
    ),
    *(
        (f"quotation.{step}", words, "With what the customer would pay.", QuotationEvent)
        for step, words in _QUOTATIONS.items()
    ),
    ("invoice.created", "An invoice was made", "Or a credit note.", InvoiceEvent),
    (
        "prices.updated",
        "Prices have changed",
        "By an update, or by taking one back. `catalogue.changed` is not sent for these.",
        PricesEvent,
    ),
    (
        "catalogue.changed",
        "The catalogue has changed",
        "Any of its records, and prices that came with them.",
        CatalogueEvent,
    ),
    (
        "enquiry.received",
        "A visitor of a web page has asked for a quote",
        "Who it was is told by the enquiry alone, so that nothing is left when it is erased.",
        EnquiryEvent,
    ),
    (TEST, "A test that somebody asked for", "Sent to one endpoint alone.", WebhookTestEvent),
)
WEBHOOKS = tuple(
    Webhook(name=name, tag="webhooks", summary=summary, description=description, body=body)
    for name, summary, description, body in _EVERY
)
TYPES = frozenset(one.name for one in WEBHOOKS)
CHOOSABLE = tuple(sorted(TYPES - {TEST}))
"""Those that an endpoint may be for: tests come to any, whatever it is for."""


class Event(msgspec.Struct, frozen=True, kw_only=True):
    """Something that happened to the record `subject`, whose events are told in their order.

    `data` is the struct that the type's entry in WEBHOOKS has.
    """

    type: str
    subject: str
    data: msgspec.Struct
    at: datetime


class Message(msgspec.Struct, frozen=True):
    """An event as it is sent."""

    type: str
    timestamp: datetime
    data: msgspec.Struct
