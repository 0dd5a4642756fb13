"""Products in three parts, mortars by mass, tables of temperature, and mixes against residue."""

import json
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from materials_cases import LITRE, area, case, kit, layer, life, product, system, with_layers

from filmbuild.edge.decoding import decode
from filmbuild.errors import InvalidInput
from filmbuild.pipeline.materials.parts import split
from filmbuild.pipeline.specification import OutsideTable, Part, Product, Repairs, System
from filmbuild.quantities import PositiveDensity, PositiveThickness, PositiveVolume


def by_mass(name: str, ratio: float, density: float) -> Part:
    return Part(name=name, ratio_by_mass=ratio, density=PositiveDensity(density))


def per_liquid(name: str, mass: float, density: float) -> Part:
    return Part(name=name, mass_per_liquid=PositiveDensity(mass), density=PositiveDensity(density))


def test_ratio_by_mass_to_ratio_by_volume() -> None:
    # computed: 100:45 by mass at 1.15 and 0.97 kg/L is 1.8744:1 by volume, and 1.0874 kg/L mixed
    of = product(parts=(by_mass("a", 100, 1150), by_mass("b", 45, 970)))
    first, second = of.parts
    assert first.ratio_by_volume / second.ratio_by_volume == pytest.approx(1.8744, abs=5e-5)
    assert of.mixed_density == pytest.approx(1087.4, abs=0.05)


def test_aggregate_by_mass_in_each_litre_of_liquid() -> None:
    # by hand: 10 L of 2:1 and 0.9 kg/L at 2.65 kg/L: per litre of liquid 1 + 0.9 / 2.65 = 1.33962 L
    # of mix, so 7.46479 L of liquid and 6.71831 kg of filler
    liquids = (by_mass("resin", 2.2, 1100), by_mass("hardener", 1.0, 1000))
    of = product(parts=(*liquids, per_liquid("filler", 900, 2650)))
    resin, hardener, filler = split(of, 10 * LITRE)
    assert (resin.volume + hardener.volume) / LITRE == pytest.approx(7.46479, abs=5e-6)
    assert resin.volume == pytest.approx(2 * hardener.volume)
    assert filler.mass == pytest.approx(6.71831, abs=5e-6)


@given(fill=st.floats(100, 8000), ratio=st.floats(0.2, 6), litres=st.floats(0.1, 500))
def test_parts_make_up_the_volume_whatever_they_are_measured_by(
    fill: float, ratio: float, litres: float
) -> None:
    liquids = (by_mass("a", ratio, 1130), by_mass("b", 1.0, 1000))
    of = product(parts=(*liquids, per_liquid("filler", fill, 2650)))
    first, second, third = split(of, litres * LITRE)
    assert first.volume + second.volume + third.volume == pytest.approx(litres * LITRE)
    assert first.mass == pytest.approx(ratio * second.mass)
    assert third.mass == pytest.approx(fill * (first.volume + second.volume))


def test_a_mortar_that_compacts_takes_more_than_its_void() -> None:
    # 2200 kg/m3 as laid over (2 x 1100 + 1000) / 3 = 1066.67 kg/m3 as mixed: 2.0625 times the void
    of = product("harbour-fill", role="joint_filler", laid_density=PositiveDensity(2200.0))
    body = product()
    floor = area(joint_length=10.0, joint_volume=2 * LITRE)
    job = case(body, areas=[floor])
    repaired = system(layer(body), repairs=Repairs(joint_filler=of.id, loss_fraction=0.0))
    changed = {
        "system": repaired,
        "products": (body, of),
        "packs": {**job.packs, of.id: (kit(of, 5.0, "80"),)},
    }
    filled = type(job)(areas=job.areas, **changed).plan().coats[0]  # type: ignore[arg-type]  # fields of a case
    assert filled.void_volume / LITRE == pytest.approx(2.0)
    assert filled.net_volume / LITRE == pytest.approx(2 * 2.0625)


