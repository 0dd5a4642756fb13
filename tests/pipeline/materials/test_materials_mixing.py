"""Parts by ratio, and the mix plan."""

import math

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
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
from filmbuild.pipeline.results import AreaTakeoff, Coat
from filmbuild.pipeline.specification import Product
from filmbuild.quantities import (
    Area,
    Duration,
    PositiveAreaRate,
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


def test_a_mix_that_sets_while_it_is_mixed_is_refused() -> None:
    job = case(product(working_life=life(2 * MINUTE), mixing_time=Duration(3 * MINUTE)))
    with pytest.raises(Infeasible, match="cooler surface or a slower product"):
        job.plan()


def test_what_the_crew_or_the_catalogue_lacks_is_said() -> None:
    pair = production("place_field", area_rate=PositiveAreaRate(0.01), workers=2)
    job = case(product())
    assert codes(msgspec.structs.replace(job, productions=(pair,), workers=1)) == {"crew-too-small"}
    assert codes(msgspec.structs.replace(job, productions=())) == {"no-production"}
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


AREAS = st.lists(
    st.tuples(st.floats(0.5, 400.0), st.floats(0.0, 30.0)), min_size=1, max_size=12
).map(
    lambda sizes: tuple(
        area(f"bay-{n}", floor, n, vertical=vertical)
        for n, (floor, vertical) in enumerate(sizes, 1)
    )
)


@st.composite
def mixed(draw: st.DrawFn) -> Product:
    """Products of one to three parts, that mix in any container for any time."""
    ratios = draw(st.lists(st.floats(0.2, 20.0), min_size=1, max_size=3))
    return product(
        parts=tuple(part(f"p{n}", ratio) for n, ratio in enumerate(ratios)),
        working_life=life(draw(st.floats(15 * MINUTE, 10 * HOUR))),
        container=draw(st.none() | st.floats(1e-3, 0.05).map(PositiveVolume)),
        container_residue=draw(st.none() | st.floats(1e-6, 5e-4).map(PositiveVolume)),
        largest_mix=draw(st.none() | st.floats(1e-3, 0.05).map(PositiveVolume)),
    )


@st.composite
def jobs(draw: st.DrawFn) -> Case:
    of = draw(mixed())
    return case(
        of,
        *[kit(of, litres, "100") for litres in draw(st.sampled_from([[3.0], [10.0, 3.0], [2.0]]))],
        areas=draw(AREAS),
        vertical=draw(st.none() | st.just(PositiveThickness(150e-6))),
        loss_fraction=draw(st.floats(0.0, 0.4)),
        soak=draw(st.floats(0.0, 5e-4)),
    )


def covered(coat: Coat, areas: tuple[AreaTakeoff, ...]) -> float:
    return sum(one.floor + (one.vertical if coat.vertical else 0.0) for one in areas)


@settings(max_examples=60, deadline=None)
@given(jobs())
def test_mixes_make_up_the_coat_and_keep_within_every_limit(job: Case) -> None:
    coat = job.plan().coats[0]
    of = job.products[0]
    assert sum(mix.volume for mix in coat.mixes) == pytest.approx(coat.ordered_volume, rel=1e-9)
    assert sum(mix.covers for mix in coat.mixes) == pytest.approx(
        covered(coat, job.areas), rel=1e-6
    )
    for mix in coat.mixes:
        assert mix.volume <= min(of.container or 1.0, of.largest_mix or 1.0) * (1 + 1e-8)
        assert mix.mixing_time + mix.placing_time <= mix.working_life * (1 + 1e-8)
        assert mix.volume > (of.container_residue or 0.0)
        assert mix.areas
        unit = [
            one.volume / own.ratio_by_volume for one, own in zip(mix.parts, of.parts, strict=True)
        ]
        assert unit == pytest.approx([unit[0]] * len(unit))
    served = list(dict.fromkeys(name for mix in coat.mixes for name in mix.areas))
    assert served == [one.id for one in job.areas]


@settings(max_examples=60, deadline=None)
@given(jobs())
def test_number_of_mixes_is_what_counting_up_from_none_finds(job: Case) -> None:
    coat = job.plan().coats[0]
    of = job.products[0]
    base = coat.net_volume / (1 - coat.loss_fraction) + coat.soak
    size = max(mix.volume for mix in coat.mixes)
    found = coat.traces["mixes"].inputs
    if found["whole_kit"] is None:
        size = max(size, found["largest_mix"])
    count = 0
    while base + count * (of.container_residue or 0.0) > count * size * (1 + 1e-8):
        count += 1
    assert len(coat.mixes) == count


@settings(max_examples=40, deadline=None)
@given(jobs(), st.floats(1.0, 3.0))
def test_more_floor_never_needs_or_costs_less(job: Case, factor: float) -> None:
    on_floor = with_layers(job, msgspec.structs.replace(job.system.layers[0], vertical=None))
    larger = tuple(
        msgspec.structs.replace(one, floor=Area(one.floor * factor)) for one in job.areas
    )
    before = on_floor.plan()
    after = msgspec.structs.replace(on_floor, areas=larger).plan()
    assert after.coats[0].ordered_volume >= before.coats[0].ordered_volume * (1 - 1e-12)
    assert after.purchases[0].cost.amount >= before.purchases[0].cost.amount


@settings(max_examples=40, deadline=None)
@given(AREAS.flatmap(lambda areas: st.tuples(st.just(areas), st.permutations(areas))))
def test_order_of_areas_moves_no_total(
    orders: tuple[tuple[AreaTakeoff, ...], list[AreaTakeoff]],
) -> None:
    areas, shuffled = orders
    turned = tuple(
        msgspec.structs.replace(one, placing_order=n) for n, one in enumerate(shuffled, 1)
    )
    of = product(container=PositiveVolume(5 * LITRE))
    one_way, other_way = case(of, areas=areas).plan(), case(of, areas=turned).plan()
    assert other_way.coats[0].ordered_volume == pytest.approx(one_way.coats[0].ordered_volume)
    assert other_way.purchases[0].cost == one_way.purchases[0].cost
    served = [name for mix in other_way.coats[0].mixes for name in mix.areas]
    assert list(dict.fromkeys(served)) == [one.id for one in turned]


@given(st.floats(0.0, 0.9))
def test_ordered_volume_is_net_over_what_is_not_lost(loss: float) -> None:
    coat = case(product(), loss_fraction=loss).plan().coats[0]
    assert coat.ordered_volume * (1 - loss) == pytest.approx(coat.net_volume)


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
