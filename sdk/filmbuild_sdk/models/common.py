"""What the service is sent and what it answers: common.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

import datetime as dt
from collections.abc import Sequence
from decimal import Decimal
from typing import Any, Literal

from msgspec import UNSET, UnsetType

from filmbuild_sdk.values import Answer, Choice, Input, Moment, Money, Quantity


class PriceBreak(Input, frozen=True, kw_only=True):
    """From so many packs on, what each pack of the whole order costs."""

    from_packs: int
    amount: Decimal


class PaymentTerm(Input, frozen=True, kw_only=True):
    """A part of the offer: `percent` of it, or what the other parts leave.

    Those "per_visit" are split equally over the visits. `due_days` run from the occasion: from the
    end of the work for a "retention", which is held back for as long.
    """

    id: str
    label: str
    occasion: Choice[Literal["on_acceptance", "on_completion", "per_visit", "retention"]]
    due_days: int | UnsetType = UNSET  # left out: 0
    percent: Decimal | None = None


class Fault(Answer, frozen=True, kw_only=True):
    """One thing wrong with the input.

    `pointer` is an RFC 6901 JSON Pointer ("" is the whole body), `code` is stable, and `detail`
    says what was wrong and what would be accepted.
    """

    pointer: str
    code: str
    detail: str


class Caution(Answer, frozen=True, kw_only=True):
    """A hazard of the work, with its published source; never a statement that the work is safe."""

    code: str
    title: str
    detail: str
    source: str
    applies_to: tuple[str, ...] = ()


class Note(Answer, frozen=True, kw_only=True):
    """Something assumed, or something this estimate does not cover, said in plain words."""

    code: str
    detail: str


class Trace(Answer, frozen=True, kw_only=True):
    """How a figure came about.

    `rule` names a `Rule`. `inputs` are the values it was applied to: quantities, plain numbers, or
    the names of the records they were read from. Which catalogue revision those records belong to
    is `catalogue_revision`; it is absent where the rule read nothing from the catalogue.
    """

    rule: str
    catalogue_revision: int | None = None
    inputs: dict[str, Any] = {}


class PackLine(Answer, frozen=True, kw_only=True):
    pack: str
    name: str
    count: int
    unit_price: Money
    amount: Money


class CrewMember(Input, frozen=True, kw_only=True):
    """How many people of one labour class of the rate book are on site."""

    labour_class: str
    count: int


class ShiftBreak(Input, frozen=True, kw_only=True):
    """An unpaid pause of the whole crew."""

    start: str
    end: str


class ClosedPeriod(Input, frozen=True, kw_only=True):
    """Days on which no work is done, the first and the last among them."""

    first: dt.date
    last: dt.date


class Holidays(Input, frozen=True, kw_only=True):
    """Public holidays by ISO 3166-1 country and, where they differ, ISO 3166-2 subdivision."""

    country: str
    subdivision: str | None = None


class WorkCalendar(Input, frozen=True, kw_only=True):
    """Local working hours; `time_zone` is an IANA name.

    `breaks` lie inside the shift, in order and apart. Work stops for them, except that a coat
    goes on through them once it has begun, and its crew is paid. A shift whose end is before its
    start works through the night, and belongs to the day on which it starts.
    """

    breaks: Sequence[ShiftBreak] = ()
    closed_dates: Sequence[dt.date] = ()
    closed_periods: Sequence[ClosedPeriod] = ()
    holidays: Holidays | None = None
    shift_end: str | UnsetType = UNSET  # left out: "16:00"
    shift_start: str | UnsetType = UNSET  # left out: "08:00"
    time_zone: str | UnsetType = UNSET  # left out: "UTC"
    working_days: (
        Sequence[Choice[Literal["fri", "mon", "sat", "sun", "thu", "tue", "wed"]]] | UnsetType
    ) = UNSET  # left out: ["mon", "tue", "wed", "thu", "fri"]


class Conditions(Input, frozen=True, kw_only=True):
    """Air and surface while the floor is laid, taken as constant over the job."""

    air_temperature: Quantity | str | UnsetType = UNSET  # left out: {"unit": "degC", "value": 20.0}
    relative_humidity_percent: float | UnsetType = UNSET  # left out: 50.0
    surface_temperature: Quantity | str | UnsetType = (
        UNSET  # left out: {"unit": "degC", "value": 20.0}
    )


class ForecastStep(Input, frozen=True, kw_only=True):
    """Air and floor from `at` until the next step; the surface follows the air if left out."""

    at: Moment
    air_temperature: Quantity | str
    relative_humidity_percent: float
    surface_temperature: Quantity | str | None = None


class LayerChange(Input, frozen=True, kw_only=True):
    """A layer of the system laid otherwise: exactly one of dry film, wet film and spread rate.

    `vertical` is in the same measure, wet where a spread rate is given; left out, verticals keep
    the film that the system states. A film outside the product's range is refused, or where it is
    too thick for one coat split into equal passes, which are coats of their own.
    """

    layer: str
    dry_film: Quantity | str | None = None
    passes: Choice[Literal["refuse", "split"]] | UnsetType = UNSET  # left out: "refuse"
    spread_rate: Quantity | str | None = None
    vertical: Quantity | str | None = None
    wet_film: Quantity | str | None = None


class MonthConditions(Input, frozen=True, kw_only=True):
    """Design values of a calendar month, 1 being January."""

    month: int
    air_temperature: Quantity | str
    relative_humidity_percent: float
    surface_temperature: Quantity | str | None = None


class StockLot(Input, frozen=True, kw_only=True):
    """Something in store: so many of a `pack`, or so much of a `part` of the product.

    `expires` is the last day on which it may be used. Entries of one `lot` are of one colour.
    """

    product: str
    count: int | None = None
    expires: dt.date | None = None
    lot: str | None = None
    mass: Quantity | str | None = None
    pack: str | None = None
    part: str | None = None
    volume: Quantity | str | None = None


class Subcontract(Input, frozen=True, kw_only=True):
    """Work bought in: its cost in the job's currency, before overhead and gain.

    `unit` is a code of UNECE Recommendation 20.
    """

    id: str
    description: str
    unit_cost: Decimal
    quantity: Decimal | UnsetType = UNSET  # left out: "1"
    unit: (
        Choice[
            Literal[
                "C62",
                "DAY",
                "EA",
                "FOT",
                "FTK",
                "FTQ",
                "GLL",
                "HUR",
                "KGM",
                "LBR",
                "LS",
                "LTR",
                "MTK",
                "MTQ",
                "MTR",
                "TNE",
                "WEE",
                "YDK",
                "YDQ",
                "YRD",
            ]
        ]
        | UnsetType
    ) = UNSET  # left out: "C62"


class Discount(Input, frozen=True, kw_only=True):
    """What is taken off the price, and why: exactly one of `percent` and `amount`.

    Every percentage is of the price before any discount, so that their order does not matter.
    """

    reason: str
    amount: Decimal | None = None
    percent: Decimal | None = None


class TaxExemption(Input, frozen=True, kw_only=True):
    """Why this buyer pays no tax on the sale, with the category code of UNTDID 5305.

    "E" is exempt, "AE" reverse charge, "K" supply within a customs union, "G" export, "O" outside
    of the tax. `certificate` is the number of the buyer's proof.
    """

    reason: str
    certificate: str | None = None
    code: Choice[Literal["AE", "E", "G", "K", "O"]] | UnsetType = UNSET  # left out: "E"


class OfferRounding(Input, frozen=True, kw_only=True):
    """The net price is brought to a whole number of steps, but not under the minimum charge."""

    step: Decimal
    mode: Choice[Literal["nearest", "up"]] | UnsetType = UNSET  # left out: "nearest"


class Terms(Input, frozen=True, kw_only=True):
    """Overhead as a share of cost, and either a markup on cost or a margin on price.

    Then `discounts` are taken off; what is left is at least the `minimum_charge`, and is brought to
    a step by `rounding`. The taxes are those of `tax_place` that are in force on `taxed_on`, or
    else on the day of the prices: all that hold without being asked for, or those that `tax_rules`
    names by id.
    """

    contingency_percent: Decimal | UnsetType = UNSET  # left out: "0"
    discounts: Sequence[Discount] = ()
    exemption: TaxExemption | None = None
    margin_percent: Decimal | None = None
    markup_percent: Decimal | None = None
    materials: Choice[Literal["packs_bought", "used_share"]] | UnsetType = (
        UNSET  # left out: "packs_bought"
    )
    minimum_charge: Decimal | None = None
    overhead_percent: Decimal | UnsetType = UNSET  # left out: "0"
    rounding: OfferRounding | None = None
    tax_place: str | None = None
    tax_rules: Sequence[str] = ()
    taxed_on: dt.date | None = None


class Job(Input, frozen=True, kw_only=True):
    """One coating system on one site, with `layers` laid otherwise than it states.

    `crew` may be empty: then two people of the rate book's first class are taken, and the result
    says so; or, of the people `available`, the smallest crew that places every mix in time and
    each coat in as few sections as all of them would, the first in the list first. `start` is the
    first day on which work may begin; stages that give no dates do
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

    system: str
    available: Sequence[CrewMember] = ()
    calendar: WorkCalendar | UnsetType = UNSET
    conditions: Conditions | None = None
    crew: Sequence[CrewMember] = ()
    currency: str | UnsetType = UNSET  # left out: "USD"
    forecast: Sequence[ForecastStep] = ()
    layers: Sequence[LayerChange] = ()
    missed_recoat: Choice[Literal["abrade", "hold_back"]] | UnsetType = UNSET  # left out: "abrade"
    months: Sequence[MonthConditions] = ()
    price_tier: str | None = None
    priced_on: dt.date | None = None
    rate_book: str | None = None
    start: dt.date | None = None
    stock: Sequence[StockLot] = ()
    subcontracts: Sequence[Subcontract] = ()
    terms: Terms | UnsetType = UNSET


