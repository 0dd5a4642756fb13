"""Parts by ratio, and the mix plan."""

import math

import msgspec
import pytest
from materials_cases import (
    GALLON,
    HOUR,
    LITRE,
    MINUTE,
    POUND_PER_GALLON,
    SQUARE_FOOT,
    Case,
    area,
    case,
    kit,
    life,
    pack,
    part,
    product,
    production,
    with_layers,
)

from filmbuild.errors import Infeasible, InvalidInput
from filmbuild.pipeline.results import Coat
from filmbuild.quantities import (
    Duration,
    PositiveAreaRate,
    PositiveLengthRate,
    PositiveThickness,
    PositiveVolume,
    Volume,
)

FLUID_OUNCE = GALLON / 128
KITS = {4.0: "90", 10.0: "100", 20.0: "400"}
ONLY_LOOSE_PARTS = (
    pack("harbour-100", "a-can", "50", volumes={"a": 5.0}),
    pack("harbour-100", "b-can", "40", volumes={"b": 5.0}),
)


def codes(job: Case) -> set[str]:
    with pytest.raises((InvalidInput, Infeasible)) as refused:
        job.plan()
    return {fault.code for fault in refused.value.faults}


def test_ratio_by_volume_to_ratio_by_mass() -> None:
    # computed: wA/wB = vA rhoA / (vB rhoB); ideal mixing for the density of the mix
    parts = (part("a", 2.0, 9.6 * POUND_PER_GALLON), part("b", 1.0, 8.0 * POUND_PER_GALLON))
    a, b = case(product(parts=parts)).plan().coats[0].parts
    assert a.mass / b.mass == pytest.approx(2.40)
    assert 100 * b.mass / a.mass == pytest.approx(41.667, abs=0.0005)
    mixed = (a.mass + b.mass) / (a.volume + b.volume) / POUND_PER_GALLON
    assert mixed == pytest.approx(9.0667, abs=0.00005)


def test_density_of_a_mix_given_by_mass() -> None:
    # computed: 100:45 by mass at 1.15 and 0.97 kg/L is 1.8744:1 by volume and 1.0874 kg/L mixed
    parts = (part("a", (100 / 1.15) / (45 / 0.97), 1150.0), part("b", 1.0, 970.0))
    a, b = case(product(parts=parts)).plan().coats[0].parts
    assert a.volume / b.volume == pytest.approx(1.8744, abs=0.00005)
    assert a.mass / b.mass == pytest.approx(100 / 45)
    assert (a.mass + b.mass) / (a.volume + b.volume) == pytest.approx(1087.4, abs=0.05)


def test_whole_kits_and_a_part_kit() -> None:
    # computed: 1,200 ft2 at 10 mil of solid material is 7.4805 gal: three kits of 3 gal
    of = product(container=PositiveVolume(5 * GALLON))
    floor = area(floor=1200 * SQUARE_FOOT)
    kits = kit(of, 3 * GALLON / LITRE, "180", "kit-3")
    plan = case(of, kits, areas=[floor], dry_film=PositiveThickness(254e-6)).plan()
    assert plan.coats[0].ordered_volume / GALLON == pytest.approx(7.4805, abs=0.00005)
    assert [mix.whole_kit for mix in plan.coats[0].mixes] == ["kit-3", "kit-3", None]
    assert plan.coats[0].mixes[-1].volume / GALLON == pytest.approx(1.4805, abs=0.00005)
    assert [(line.pack, line.count) for line in plan.purchases[0].packs] == [("kit-3", 3)]


def test_the_largest_kit_that_fits_is_mixed_whole() -> None:
    of = product(container=PositiveVolume(12 * LITRE))
    kits = [kit(of, litres, price, f"kit-{litres:g}") for litres, price in KITS.items()]
    mixes = case(of, *kits, areas=[area(floor=100.0)]).plan().coats[0].mixes
    assert [mix.whole_kit for mix in mixes] == ["kit-10", "kit-10", None]


def small_rest(container: float) -> Coat:
    """20 L to be brought by kits of 10 L, of which each container keeps 0.1 L."""
    of = product(
        container=PositiveVolume(container * LITRE), container_residue=PositiveVolume(0.1 * LITRE)
    )
    plan = case(of, kit(of, 10.0, "100", "kit"), areas=[area(floor=80.0)]).plan()
    (purchase,) = plan.purchases
    assert [(line.pack, line.count) for line in purchase.packs] == [("kit", 3)]
    return plan.coats[0]


