"""All that a customer is shown of a quotation, fixed when it is issued.

Documents are made of this alone. Nothing here tells what the work costs the contractor.
"""

from datetime import date, datetime
from typing import Literal

import msgspec

from filmbuild.money import Money
from filmbuild.organisations.parties import Address, Party
from filmbuild.pipeline.results.offer import Offer
from filmbuild.pipeline.trace import Caution
from filmbuild.quantities import Area, Length

QuotationKind = Literal["offer", "change_order"]
QuotationState = Literal[
    "draft", "issued", "accepted", "declined", "expired", "superseded", "withdrawn"
]


class _Shown(msgspec.Struct, frozen=True, kw_only=True):
    """Base of what is shown; readers pass over fields they do not know."""


class OfferedArea(_Shown, frozen=True, kw_only=True):
    """An area of the site, `verticals` being the wall feet, cove, risers and the like of it."""

    id: str
    name: str
    floor: Area
    verticals: Area
    running: Length


class OfferedLayer(_Shown, frozen=True, kw_only=True):
    """A layer of the system, by the name and kind of its product."""

    name: str
    product: str


class OfferDates(_Shown, frozen=True, kw_only=True):
    """When the work is planned, and from when the floor may be used."""

    first_day: date
    last_day: date
    visits: int
    foot_traffic_from: datetime | None
    vehicle_traffic_from: datetime | None
    full_cure_at: datetime | None


class Texts(_Shown, frozen=True, kw_only=True):
    """The words around the figures, in the quotation's language, a paragraph each."""

    introduction: tuple[str, ...] = ()
    scope: tuple[str, ...] = ()
    exclusions: tuple[str, ...] = ()
    conditions: tuple[str, ...] = ()
    before: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    payment: tuple[str, ...] = ()


class Alternate(_Shown, frozen=True, kw_only=True):
    """One way to do the work, of which the customer chooses one.

    `drawing` and `chart` are whole SVG documents: the takeoff to scale, and the dates as bars.
    `gains` says what this one has over the others.
    """

    id: str
    label: str
    estimate: str
    estimate_revision: int
    units: Literal["us", "si"]
    system: str
    layers: tuple[OfferedLayer, ...]
    areas: tuple[OfferedArea, ...]
    offer: Offer
    dates: OfferDates
    gains: tuple[str, ...]
    cautions: tuple[Caution, ...]
    drawing: str
    chart: str


class QuotationContent(_Shown, frozen=True, kw_only=True):
    """A quotation as the customer sees it. `number` and `issued_on` are missing from a draft.

    A change order has one alternate, whose lines are the differences from the offer `changes`, and
    `agreed_total` is what has been agreed on before it, with earlier changes.
    """

    kind: QuotationKind
    number: str | None
    language: str
    currency: str
    time_zone: str
    issued_on: date | None
    valid_until: date
    seller: Party
    buyer: Party
    place: Address | None
    site: str
    reference: str | None
    texts: Texts
    alternates: tuple[Alternate, ...]
    changes: str | None = None
    agreed_total: Money | None = None


class Decision(_Shown, frozen=True, kw_only=True):
    """What a customer decided through the link, and when; `total` is with the `options`."""

    kind: Literal["accepted", "declined"]
    name: str
    at: datetime
    alternate: str | None = None
    options: tuple[str, ...] = ()
    total: Money | None = None
    reason: str | None = None