class WallOpening(Input, frozen=True, kw_only=True):
    """A part of a base wall that is not coated; without `height` as high as the base wall."""

    width: Quantity | str
    count: int | UnsetType = UNSET  # left out: 1
    height: Quantity | str | None = None


class BaseWall(Input, frozen=True, kw_only=True):
    """Coated wall foot or footing."""

    height: Quantity | str
    length: Quantity | str | None = None
    offset: Quantity | str | None = None
    openings: Sequence[WallOpening] = ()
    side: int | None = None


class Spot(Input, frozen=True, kw_only=True):
    """A point in the coordinates of the area's outline.

    Of an outline without an origin these start at its own first corner.
    """

    x: Quantity | str
    y: Quantity | str


class Collar(Input, frozen=True, kw_only=True):
    """A pipe or post that stands on the floor and is coated to this height.

    Its middle stands `at` a place on the floor.
    """

    height: Quantity | str
    along: Choice[Literal["x", "y"]] | UnsetType = UNSET  # left out: "x"
    at: Spot | None = None
    count: int | UnsetType = UNSET  # left out: 1
    diameter: Quantity | str | None = None
    length: Quantity | str | None = None
    width: Quantity | str | None = None


class Cover(Input, frozen=True, kw_only=True):
    """Something to be covered with sheeting: stock, a machine, floor that stays as it is."""

    length: Quantity | str
    width: Quantity | str
    count: int | UnsetType = UNSET  # left out: 1


class Cove(Input, frozen=True, kw_only=True):
    """Concave cove base: a quarter circle and, where `height` is given, a straight face above it.

    `height` is the whole height of the cove, radius included.
    """

    radius: Quantity | str
    height: Quantity | str | None = None
    length: Quantity | str | None = None
    offset: Quantity | str | None = None
    side: int | None = None


class PlanPath(Input, frozen=True, kw_only=True):
    """A line from point to point in the coordinates of the area's outline, as of a polygon."""

    vertices: Sequence[tuple[float | str, float | str]]
    unit: Choice[Literal["cm", "ft", "in", "m", "mm", "yd"]] | None = None


class Crack(Input, frozen=True, kw_only=True):
    """A crack to be chased and filled: the section is that of the chase.

    `sand_fraction` is the share of the void that grains of dry sand fill; where it is given it goes
    before the one of the system.
    """

    width: Quantity | str
    depth: Quantity | str
    length: Quantity | str | None = None
    path: PlanPath | None = None
    sand_fraction: float | None = None
    section: Choice[Literal["square", "v"]] | UnsetType = UNSET  # left out: "v"


class Curb(Input, frozen=True, kw_only=True):
    """A coated curb: both faces and its top."""

    length: Quantity | str
    height: Quantity | str
    width: Quantity | str
    faces: int | UnsetType = UNSET  # left out: 2


class Doorway(Input, frozen=True, kw_only=True):
    """An opening in a wall, `offset` from the start of its side; of island `island` where given.

    `to` is the area on the other side; without it the doorway leads to the area found facing it
    on the plan, or off the coated floor where there is none. A doorway may be given from both
    rooms and is still one: it is recognised by the plan, by `id`, or by each room naming the
    other. The coating "runs_through", or "stops" under the leaf. `door` says that there is a leaf
    to be kept shut against dust and on curing floor; `exit` that the crew leaves here, to the
    outside or on to floor that is not coated. `height` is needed where there is no leaf and a
    dust barrier has to be hung.
    """

    side: int
    width: Quantity | str
    coating: Choice[Literal["runs_through", "stops"]]
    door: bool | UnsetType = UNSET  # left out: false
    exit: bool | UnsetType = UNSET  # left out: false
    height: Quantity | str | None = None
    id: str | None = None
    island: int | None = None
    offset: Quantity | str | UnsetType = UNSET  # left out: {"unit": "m", "value": 0.0}
    to: str | None = None