def test_a_small_rest_goes_into_the_last_mix_where_its_container_holds_both() -> None:
    # by hand: 20 / (10 - 0.1) is 2.02 kits, and the rest 20.3 - 20 = 0.3 L, a third of it residue;
    # without a container for it, 0.2 L go to the second mix
    coat = small_rest(12.0)
    assert [mix.volume / LITRE for mix in coat.mixes] == pytest.approx([10.0, 10.2])
    assert [mix.whole_kit for mix in coat.mixes] == ["kit", None]
    assert coat.residue / LITRE == pytest.approx(0.2)
    assert [mix.covers for mix in coat.mixes] == pytest.approx([80 * 9.9 / 20, 80 * 10.1 / 20])


def test_a_small_rest_is_shared_where_its_container_holds_no_more() -> None:
    coat = small_rest(10.0)
    assert [mix.volume / LITRE for mix in coat.mixes] == pytest.approx([10.0, 5.15, 5.15])
    assert [mix.whole_kit for mix in coat.mixes] == ["kit", None, None]
    assert coat.residue / LITRE == pytest.approx(0.3)


def test_what_stays_in_the_container_covers_nothing() -> None:
    # by hand: 14 L to be brought take 14.4 L in two mixes: 9.8 L come from the kit, 4.2 L after it
    of = product(container_residue=PositiveVolume(0.2 * LITRE), largest_mix=PositiveVolume(0.01))
    coat = case(of, kit(of, 10.0, "100"), areas=[area(floor=56.0)]).plan().coats[0]
    assert [mix.volume / LITRE for mix in coat.mixes] == pytest.approx([10.0, 4.4])
    assert [mix.covers for mix in coat.mixes] == pytest.approx([56 * 9.8 / 14, 56 * 4.2 / 14])


def test_mixes_are_not_named_after_kits_that_are_not_bought() -> None:
    # by hand: 25 L; with the large kit at 150, 20 + 10 L at 250 is cheapest, and holds one kit of 10
    of = product(container=PositiveVolume(12 * LITRE))
    prices = KITS | {20.0: "150"}
    kits = [kit(of, litres, price, f"kit-{litres:g}") for litres, price in prices.items()]
    mixes = case(of, *kits, areas=[area(floor=100.0)]).plan().coats[0].mixes
    assert [mix.whole_kit for mix in mixes] == ["kit-10", None, None]
    assert mixes[1].volume == mixes[0].volume


def test_a_pack_out_of_ratio_is_no_kit() -> None:
    of = product(container=PositiveVolume(12 * LITRE))
    odd = pack(of.id, "odd", "100", volumes={"a": 5.0, "b": 5.0})
    mixes = case(of, odd, areas=[area(floor=100.0)]).plan().coats[0].mixes
    assert [mix.whole_kit for mix in mixes] == [None] * 3
    assert {mix.volume for mix in mixes} == {mixes[0].volume}


def test_fast_filler_comes_in_small_equal_mixes() -> None:
    # common practice, no source: a filler mixed 1:1 is worked in mixes of about 8 fl oz
    of = product(
        parts=(part("a"), part("b")),
        working_life=life(10 * MINUTE),
        mixing_time=Duration(MINUTE),
        largest_mix=PositiveVolume(8 * FLUID_OUNCE),
    )
    loose = [pack(of.id, name, "50", volumes={name: 5.0}) for name in ("a", "b")]
    coat = case(of, *loose, areas=[area(floor=4.0)]).plan().coats[0]
    assert len(coat.mixes) == math.ceil(1.0 * LITRE / (8 * FLUID_OUNCE))
    for mix in coat.mixes:
        assert 6 * FLUID_OUNCE < mix.volume <= 8 * FLUID_OUNCE
        assert mix.parts[0].volume == mix.parts[1].volume


def test_a_mix_is_no_larger_than_the_crew_can_place() -> None:
    # by hand: 20 min of life less 3 of mixing; 2 gangs of one at 60 m2/h lay 34 m2; 250 um on
    # it is 8.5 L, so that 12.5 L for 50 m2 come in two mixes of 6.25 L
    job = case(product(working_life=life(20 * MINUTE)), *ONLY_LOOSE_PARTS)
    coat = job.plan().coats[0]
    assert coat.traces["mixes"].inputs["limited_by"] == "working_life"
    assert coat.traces["mixes"].inputs["largest_mix"] / LITRE == pytest.approx(8.5)
    assert [mix.volume / LITRE for mix in coat.mixes] == pytest.approx([6.25, 6.25])
    assert [mix.placing_time for mix in coat.mixes] == pytest.approx([750.0, 750.0])


