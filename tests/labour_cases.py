"""An invented hall, its rate book and its products, for the labour and schedule stages.

100 m2 of floor, worked by two people on shifts from 8 to 16. All figures are demo data.
"""

from collections.abc import Sequence
from datetime import date
from typing import Any, Literal

import msgspec
from materials_cases import USD, area, layer, life, product, production, takeoff

from filmbuild.errors import Faults
from filmbuild.money import NonNegativeExact, Percent
from filmbuild.pipeline.job import Conditions, ForecastStep, Job, MonthConditions, WorkCalendar
from filmbuild.pipeline.labour import plan_labour
from filmbuild.pipeline.results import AreaTakeoff, Coat, Labour, Materials, Schedule
from filmbuild.pipeline.schedule import plan_schedule
from filmbuild.pipeline.selection import Selection, restricted
from filmbuild.pipeline.specification import (
    ApplicationLimits,
    Catalogue,
    ConsumableRule,
    Equipment,
    LabourClass,
    Production,
    RateBook,
    RecoatPoint,
    Repairs,
    System,
    TimePoint,
    Travel,
)
from filmbuild.pipeline.trace import Note
from filmbuild.quantities import (
    Area,
    Duration,
    PositiveAreaRate,
    PositiveDuration,
    PositiveLengthRate,
    Temperature,
)

HOUR, DAY = 3600.0, 86_400.0
REVISION = 4
MONDAY = date(2026, 6, 15)

LIMITS = ApplicationLimits(
    air_minimum=Temperature(8.0),
    air_maximum=Temperature(35.0),
    surface_minimum=Temperature(8.0),
    surface_maximum=Temperature(35.0),
)


def recoat(
    minimum: float, maximum: float | None = None, temperature: float = 20.0
) -> tuple[RecoatPoint, ...]:
    """A window in hours, at one temperature."""
    return (
        RecoatPoint(
            temperature=Temperature(temperature),
            minimum=PositiveDuration(minimum * HOUR),
            maximum=None if maximum is None else PositiveDuration(maximum * HOUR),
        ),
    )


def hours(duration: float) -> tuple[TimePoint, ...]:
    return life(duration * HOUR)


FILLER = product(
    "quay-filler",
    role="crack_filler",
    recoat=recoat(1.0),
    foot_traffic=hours(1.0),
    vehicle_traffic=hours(2.0),
    full_cure=hours(24.0),
    application=LIMITS,
)
BODY = product(
    "quay-body",
    recoat=recoat(12.0, 72.0),
    foot_traffic=hours(18.0),
    vehicle_traffic=hours(48.0),
    full_cure=hours(168.0),
    application=LIMITS,
)
TOP = product(
    "quay-top",
    role="topcoat",
    recoat=recoat(10.0),
    foot_traffic=hours(24.0),
    vehicle_traffic=hours(72.0),
    full_cure=hours(168.0),
    application=LIMITS,
)

HALL = area(
    "hall",
    100.0,
    field=80.0,
    cut_in=20.0,
    machine_grind=90.0,
    hand_grind=10.0,
    tape_length=40.0,
    crack_length=12.0,
    crack_volume=6e-4,
)

SYSTEM = System(
    id="quay-two-coat",
    name="Quay two-coat floor",
    preparation=("set_up", "machine_grind", "hand_grind", "vacuum"),
    layers=(layer(BODY, "body"), layer(TOP, "top", before=("abrade",))),
    repairs=Repairs(crack_filler="quay-filler"),
)


def area_rate(square_metres_per_hour: float) -> PositiveAreaRate:
    return PositiveAreaRate(square_metres_per_hour / HOUR)


def length_rate(metres_per_hour: float) -> PositiveLengthRate:
    return PositiveLengthRate(metres_per_hour / HOUR)


PRODUCTIONS: tuple[Production, ...] = (
    production("set_up", driver="job", workers=2, set_up=Duration(HOUR)),
    production("protect", driver="dust_barrier_area", area_rate=area_rate(10)),
    production(
        "machine_grind",
        driver="machine_grind_area",
        area_rate=area_rate(30),
        set_up=Duration(HOUR / 2),
        equipment=("grinder", "extractor"),
    ),
    production(
        "hand_grind",
        driver="hand_grind_area",
        gangs_maximum=2,
        area_rate=area_rate(5),
        equipment=("hand-grinder",),
    ),
    production("vacuum", gangs_maximum=2, area_rate=area_rate(100)),
    production(
        "chase_cracks",
        driver="crack_length",
        length_rate=length_rate(12),
        equipment=("hand-grinder",),
    ),
    production("fill_cracks", driver="crack_length", length_rate=length_rate(24)),
    production(
        "grind_repairs",
        driver="crack_length",
        length_rate=length_rate(24),
        equipment=("hand-grinder",),
    ),
    production("mask", driver="tape_length", gangs_maximum=2, length_rate=length_rate(40)),
    production("place_cut_in", driver="cut_in_area", area_rate=area_rate(20)),
    production("place_field", workers=2, gangs_maximum=3, area_rate=area_rate(50)),
    production("abrade", area_rate=area_rate(50)),
    production("pull_tape", driver="tape_length", length_rate=length_rate(80)),
    production("demobilise", driver="job", workers=2, set_up=Duration(HOUR)),
)