class Drain(Input, frozen=True, kw_only=True):
    """A drain, gully or cover of this size that stays uncoated.

    Its rim is an open edge of the floor. Its middle lies `at` a place on the floor.
    """

    along: Choice[Literal["x", "y"]] | UnsetType = UNSET  # left out: "x"
    at: Spot | None = None
    count: int | UnsetType = UNSET  # left out: 1
    diameter: Quantity | str | None = None
    length: Quantity | str | None = None
    width: Quantity | str | None = None


class EdgeStretch(Input, frozen=True, kw_only=True):
    """A stretch of one side that is not plain wall.

    `offset` is measured from the start of the side; without `length` the stretch runs to its end.
    `joined` means that the coating runs on into another coated area, named in `joins` when it is
    on this site. `exit` marks where the crew leaves.
    """

    side: int
    kind: Choice[Literal["joined", "open", "wall"]]
    exit: bool | UnsetType = UNSET  # left out: false
    joins: str | None = None
    length: Quantity | str | None = None
    offset: Quantity | str | None = None


class ExistingCoating(Input, frozen=True, kw_only=True):
    """Coating to be stripped, a task of its own; without `area`, from the whole floor."""

    area: Quantity | str | None = None
    thickness: Quantity | str | None = None


class SurfaceFill(Input, frozen=True, kw_only=True):
    """Worn or low floor to be made up by a mean depth; without `area`, the whole floor."""

    depth: Quantity | str
    area: Quantity | str | None = None


class Origin(Input, frozen=True, kw_only=True):
    """Where the first corner lies in the plan of its level."""

    x: Quantity | str
    y: Quantity | str


class Rectangle(Input, frozen=True, kw_only=True, tag_field="kind", tag="rectangle"):
    """Length runs along x and width along y from `origin`.

    Sides are numbered from 0: along the length at the origin, then round against the clock.
    Without an origin the rectangle is measured but not placed on the plan: its own corner is
    (0, 0) for its islands, and it is not compared with other areas for overlap.
    """

    length: Quantity | str
    width: Quantity | str
    origin: Origin | None = None


class LShape(Input, frozen=True, kw_only=True, tag_field="kind", tag="l_shape"):
    """An L by four of its walls, as a tape gives them; the two walls of the inner corner follow.

    The corner where the two full walls meet lies at `origin`. Side 0 is `length`, along x; side 1,
    `end_width`, is the short wall at its far end; sides 2 and 3 are those of the inner corner;
    side 4, `end_length`, is the short wall at the far end of the width; side 5 is `width`, along
    y, back to the origin. `rotation` turns the L about its first corner, against the clock, so
    that its notch may lie in any corner; the numbers of the sides go with it.
    """

    length: Quantity | str
    width: Quantity | str
    end_width: Quantity | str
    end_length: Quantity | str
    origin: Origin | None = None
    rotation: Literal[0, 90, 180, 270] | UnsetType = UNSET  # left out: 0


class TShape(Input, frozen=True, kw_only=True, tag_field="kind", tag="t_shape"):
    """A T by its walls: a bar along x, and a stem that leaves it in the direction of y.

    Side 0 is the bar's long wall, `length`, from `origin`; side 1 its end, `bar_width`; side 2 the
    far shoulder; sides 3 and 5 the stem's walls, `stem_length`; side 4 the stem's end,
    `stem_width`; side 6 the near `shoulder`; side 7 the bar's other end, back to the origin.
    Without `shoulder` the stem leaves the middle of the bar. `rotation` is as of an L.
    """

    length: Quantity | str
    bar_width: Quantity | str
    stem_width: Quantity | str
    stem_length: Quantity | str
    origin: Origin | None = None
    rotation: Literal[0, 90, 180, 270] | UnsetType = UNSET  # left out: 0
    shoulder: Quantity | str | None = None


class Polygon(Input, frozen=True, kw_only=True, tag_field="kind", tag="polygon"):
    """Vertices in order round the outline, not repeated at the end; side n starts at vertex n.

    Each coordinate is a number in `unit`, or a quantity as text such as "24 ft 6 in".
    """

    vertices: Sequence[tuple[float | str, float | str]]
    unit: Choice[Literal["cm", "ft", "in", "m", "mm", "yd"]] | None = None


class WellKnownText(Input, frozen=True, kw_only=True, tag_field="kind", tag="wkt"):
    """A POLYGON in the well-known text of OGC 06-103r4, planar, in `unit`.

    Rings are closed: their last vertex repeats the first. Side n starts at vertex n of the
    exterior ring. Interior rings are islands, after those that the area names itself, and their
    edges are of the kind `interior_edge`.
    """

    unit: Choice[Literal["cm", "ft", "in", "m", "mm", "yd"]]
    text: str
    interior_edge: Choice[Literal["open", "wall"]] | UnsetType = UNSET  # left out: "wall"


class Island(Input, frozen=True, kw_only=True):
    """Floor inside the outline that is not coated: a column, a pad, a machine foot, a drain."""

    outline: Rectangle | LShape | TShape | Polygon | WellKnownText
    edge: Choice[Literal["open", "wall"]] | UnsetType = UNSET  # left out: "wall"
    name: str | None = None


class Joint(Input, frozen=True, kw_only=True):
    """A control or expansion joint: filled, honoured (left working), or coated over.

    A control joint lets the slab crack in a straight line; an expansion joint goes right through
    it and goes on moving.
    """

    width: Quantity | str
    depth: Quantity | str
    kind: Choice[Literal["control", "expansion"]] | UnsetType = UNSET  # left out: "control"
    length: Quantity | str | None = None
    path: PlanPath | None = None
    treatment: Choice[Literal["coat_over", "fill", "honour"]] | UnsetType = (
        UNSET  # left out: "fill"
    )


class Opening(Input, frozen=True, kw_only=True):
    """An opening without a door that needs a dust barrier."""

    width: Quantity | str
    height: Quantity | str


