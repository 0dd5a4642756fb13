"""What a job is run under, beside its site: system, weather, people, calendar and terms."""

from datetime import date, datetime
from typing import Annotated, Literal

from msgspec import Meta

from filmbuild.money import Currency, NonNegativeExact, Percent, PositiveExact
from filmbuild.pipeline.site import Identifier, Input, Label, Percentage
from filmbuild.quantities import (
    PositiveMass,
    PositiveSpreadRate,
    PositiveThickness,
    PositiveVolume,
    Temperature,
)

UnitSystem = Literal["us", "si"]
ClockTime = Annotated[str, Meta(pattern=r"^([01][0-9]|2[0-3]):[0-5][0-9]$(?!\n)")]
SaleUnit = Literal[
    "C62",
    "EA",
    "LS",
    "HUR",
    "DAY",
    "WEE",
    "MTR",
    "FOT",
    "YRD",
    "MTK",
    "FTK",
    "YDK",
    "MTQ",
    "FTQ",
    "YDQ",
    "LTR",
    "GLL",
    "KGM",
    "TNE",
    "LBR",
]
"""Codes of UNECE Recommendation 20: one, each, lump sum; times, lengths, areas, volumes, masses."""
Weekday = Literal["mon", "tue", "wed", "thu", "fri", "sat", "sun"]


class Conditions(Input, frozen=True, kw_only=True):
    """Air and surface while the floor is laid, taken as constant over the job."""

    air_temperature: Temperature = Temperature(20.0)
    surface_temperature: Temperature = Temperature(20.0)
    relative_humidity_percent: Percentage = 50.0


class ForecastStep(Input, frozen=True, kw_only=True):
    """Air and floor from `at` until the next step; the surface follows the air if left out."""

    at: Annotated[datetime, Meta(tz=True)]
    air_temperature: Temperature
    surface_temperature: Temperature | None = None
    relative_humidity_percent: Percentage


class MonthConditions(Input, frozen=True, kw_only=True):
    """Design values of a calendar month, 1 being January."""

    month: Annotated[int, Meta(ge=1, le=12)]
    air_temperature: Temperature
    surface_temperature: Temperature | None = None
    relative_humidity_percent: Percentage


class CrewMember(Input, frozen=True, kw_only=True):
    """How many people of one labour class of the rate book are on site."""

    labour_class: Identifier
    count: Annotated[int, Meta(ge=1, le=50)]


class Holidays(Input, frozen=True, kw_only=True):
    """Public holidays by ISO 3166-1 country and, where they differ, ISO 3166-2 subdivision."""

    country: Annotated[str, Meta(pattern=r"^[A-Z]{2}$(?!\n)")]
    subdivision: Annotated[str, Meta(pattern=r"^[A-Z0-9]{1,3}$(?!\n)")] | None = None


class ShiftBreak(Input, frozen=True, kw_only=True):
    """An unpaid pause of the whole crew."""

    start: ClockTime
    end: ClockTime


class ClosedPeriod(Input, frozen=True, kw_only=True):
    """Days on which no work is done, the first and the last among them."""

    first: date
    last: date


class WorkCalendar(Input, frozen=True, kw_only=True):
    """Local working hours; `time_zone` is an IANA name.

    `breaks` lie inside the shift, in order and apart. Work stops for them, except that a coat
    goes on through them once it has begun, and its crew is paid. A shift whose end is before its
    start works through the night, and belongs to the day on which it starts.
    """

    time_zone: Annotated[str, Meta(min_length=1, max_length=64)] = "UTC"
    shift_start: ClockTime = "08:00"
    shift_end: ClockTime = "16:00"
    breaks: Annotated[tuple[ShiftBreak, ...], Meta(max_length=8)] = ()
    working_days: Annotated[tuple[Weekday, ...], Meta(min_length=1, max_length=7)] = (
        "mon",
        "tue",
        "wed",
        "thu",
        "fri",
    )
    holidays: Holidays | None = None
    closed_dates: Annotated[tuple[date, ...], Meta(max_length=1_000)] = ()
    closed_periods: Annotated[tuple[ClosedPeriod, ...], Meta(max_length=100)] = ()


class Discount(Input, frozen=True, kw_only=True):
    """What is taken off the price, and why: exactly one of `percent` and `amount`.

    Every percentage is of the price before any discount, so that their order does not matter.
    """

    reason: Label
    percent: Percent | None = None
    amount: PositiveExact | None = None


class OfferRounding(Input, frozen=True, kw_only=True):
    """The net price is brought to a whole number of steps, but not under the minimum charge."""

    step: PositiveExact
    mode: Literal["nearest", "up"] = "nearest"


