"""What a customer is offered: prices as they are sold, and nothing of what the work costs."""

from datetime import date
from decimal import Decimal
from typing import Literal

from filmbuild.money import Money
from filmbuild.pipeline.results.base import Result

OfferLineKind = Literal["work", "extra", "option", "discount", "minimum", "rounding", "change"]
PaymentOccasion = Literal["on_acceptance", "per_visit", "on_completion", "retention"]


class OfferTax(Result, frozen=True, kw_only=True):
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


class OfferLine(Result, frozen=True, kw_only=True):
    """One line: `net` for `quantity` of `unit`, a code of UNECE Recommendation 20.

    `net` over `quantity` is the unit price; it is not rounded. `areas` are ids of the site's areas
    that the line is about. `taxes` names the rules, of the offer's own, that the line falls under.
    The nets of an offer's lines add up to its net.
    """

    id: str
    kind: OfferLineKind
    description: str
    quantity: Decimal
    unit: str
    net: Money
    areas: tuple[str, ...] = ()
    taxes: tuple[str, ...] = ()


class OfferOption(Result, frozen=True, kw_only=True):
    """What the customer may tick: what it adds to net, taxes and total, whatever else is ticked."""

    id: str
    label: str
    description: str
    lines: tuple[OfferLine, ...]
    net: Money


class PaymentStage(Result, frozen=True, kw_only=True):
    """A part of the offer that is asked for on its own; the stages add up to the offer.

    `taxes` are differences of the taxes on all that is asked for so far, so that they too add up:
    each may be one minor unit off the tax on its own `base`.
    """

    id: str
    label: str
    occasion: PaymentOccasion
    visit: int | None
    share_percent: Decimal
    expected_on: date | None
    due_days: int
    net: Money
    taxes: tuple[OfferTax, ...]
    total: Money


class Offer(Result, frozen=True, kw_only=True):
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