class Pit(Input, frozen=True, kw_only=True):
    """A pit or trench: its floor takes the place of the floor that it is sunk in.

    `ends` counts the ends of a trench, sides of `width`, that are coated. The top of the sides,
    down to `rebate`, carries a grating or cover and stays uncoated. A pit with `floor_coated`
    false is coated on its sides alone. Its corner of least x and y lies `at` a place on the floor;
    of a round one, that of the square round it.
    """

    depth: Quantity | str
    along: Choice[Literal["x", "y"]] | UnsetType = UNSET  # left out: "x"
    at: Spot | None = None
    count: int | UnsetType = UNSET  # left out: 1
    diameter: Quantity | str | None = None
    ends: int | UnsetType = UNSET  # left out: 2
    floor_coated: bool | UnsetType = UNSET  # left out: true
    length: Quantity | str | None = None
    rebate: Quantity | str | None = None
    width: Quantity | str | None = None


class Slope(Input, frozen=True, kw_only=True):
    """Floor that is not level: a ramp, or falls to a drain. It is larger than its plan.

    State it in one of three ways: `percent`, `ratio` (the run to a rise of one: 12 is 1 in 12), or
    `rise` over `run`. Without `plan_area` the whole area slopes.
    """

    percent: float | None = None
    plan_area: Quantity | str | None = None
    ratio: float | None = None
    rise: Quantity | str | None = None
    run: Quantity | str | None = None


class Spall(Input, frozen=True, kw_only=True):
    """Broken-out surface to be patched to a mean depth."""

    area: Quantity | str
    depth: Quantity | str


class StepFlight(Input, frozen=True, kw_only=True):
    """A flight of equal steps; there is one tread fewer than there are risers.

    Treads are floor. They are usually inside the outline already; "added" treads are not and need
    their `going`. `open_sides` stand free of walls; with `coat_open_sides` their stepped faces are
    coated, which needs the `going`. A flight stands on the floor, its sides solid, unless `waist`
    gives the thickness of the slab below its steps, square to the slope. Treads in the outline
    are drawn where `at` gives the corner of least x and y of all treads together, and `up` the
    way that the flight rises.
    """

    risers: int
    width: Quantity | str
    rise: Quantity | str
    at: Spot | None = None
    coat_open_sides: bool | UnsetType = UNSET  # left out: false
    going: Quantity | str | None = None
    nosing: Quantity | str | None = None
    open_sides: int | UnsetType = UNSET  # left out: 0
    treads: Choice[Literal["added", "in_outline"]] | UnsetType = UNSET  # left out: "in_outline"
    up: Choice[Literal["-x", "-y", "x", "y"]] | UnsetType = UNSET  # left out: "y"
    waist: Quantity | str | None = None


class MoistureReading(Input, frozen=True, kw_only=True):
    """A moisture test result: emission by ASTM F1869 or relative humidity by ASTM F2170."""

    emission: Quantity | str | None = None
    relative_humidity_percent: float | None = None


class SandPatch(Input, frozen=True, kw_only=True):
    """One reading of surface texture by ASTM E965: so much sand was spread to a round patch.

    The patch is measured across in at least four directions.
    """

    volume: Quantity | str
    diameters: Sequence[Quantity | str]


class Substrate(Input, frozen=True, kw_only=True):
    """The concrete. `profile` is the ICRI concrete surface profile after preparation.

    The depth of its texture is `texture_depth` where that is given, else the mean of the
    `sand_patches`, else what is assumed for the `profile`; without any of them nothing is added
    for texture. `existing_coating` says that the floor is coated and that grinding takes it off, at
    the rate book's slower pace; list the area's `existing_coatings` to strip them beforehand.
    """

    age_days: int | None = None
    existing_coating: bool | UnsetType = UNSET  # left out: false
    hardness: Choice[Literal["hard", "medium", "soft"]] | UnsetType = UNSET  # left out: "medium"
    moisture: Sequence[MoistureReading] = ()
    porosity: Choice[Literal["high", "low", "medium"]] | UnsetType = UNSET  # left out: "medium"
    profile: int | None = None
    sand_patches: Sequence[SandPatch] = ()
    texture_depth: Quantity | str | None = None


class SiteArea(Input, frozen=True, kw_only=True):
    """One room, bay or run of floor. Areas of one `level` share a plan and may not overlap.

    `place_before` names areas that may only be coated after this one. `access` is hard where
    people, machines and materials get there slowly: by stairs, through hatches, between machines.
    """

    id: str
    outline: Rectangle | LShape | TShape | Polygon | WellKnownText
    access: Choice[Literal["hard", "plain"]] | UnsetType = UNSET  # left out: "plain"
    base_walls: Sequence[BaseWall] = ()
    collars: Sequence[Collar] = ()
    covers: Sequence[Cover] = ()
    coves: Sequence[Cove] = ()
    cracks: Sequence[Crack] = ()
    curbs: Sequence[Curb] = ()
    doorways: Sequence[Doorway] = ()
    drains: Sequence[Drain] = ()
    edges: Sequence[EdgeStretch] = ()
    existing_coatings: Sequence[ExistingCoating] = ()
    fills: Sequence[SurfaceFill] = ()
    islands: Sequence[Island] = ()
    joints: Sequence[Joint] = ()
    level: str | UnsetType = UNSET  # left out: "ground"
    name: str | None = None
    openings: Sequence[Opening] = ()
    pits: Sequence[Pit] = ()
    place_before: Sequence[str] = ()
    slopes: Sequence[Slope] = ()
    spalls: Sequence[Spall] = ()
    steps: Sequence[StepFlight] = ()
    substrate: Substrate | None = None


class Join(Input, frozen=True, kw_only=True):
    """Two areas without a wall between them: the coating runs on wherever their outlines meet."""

    between: tuple[str, str]


class Sheeting(Input, frozen=True, kw_only=True):
    """The sheet that barriers and covers are made of.

    Neighbouring sheets of this `width` overlap by `overlap`; the outer edges run past what is
    closed or covered by `lap` on every side.
    """

    width: Quantity | str
    lap: Quantity | str | UnsetType = UNSET  # left out: {"unit": "mm", "value": 0.0}
    overlap: Quantity | str | UnsetType = UNSET  # left out: {"unit": "mm", "value": 0.0}


class Site(Input, frozen=True, kw_only=True):
    """The whole job's floor; `substrate` holds for each area that states none of its own."""

    areas: Sequence[SiteArea]
    cut_in_width: Quantity | str | UnsetType = UNSET  # left out: {"unit": "mm", "value": 230.0}
    hand_grind_width: Quantity | str | UnsetType = UNSET  # left out: {"unit": "mm", "value": 100.0}
    joins: Sequence[Join] = ()
    name: str | UnsetType = UNSET  # left out: "Site"
    sheeting: Sheeting | None = None
    substrate: Substrate | UnsetType = UNSET


