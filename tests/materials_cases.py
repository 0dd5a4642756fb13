"""Invented floors, products and rate books for the tests of the materials stage."""

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from typing import Any

import msgspec

from filmbuild.errors import Faults
from filmbuild.money import Currency, NonNegativeExact, Percent
from filmbuild.pipeline.job import Conditions, Job, StockLot
from filmbuild.pipeline.materials import plan_materials
from filmbuild.pipeline.results import AreaTakeoff, Materials, Takeoff, Totals
from filmbuild.pipeline.selection import Selection, restricted
from filmbuild.pipeline.site import Substrate
from filmbuild.pipeline.specification import (
    Catalogue,
    ConsumableRule,
    Content,
    LabourClass,
    Layer,
    OutsideTable,
    Pack,
    Part,
    PricedPack,
    Product,
    Production,
    RateBook,
    System,
    TaskCode,
    TimePoint,
    Travel,
)
from filmbuild.pipeline.trace import Note
from filmbuild.quantities import (
    Area,
    Duration,
    PositiveAreaRate,
    PositiveDensity,
    PositiveDuration,
    PositiveLengthRate,
    PositiveMass,
    PositiveVolume,
    PositiveVolumeRate,
    Temperature,
    Thickness,
    Volume,
)

MIL = 25.4e-6
MICROMETRE = 1e-6
SQUARE_FOOT = 0.3048**2
SQUARE_YARD = 0.9144**2
GALLON = 3.785411784e-3
LITRE = 1e-3
POUND = 0.45359237
POUND_PER_GALLON = POUND / GALLON
HOUR, MINUTE = 3600.0, 60.0

USD = Currency("USD")
REVISION = 7


def area(name: str = "bay", floor: float = 50.0, order: int = 1, **measured: object) -> AreaTakeoff:
    """An area [m2] of open floor; `measured` overrides any other field, in SI."""
    fields: dict[str, Any] = {
        field.name: field.type(0.0)
        for field in msgspec.structs.fields(AreaTakeoff)
        if isinstance(field.type, type) and issubclass(field.type, float)
    }
    fields |= {"floor": Area(floor), "field": Area(floor), "machine_grind": Area(floor)}
    fields |= {
        "id": name,
        "name": name,
        "level": "ground",
        "substrate": Substrate(texture_depth=Thickness(0.0)),
        "placing_order": order,
        "exits_through": None,
        "traces": {},
    }
    for key, value in measured.items():
        kind = type(fields[key])
        fields[key] = kind(value) if isinstance(value, float) else value
    fields["texture_depth"] = fields["substrate"].texture_depth
    return AreaTakeoff(**fields)


def takeoff(*areas: AreaTakeoff) -> Takeoff:
    totals: dict[str, Any] = {
        field.name: field.type(sum(getattr(one, field.name) for one in areas))
        for field in msgspec.structs.fields(Totals)
        if field.name != "traces"
    }
    return Takeoff(site="Dockside store", areas=areas, totals=Totals(**totals))


def part(name: str, ratio: float = 1.0, density: float = 1100.0) -> Part:
    return Part(name=name, ratio_by_volume=ratio, density=PositiveDensity(density))


def product(name: str = "harbour-100", **given: object) -> Product:
    """Two parts at 2:1, 2 h at 20 degC, mixed for 3 minutes, unless `given` says otherwise."""
    fields: dict[str, Any] = {
        "id": name,
        "name": name,
        "supplier": "Harbour Coatings (demo data)",
        "role": "body_coat",
        "parts": (part("a", 2.0), part("b", 1.0, 1000.0)),
        "volume_solids": 1.0,
        "working_life": life(2 * HOUR),
        "mixing_time": Duration(3 * MINUTE),
        "outside_table": OutsideTable(rule="halving"),
    }
    return Product(**(fields | given))


def life(seconds: float, temperature: float = 20.0) -> tuple[TimePoint, ...]:
    return (TimePoint(temperature=Temperature(temperature), duration=PositiveDuration(seconds)),)


def kit(of: Product, litres: float, price: str, name: str | None = None) -> PricedPack:
    """A pack of all parts in the mix ratio, by volume."""
    whole = sum(one.ratio_by_volume for one in of.parts)
    contents = {one.name: litres * one.ratio_by_volume / whole for one in of.parts}
    return pack(of.id, name or f"{of.id}-{litres:g}", price, volumes=contents)


