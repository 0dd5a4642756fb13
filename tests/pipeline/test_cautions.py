"""Cautions follow from the work and the products, and never read as a pass."""

import json
from types import SimpleNamespace
from typing import Any, cast

import msgspec
import pytest

from filmbuild.edge.decoding import decode
from filmbuild.errors import Faults
from filmbuild.pipeline.cautions import cautions_of, flammable_category, handheld_hours
from filmbuild.pipeline.job import Job
from filmbuild.pipeline.results import Labour
from filmbuild.pipeline.selection import Selection, select
from filmbuild.pipeline.site import Site
from filmbuild.pipeline.specification import Catalogue, Product, RateBook, System
from filmbuild.pipeline.takeoff import take_off
from filmbuild.pipeline.trace import Caution
from filmbuild.quantities import Temperature

WALK_BEHIND = "Walk-behind milling machines and floor grinders"
HANDHELD = "Handheld grinders for uses other than mortar removal"


def fahrenheit(value: float) -> float:
    return (value - 32) / 1.8


@pytest.mark.parametrize(
    ("flash_point", "boiling_point", "category"),
    # 29 CFR 1910.1200 Appendix B.6; the first row is ethanol, NIOSH Pocket Guide npgd0262.
    [
        (55, 173, 2),
        (55, 90, 1),
        (55, None, 1),
        (73.4, 173, 3),
        (140, None, 3),
        (140.1, None, 4),
        (199.4, None, 4),
        (199.5, None, None),
    ],
)
def test_flammable_categories(
    flash_point: float, boiling_point: float | None, category: int | None
) -> None:
    boils = None if boiling_point is None else fahrenheit(boiling_point)
    assert flammable_category(round(fahrenheit(flash_point), 6), boils) == category


def product(role: str = "body_coat", **hazards: Any) -> Product:
    body = {
        "id": "resin",
        "name": "Demo resin",
        "supplier": "Demo supplier",
        "role": role,
        "parts": [{"name": "a", "ratio_by_volume": 1, "density": "1.1 kg/L"}],
        "hazards": hazards,
    }
    return decode(Product, json.dumps(body).encode())


def system(**fields: Any) -> System:
    layer = {"id": "coat", "name": "Coat", "product": "resin", "wet_film": "300 um"}
    body = {
        "id": "plain",
        "name": "Plain",
        "preparation": ["machine_grind", "hand_grind"],
        "layers": [layer],
        **fields,
    }
    return decode(System, json.dumps(body).encode())


def rate_book() -> RateBook:
    def production(task: str, machine: str) -> dict[str, Any]:
        return {
            "task": task,
            "method": task,
            "driver": f"{task}_area",
            "area_rate": "20 m2/h",
            "equipment": [machine],
        }

    body = {
        "id": "book",
        "name": "Demo book",
        "currency": "USD",
        "classes": [{"id": "one", "name": "One", "wage": "30", "burden_percent": "20"}],
        "productions": [
            production("machine_grind", "floor-grinder"),
            production("hand_grind", "edge-grinder"),
        ],
        "equipment": [
            {
                "id": "floor-grinder",
                "name": "Floor grinder",
                "day_rate": "90",
                "silica_entry": WALK_BEHIND,
            },
            {
                "id": "edge-grinder",
                "name": "Edge grinder",
                "day_rate": "20",
                "silica_entry": HANDHELD,
            },
        ],
        "travel": {"mobilisation": "0", "hours_per_worker": "PT0S"},
    }
    return decode(RateBook, json.dumps(body).encode())