class Basis(Answer, frozen=True, kw_only=True):
    """The job that a document was computed for, with what was assumed where the job left a choice.

    A stage that is handed the document refuses a job that differs in anything its figures depend
    on.
    """

    system: str
    rate_book: str
    currency: str
    conditions: Conditions
    crew: tuple[CrewMember, ...]
    calendar: WorkCalendar
    start: dt.date | None
    layers: tuple[LayerChange, ...] = ()
    price_tier: str | None = None
    stock: tuple[StockLot, ...] = ()


class CureTimes(Answer, frozen=True, kw_only=True):
    """A layer's times at the job's temperature, counted from the end of placing."""

    recoat_after: dt.timedelta
    recoat_before: dt.timedelta | None
    foot_traffic: dt.timedelta
    vehicle_traffic: dt.timedelta
    full_cure: dt.timedelta
    how: str
    trace: Trace


class Activity(Answer, frozen=True, kw_only=True):
    """A piece of the schedule: follows the activities of `after`, by a crew that does one at a time.

    With `waits_for_cure` it begins no sooner than the recoat minimum of each of those that has a
    `cure`, in elapsed time; with `waits_for_drying` it also waits until each of those that has a
    `dry_for` has dried that long. A coat that directly follows a coat also begins before that one's
    recoat maximum, or else the floor is abraded first. A `one_shift` activity is done without a
    break inside one shift. Coats that are placed section by section have the number of theirs.
    Tasks
    that go on `side_by_side` take as long as the longest of them, other tasks their sum.
    """

    id: str
    name: str
    layer: str | None
    duration: dt.timedelta
    one_shift: bool
    after: tuple[str, ...]
    cure: CureTimes | None
    dry_for: dt.timedelta | None = None
    section: int | None = None
    side_by_side: bool = False
    waits_for_cure: bool = True
    waits_for_drying: bool = True


class ConsumableLine(Answer, frozen=True, kw_only=True):
    """So many of one thing, and what moved the number."""

    id: str
    name: str
    kind: str
    stage: str
    count: int
    unit: str
    unit_price: Money
    amount: Money
    trace: Trace
    grit: int | None = None


class EquipmentCost(Answer, frozen=True, kw_only=True):
    equipment: str
    name: str
    used: Quantity
    days: int
    day_rate: Money
    amount: Money
    trace: Trace


class LabourCost(Answer, frozen=True, kw_only=True):
    """Paid hours of all people of one class at one rate; overtime stands in a record of its own."""

    labour_class: str
    name: str
    paid: Quantity
    overtime: bool
    rate_per_hour: Money
    amount: Money
    trace: Trace


class Section(Answer, frozen=True, kw_only=True):
    """A part of the floor that is coated in one go, where a whole coat is too long for a shift.

    `shares` says of each of its `areas` how much of it lies in this section. The coats end at
    `ends_at`, until the next section is placed there; the last one ends with the floor. `longest`
    is the time of its longest coat.
    """

    number: int
    areas: tuple[str, ...]
    shares: tuple[float, ...]
    floor: Quantity
    ends_at: str
    longest: dt.timedelta
    trace: Trace


class Task(Answer, frozen=True, kw_only=True):
    """Work of one kind. `labour` counts every worker's time; `duration` is the crew's.

    `activity` names the piece of the schedule it belongs to: tasks of one activity are done
    together. Each of the `gangs` has machines of its own, of `machine_width` where that matters.
    `quantity` is in the unit of the task's driver. `set_up` is part of the duration.
    Those of `beside` go on at the same time, by others of the crew with other machines.
    """

    id: str
    code: str
    name: str
    activity: str
    layer: str | None
    method: str
    quantity: Quantity | None
    count: float | None
    gangs: int
    workers: int
    labour: Quantity
    duration: dt.timedelta
    equipment: tuple[str, ...]
    reason: str
    trace: Trace
    beside: tuple[str, ...] = ()
    machine_width: Quantity | None = None
    set_up: dt.timedelta = dt.timedelta(seconds=0.0)


class Labour(Answer, frozen=True, kw_only=True):
    """Tasks and the activities they form.

    Without dates, the costs are those of crew time packed into full shifts, in one visit. Those of
    the days on which the work falls come with the schedule. `sections` is empty where each coat
    is placed over the whole floor at once.
    """

    labour: tuple[LabourCost, ...]
    equipment: tuple[EquipmentCost, ...]
    travel: Money
    consumables: tuple[ConsumableLine, ...]
    productive: Quantity
    paid: Quantity
    shifts: int
    visits: int
    traces: dict[str, Trace]
    rate_book: str
    crew: int
    tasks: tuple[Task, ...]
    activities: tuple[Activity, ...]
    sections: tuple[Section, ...] = ()


class AggregateAmount(Answer, frozen=True, kw_only=True):
    """Dry aggregate: thrown into a coat, or filling the void of a repair.

    Of what is placed, `retained` stays and `swept` does not; `reclaimed` is the part of what is
    swept that can be used again.
    """

    layer: str
    product: str
    rate: Quantity | None
    placed: Quantity
    retained: Quantity
    swept: Quantity
    reclaimed: Quantity
    ordered: Quantity
    trace: Trace


class PartAmount(Answer, frozen=True, kw_only=True):
    """An amount of one part, by volume and by mass."""

    part: str
    volume: Quantity
    mass: Quantity


class Mix(Answer, frozen=True, kw_only=True):
    """One mix, in placing order: what goes in, how long it may be worked, and what it covers.

    What stays in the container is in `volume`, and covers nothing. `starts_at`, `down_by` and
    `wet_edge_by` count from the start of the coat, when the first part is first stirred: parts are
    put together at `starts_at`, after `premix_time`, and are placed once they are mixed; all must
    be down by `down_by`. `wet_edge_by` is when placing of the next mix must have begun, where it
    goes on in the same area. `placed_by` has the numbers of the gangs.
    """

    number: int
    whole_kit: str | None
    volume: Quantity
    parts: tuple[PartAmount, ...]
    mixing_time: dt.timedelta
    working_life: dt.timedelta
    placing_time: dt.timedelta
    starts_at: dt.timedelta
    down_by: dt.timedelta
    covers: Quantity
    areas: tuple[str, ...]
    container: Quantity | None = None
    placed_by: tuple[int, ...] = ()
    premix_time: dt.timedelta = dt.timedelta(seconds=0.0)
    wet_edge_by: dt.timedelta | None = None


class LayerPass(Answer, frozen=True, kw_only=True):
    """Which pass of a layer a coat is, where the layer is laid in several."""

    layer: str
    number: int
    passes: int
    trace: Trace


class Placer(Answer, frozen=True, kw_only=True):
    """A gang at one task of placing, by its number: how many `people` of each labour class."""

    task: str
    gang: int
    people: dict[str, int]


