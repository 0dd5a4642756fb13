"""A catalogue that is sound, broken in one way at a time."""

from collections.abc import Callable
from typing import Any

import catalogue_cases as cases

Change = Callable[[dict[str, Any]], None]
MISSING = object()


def put(*path: str | int | object) -> Change:
    """Set what the path leads to; the last item is the value, or MISSING to take it out."""
    *steps, last, value = path

    def change(document: dict[str, Any]) -> None:
        place: Any = document
        for step in steps:
            place = place[step]
        if value is MISSING:
            del place[last]
        else:
            place[last] = value

    return change


def repeat(kind: str, *path: str | int) -> Change:
    """Put the first record, or item of a record, in once more."""

    def change(document: dict[str, Any]) -> None:
        place: Any = document[kind]
        for step in path:
            place = place[step]
        place.append(place[0])

    return change


def rivals(*restrictions: dict[str, Any]) -> Change:
    """As many productions of one task as there are restrictions, and nothing else."""

    def change(document: dict[str, Any]) -> None:
        wash = {"task": "wash", "method": "scrubber", "driver": "floor_area"}
        book = document["rate_books"][0]
        book["productions"] = [{**wash, "area_rate": "9 m2/h", **one} for one in restrictions]

    return change


def layer(**members: object) -> Change:
    """Members of the second layer; MISSING takes one out."""

    def change(document: dict[str, Any]) -> None:
        second = document["systems"][0]["layers"][1]
        second.update(members)
        for name in [name for name, value in second.items() if value is MISSING]:
            del second[name]

    return change