@given(
    floor=st.floats(1.0, 900.0),
    most=st.floats(1.0, 40.0),
    kept=st.floats(0.0, 0.45),
)
def test_mixes_are_the_fewest_that_bring_their_own_residue_too(
    floor: float, most: float, kept: float
) -> None:
    # n mixes leave n x kept behind, so that n depends on the volume and the volume on n: the least
    # n that agrees with itself is found by counting up from one
    of = product(
        working_life=life(1e5),
        container=PositiveVolume(most * LITRE),
        container_residue=PositiveVolume(max(kept, 1e-3) * LITRE),
    )
    coat = case(of, kit(of, 1e6, "1"), areas=[area(floor=floor)], soak=1e-4).plan().coats[0]
    base = coat.net_volume / (1 - coat.loss_fraction) + coat.soak
    residue = max(kept, 1e-3) * LITRE
    count = 1
    while base + count * residue > count * most * LITRE * (1 + 1e-9):
        count += 1
    assert len(coat.mixes) == count
    assert coat.residue == pytest.approx(count * residue)
    assert coat.ordered_volume == pytest.approx(base + coat.residue)
    assert sum(mix.volume for mix in coat.mixes) == pytest.approx(coat.ordered_volume)


def test_a_floor_outside_the_product_s_table_is_refused() -> None:
    of = product(outside_table=OutsideTable())
    assert case(of, temperature=20.0).plan().coats
    with pytest.raises(InvalidInput) as refused:
        with_layers(case(of, temperature=21.0), layer(of, "one"), layer(of, "two")).plan()
    (fault,) = refused.value.faults
    assert fault.pointer == "/job/conditions/surface_temperature"
    assert fault.code == "outside-product-table"
    assert "from 20 to 20 degC" in fault.detail


def test_a_rule_beyond_the_table_is_followed_where_it_is_stated() -> None:
    of = product(outside_table=OutsideTable(rule="halving"))
    assert case(of, temperature=21.0).plan().coats


PART = {"name": "a", "ratio_by_volume": 1, "density": "1 kg/L"}
PRODUCT = {"id": "quay", "name": "Quay", "supplier": "Quay", "role": "body_coat", "parts": [PART]}
LAYER = {"id": "body", "name": "Body", "product": "quay", "wet_film": "1 mm"}
SYSTEM = {"id": "quay", "name": "Quay", "preparation": [], "layers": [LAYER]}


@pytest.mark.parametrize(
    ("kind", "document", "pointer"),
    [
        (
            Product,
            {**PRODUCT, "parts": [{**PART, "ratio_by_volume": 0}]},
            "/parts/0/ratio_by_volume",
        ),
        (Product, {**PRODUCT, "parts": [{**PART, "ratio_by_mass": 0}]}, "/parts/0/ratio_by_mass"),
        (Product, {**PRODUCT, "volume_solids": 1.01}, "/volume_solids"),
        (Product, {**PRODUCT, "void_fraction": 1}, "/void_fraction"),
        (System, {**SYSTEM, "layers": [{**LAYER, "loss_fraction": 1}]}, "/layers/0/loss_fraction"),
        (System, {**SYSTEM, "layers": [{**LAYER, "grain_fill": 0}]}, "/layers/0/grain_fill"),
    ],
)
def test_what_no_product_or_system_can_be_is_refused_where_it_stands(
    kind: type[Product | System], document: dict[str, object], pointer: str
) -> None:
    with pytest.raises(InvalidInput) as refused:
        decode(kind, json.dumps(document).encode())
    assert [fault.pointer for fault in refused.value.faults] == [pointer]


def test_a_thicker_film_never_takes_less() -> None:
    volumes = [
        case(product(), wet_film=PositiveThickness(film * 1e-6)).plan().coats[0].ordered_volume
        for film in (100, 200, 400, 800)
    ]
    assert volumes == sorted(volumes)
    assert math.isclose(volumes[3], 8 * volumes[0])
