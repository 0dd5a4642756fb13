"""What the labour stage finds."""

from typing import Annotated

from msgspec import Meta

from filmbuild.money import Money, UnitPrice
from filmbuild.pipeline.results.base import Result
from filmbuild.pipeline.results.materials import ConsumableLine
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Area, Duration, Hours, PositiveSection, Quantity


class Task(Result, frozen=True, kw_only=True):
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
    gangs: Annotated[int, Meta(ge=1, le=50)]
    workers: int
    labour: Hours
    duration: Duration
    equipment: tuple[str, ...]
    reason: str
    beside: tuple[str, ...] = ()
    machine_width: PositiveSection | None = None
    set_up: Duration = Duration(0.0)
    trace: Trace


class CureTimes(Result, frozen=True, kw_only=True):
    """A layer's times at the job's temperature, counted from the end of placing."""

    recoat_after: Duration
    recoat_before: Duration | None
    foot_traffic: Duration
    vehicle_traffic: Duration
    full_cure: Duration
    how: str
    trace: Trace


class Section(Result, frozen=True, kw_only=True):
    """A part of the floor that is coated in one go, where a whole coat is too long for a shift.

    `shares` says of each of its `areas` how much of it lies in this section. The coats end at
    `ends_at`, until the next section is placed there; the last one ends with the floor. `longest`
    is the time of its longest coat.
    """

    number: int
    areas: tuple[str, ...]
    shares: tuple[float, ...]
    floor: Area
    ends_at: str
    longest: Duration
    trace: Trace


class Activity(Result, frozen=True, kw_only=True):
    """A piece of the schedule: follows the activities of `after`, by a crew that does one at a time.

    With `waits_for_cure` it begins no sooner than the recoat minimum of each of those that has a
    `cure`, in elapsed time; with `waits_for_drying` it also waits until each of those that has a
    `dry_for` has dried that long. A coat that directly follows a coat also begins before that one's
    recoat maximum, or else the floor is abraded first. A `one_shift` activity is done without a
    break inside one shift. Coats that are placed section by section have the number of theirs. Tasks
    that go on `side_by_side` take as long as the longest of them, other tasks their sum.
    """

    id: str
    name: str
    layer: str | None
    duration: Duration
    one_shift: bool
    after: tuple[str, ...]
    cure: CureTimes | None
    waits_for_cure: bool = True
    dry_for: Duration | None = None
    waits_for_drying: bool = True
    section: int | None = None
    side_by_side: bool = False


class LabourCost(Result, frozen=True, kw_only=True):
    """Paid hours of all people of one class at one rate; overtime stands in a record of its own."""

    labour_class: str
    name: str
    paid: Hours
    overtime: bool
    rate_per_hour: UnitPrice
    amount: Money
    trace: Trace


class EquipmentCost(Result, frozen=True, kw_only=True):
    equipment: str
    name: str
    used: Hours
    days: int
    day_rate: UnitPrice
    amount: Money
    trace: Trace


class CrewCosts(Result, frozen=True, kw_only=True):
    """What people and machines cost, and what is used up with their days.

    `productive` is the time that people spend on tasks. `paid` is that of the whole crew for as
    long as any of it works, with the least that is paid for a day, and its travel. `shifts` is the
    number of days of work, and `visits` how often the crew comes. `traces` is by field.
    """

    labour: tuple[LabourCost, ...]
    equipment: tuple[EquipmentCost, ...]
    travel: Money
    consumables: tuple[ConsumableLine, ...]
    productive: Hours
    paid: Hours
    shifts: int
    visits: int
    traces: dict[str, Trace]


class Labour(CrewCosts, frozen=True, kw_only=True):
    """Tasks and the activities they form.

    Without dates, the costs are those of crew time packed into full shifts, in one visit. Those of
    the days on which the work falls come with the schedule. `sections` is empty where each coat
    is placed over the whole floor at once.
    """

    rate_book: str
    crew: int
    tasks: tuple[Task, ...]
    activities: tuple[Activity, ...]
    sections: tuple[Section, ...] = ()