def test_heavy_coats_take_three_kits_on_a_floor_where_the_topcoat_takes_one() -> None:
    # common practice, no source: on 60 to 70 m2 kits of 3 gal come out at three for a heavy body
    # coat, 2:1, and at one for a urethane topcoat, 5:1. By hand: 65 m2 of 20 mil are 33.0 L, of
    # 4 mil 6.6 L, and a kit is 11.36 L
    body = product(container=PositiveVolume(5 * GALLON))
    top = product("harbour-300", parts=(part("a", 5.0), part("b", 1.0)), role="topcoat")
    for of, film, count in ((body, 20.0, 3), (top, 4.0, 1)):
        kits = kit(of, 3 * GALLON / LITRE, "180", "kit-3")
        wet = PositiveThickness(film * 25.4e-6)
        plan = case(of, kits, areas=[area(floor=65.0)], wet_film=wet).plan()
        assert len(plan.coats[0].mixes) == count
        assert [(line.pack, line.count) for line in plan.purchases[0].packs] == [("kit-3", count)]


def test_warm_concrete_makes_smaller_mixes() -> None:
    # halving per 10 K beyond the stated point (common practice, no source): 10 min left at 30 degC,
    # of which mixing takes 3
    job = case(product(working_life=life(20 * MINUTE)), *ONLY_LOOSE_PARTS, temperature=30.0)
    coat = job.plan().coats[0]
    assert coat.mixes[0].working_life == pytest.approx(10 * MINUTE)
    assert coat.traces["mixes"].inputs["largest_mix"] / LITRE == pytest.approx(8.5 * 7 / 17)


def test_residue_in_each_container_is_mixed_too() -> None:
    # by hand: 12.5 L net, and every mix of at most 5 L leaves 0.5 L in its container; 3 mixes
    # would have to hold 14.0 L, so 3 of 4.667 L do
    of = product(container=PositiveVolume(5 * LITRE), container_residue=PositiveVolume(0.5 * LITRE))
    coat = case(of, *ONLY_LOOSE_PARTS).plan().coats[0]
    assert coat.residue / LITRE == pytest.approx(1.5)
    assert coat.ordered_volume / LITRE == pytest.approx(14.0)
    assert [mix.volume / LITRE for mix in coat.mixes] == pytest.approx([14 / 3] * 3)


def test_each_applicator_soaks_up_its_share_once_per_coat() -> None:
    coat = case(product(), soak=0.3 * LITRE, workers=3).plan().coats[0]
    assert coat.soak / LITRE == pytest.approx(0.9)
    assert coat.ordered_volume == pytest.approx(coat.net_volume + coat.soak)


def test_mixes_name_the_areas_they_serve_in_placing_order() -> None:
    areas = [area("by-the-door", 30.0, 3), area("far", 20.0, 1), area("middle", 30.0, 2)]
    of = product(container=PositiveVolume(10 * LITRE))
    mixes = case(of, *ONLY_LOOSE_PARTS, areas=areas).plan().coats[0].mixes
    assert [mix.areas for mix in mixes] == [("far", "middle"), ("middle", "by-the-door")]
    assert [mix.covers for mix in mixes] == pytest.approx([40.0, 40.0])


def test_slow_verticals_shorten_the_mix() -> None:
    # by hand: 10 m2 at 60 m2/h and 5 m2 at 15 m2/h, by 2 gangs, take 900 s for 3.5 L; 17 min of
    # working time then place 3.967 L
    job = case(
        product(working_life=life(20 * MINUTE)),
        *ONLY_LOOSE_PARTS,
        areas=[area(floor=10.0, vertical=5.0)],
        vertical=PositiveThickness(200e-6),
    )
    (mix,) = job.plan().coats[0].mixes
    assert mix.placing_time == pytest.approx(900.0)
    assert mix.covers == pytest.approx(15.0)
    assert job.plan().coats[0].traces["mixes"].inputs["largest_mix"] / LITRE == pytest.approx(3.5)


def test_cut_in_shortens_the_mix() -> None:
    # by hand: 5 m2 of cut-in at 15 m2/h and 10 m2 of floor at 60 m2/h, by 2 gangs, take 900 s for
    # 2.5 L; the 510 s that mixing leaves of 690 s are enough for 1.417 L
    job = case(
        product(working_life=life(690.0)), *ONLY_LOOSE_PARTS, areas=[area(floor=10.0, cut_in=5.0)]
    )
    coat = job.plan().coats[0]
    assert coat.traces["mixes"].inputs["largest_mix"] / LITRE == pytest.approx(2.5 * 510 / 900)
    assert [mix.placing_time for mix in coat.mixes] == pytest.approx([450.0, 450.0])