class Coat(Answer, frozen=True, kw_only=True):
    """One coat over the site, or one repair product (`layer` then names the repair).

    `ordered_volume = net_volume / (1 - loss_fraction) + residue + soak`, where `net_volume` is
    film, texture, absorption and the voids among the grains below, or what fills the void of a
    repair. `pass_of` says which layer of the system a coat is part of that is laid in several
    passes, and `placers` who places, task by task. `traces` holds, per field that is not zero, how
    it was found; for the mixes also `mix_covers`, `mix_placing_time`, `mix_working_life` and
    `mix_sequence`.
    """

    layer: str
    name: str
    product: str
    kind: str
    dry_film: Quantity | None
    wet_film: Quantity | None
    spread_rate: Quantity | None
    floor: Quantity
    vertical: Quantity
    film_volume: Quantity
    texture_volume: Quantity
    absorption_volume: Quantity
    grain_volume: Quantity
    void_volume: Quantity
    net_volume: Quantity
    loss_fraction: float
    residue: Quantity
    soak: Quantity
    ordered_volume: Quantity
    parts: tuple[PartAmount, ...]
    mixes: tuple[Mix, ...]
    traces: dict[str, Trace]
    pass_of: LayerPass | None = None
    placers: tuple[Placer, ...] = ()


class SupplierOrder(Answer, frozen=True, kw_only=True):
    """All that is bought of one supplier, and what it asks beside the packs.

    `goods` is the cost of the packs and `gross_mass` theirs together, which is shipped for
    `freight`; where the goods cost less than the least order, `short_of_minimum` is charged on top.
    `proven` is false where the search for the least cost, freight and all, was cut off: no order
    costs less than `cost_at_least`.
    """

    supplier: str
    name: str
    products: tuple[str, ...]
    goods: Money
    gross_mass: Quantity
    freight: Money
    short_of_minimum: Money
    cost: Money
    proven: bool
    trace: Trace
    cost_at_least: Money | None = None


class RunnerUp(Answer, frozen=True, kw_only=True):
    """The best order with fewer of some pack than the one chosen, and how much dearer it is.

    Packs alone: where heavier packs were passed over to save freight it may be less dear than none.
    """

    packs: tuple[PackLine, ...]
    cost: Money
    dearer_by: Money


class StockDrawn(Answer, frozen=True, kw_only=True):
    """What is taken of one part from one lot in store."""

    lot: str | None
    expires: dt.date | None
    part: str
    amount: Quantity


class Purchase(Answer, frozen=True, kw_only=True):
    """All that the job buys of one product, whatever layers it serves.

    `needed`, `bought` and `surplus` are per part, as volume or as mass, the way its packs are sold.
    `used_share` is the part of `cost` that the need itself takes. `proven` is false where the
    search for the least cost was cut off: the packs cover the need, but others may cost less,
    though
    not less than `cost_at_least`. What is taken `from_stock` is not bought, and `surplus` is of
    what
    is bought: it is worth `surplus_value`, and keeps until the shelf life is over, counted from the
    day of the prices. `gross_mass` is of all packs bought. `runner_up` is left out where there is
    no other choice.
    """

    product: str
    name: str
    needed: dict[str, Quantity]
    bought: dict[str, Quantity]
    surplus: dict[str, Quantity]
    packs: tuple[PackLine, ...]
    cost: Money
    used_share: Money
    proven: bool
    trace: Trace
    cost_at_least: Money | None = None
    from_stock: dict[str, Quantity] = {}
    gross_mass: Quantity = Quantity(0.0, "kg")
    one_lot: bool = False
    runner_up: RunnerUp | None = None
    stock: tuple[StockDrawn, ...] = ()
    surplus_keeps_until: dt.date | None = None
    surplus_value: Money | None = None


class Materials(Answer, frozen=True, kw_only=True):
    system: str
    coats: tuple[Coat, ...]
    aggregates: tuple[AggregateAmount, ...]
    purchases: tuple[Purchase, ...]
    consumables: tuple[ConsumableLine, ...]
    orders: tuple[SupplierOrder, ...] = ()


class Scheduled(Answer, frozen=True, kw_only=True):
    """One activity on the calendar, in the site's time zone."""

    activity: str
    name: str
    start: Moment
    finish: Moment
    latest_start: Moment
    float_time: dt.timedelta
    critical: bool
    bound_by: str
    trace: Trace
    latest_finish: Moment | None = None


class AreaOpen(Answer, frozen=True, kw_only=True):
    """When an area opens again: `placed` is the end of its last coat.

    `return_to_service` is when it takes vehicles and the crew has left.
    """

    area: str
    placed: Moment
    foot_traffic: Moment
    vehicle_traffic: Moment
    full_cure: Moment
    return_to_service: Moment
    trace: Trace


class PlanBound(Answer, frozen=True, kw_only=True):
    """How good the plan is: no order of the same work ends before `finish_no_sooner_than`.

    `by_network` is the end by links, cures, shifts and weather with as many crews as it takes,
    and `by_crew` with one crew that never waits. `gap` is what the plan ends later, and is zero
    where it is the shortest there is.
    """

    by_network: Moment
    by_crew: Moment
    finish_no_sooner_than: Moment
    finish: Moment
    gap: dt.timedelta
    trace: Trace


class CoatReady(Answer, frozen=True, kw_only=True):
    """When a coat may be recoated, walked on and driven on.

    The dew point is that of the moment, from the start of placing until the coat takes another, at
    which the surface is least above it.
    """

    layer: str
    recoat_from: Moment
    recoat_until: Moment | None
    foot_traffic: Moment
    vehicle_traffic: Moment
    full_cure: Moment
    dew_point: Quantity
    surface_above_dew_point: Quantity
    trace: Trace
    section: int | None = None


class WorkedDay(Answer, frozen=True, kw_only=True):
    """A day on which the crew works, with the activities that it works on.

    `worked` is crew time, of which `paid` and `overtime` follow for each of its people; travel is
    not among them. `labour` is the time that people spend on tasks, and `people` the most that are
    at work at once.
    """

    date: dt.date
    visit: int
    activities: tuple[str, ...]
    worked: dt.timedelta
    paid: dt.timedelta
    overtime: dt.timedelta
    trace: Trace
    labour: Quantity = Quantity(0.0, "h")
    people: int = 0


