"""What the service is sent and what it answers: common.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

import datetime as dt
from decimal import Decimal

from filmbuild_sdk.models.inputs import Address, Party
from filmbuild_sdk.models.results import Caution
from filmbuild_sdk.values import Answer, Money, Quantity


class Fault(Answer, frozen=True, kw_only=True):
    """One thing wrong with the input.

    `pointer` is an RFC 6901 JSON Pointer ("" is the whole body), `code` is stable, and `detail`
    says what was wrong and what would be accepted.
    """

    pointer: str
    code: str
    detail: str


class OfferedArea(Answer, frozen=True, kw_only=True):
    """An area of the site, `verticals` being the wall feet, cove, risers and the like of it."""

    id: str
    name: str
    floor: Quantity
    verticals: Quantity
    running: Quantity


class OfferDates(Answer, frozen=True, kw_only=True):
    """When the work is planned, and from when the floor may be used."""

    first_day: dt.date
    last_day: dt.date
    visits: int
    foot_traffic_from: str | None
    vehicle_traffic_from: str | None
    full_cure_at: str | None


class OfferedLayer(Answer, frozen=True, kw_only=True):
    """A layer of the system, by the name and kind of its product."""

    name: str
    product: str


class OfferLine(Answer, frozen=True, kw_only=True):
    """One line: `net` for `quantity` of `unit`, a code of UNECE Recommendation 20.

    `net` over `quantity` is the unit price; it is not rounded. `areas` are ids of the site's areas
    that the line is about. `taxes` names the rules, of the offer's own, that the line falls under.
    The nets of an offer's lines add up to its net.
    """

    id: str
    kind: str
    description: str
    quantity: Decimal
    unit: str
    net: Money
    areas: tuple[str, ...] = ()
    taxes: tuple[str, ...] = ()


class OfferOption(Answer, frozen=True, kw_only=True):
    """What the customer may tick: what it adds to net, taxes and total, whatever else is ticked."""

    id: str
    label: str
    description: str
    lines: tuple[OfferLine, ...]
    net: Money


class OfferTax(Answer, frozen=True, kw_only=True):
    """One tax rule over the sums that it taxes.

    `category` is a duty or tax category code of UNTDID 5305 ("S" standard rate, "E" exempt, "O"
    outside of the tax, ...), and `scheme` says what kind of tax it is: "vat" or "sales_tax".
    `exemption_reason` is why nothing is due, where nothing is.
    """

    rule: str
    name: str
    category: str
    rate_percent: Decimal
    base: Money
    amount: Money
    exemption_reason: str | None = None
    scheme: str = "sales_tax"


class PaymentStage(Answer, frozen=True, kw_only=True):
    """A part of the offer that is asked for on its own; the stages add up to the offer.

    `taxes` are differences of the taxes on all that is asked for so far, so that they too add up:
    each may be one minor unit off the tax on its own `base`.
    """

    id: str
    label: str
    occasion: str
    visit: int | None
    share_percent: Decimal
    expected_on: dt.date | None
    due_days: int
    net: Money
    taxes: tuple[OfferTax, ...]
    total: Money


class Offer(Answer, frozen=True, kw_only=True):
    """Lines that add up to `net`; taxes taken once per rule; `total` is both together.

    `options` are not in any of the sums. The prices per area and per running length are net, and
    missing where the site has nothing to measure them by.
    """

    currency: str
    lines: tuple[OfferLine, ...]
    net: Money
    taxes: tuple[OfferTax, ...]
    total: Money
    per_square_metre: Money | None
    per_square_foot: Money | None
    per_running_metre: Money | None
    per_running_foot: Money | None
    options: tuple[OfferOption, ...] = ()
    payments: tuple[PaymentStage, ...] = ()


class Alternate(Answer, frozen=True, kw_only=True):
    """One way to do the work, of which the customer chooses one.

    `drawing` and `chart` are whole SVG documents: the takeoff to scale, and the dates as bars.
    `gains` says what this one has over the others.
    """

    id: str
    label: str
    estimate: str
    estimate_revision: int
    units: str
    system: str
    layers: tuple[OfferedLayer, ...]
    areas: tuple[OfferedArea, ...]
    offer: Offer
    dates: OfferDates
    gains: tuple[str, ...]
    cautions: tuple[Caution, ...]
    drawing: str
    chart: str


class Texts(Answer, frozen=True, kw_only=True):
    """The words around the figures, in the quotation's language, a paragraph each."""

    after: tuple[str, ...] = ()
    before: tuple[str, ...] = ()
    conditions: tuple[str, ...] = ()
    exclusions: tuple[str, ...] = ()
    introduction: tuple[str, ...] = ()
    payment: tuple[str, ...] = ()
    scope: tuple[str, ...] = ()


class QuotationContent(Answer, frozen=True, kw_only=True):
    """A quotation as the customer sees it. `number` and `issued_on` are missing from a draft.

    A change order has one alternate, whose lines are the differences from the offer `changes`, and
    `agreed_total` is what has been agreed on before it, with earlier changes.
    """

    kind: str
    number: str | None
    language: str
    currency: str
    time_zone: str
    issued_on: dt.date | None
    valid_until: dt.date
    seller: Party
    buyer: Party
    place: Address | None
    site: str
    reference: str | None
    texts: Texts
    alternates: tuple[Alternate, ...]
    agreed_total: Money | None = None
    changes: str | None = None


class Decision(Answer, frozen=True, kw_only=True):
    """What a customer decided through the link, and when; `total` is with the `options`."""

    kind: str
    name: str
    at: str
    alternate: str | None = None
    options: tuple[str, ...] = ()
    reason: str | None = None
    total: Money | None = None