def cautions(
    resin: Product, build: System, substrate: dict[str, Any] | None = None
) -> dict[str, Caution]:
    room = {
        "id": "room",
        "outline": {"kind": "rectangle", "length": "8 m", "width": "5 m"},
        "substrate": substrate,
    }
    takeoff = take_off(decode(Site, json.dumps({"areas": [room]}).encode()), Faults())
    book = rate_book()
    catalogue = msgspec.convert(
        {"revision": 1, "currency": "USD", "priced_on": "2026-01-01", "packs": {}, "taxes": []}
        | {"products": {}, "systems": {}, "rate_books": {}, "consumables": []},
        Catalogue,
        dec_hook=lambda kind, value: kind(value),
    )
    catalogue = msgspec.structs.replace(
        catalogue, products={"resin": resin}, systems={"plain": build}, rate_books={"book": book}
    )
    selection: Selection = select(Job(system="plain"), catalogue, Faults())
    found = cautions_of(takeoff, None, selection, catalogue)
    return {f"{one.code} {one.title}": one for one in found}


def codes(resin: Product, build: System, substrate: dict[str, Any] | None = None) -> set[str]:
    return {one.code for one in cautions(resin, build, substrate).values()}


def test_dust_follows_the_name_of_the_machine_in_table_1() -> None:
    # 29 CFR 1926.1153 Table 1, by the equipment's name.
    found = cautions(product(), system())
    walked = found["respirable-silica Respirable crystalline silica: Floor grinder"]
    held = found["respirable-silica Respirable crystalline silica: Edge grinder"]
    assert WALK_BEHIND in walked.source
    assert "HEPA" in walked.detail
    assert "25 cfm per inch" in held.detail
    assert "more than 4 hours" in held.detail
    assert held.applies_to == ("hand_grind",)


def test_every_caution_names_a_source_and_defers() -> None:
    resin = product(isocyanate=True, skin_sensitiser=True, exotherm=True, flash_point="12 degC")
    found = cautions(resin, system())
    assert len(found) >= 7
    for caution in found.values():
        assert caution.source
        assert "stand above this caution" in caution.detail


def test_products_call_for_their_own_cautions_and_no_others() -> None:
    plain = codes(product(), system())
    assert not plain & {"isocyanate", "skin-sensitiser", "exotherm", "flammable-liquid"}
    assert "isocyanate" in codes(product(isocyanate=True), system())
    assert "skin-sensitiser" in codes(product(skin_sensitiser=True), system())
    assert "exotherm" in codes(product(exotherm=True), system())
    ethanol_like = product(flash_point="55 degF", initial_boiling_point="173 degF")
    found = cautions(ethanol_like, system())
    # 29 CFR 1926.152(b): 25 gallons in a room outside a cabinet; in a cabinet 60 gallons of
    # categories 1 to 3 or 120 gallons of category 4; three cabinets in one storage area.
    detail = found["flammable-liquid Flammable liquid, category 2"].detail
    for limit in ("25 gallons", "in a room", "60 gallons", "120 gallons", "three cabinets"):
        assert limit in detail


def test_isocyanates_are_told_apart_by_their_kind() -> None:
    # NIOSH Pocket Guide: HDI 0.005 ppm over a day, 0.020 ppm ceiling in 10 minutes, no OSHA limit;
    # MDI OSHA ceiling 0.02 ppm (the latter from memory).
    aliphatic = cautions(product(isocyanate=True, isocyanate_kind="hdi"), system())
    hdi = aliphatic["isocyanate Isocyanate (HDI)"]
    assert "0.005 ppm" in hdi.detail
    assert "0.020 ppm" in hdi.detail
    assert "MDI" not in hdi.source + hdi.detail
    aromatic = cautions(product(isocyanate=True, isocyanate_kind="mdi"), system())
    mdi = aromatic["isocyanate Isocyanate (MDI)"]
    assert "0.02 ppm" in mdi.detail
    assert "2006-149" in mdi.source
    unknown = cautions(product(isocyanate=True), system())
    assert "section 8" in unknown["isocyanate Isocyanate of a kind not stated"].detail


