"""Repairs, and dry aggregate in cracks and on wet coats."""

import msgspec
import pytest
from materials_cases import (
    HOUR,
    LITRE,
    MINUTE,
    POUND,
    SQUARE_FOOT,
    SQUARE_YARD,
    Case,
    area,
    case,
    kit,
    layer,
    life,
    pack,
    part,
    product,
    production,
    takeoff,
    with_layers,
)

from filmbuild.errors import InvalidInput
from filmbuild.pipeline.results import AreaTakeoff
from filmbuild.pipeline.specification import Broadcast, Product, Repairs
from filmbuild.pipeline.tasks_present import task_codes
from filmbuild.quantities import (
    Duration,
    MassPerArea,
    PositiveThickness,
    PositiveVolume,
    PositiveVolumeRate,
)

BODY = product()
SAND = product(
    "quay-sand", role="broadcast_aggregate", parts=(part("sand", 1.0, 2650.0),), working_life=()
)
FILLER = product(
    "slip-filler",
    role="crack_filler",
    parts=(part("a"), part("b")),
    working_life=life(10 * MINUTE),
    mixing_time=Duration(MINUTE),
    largest_mix=PositiveVolume(0.25 * LITRE),
)


def repaired(*areas: AreaTakeoff, repairs: Repairs) -> Case:
    products: tuple[Product, ...] = (BODY, FILLER, SAND)
    job = case(BODY, areas=areas)
    return msgspec.structs.replace(
        job,
        system=msgspec.structs.replace(job.system, repairs=repairs),
        products=products,
        packs={
            **job.packs,
            FILLER.id: (kit(FILLER, 1.0, "60"),),
            SAND.id: (pack(SAND.id, "bag", "12", masses={"sand": 50 * POUND}),),
        },
    )


def test_a_share_of_sand_that_cracks_state_goes_before_that_of_the_system() -> None:
    # by hand: of 3 L of void, 1 L is stated as half sand, another as none, and the third takes the
    # system's 40 %: 0.9 L of grains of 2,650 kg/m3, and 2.1 L of liquid
    stated = area(
        crack_length=40.0,
        crack_volume=2 * LITRE,
        crack_sand_volume=0.5 * LITRE,
        crack_liquid_volume=1.5 * LITRE,
    )
    plain = area("store", crack_length=20.0, crack_volume=LITRE)
    repairs = Repairs(crack_filler=FILLER.id, fill_aggregate=SAND.id, aggregate_fill_fraction=0.4)
    plan = repaired(stated, plain, repairs=repairs).plan()
    assert plan.coats[0].net_volume / LITRE == pytest.approx(2.1)
    assert plan.aggregates[0].placed == pytest.approx(0.9e-3 * 2650)
    wet = area(crack_length=40.0, crack_volume=LITRE, crack_liquid_volume=LITRE)
    unsanded = repaired(wet, repairs=repairs).plan()
    assert unsanded.coats[0].net_volume / LITRE == pytest.approx(1.0)
    assert not unsanded.aggregates


def test_sand_that_cracks_state_needs_a_product() -> None:
    stated = area(
        crack_length=40.0,
        crack_volume=LITRE,
        crack_sand_volume=0.3 * LITRE,
        crack_liquid_volume=0.7 * LITRE,
    )
    with pytest.raises(InvalidInput) as caught:
        repaired(stated, repairs=Repairs(crack_filler=FILLER.id)).plan()
    assert [fault.code for fault in caught.value.faults] == ["no-repair-product"]
    assert "fill_aggregate" in caught.value.faults[0].detail


def test_cracks_take_their_void_in_small_mixes_between_sand_and_liquid() -> None:
    # by hand: 2 L of void, 40 % of it grains of 2,650 kg/m3: 1.2 L of liquid and 2.12 kg of sand,
    # both over 0.8
    cracked = area(crack_length=40.0, crack_volume=2 * LITRE)
    repairs = Repairs(
        crack_filler=FILLER.id,
        fill_aggregate=SAND.id,
        aggregate_fill_fraction=0.4,
        loss_fraction=0.2,
    )
    plan = repaired(cracked, repairs=repairs).plan()
    filling, _ = plan.coats
    assert (filling.kind, filling.layer) == ("repair", "fill_cracks")
    assert filling.net_volume / LITRE == pytest.approx(1.2)
    assert filling.ordered_volume / LITRE == pytest.approx(1.5)
    assert [mix.volume / LITRE for mix in filling.mixes] == pytest.approx([0.25] * 6)
    (sand,) = plan.aggregates
    assert sand.placed == pytest.approx(2.12)
    assert sand.ordered == pytest.approx(2.65)


def test_crack_mixes_keep_within_the_working_life() -> None:
    # by hand: 9 min of work at 60 m/h fill 9 m, of 2 L over 200 m: 90 mL a mix
    cracked = area(crack_length=200.0, crack_volume=2 * LITRE)
    job = repaired(cracked, repairs=Repairs(crack_filler=FILLER.id, loss_fraction=0.0))
    filling = job.plan().coats[0]
    assert filling.traces["mixes"].inputs["largest_mix"] / LITRE == pytest.approx(0.09)
    assert len(filling.mixes) == 23
    assert max(mix.placing_time for mix in filling.mixes) <= 9 * MINUTE