class Schedule(Answer, frozen=True, kw_only=True):
    """Dates, and what people and machines cost on the days on which the work falls.

    `tasks` are those that the dates call for, beyond the tasks of the labour: the floor is abraded
    and cleaned where a recoat window is missed. Their hours, machines and consumables are among the
    costs.
    """

    labour: tuple[LabourCost, ...]
    equipment: tuple[EquipmentCost, ...]
    travel: Money
    consumables: tuple[ConsumableLine, ...]
    productive: Quantity
    paid: Quantity
    shifts: int
    visits: int
    traces: dict[str, Trace]
    tasks: tuple[Task, ...]
    days: tuple[WorkedDay, ...]
    time_zone: str
    first_day: dt.date
    last_day: dt.date
    activities: tuple[Scheduled, ...]
    coats: tuple[CoatReady, ...]
    critical_path: tuple[str, ...]
    foot_traffic_from: Moment
    vehicle_traffic_from: Moment
    full_cure_at: Moment
    areas: tuple[AreaOpen, ...] = ()
    bound: PlanBound | None = None


class EdgeRun(Answer, frozen=True, kw_only=True):
    """A stretch of one side where there is no wall; `island` is absent on the outline.

    `into` is the area on the other side, where one is known, and `doorway` the doorway's id.
    """

    side: int
    kind: str
    offset: Quantity
    length: Quantity
    doorway: str | None = None
    exit: bool = False
    into: str | None = None
    island: int | None = None


class AreaTakeoff(Answer, frozen=True, kw_only=True):
    """One area taken off. `machine_grind + hand_grind = field + cut_in = floor`, exactly.

    `traces` holds, per field of this record that is not zero, how it was found.
    `placing_order` is 1 for the area coated first. `drain_area` and `collar_footprint` are not
    part of the floor; `drain_length` is part of `open_length`, and `added_by_slope`, `pit_floor`,
    `added_treads` and `thresholds` of the floor. `crack_sand_volume` and `crack_liquid_volume`
    share the void of
    those cracks that state their share of sand. Joints are told by treatment, and once more by
    kind. `running_length` is that of base walls, coves, curbs and the risers of steps, each by its
    own run. Fields with a default may be missing from records kept from
    earlier versions.
    """

    id: str
    name: str
    level: str
    substrate: Substrate
    placing_order: int
    exits_through: str | None
    floor: Quantity
    machine_grind: Quantity
    hand_grind: Quantity
    field: Quantity
    cut_in: Quantity
    wall_length: Quantity
    open_length: Quantity
    joined_length: Quantity
    added_treads: Quantity
    base_walls: Quantity
    risers: Quantity
    curbs: Quantity
    cove_face: Quantity
    vertical: Quantity
    cove_length: Quantity
    cove_volume: Quantity
    crack_length: Quantity
    crack_volume: Quantity
    spall_area: Quantity
    spall_volume: Quantity
    joint_length: Quantity
    joint_volume: Quantity
    tape_length: Quantity
    dust_barrier: Quantity
    traces: dict[str, Trace]
    access: str = "plain"
    added_by_slope: Quantity = Quantity(0.0, "m2")
    coated_joint_length: Quantity = Quantity(0.0, "m")
    collar_footprint: Quantity = Quantity(0.0, "m2")
    collars: Quantity = Quantity(0.0, "m2")
    control_joint_length: Quantity = Quantity(0.0, "m")
    crack_liquid_volume: Quantity = Quantity(0.0, "L")
    crack_sand_volume: Quantity = Quantity(0.0, "L")
    drain_area: Quantity = Quantity(0.0, "m2")
    drain_length: Quantity = Quantity(0.0, "m")
    expansion_joint_length: Quantity = Quantity(0.0, "m")
    honoured_joint_length: Quantity = Quantity(0.0, "m")
    pit_floor: Quantity = Quantity(0.0, "m2")
    pit_sides: Quantity = Quantity(0.0, "m2")
    running_length: Quantity = Quantity(0.0, "m")
    runs: tuple[EdgeRun, ...] = ()
    sheeting: Quantity = Quantity(0.0, "m2")
    step_sides: Quantity = Quantity(0.0, "m2")
    strip_area: Quantity = Quantity(0.0, "m2")
    strip_volume: Quantity = Quantity(0.0, "L")
    texture_depth: Quantity | None = None
    thresholds: Quantity = Quantity(0.0, "m2")


class DoorwaySide(Answer, frozen=True, kw_only=True):
    """Where a doorway lies in the wall of one area, and whether that area has the open edge."""

    area: str
    side: int
    offset: Quantity
    width: Quantity
    island: int | None = None
    open_edge: bool = False


class DoorwayTakeoff(Answer, frozen=True, kw_only=True):
    """One doorway, whichever rooms it was given from.

    `between` names the area it was given in first, and the one on the other side; a doorway with
    one name leads off the coated floor. `kept_shut` leaves stay shut during dust work and cure.
    `barrier` is the sheeting that closes it where there is no leaf.
    """

    id: str
    between: tuple[str, ...]
    width: Quantity
    height: Quantity | None
    coating: str
    door: bool
    exit: bool
    kept_shut: bool
    barrier: Quantity
    given_in: tuple[str, ...]
    sides: tuple[DoorwaySide, ...]
    traces: dict[str, Trace]


class ReadingsNeeded(Answer, frozen=True, kw_only=True):
    """How many readings one method asks for; `level` is absent where it holds for the whole site.

    `places` counts the spots at which to measure, and `readings` the readings over all of them.
    """

    method: str
    level: str | None
    area: Quantity
    places: int
    readings: int
    trace: Trace


class Totals(Answer, frozen=True, kw_only=True):
    """Sums over all areas of the site; `traces` holds one per field that is not zero."""

    floor: Quantity
    machine_grind: Quantity
    hand_grind: Quantity
    field: Quantity
    cut_in: Quantity
    vertical: Quantity
    wall_length: Quantity
    open_length: Quantity
    joined_length: Quantity
    cove_length: Quantity
    cove_volume: Quantity
    crack_length: Quantity
    crack_volume: Quantity
    spall_area: Quantity
    spall_volume: Quantity
    joint_length: Quantity
    joint_volume: Quantity
    tape_length: Quantity
    dust_barrier: Quantity
    coated_joint_length: Quantity = Quantity(0.0, "m")
    control_joint_length: Quantity = Quantity(0.0, "m")
    crack_liquid_volume: Quantity = Quantity(0.0, "L")
    crack_sand_volume: Quantity = Quantity(0.0, "L")
    drain_length: Quantity = Quantity(0.0, "m")
    expansion_joint_length: Quantity = Quantity(0.0, "m")
    honoured_joint_length: Quantity = Quantity(0.0, "m")
    running_length: Quantity = Quantity(0.0, "m")
    sheeting: Quantity = Quantity(0.0, "m2")
    strip_area: Quantity = Quantity(0.0, "m2")
    strip_volume: Quantity = Quantity(0.0, "L")
    traces: dict[str, Trace] = {}