@pytest.mark.parametrize(
    ("role", "hazards", "shown"),
    [
        ("body_coat", {}, False),
        ("body_coat", {"crystalline_silica": True}, True),
        ("broadcast_aggregate", {}, True),
        ("broadcast_aggregate", {"crystalline_silica": True}, True),
        ("broadcast_aggregate", {"crystalline_silica": False}, False),
    ],
)
def test_aggregates_are_silica_unless_they_say_otherwise(
    role: str, hazards: dict[str, Any], shown: bool
) -> None:
    # 29 CFR 1926.1153(f)(1): no dry sweeping or dry brushing where wet or HEPA methods are feasible.
    found = cautions(product(role, **hazards), system())
    title = "silica-in-materials Respirable crystalline silica: aggregates and fillers"
    assert (title in found) is shown
    if shown:
        assert "No dry sweeping or dry brushing" in found[title].detail
        assert "1926.1153(f)(1)" in found[title].source
        assert found[title].applies_to == ("resin",)


@pytest.mark.parametrize(
    ("profile", "expected"),
    [
        (None, {"profile-not-stated"}),
        (1, {"profile-out-of-range"}),
        (2, set()),
        (4, set()),
        (5, {"profile-out-of-range"}),
    ],
)
def test_the_profile_of_the_concrete_is_held_against_the_systems_range(
    profile: int | None, expected: set[str]
) -> None:
    # Concrete surface profiles by ICRI 310.2R, 1 to 10; the range is the system's own.
    build = system(profile_minimum=2, profile_maximum=4)
    found = codes(product(), build, {"profile": profile})
    assert {one for one in found if one.startswith("profile")} == expected


@pytest.mark.parametrize(
    ("substrate", "expected"),
    [
        (None, "moisture-not-measured"),
        ({"moisture": [{"emission": "3.1 lb/1000ft2/24h"}]}, "moisture-limit-exceeded"),
        ({"moisture": [{"relative_humidity_percent": 76}]}, "moisture-limit-exceeded"),
        (
            {"moisture": [{"emission": "2 lb/1000ft2/24h"}, {"relative_humidity_percent": 90}]},
            "moisture-limit-exceeded",
        ),
        ({"age_days": 27}, "young-concrete"),
    ],
)
def test_readings_are_judged_by_the_failing_one(
    substrate: dict[str, Any] | None, expected: str
) -> None:
    limits = {"emission": "3 lb/1000ft2/24h", "relative_humidity_percent": 75}
    assert expected in codes(product(), system(moisture=limits), substrate)


def test_a_dry_old_floor_calls_for_no_moisture_caution() -> None:
    limits = {"emission": "3 lb/1000ft2/24h", "relative_humidity_percent": 75}
    dry = {
        "moisture": [{"emission": "2.9 lb/1000ft2/24h"}, {"relative_humidity_percent": 75}],
        "age_days": 28,
    }
    found = codes(product(), system(moisture=limits), dry)
    assert not found & {"moisture-limit-exceeded", "moisture-not-measured", "young-concrete"}


@pytest.mark.parametrize(("stated", "shown"), [(None, True), (0.41, True), (0.42, False)])
def test_slip_resistance_of_the_wet_floor(stated: float | None, shown: bool) -> None:
    # ANSI A326.3-2021: 0.42 wet for level interior floors.
    found = codes(product(), system(wet_slip_resistance=stated))
    assert ("slip-resistance" in found) is shown


def test_temperatures_are_read_in_either_scale() -> None:
    assert product(flash_point="55 degF").hazards.flash_point == pytest.approx(
        Temperature(fahrenheit(55))
    )


def test_hours_with_handheld_grinders_add_up_over_tasks_and_machines() -> None:
    # 29 CFR 1926.1153 Table 1: the limit of four hours is on the work, not on one task of it.
    def task(code: str, hours: float) -> SimpleNamespace:
        return SimpleNamespace(code=code, duration=hours * 3600)

    def said(*tasks: SimpleNamespace) -> bool:
        labour = cast("Labour", SimpleNamespace(tasks=tasks))
        return "4.6 hours of such work" in longest_text(labour)

    assert said(task("hand_grind", 2.3), task("chase_cracks", 2.3))
    assert not said(task("hand_grind", 2.3), task("machine_grind", 2.3))


def longest_text(labour: Labour) -> str:
    return handheld_hours(frozenset(("hand_grind", "chase_cracks")), labour)