def test_every_kind_of_repair_is_its_own_coat_and_names_its_areas() -> None:
    worn = area("worn", order=2, spall_area=0.5, spall_volume=5 * LITRE)
    jointed = area("jointed", order=1, joint_length=12.0, joint_volume=0.7 * LITRE)
    coved = area("coved", order=3, cove_length=20.0, cove_volume=LITRE, cove_face=0.8)
    repairs = Repairs(patch_mortar=FILLER.id, joint_filler=FILLER.id, cove_mortar=FILLER.id)
    coats = repaired(worn, jointed, coved, repairs=repairs).plan().coats
    assert [coat.layer for coat in coats] == ["patch_spalls", "fill_joints", "form_cove", "body"]
    assert [coat.mixes[0].areas for coat in coats[:3]] == [("worn",), ("jointed",), ("coved",)]
    assert sum(mix.covers for mix in coats[0].mixes) == pytest.approx(0.5)
    assert sum(mix.covers for mix in coats[2].mixes) == pytest.approx(0.8)


def test_volume_rate_paces_a_patch() -> None:
    worn = area(spall_area=0.5, spall_volume=5 * LITRE)
    job = repaired(worn, repairs=Repairs(patch_mortar=FILLER.id, loss_fraction=0.0))
    slow = production("patch_spalls", volume_rate=PositiveVolumeRate(1 * LITRE / HOUR))
    paced = msgspec.structs.replace(job, productions=(*job.productions[:-1], slow))
    mixes = paced.plan().coats[0].mixes
    # by hand: 9 min at 1 L/h
    assert mixes[0].volume / LITRE == pytest.approx(5 / 34)
    assert mixes[0].placing_time == pytest.approx(HOUR * 5 / 34)


def test_a_site_that_needs_a_missing_repair_product_is_refused() -> None:
    needy = area(crack_length=5.0, crack_volume=LITRE, spall_area=0.1, spall_volume=LITRE)
    with pytest.raises(InvalidInput) as refused:
        repaired(needy, repairs=Repairs()).plan()
    assert [fault.code for fault in refused.value.faults] == ["no-repair-product"] * 2
    assert "crack_filler" in refused.value.faults[0].detail


def broadcast_job(floor: float, *broadcasts: Broadcast) -> Case:
    job = repaired(area(floor=floor), repairs=Repairs())
    layers = [layer(BODY, f"coat-{n}", broadcast=one) for n, one in enumerate(broadcasts, 1)]
    return with_layers(job, *layers)


def test_broadcast_by_mass_per_area() -> None:
    # computed: 14 lb/yd2 on 5,000 ft2 is 7,777.8 lb, which is 156 bags of 50 lb
    rate = MassPerArea(14 * POUND / SQUARE_YARD)
    job = broadcast_job(5000 * SQUARE_FOOT, Broadcast(product=SAND.id, rate=rate))
    plan = job.plan()
    assert plan.aggregates[0].placed / POUND == pytest.approx(7777.8, abs=0.05)
    bought = {one.product: one.packs for one in plan.purchases}
    assert [line.count for line in bought[SAND.id]] == [156]


def test_reclaimed_aggregate_serves_only_later_coats() -> None:
    # by hand: 100 kg thrown and 30 reclaimed; the second coat throws 80 and buys 50
    first = Broadcast(product=SAND.id, rate=MassPerArea(2.0), reclaimed_fraction=0.3)
    second = Broadcast(product=SAND.id, rate=MassPerArea(1.6))
    one, two = broadcast_job(50.0, first, second).plan().aggregates
    assert (one.placed, one.reclaimed, one.ordered) == pytest.approx((100.0, 30.0, 100.0))
    assert (two.placed, two.reclaimed, two.ordered) == pytest.approx((80.0, 0.0, 50.0))


def test_tasks_are_what_system_and_site_have_in_common() -> None:
    system = msgspec.structs.replace(
        case(BODY).system, preparation=("machine_grind", "hand_grind", "chase_cracks", "vacuum")
    )
    plain = msgspec.structs.replace(case(BODY), system=system)
    from_plain = task_codes(takeoff(*plain.areas), system)
    assert from_plain == {"machine_grind", "vacuum", "set_up", "demobilise", "place_field"}
    cracked = area(
        crack_length=2.0, crack_volume=LITRE, cut_in=3.0, hand_grind=1.0, tape_length=9.0
    )
    more = task_codes(takeoff(cracked), system)
    assert more - from_plain == {
        "hand_grind",
        "chase_cracks",
        "fill_cracks",
        "grind_repairs",
        "place_cut_in",
        "protect",
        "mask",
        "pull_tape",
    }


def test_broadcast_and_verticals_bring_their_tasks() -> None:
    coved = area(vertical=2.0, cove_length=5.0, cove_volume=LITRE)
    sanded = layer(
        BODY,
        broadcast=Broadcast(product=SAND.id, rate=MassPerArea(1.0)),
        after=("abrade",),
    )
    job = with_layers(case(BODY, areas=[coved]), sanded)
    found = task_codes(takeoff(*job.areas), job.system)
    assert {"broadcast", "sweep_broadcast", "abrade", "form_cove"} <= found
    assert "place_vertical" not in found
    up_the_wall = msgspec.structs.replace(sanded, vertical=PositiveThickness(2e-4))
    assert "place_vertical" in task_codes(takeoff(*job.areas), with_layers(job, up_the_wall).system)