class PlanPoint(Answer, frozen=True, kw_only=True):
    """A place on the plan of its level."""

    x: Quantity
    y: Quantity


class TrafficStep(Answer, frozen=True, kw_only=True):
    """An area in the order of work, and how the crew leaves it over floor not coated yet.

    `left_by` is the way out of it, `into` the area that leads into, if any, and `crossings` the
    number of areas crossed from there to an exit; all are absent where no exit is reached.
    `starts_at` is the corner farthest from the way out, and `ends_at` the middle of the way out.
    """

    area: str
    order: int
    reason: str
    crossings: int | None = None
    ends_at: PlanPoint | None = None
    into: str | None = None
    left_by: str | None = None
    starts_at: PlanPoint | None = None


class Traffic(Answer, frozen=True, kw_only=True):
    """The way of the crew over the floor: areas in the order in which they are coated."""

    exits: tuple[str, ...]
    steps: tuple[TrafficStep, ...]
    traces: dict[str, Trace]


class Takeoff(Answer, frozen=True, kw_only=True):
    """Areas in the order the site gave them; doorways in the order they were given first.

    `traffic` is absent where the site says nothing of ways between areas and of exits.
    """

    site: str
    areas: tuple[AreaTakeoff, ...]
    totals: Totals
    doorways: tuple[DoorwayTakeoff, ...] = ()
    readings_needed: tuple[ReadingsNeeded, ...] = ()
    traffic: Traffic | None = None


class OptionalWork(Input, frozen=True, kw_only=True):
    """What the customer may have done as well: exactly one of `areas` and `extras`.

    `areas` are ids of areas of the site, which are done only if this is chosen: they are not in
    the price of the job, and belong to one option alone. `extras` are bought in like subcontracts.
    """

    id: str
    label: str
    areas: Sequence[str] = ()
    description: str | UnsetType = UNSET  # left out: ""
    extras: Sequence[Subcontract] = ()


class EstimateRequest(Input, frozen=True, kw_only=True):
    """The whole pipeline over one site; `job.start` is needed.

    Each of the `options` is priced as what it adds to the net price of the job without any, by
    the whole pipeline; that is its price whatever else is chosen with it.
    """

    job: Job
    site: Site
    catalogue_revision: int | None = None
    options: Sequence[OptionalWork] = ()
    reference: str | None = None
    units: Choice[Literal["si", "us"]] | UnsetType = UNSET  # left out: "us"


class Address(Input, frozen=True, kw_only=True):
    """A postal address; `region` is a state or province."""

    country: str
    city: str | None = None
    lines: Sequence[str] = ()
    postal_code: str | None = None
    region: str | None = None


class Contact(Input, frozen=True, kw_only=True):
    email: str | None = None
    name: str | None = None
    telephone: str | None = None


class Party(Input, frozen=True, kw_only=True):
    """A company or a person.

    `vat_number` begins with its country's letters where the country has such numbers;
    `registration` is the number in a register of companies; `tax_registration` any other number
    under which a tax is accounted for.
    """

    name: str
    address: Address
    contact: Contact | None = None
    registration: str | None = None
    tax_registration: str | None = None
    vat_number: str | None = None


class CrewActivity(Answer, frozen=True, kw_only=True):
    """A piece of work on one day; `goes_on` says that it is not done by `finish`."""

    id: str
    name: str
    start: Moment
    finish: Moment
    goes_on: bool
    why: str


class CrewDay(Answer, frozen=True, kw_only=True):
    """A day on site, with the most people that are at work at once."""

    date: dt.date
    visit: int
    people: int
    activities: tuple[CrewActivity, ...]


class SiteExtraction(Answer, frozen=True, kw_only=True):
    """The air that must be drawn off at once, in the activity that needs the most of it.

    `drawn` is what the extractors of that activity draw off, and `lacking` what is left over.
    """

    activity: str
    needed: Quantity
    drawn: Quantity
    lacking: Quantity
    trace: Trace


class Circuits(Answer, frozen=True, kw_only=True):
    """Circuits of one voltage, and the power that they carry together."""

    volts: int
    phases: int
    circuits: int
    power: Quantity


class SitePower(Answer, frozen=True, kw_only=True):
    """What the machines draw that run at once, in the activity that draws the most.

    Machines whose power the rate book does not state are in `unstated`, and not in the sum.
    """

    activity: str
    power: Quantity
    circuits: tuple[Circuits, ...]
    unstated: tuple[str, ...]
    trace: Trace


class LoadItem(Answer, frozen=True, kw_only=True):
    """So many of one thing; `days` are the machine days that are paid for, minimum rental included.

    `used_for` names the layers, repairs or activities that it is for, where that is known.
    """

    kind: str
    id: str
    name: str
    count: int
    unit: str
    days: int | None = None
    used_for: tuple[str, ...] = ()


class LoadStage(Answer, frozen=True, kw_only=True):
    stage: str
    items: tuple[LoadItem, ...]


class LoadingList(Answer, frozen=True, kw_only=True):
    """All that goes on the van, by the stage of the job that needs it first."""

    site: str
    system: str
    stages: tuple[LoadStage, ...]
    power: SitePower | None
    extraction: SiteExtraction | None


class SheetCoat(Answer, frozen=True, kw_only=True):
    """A coat or a repair with its mixes in placing order; `ratio` is by volume, in `parts`."""

    layer: str
    name: str
    kind: str
    product: str
    product_name: str
    parts: tuple[str, ...]
    ratio: tuple[float, ...]
    wet_film: Quantity | None
    floor: Quantity
    vertical: Quantity
    ordered_volume: Quantity
    mixes: tuple[Mix, ...]
    placers: tuple[Placer, ...] = ()


class MixingSheet(Answer, frozen=True, kw_only=True):
    """Every mix of the job; `areas` are names by id."""

    site: str
    system: str
    areas: dict[str, str]
    coats: tuple[SheetCoat, ...]


class Openings(Answer, frozen=True, kw_only=True):
    """Until when the whole floor is kept off, and until when each area is."""

    foot_traffic_from: Moment
    vehicle_traffic_from: Moment
    full_cure_at: Moment
    areas: tuple[AreaOpen, ...]


class JobPack(Answer, frozen=True, kw_only=True):
    """Drawing and chart are whole SVG documents; `areas` are names by id."""

    reference: str | None
    site: str
    system: str
    units: str
    time_zone: str
    catalogue_revision: int
    first_day: dt.date
    last_day: dt.date
    areas: dict[str, str]
    drawing: str
    chart: str
    days: tuple[CrewDay, ...]
    openings: Openings
    loading_list: LoadingList
    mixing_sheet: MixingSheet
    cautions: tuple[Caution, ...]
    notes: tuple[Note, ...]


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