def replaced(productions: Sequence[Production], *changed: Production) -> tuple[Production, ...]:
    """The same productions, with those of the given tasks instead of theirs."""
    tasks = {one.task for one in changed}
    return (*(one for one in productions if one.task not in tasks), *changed)


def labour_class(name: str = "hand", wage: str = "20", **given: Any) -> LabourClass:
    fields: dict[str, Any] = {"burden_percent": Percent("25"), "overtime_multiplier": 1.5}
    return LabourClass(id=name, name=name, wage=NonNegativeExact(wage), **(fields | given))


EQUIPMENT = (
    Equipment(id="grinder", name="Grinder", day_rate=NonNegativeExact("100")),
    Equipment(id="extractor", name="Extractor", day_rate=NonNegativeExact("50"), minimum_days=3),
    Equipment(id="hand-grinder", name="Hand grinder", day_rate=NonNegativeExact("30")),
)


class Case(msgspec.Struct, frozen=True, kw_only=True):
    """A job that can be planned as it stands, and varied with `but`."""

    areas: tuple[AreaTakeoff, ...] = (HALL,)
    system: System = SYSTEM
    products: tuple[Any, ...] = (FILLER, BODY, TOP)
    productions: tuple[Production, ...] = PRODUCTIONS
    crew: tuple[tuple[LabourClass, int], ...] = ((labour_class(), 2),)
    equipment: tuple[Equipment, ...] = EQUIPMENT
    travel: float = 0.5
    travel_per: Literal["visit", "day"] = "visit"
    idle_days: int | None = None
    minimum_paid_day: float = 0.0
    call_out: float = 0.0
    mobilisation: str = "80"
    standard_day: float = 8.0
    small_area: float = 0.0
    conditions: Conditions = Conditions()
    stated: Conditions | None = None
    forecast: tuple[ForecastStep, ...] = ()
    months: tuple[MonthConditions, ...] = ()
    missed_recoat: Literal["abrade", "hold_back"] = "abrade"
    calendar: WorkCalendar = WorkCalendar()
    start: date | None = MONDAY
    consumables: tuple[ConsumableRule, ...] = ()
    coats: tuple[Coat, ...] = ()

    def but(self, **changes: Any) -> "Case":
        return msgspec.structs.replace(self, **changes)

    def people(self, count: int) -> "Case":
        return self.but(crew=((labour_class(), count),))

    def layers(self, *layers: Any) -> "Case":
        return self.but(system=msgspec.structs.replace(self.system, layers=layers))

    def job(self) -> Job:
        return Job(
            system=self.system.id,
            calendar=self.calendar,
            start=self.start,
            conditions=self.stated,
            forecast=self.forecast,
            months=self.months,
            missed_recoat=self.missed_recoat,
        )

    def selection(self) -> Selection:
        book = RateBook(
            id="quay-book",
            name="Demo rates",
            currency=USD,
            classes=tuple(one for one, _ in self.crew),
            productions=self.productions,
            equipment=self.equipment,
            travel=Travel(
                mobilisation=NonNegativeExact(self.mobilisation),
                hours_per_worker=Duration(self.travel * HOUR),
                per=self.travel_per,
                visit_ends_after_idle_days=self.idle_days,
                minimum_call_out=Duration(self.call_out * HOUR),
            ),
            standard_day=Duration(self.standard_day * HOUR),
            minimum_paid_day=Duration(self.minimum_paid_day * HOUR),
            small_area=Area(self.small_area),
        )
        return Selection(
            system=self.system,
            rate_book=book,
            productions={
                one.task: one for one in self.productions if not (one.roles or one.layers)
            },
            of_coats=restricted(self.productions),
            crew=self.crew,
            workers=sum(count for _, count in self.crew),
            conditions=self.conditions,
            notes=(),
        )

    def catalogue(self) -> Catalogue:
        return Catalogue(
            revision=REVISION,
            currency=USD,
            priced_on=date(2026, 3, 2),
            products={one.id: one for one in self.products},
            packs={},
            systems={self.system.id: self.system},
            rate_books={},
            consumables=self.consumables,
            taxes=(),
        )

    def labour(self, notes: list[Note] | None = None) -> Labour:
        return plan_labour(
            takeoff(*self.areas),
            self.materials(),
            self.job(),
            self.selection(),
            self.catalogue(),
            Faults().at("job"),
            [] if notes is None else notes,
        )

    def materials(self) -> Materials:
        return Materials(
            system=self.system.id, coats=self.coats, aggregates=(), purchases=(), consumables=()
        )

    def schedule(self, labour: Labour | None = None, notes: list[Note] | None = None) -> Schedule:
        faults = Faults()
        return plan_schedule(
            takeoff(*self.areas),
            self.materials(),
            self.labour() if labour is None else labour,
            self.job(),
            self.selection(),
            self.catalogue(),
            faults.at("job"),
            faults.at("labour", "labour"),
            [] if notes is None else notes,
        )


def floor(square_metres: float, **measured: Any) -> AreaTakeoff:
    """A bare floor: no edges, no repairs."""
    return area("bay", square_metres, **measured)


def floors_only(square_metres: float, **given: Any) -> Case:
    """Set up, place the coats, demobilise: 1 h, 1 h for each 50 m2 and coat, 1 h."""
    system = System(
        id="quay-plain",
        name="Quay plain",
        preparation=("set_up",),
        layers=given.pop("layers", (layer(BODY, "body"), layer(TOP, "top"))),
    )
    return Case(areas=(floor(square_metres),), system=system, **given)