def test_cut_in_may_go_by_the_length_of_edges_or_with_the_floor() -> None:
    # by hand: 12.5 L on 50 m2 at 2 x 60 m2/h take 1500 s; 30 m of edge at 2 x 60 m/h take 900 s
    job = case(
        product(),
        *ONLY_LOOSE_PARTS,
        areas=[area(cut_in=5.0, wall_length=24.0, open_length=6.0)],
    )
    along = production(
        "place_cut_in",
        driver="edge_length",
        length_rate=PositiveLengthRate(60 / HOUR),
        gangs_maximum=4,
    )
    with_it = production("place_cut_in", set_up=Duration(HOUR))
    for cut_in, seconds in ((along, 2400.0), (with_it, 1500.0)):
        paced = msgspec.structs.replace(job, productions=(job.productions[0], cut_in))
        (mix,) = paced.plan().coats[0].mixes
        assert mix.placing_time == pytest.approx(seconds)


def test_slow_rooms_take_part_kits_and_the_open_floor_whole_ones() -> None:
    # by hand: a mix is placed within 1200 s. The stair, 8 m2 and all of it cut in, takes 240 + 960 s
    # for its 2 L, less than a kit of 3 L; the hall then takes 2 kits of 360 s and 1.5 L
    of = product(
        working_life=life(1200.0), mixing_time=Duration(0.0), container=PositiveVolume(4 * LITRE)
    )
    areas = [area("stair", 8.0, 1, cut_in=8.0), area("hall", 30.0, 2)]
    coat = case(of, kit(of, 3.0, "90", "kit-3"), areas=areas).plan().coats[0]
    assert [mix.whole_kit for mix in coat.mixes] == [None, "kit-3", "kit-3", None]
    assert [mix.volume / LITRE for mix in coat.mixes] == pytest.approx([2.0, 3.0, 3.0, 1.5])
    assert [mix.placing_time for mix in coat.mixes] == pytest.approx([1200.0, 360.0, 360.0, 180.0])


def test_mixes_without_kits_share_the_time_where_paces_differ() -> None:
    # by hand: 8 m2 of stair take 1200 s and 40 m2 of hall 1200 s, within 1500 s each: 2 mixes; half
    # of the 12 L would take the stair, 480 s more of the hall, and so 1680 s: each takes 1200 s
    of = product(working_life=life(1500.0), mixing_time=Duration(0.0))
    areas = [area("stair", 8.0, 1, cut_in=8.0), area("hall", 40.0, 2)]
    coat = case(of, *ONLY_LOOSE_PARTS, areas=areas).plan().coats[0]
    assert [mix.volume / LITRE for mix in coat.mixes] == pytest.approx([2.0, 10.0])
    assert [mix.placing_time for mix in coat.mixes] == pytest.approx([1200.0, 1200.0])


def test_a_layer_is_placed_at_the_pace_of_its_own_kind() -> None:
    # by hand: 12.5 L for 50 m2 at 2 x 60 m2/h take 1500 s, and at 2 x 30 m2/h 3000 s
    job = case(product(role="topcoat"), *ONLY_LOOSE_PARTS)
    slow = PositiveAreaRate(30 / HOUR)
    for of in ({"roles": ("topcoat",)}, {"layers": ("body",)}):
        own = production("place_field", area_rate=slow, gangs_maximum=4, **of)
        slower = msgspec.structs.replace(job, productions=(*job.productions, own))
        assert slower.plan().coats[0].mixes[0].placing_time == pytest.approx(3000.0)
    other = production("place_field", area_rate=slow, gangs_maximum=4, roles=("primer",))
    same = msgspec.structs.replace(job, productions=(*job.productions, other))
    assert same.plan().coats[0].mixes[0].placing_time == pytest.approx(1500.0)


def test_too_short_a_working_life_says_which_crew_would_do() -> None:
    # 10 s to place at 2 x 60 m2/h is a third of a m2, which is 83 mL of 250 um; of 50 um it is 17
    quick = product(working_life=life(10.0), mixing_time=Duration(0.0))
    job = case(quick, *ONLY_LOOSE_PARTS, wet_film=PositiveThickness(50e-6))
    many = (production("place_field", area_rate=PositiveAreaRate(60 / HOUR), gangs_maximum=9),)
    with pytest.raises(Infeasible) as refused:
        msgspec.structs.replace(job, productions=many).plan()
    (fault,) = refused.value.faults
    assert fault.code == "working-life-too-short"
    assert "a crew of 6" in fault.detail
    assert msgspec.structs.replace(job, productions=many, workers=6).plan().coats
    with pytest.raises(Infeasible, match="no crew of this rate book"):
        job.plan()


