"""What the service is sent and what it answers: results.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

import datetime as dt
from typing import Any

from filmbuild_sdk.models.inputs import (
    Conditions,
    CrewMember,
    LayerChange,
    StockLot,
    Substrate,
    WorkCalendar,
)
from filmbuild_sdk.values import Answer, Moment, Money, Quantity


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