LIMITS = {
    "air_minimum": "10 degC",
    "air_maximum": "30 degC",
    "surface_minimum": "10 degC",
    "surface_maximum": "30 degC",
}
LONGER_MINIMUM = [{"temperature": "20 degC", "minimum": "PT30H", "maximum": "PT20H"}]
MAXIMUM_AT_ONE = [
    {"temperature": "10 degC", "minimum": "PT30H", "maximum": "PT60H"},
    {"temperature": "20 degC", "minimum": "PT20H"},
]
MAXIMUM_RISING = [
    {"temperature": "10 degC", "minimum": "PT30H", "maximum": "PT50H"},
    {"temperature": "20 degC", "minimum": "PT20H", "maximum": "PT60H"},
]
FALLING = [
    {"temperature": "20 degC", "duration": "PT30M"},
    {"temperature": "10 degC", "duration": "PT60M"},
]
BY_MASS = {"name": "a", "ratio_by_mass": 100, "density": "1.1 kg/L"}
PER_LIQUID = {"name": "b", "mass_per_liquid": "0.9 kg/L", "density": "2.65 kg/L"}
UNMEASURED = {"name": "a", "density": "1.1 kg/L"}
BY_VOLUME = {"name": "b", "ratio_by_volume": 1, "density": "1 kg/L"}
TO_REFUSAL = {"product": "quartz", "to_refusal": True}
TWO_PARTS = {name: cases.product("spare")[name] for name in ("parts", "working_life")}
BROKEN: list[tuple[str, str, Change]] = [
    ("/products/5/id", "duplicate", repeat("products")),
    ("/products/4/parts/2/name", "duplicate", repeat("products", 4, "parts")),
    (
        "/products/4/wet_film_minimum",
        "range-reversed",
        put("products", 4, "wet_film_minimum", "600 um"),
    ),
    ("/products/4/parts/0/ratio_by_volume", "no-ratio", put("products", 4, "parts", [UNMEASURED])),
    (
        "/products/4/parts/1/ratio_by_mass",
        "ratios-mixed",
        put("products", 4, "parts", [BY_MASS, BY_VOLUME]),
    ),
    (
        "/products/4/parts/1/mass_per_liquid",
        "exactly-one",
        put("products", 4, "parts", [BY_MASS, {**PER_LIQUID, "ratio_by_mass": 45}]),
    ),
    (
        "/products/4/parts/1/ratio_by_volume",
        "ratio-mismatch",
        put("products", 4, "parts", [{**BY_MASS, "ratio_by_mass": 1}, {**PER_LIQUID, **BY_VOLUME}]),
    ),
    (
        "/products/4/parts/0/mass_per_liquid",
        "no-liquid-part",
        put("products", 4, "parts", [{**PER_LIQUID, "ratio_by_volume": 1}]),
    ),
    (
        "/products/1/laid_density",
        "laid-density-of-no-mortar",
        put("products", 1, "laid_density", "2 kg/L"),
    ),
    ("/products/1/grain_size", "grains-of-no-aggregate", put("products", 1, "grain_size", "1 mm")),
    (
        "/systems/0/layers/1/broadcast/to_refusal",
        "exactly-one",
        layer(broadcast={"product": "quartz"}),
    ),
    (
        "/systems/0/layers/1/broadcast/rate",
        "exactly-one",
        layer(broadcast={**TO_REFUSAL, "rate": "2 kg/m2"}),
    ),
    (
        "/systems/0/layers/1/broadcast/product",
        "no-void-fraction",
        layer(broadcast=TO_REFUSAL),
    ),
    (
        "/systems/0/layers/1/broadcast/reclaimed_fraction",
        "reclaimed-not-swept",
        layer(
            broadcast={
                "product": "quartz",
                "rate": "2 kg/m2",
                "swept_fraction": 0.1,
                "reclaimed_fraction": 0.2,
            }
        ),
    ),
    ("/systems/0/layers/1/grain_fill", "no-grains-below", layer(grain_fill=0.5)),
    (
        "/products/1/working_life/1/duration",
        "times-not-falling",
        put("products", 1, "working_life", cases.times("PT10M", "PT11M")),
    ),
    (
        "/products/1/full_cure/1/temperature",
        "temperatures-not-rising",
        put("products", 1, "full_cure", FALLING),
    ),
    (
        "/products/1/foot_traffic/1/duration",
        "times-not-falling",
        put("products", 1, "foot_traffic", cases.times("PT10H", "PT11H")),
    ),
    (
        "/products/1/vehicle_traffic/1/duration",
        "times-not-falling",
        put("products", 1, "vehicle_traffic", cases.times("P1D", "P2D")),
    ),
    (
        "/products/1/recoat/0/minimum",
        "range-reversed",
        put("products", 1, "recoat", LONGER_MINIMUM),
    ),
    (
        "/products/1/recoat/1/maximum",
        "recoat-maximum-mixed",
        put("products", 1, "recoat", MAXIMUM_AT_ONE),
    ),
    (
        "/products/1/recoat/1/maximum",
        "times-not-falling",
        put("products", 1, "recoat", MAXIMUM_RISING),
    ),
    (
        "/products/1/outside_table/activation_energy_joule_per_mole",
        "no-activation-energy",
        put("products", 1, "outside_table", {"rule": "arrhenius"}),
    ),
    (
        "/products/1/hazards/isocyanate_kind",
        "isocyanate-kind-without-isocyanate",
        put("products", 1, "hazards", {"isocyanate_kind": "hdi"}),
    ),
    (
        "/products/1/application/air_minimum",
        "range-reversed",
        put("products", 1, "application", LIMITS | {"air_minimum": "31 degC"}),
    ),
    (
        "/products/1/application/surface_minimum",
        "range-reversed",
        put("products", 1, "application", LIMITS | {"surface_minimum": "90 degF"}),
    ),
    (
        "/products/0/absorption/medium",
        "range-reversed",
        put("products", 0, "absorption", {"low": "10 um", "medium": "60 um", "high": "50 um"}),
    ),
    ("/products/1/working_life", "no-working-life", put("products", 1, "working_life", [])),
    (
        "/products/1/working_life_sample",
        "exactly-one",
        put("products", 1, "working_life_sample", {"exponent": 0.2}),
    ),
    (
        "/products/1/working_life_sample/volume",
        "exactly-one",
        put("products", 1, "working_life_sample", {"mass": "1 kg", "volume": "1 L"}),
    ),
    (
        "/products/3/working_life_sample",
        "sample-without-working-life",
        put("products", 3, "working_life_sample", {"mass": "1 kg"}),
    ),
    (
        "/products/1/wet_edge_time/1/temperature",
        "temperatures-not-rising",
        put("products", 1, "wet_edge_time", FALLING),
    ),
    (
        "/products/1/container_residue",
        "residue-too-large",
        lambda document: document["products"][1].update(container="1 L", container_residue="1 L"),
    ),
    (
        "/products/3/volume_solids",
        "aggregate-film",
        put("products", 3, "volume_solids", 0.9),
    ),
    (
        "/products/4/parts",
        "aggregate-parts",
        put("products", 4, cases.one_part("spare", "broadcast_aggregate") | TWO_PARTS),
    ),
    ("/packs/5/id", "duplicate", repeat("packs")),
    ("/packs/0/product", "unknown-product", put("packs", 0, "product", "nothing")),
    ("/packs/0/contents/1/part", "unknown-part", put("packs", 0, "contents", 1, "part", "c")),
    ("/packs/0/contents/2/part", "duplicate", repeat("packs", 0, "contents")),
    ("/packs/0/contents/1/mass", "exactly-one", put("packs", 0, "contents", 1, "mass", "1 kg")),
    ("/packs/0/contents/1", "exactly-one", put("packs", 0, "contents", 1, "volume", MISSING)),
    (
        "/packs/0/contents",
        "kit-out-of-ratio",
        put("packs", 0, "contents", 1, "volume", "1.04 L"),
    ),
    ("/prices/0/pack", "unknown-pack", put("prices", 0, "pack", "nothing")),
    ("/prices/5/effective_from", "duplicate", repeat("prices")),
    ("/systems/1/id", "duplicate", repeat("systems")),
    ("/systems/0/layers/2/id", "duplicate", repeat("systems", 0, "layers")),
    (
        "/systems/0/profile_minimum",
        "range-reversed",
        put("systems", 0, "profile_minimum", 4),
    ),
    ("/systems/0/layers/1/product", "unknown-product", layer(product="nothing")),
    ("/systems/0/layers/1/product", "wrong-role", layer(product="filler")),
    (
        "/systems/0/layers/1/broadcast/product",
        "wrong-role",
        layer(broadcast={"product": "body", "rate": "2 kg/m2"}),
    ),
    (
        "/systems/0/layers/1/broadcast/product",
        "unknown-product",
        layer(broadcast={"product": "nothing", "rate": "2 kg/m2"}),
    ),
    ("/systems/0/layers/1", "exactly-one", layer(wet_film=MISSING)),
    ("/systems/0/layers/1/wet_film", "exactly-one", layer(dry_film="100 um")),
    ("/systems/0/layers/1/spread_rate", "exactly-one", layer(spread_rate="3 m2/L")),
    ("/systems/0/layers/1/wet_film", "film-out-of-range", layer(wet_film="501 um")),
    ("/systems/0/layers/1/vertical", "film-out-of-range", layer(vertical="99 um")),
    (
        "/systems/0/layers/1/spread_rate",
        "film-out-of-range",
        layer(wet_film=MISSING, spread_rate="1.9 m2/L"),
    ),
    (
        # 240 um dry, a tenth of thinner and half solids: 240 x 1.1 / 0.5 = 528 um wet
        "/systems/0/layers/1/dry_film",
        "film-out-of-range",
        layer(wet_film=MISSING, dry_film="240 um", thinner_fraction=0.1),
    ),
    (
        "/systems/0/layers/0/dry_film",
        "no-volume-solids",
        put("products", 0, "volume_solids", MISSING),
    ),
    (
        "/systems/0/repairs/crack_filler",
        "wrong-role",
        put("systems", 0, "repairs", "crack_filler", "body"),
    ),
    (
        "/systems/0/repairs/cove_mortar",
        "unknown-product",
        put("systems", 0, "repairs", "cove_mortar", "nothing"),
    ),
    ("/rate_books/1/id", "duplicate", repeat("rate_books")),
    ("/rate_books/0/classes/2/id", "duplicate", repeat("rate_books", 0, "classes")),
    ("/rate_books/0/equipment/2/id", "duplicate", repeat("rate_books", 0, "equipment")),
    ("/rate_books/0/productions/2/task", "duplicate", repeat("rate_books", 0, "productions")),
    (
        "/rate_books/0/productions/1/roles",
        "ambiguous-production",
        rivals({"roles": ["primer", "topcoat"]}, {"roles": ["topcoat"]}),
    ),
    (
        "/rate_books/0/productions/1/layers",
        "ambiguous-production",
        rivals({"layers": ["base"]}, {"layers": ["finish", "base"]}),
    ),
    (
        "/rate_books/0/productions/1/layers",
        "ambiguous-production",
        rivals(
            {"layers": ["base"], "roles": ["primer"]},
            {"layers": ["base", "finish"], "roles": ["topcoat", "primer"]},
        ),
    ),
    (
        "/rate_books/0/cold_up_to",
        "cold-not-below-hot",
        put("rate_books", 0, "cold_up_to", "30 degC"),
    ),
    (
        "/rate_books/0/minimum_paid_day",
        "minimum-beyond-standard",
        put("rate_books", 0, "minimum_paid_day", "PT9H"),
    ),
    (
        "/rate_books/0/productions/0/equipment/0",
        "unknown-equipment",
        put("rate_books", 0, "productions", 0, "equipment", ["crane"]),
    ),
    (
        "/rate_books/0/productions/0/dry_for",
        "dries-by-product",
        put(
            "rate_books",
            0,
            "productions",
            0,
            {"task": "place_field", "method": "roller", "driver": "job", "dry_for": "PT1H"},
        ),
    ),
    (
        "/rate_books/0/productions/0/count_per_hour",
        "exactly-one",
        put("rate_books", 0, "productions", 0, "count_per_hour", 3),
    ),
    (
        "/rate_books/0/productions/0/area_rate",
        "rate-not-of-driver",
        put("rate_books", 0, "productions", 0, "driver", "mix"),
    ),
    (
        "/rate_books/0/productions/0/volume_rate",
        "rate-not-of-driver",
        put(
            "rate_books",
            0,
            "productions",
            0,
            {
                "task": "machine_grind",
                "method": "grinder",
                "driver": "machine_grind_area",
                "volume_rate": "5 L/h",
            },
        ),
    ),
    ("/consumables/1/id", "duplicate", repeat("consumables")),
    ("/consumables/0", "exactly-one", put("consumables", 0, "per_length", MISSING)),
    ("/consumables/0/per_count", "exactly-one", put("consumables", 0, "per_count", 2)),
    (
        "/consumables/0/per_length",
        "per-not-of-driver",
        put("consumables", 0, "driver", "floor_area"),
    ),
    ("/consumables/0/product", "unknown-product", put("consumables", 0, "product", "nowhere")),
    ("/taxes/1/id", "duplicate", repeat("taxes")),
    ("/taxes/0/effective_from", "range-reversed", put("taxes", 0, "effective_to", "2025-12-31")),
]