def pack(
    of: str,
    name: str,
    price: str,
    *,
    volumes: dict[str, float] | None = None,
    masses: dict[str, float] | None = None,
) -> PricedPack:
    """A pack with parts in litres or in kilograms."""
    contents = [
        Content(part=key, volume=PositiveVolume(value * LITRE))
        for key, value in (volumes or {}).items()
    ]
    contents += [
        Content(part=key, mass=PositiveMass(value)) for key, value in (masses or {}).items()
    ]
    return PricedPack(
        pack=Pack(id=name, product=of, name=name, contents=tuple(contents)),
        price=Decimal(price),
        effective_from=date(2026, 1, 1),
    )


def layer(of: Product, name: str = "body", **given: object) -> Layer:
    fields: dict[str, Any] = {"id": name, "name": name, "product": of.id, "loss_fraction": 0.0}
    if not {"dry_film", "wet_film", "spread_rate"} & set(given):
        fields["wet_film"] = Thickness(250e-6)
    return Layer(**(fields | given))


def system(*layers: Layer, **given: object) -> System:
    fields: dict[str, Any] = {"id": "demo", "name": "Demo", "preparation": (), "layers": layers}
    return System(**(fields | given))


def production(task: TaskCode, **given: object) -> Production:
    fields: dict[str, Any] = {"task": task, "method": "by hand", "driver": "floor_area"}
    return Production(**(fields | given))


PRODUCTIONS = (
    production("place_field", area_rate=PositiveAreaRate(60 / HOUR), gangs_maximum=4),
    production(
        "place_cut_in",
        driver="cut_in_area",
        area_rate=PositiveAreaRate(15 / HOUR),
        gangs_maximum=4,
    ),
    production(
        "place_vertical",
        driver="vertical_area",
        area_rate=PositiveAreaRate(15 / HOUR),
        gangs_maximum=4,
    ),
    production("fill_cracks", length_rate=PositiveLengthRate(60 / HOUR)),
    production("fill_joints", length_rate=PositiveLengthRate(60 / HOUR)),
    production("form_cove", length_rate=PositiveLengthRate(12 / HOUR)),
    production("patch_spalls", volume_rate=PositiveVolumeRate(0.05 / HOUR)),
)


class Case(msgspec.Struct, frozen=True, kw_only=True):
    """A job that can be planned as it stands, and varied with `msgspec.structs.replace`."""

    areas: tuple[AreaTakeoff, ...] = (area(),)
    system: System
    products: tuple[Product, ...]
    packs: dict[str, tuple[PricedPack, ...]]
    workers: int = 2
    productions: Sequence[Production] = PRODUCTIONS
    soak: float = 0.0
    temperature: float = 20.0
    consumables: tuple[ConsumableRule, ...] = ()
    stock: tuple[StockLot, ...] = ()

    def selection(self) -> Selection:
        wage = NonNegativeExact("30")
        worker = LabourClass(id="placer", name="Placer", wage=wage, burden_percent=Percent("30"))
        book = RateBook(
            id="book",
            name="Demo rates",
            currency=USD,
            classes=(worker,),
            productions=tuple(self.productions),
            travel=Travel(mobilisation=NonNegativeExact("0"), hours_per_worker=Duration(0.0)),
            applicator_soak=Volume(self.soak),
        )
        return Selection(
            system=self.system,
            rate_book=book,
            productions={one.task: one for one in self.productions if not one.roles + one.layers},
            of_coats=restricted(self.productions),
            crew=((worker, self.workers),),
            workers=self.workers,
            conditions=Conditions(surface_temperature=Temperature(self.temperature)),
            notes=(),
        )

    def catalogue(self) -> Catalogue:
        return Catalogue(
            revision=REVISION,
            currency=USD,
            priced_on=date(2026, 3, 2),
            products={one.id: one for one in self.products},
            packs=self.packs,
            systems={self.system.id: self.system},
            rate_books={},
            consumables=self.consumables,
            taxes=(),
        )

    def plan(self, notes: list[Note] | None = None) -> Materials:
        return plan_materials(
            takeoff(*self.areas),
            Job(system=self.system.id, stock=self.stock),
            self.selection(),
            self.catalogue(),
            Faults().at("job"),
            [] if notes is None else notes,
        )


def case(of: Product, *packs: PricedPack, areas: Sequence[AreaTakeoff] = (), **given: Any) -> Case:
    """One product in one layer; `given` goes to the layer where it is a field of one."""
    in_layer = {key: given.pop(key) for key in list(given) if key in Layer.__struct_fields__}
    return Case(
        areas=tuple(areas) or (area(),),
        system=system(layer(of, **in_layer)),
        products=(of,),
        packs={of.id: packs or (kit(of, 10.0, "300"),)},
        **given,
    )


def with_layers(job: Case, *layers: Layer) -> Case:
    """The same job with other layers; their products must be among the job's own."""
    replaced = msgspec.structs.replace(job.system, layers=layers)
    return msgspec.structs.replace(job, system=replaced)
