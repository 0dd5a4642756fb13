"""What the service is sent and what it answers: inputs.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

import datetime as dt
from collections.abc import Sequence
from decimal import Decimal
from typing import Literal

from msgspec import UNSET, UnsetType

from filmbuild_sdk.values import Choice, Input, Moment, Quantity


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