def test_the_crew_that_would_do_cuts_in_quickly_enough_as_well() -> None:
    # by hand: of 50 um, 50 mL cover 1 m2, and with half a m2 of cut-in that takes one gang 60 s of
    # field and 30 s of cut-in at 60 m2/h: 9 gangs do it in 10.5 s, 8 do not
    quick = product(working_life=life(10.5), mixing_time=Duration(0.0))
    job = case(
        quick,
        *ONLY_LOOSE_PARTS,
        areas=[area(floor=50.0, cut_in=25.0)],
        wet_film=PositiveThickness(50e-6),
        productions=(
            production("place_field", area_rate=PositiveAreaRate(60 / HOUR), gangs_maximum=20),
            production(
                "place_cut_in",
                driver="cut_in_area",
                area_rate=PositiveAreaRate(60 / HOUR),
                gangs_maximum=20,
            ),
        ),
    )
    with pytest.raises(Infeasible, match="a crew of 9 would"):
        job.plan()
    assert msgspec.structs.replace(job, workers=9).plan().coats
    with pytest.raises(Infeasible):
        msgspec.structs.replace(job, workers=8).plan()


def test_a_mix_that_sets_while_it_is_mixed_is_refused() -> None:
    job = case(product(working_life=life(2 * MINUTE), mixing_time=Duration(3 * MINUTE)))
    with pytest.raises(Infeasible, match="cooler surface or a slower product"):
        job.plan()


def test_what_the_crew_or_the_catalogue_lacks_is_said() -> None:
    pair = production("place_field", area_rate=PositiveAreaRate(0.01), workers=2)
    job = case(product())
    assert codes(msgspec.structs.replace(job, productions=(pair,), workers=1)) == {"crew-too-small"}
    assert codes(msgspec.structs.replace(job, productions=())) == {"no-production"}
    edged = msgspec.structs.replace(job, areas=(area(cut_in=5.0),), productions=job.productions[:1])
    with pytest.raises(InvalidInput) as refused:
        with_layers(edged, edged.system.layers[0], edged.system.layers[0]).plan()
    (fault,) = refused.value.faults
    assert "place_cut_in, by area or length per hour" in fault.detail
    assert codes(case(product(working_life=()))) == {"no-working-life"}


def test_a_container_that_keeps_all_of_its_mix_is_refused() -> None:
    of = product(container=PositiveVolume(1 * LITRE), container_residue=PositiveVolume(1 * LITRE))
    assert codes(case(of)) == {"mix-below-residue"}


def test_more_mixes_than_can_be_listed_are_refused() -> None:
    of = product(largest_mix=PositiveVolume(0.1 * LITRE))
    assert codes(case(of, areas=[area(floor=10_000.0)])) == {"too-many-mixes"}


def test_one_part_products_are_worked_within_the_shift() -> None:
    of = product(parts=(part("a"),), working_life=())
    mix = case(of).plan().coats[0].mixes[0]
    assert mix.working_life == 8 * HOUR


def test_a_long_working_life_ends_with_the_shift() -> None:
    mix = case(product(working_life=life(30 * HOUR))).plan().coats[0].mixes[0]
    assert mix.working_life == 8 * HOUR


def test_each_layer_of_a_product_is_mixed_on_its_own() -> None:
    job = case(product(), *ONLY_LOOSE_PARTS)
    twice = with_layers(
        job, job.system.layers[0], msgspec.structs.replace(job.system.layers[0], id="second")
    )
    plan = twice.plan()
    assert [coat.layer for coat in plan.coats] == ["body", "second"]
    (purchase,) = plan.purchases
    needed = sum(coat.parts[0].volume for coat in plan.coats)
    assert purchase.needed["a"] == pytest.approx(needed)
    assert isinstance(purchase.needed["a"], Volume)


def test_a_takeoff_without_floor_is_refused_and_an_area_without_any_is_passed_over() -> None:
    assert codes(case(product(), areas=[area(floor=0.0)])) == {"nothing-to-coat"}
    areas = [area("empty", 0.0, 1), area("full", 10.0, 2), area("void", 0.0, 3)]
    (mix,) = case(product(), areas=areas).plan().coats[0].mixes
    assert mix.areas == ("full",)