class TaxExemption(Input, frozen=True, kw_only=True):
    """Why this buyer pays no tax on the sale, with the category code of UNTDID 5305.

    "E" is exempt, "AE" reverse charge, "K" supply within a customs union, "G" export, "O" outside
    of the tax. `certificate` is the number of the buyer's proof.
    """

    reason: Label
    code: Literal["E", "AE", "K", "G", "O"] = "E"
    certificate: Label | None = None


class Terms(Input, frozen=True, kw_only=True):
    """Overhead as a share of cost, and either a markup on cost or a margin on price.

    Then `discounts` are taken off; what is left is at least the `minimum_charge`, and is brought to
    a step by `rounding`. The taxes are those of `tax_place` that are in force on `taxed_on`, or
    else on the day of the prices: all that hold without being asked for, or those that `tax_rules`
    names by id.
    """

    overhead_percent: Percent = Percent("0")
    contingency_percent: Percent = Percent("0")
    markup_percent: Percent | None = None
    margin_percent: Percent | None = None
    minimum_charge: NonNegativeExact | None = None
    discounts: Annotated[tuple[Discount, ...], Meta(max_length=10)] = ()
    rounding: OfferRounding | None = None
    materials: Literal["packs_bought", "used_share"] = "packs_bought"
    tax_place: Label | None = None
    tax_rules: Annotated[tuple[Identifier, ...], Meta(max_length=8)] = ()
    taxed_on: date | None = None
    exemption: TaxExemption | None = None


class Subcontract(Input, frozen=True, kw_only=True):
    """Work bought in: its cost in the job's currency, before overhead and gain.

    `unit` is a code of UNECE Recommendation 20.
    """

    id: Identifier
    description: Label
    quantity: PositiveExact = PositiveExact("1")
    unit: SaleUnit = "C62"
    unit_cost: NonNegativeExact


class LayerChange(Input, frozen=True, kw_only=True):
    """A layer of the system laid otherwise: exactly one of dry film, wet film and spread rate.

    `vertical` is in the same measure, wet where a spread rate is given; left out, verticals keep
    the film that the system states. A film outside the product's range is refused, or where it is
    too thick for one coat split into equal passes, which are coats of their own.
    """

    layer: Identifier
    dry_film: PositiveThickness | None = None
    wet_film: PositiveThickness | None = None
    spread_rate: PositiveSpreadRate | None = None
    vertical: PositiveThickness | None = None
    passes: Literal["refuse", "split"] = "refuse"


class StockLot(Input, frozen=True, kw_only=True):
    """Something in store: so many of a `pack`, or so much of a `part` of the product.

    `expires` is the last day on which it may be used. Entries of one `lot` are of one colour.
    """

    product: Identifier
    pack: Identifier | None = None
    count: Annotated[int, Meta(ge=1, le=10_000)] | None = None
    part: Identifier | None = None
    volume: PositiveVolume | None = None
    mass: PositiveMass | None = None
    lot: Label | None = None
    expires: date | None = None


class Job(Input, frozen=True, kw_only=True):
    """One coating system on one site, with `layers` laid otherwise than it states.

    `crew` may be empty: then two people of the rate book's first class are taken, and the result
    says so; or, of the people `available`, the smallest crew that places every mix in time and
    each coat in as few sections as all of them would, the first in the list first. `start` is the first day on which work may begin; stages that give no dates do
    without it. `priced_on` is the day whose prices hold: left out, it is `start`, or else the day
    the catalogue revision was made, so that the same request always finds the same prices. Prices
    are those of the list of the `price_tier`; a pack that it does not price has that of the usual
    list. `stock` is used before anything is bought.

    A `forecast`, in order of time, gives dates their weather: each coat waits for its first good
    window, and cures as warm as it is. Where it ends, the `months` go on, and where these are
    silent, the `conditions`. Without any of the three beyond a forecast, nothing is placed there.
    `missed_recoat` says what is done where a coat would come after the recoat maximum of the coat
    below: abrade the floor first, or hold the coat below back until both fit.
    """

    system: Identifier
    layers: Annotated[tuple[LayerChange, ...], Meta(max_length=12)] = ()
    rate_book: Identifier | None = None
    conditions: Conditions | None = None
    forecast: Annotated[tuple[ForecastStep, ...], Meta(max_length=2_400)] = ()
    months: Annotated[tuple[MonthConditions, ...], Meta(max_length=12)] = ()
    missed_recoat: Literal["abrade", "hold_back"] = "abrade"
    crew: Annotated[tuple[CrewMember, ...], Meta(max_length=20)] = ()
    available: Annotated[tuple[CrewMember, ...], Meta(max_length=20)] = ()
    calendar: WorkCalendar = WorkCalendar()
    start: date | None = None
    priced_on: date | None = None
    stock: Annotated[tuple[StockLot, ...], Meta(max_length=200)] = ()
    currency: Currency = Currency("USD")
    price_tier: Identifier | None = None
    subcontracts: Annotated[tuple[Subcontract, ...], Meta(max_length=1_000)] = ()
    terms: Terms = Terms()
