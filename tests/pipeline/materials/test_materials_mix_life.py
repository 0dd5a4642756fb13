"""A larger mix sets faster: how long mixes last by their size, and how large they may be for it."""

import math
from typing import Any

import msgspec
import pytest
from materials_cases import (
    GALLON,
    HOUR,
    LITRE,
    MINUTE,
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
    with_layers,
)

from filmbuild.errors import Infeasible
from filmbuild.pipeline.materials.life import Life
from filmbuild.pipeline.results import Coat
from filmbuild.pipeline.specification import Product, WorkingLifeSample
from filmbuild.quantities import (
    Duration,
    PositiveAreaRate,
    PositiveMass,
    PositiveThickness,
    PositiveVolume,
)

FLUID_OUNCE = GALLON / 128
LOOSE = tuple(pack("harbour-100", f"{name}-can", "50", volumes={name: 5.0}) for name in "ab")


def sample(litres: float, **given: Any) -> WorkingLifeSample:
    return WorkingLifeSample(volume=PositiveVolume(litres * LITRE), **given)


def only_coat(of: Product, **given: Any) -> Coat:
    return case(of, *LOOSE, **given).plan().coats[0]


def test_a_mix_of_twice_the_sample_has_less_time_and_a_smaller_one_no_more() -> None:
    # by hand: 12.5 L are 2.5 samples of 5 L: 2 h / 2.5 ** 0.5 = 75.89 min; of 20 L, no more than 2 h
    halved = only_coat(product(working_life_sample=sample(5.0, exponent=0.5)))
    assert [mix.working_life for mix in halved.mixes] == pytest.approx([2 * HOUR / 2.5**0.5])
    small = only_coat(product(working_life_sample=sample(20.0, exponent=0.5)))
    assert small.mixes[0].working_life == 2 * HOUR
    longer = sample(20.0, exponent=0.5, longest_share=1.2)
    stated = only_coat(product(working_life_sample=longer))
    assert stated.mixes[0].working_life == pytest.approx(2 * HOUR * 1.2)
    least = sample(5.0, exponent=0.5, shortest_share=0.9)
    assert only_coat(product(working_life_sample=least)).mixes[0].working_life == pytest.approx(
        2 * HOUR * 0.9
    )


def test_where_no_exponent_is_stated_ten_times_the_mass_has_three_tenths_less_time() -> None:
    # common practice, no source: 10 ** -0.15 is 0.708
    coat = only_coat(product(working_life_sample=sample(1.25)))
    assert coat.mixes[0].working_life / (2 * HOUR) == pytest.approx(0.708, abs=0.0005)


def test_a_sample_by_mass_is_of_the_mixed_product() -> None:
    # by hand: 2:1 of 1.1 and 1.0 kg/L is 16 / 15 kg/L, and 5 L of it are 16 / 3 kg
    mass = WorkingLifeSample(mass=PositiveMass(16 / 3), exponent=0.5)
    by_volume = only_coat(product(working_life_sample=sample(5.0, exponent=0.5)))
    by_mass = only_coat(product(working_life_sample=mass))
    assert by_mass.mixes[0].working_life == pytest.approx(by_volume.mixes[0].working_life)
    found = by_mass.traces["mix_working_life"].inputs["reference_volume"]
    assert found / LITRE == pytest.approx(5.0)


def test_thinner_lengthens_what_the_sample_makes() -> None:
    # by hand: 5 L of product with a tenth of thinner are 5.5 L of mix
    of = product(working_life_sample=sample(5.0, exponent=0.5))
    job = case(of, *LOOSE)
    thinned = with_layers(job, layer(of, thinner_fraction=0.1, dry_film=PositiveThickness(200e-6)))
    coat = thinned.plan().coats[0]
    (mix,) = coat.mixes
    assert mix.working_life == pytest.approx(2 * HOUR * (5.5 * LITRE / mix.volume) ** 0.5)


def test_the_largest_mix_is_where_its_own_life_just_suffices() -> None:
    # by hand: 2 gangs lay 250 um at 60 m2/h each, 120 s for a litre; a mix of V litres lives
    # 20 min x (2 / V) ** 0.5 and is mixed in 3: 1200 (2 / V) ** 0.5 = 180 + 120 V at V = 4.8932
    coat = only_coat(
        product(
            working_life=life(20 * MINUTE),
            working_life_sample=sample(2.0, exponent=0.5, shortest_share=0.1),
        )
    )
    largest = coat.traces["mixes"].inputs["largest_mix"] / LITRE
    assert 1200 * (2 / largest) ** 0.5 == pytest.approx(180 + 120 * largest, rel=1e-9)
    assert largest == pytest.approx(4.89320, abs=0.000005)
    assert [mix.volume / LITRE for mix in coat.mixes] == pytest.approx([12.5 / 3] * 3)
    assert coat.traces["mixes"].inputs["limited_by"] == "working_life"


def test_the_residue_counts_for_the_life_and_the_number_of_mixes() -> None:
    # by hand: as above with 0.4 L left in each container: b litres brought take 120 b seconds and
    # live 1200 (2 / (b + 0.4)) ** 0.5; the root is b = 4.7386, so that 12.5 L take 3 mixes
    coat = only_coat(
        product(
            working_life=life(20 * MINUTE),
            working_life_sample=sample(2.0, exponent=0.5, shortest_share=0.1),
            container_residue=PositiveVolume(0.4 * LITRE),
        )
    )
    largest = coat.traces["mixes"].inputs["largest_mix"] / LITRE
    assert largest - 0.4 == pytest.approx(4.73865, abs=0.000005)
    assert coat.ordered_volume / LITRE == pytest.approx(12.5 + 3 * 0.4)
    assert [mix.volume / LITRE for mix in coat.mixes] == pytest.approx([13.7 / 3] * 3)


def test_the_least_life_may_let_larger_mixes_than_its_fall_does() -> None:
    # by hand: no mix lives less than half of 20 min. With 6 L as the sample that is from 12 L on,
    # and 1200 (6 / V) = 180 + 120 V at V = 7.0322
    falling = sample(6.0, exponent=1.0, shortest_share=0.5)
    coat = only_coat(product(working_life=life(20 * MINUTE), working_life_sample=falling))
    largest = coat.traces["mixes"].inputs["largest_mix"] / LITRE
    assert largest == pytest.approx(7.0322, abs=0.00005)
    # by hand: with half a litre as the sample all mixes of a litre or more have 600 s, of which 420
    # place 3.5 L
    flat = sample(0.5, exponent=1.0, shortest_share=0.5)
    coat = only_coat(product(working_life=life(20 * MINUTE), working_life_sample=flat))
    assert coat.traces["mixes"].inputs["largest_mix"] / LITRE == pytest.approx(3.5)
    assert {mix.working_life for mix in coat.mixes} == {600.0}


def test_whole_kits_are_mixed_only_where_a_kit_lasts_until_it_is_down() -> None:
    # by hand: a kit of 10 L takes 1200 s and mixing 180; measured in 10 L it lasts 24 min, and
    # measured in 1 L only 24 x 10 ** -0.15 = 17 min, so that kits of 4 L with 19.5 are mixed
    kits = [kit(product(), litres, "100", f"kit-{litres:g}") for litres in (10.0, 4.0)]
    for litres, expected in ((10.0, "kit-10"), (1.0, "kit-4")):
        of = product(working_life=life(24 * MINUTE), working_life_sample=sample(litres))
        coat = case(of, *kits, areas=[area(floor=80.0)]).plan().coats[0]
        assert coat.traces["mixes"].inputs["whole_kit"] == expected


def test_what_is_left_joins_a_kit_only_where_both_last() -> None:
    # by hand: 20.2 L on 80.8 m2 in kits of 10 L leave 0.2 L; 10.2 L are mixed and placed in 1404 s
    areas = [area(floor=80.8)]
    for minutes, count in ((30.0, 2), (23.2, 3)):
        of = product(
            working_life=life(minutes * MINUTE), working_life_sample=sample(10.0, exponent=1.0)
        )
        coat = case(of, kit(of, 10.0, "100"), areas=areas).plan().coats[0]
        assert len(coat.mixes) == count
        for mix in coat.mixes:
            assert mix.mixing_time + mix.placing_time <= mix.working_life


def test_small_rooms_take_part_kits_and_the_open_floor_whole_ones() -> None:
    # common practice, no source: a 2:1 body coat. By hand: the room, 6 m2 all cut in, takes 180 +
    # 720 s for its 1.5 L; within 20 - 3 min a mix of 3 L is placed in the hall alone
    of = product(
        working_life=life(20 * MINUTE),
        working_life_sample=sample(3.0),
        container=PositiveVolume(4 * LITRE),
    )
    areas = [area("room", 6.0, 1, cut_in=6.0), area("hall", 36.0, 2)]
    coat = case(of, kit(of, 3.0, "90", "kit-3"), areas=areas).plan().coats[0]
    first, *others = coat.mixes
    assert first.areas[0] == "room"
    assert first.whole_kit is None
    assert [mix.whole_kit for mix in others[:-1]] == ["kit-3"] * (len(others) - 1)


def test_a_filler_that_sets_in_two_minutes_is_mixed_eight_ounces_at_a_time() -> None:
    # common practice, no source: 1:1, set in 1.5 to 2 minutes. By hand: one gang at 0.02 m3/h
    # places 8 fl oz, 0.2366 L, in 42.6 s, and 20 s of mixing are left of 120
    filler = product(
        "harbour-15",
        role="crack_filler",
        parts=(part("a"), part("b")),
        working_life=life(2 * MINUTE),
        working_life_sample=WorkingLifeSample(volume=PositiveVolume(8 * FLUID_OUNCE)),
        mixing_time=Duration(20.0),
        largest_mix=PositiveVolume(8 * FLUID_OUNCE),
    )
    cracked = area(crack_length=20.0, crack_volume=3 * LITRE)
    body = product()
    job = case(body, areas=[cracked])
    repaired = msgspec.structs.replace(
        job,
        products=(body, filler),
        packs={**job.packs, filler.id: (kit(filler, 2.0, "60"),)},
        system=msgspec.structs.replace(
            job.system,
            repairs=msgspec.structs.replace(job.system.repairs, crack_filler=filler.id),
        ),
        productions=(
            *[one for one in job.productions if one.task != "fill_cracks"],
            production("fill_cracks", length_rate=job.productions[3].length_rate, gangs_maximum=2),
        ),
    )
    coat = repaired.plan().coats[0]
    assert len(coat.mixes) >= math.ceil(3 * LITRE / (8 * FLUID_OUNCE))
    for mix in coat.mixes:
        assert mix.volume <= 8 * FLUID_OUNCE * (1 + 1e-9)
        assert mix.parts[0].volume == mix.parts[1].volume
        assert mix.placing_time + 20.0 <= mix.working_life == 2 * MINUTE
        assert mix.wet_edge_by is None


def refused(job: Case) -> str:
    with pytest.raises(Infeasible) as raised:
        job.plan()
    (fault,) = raised.value.faults
    assert (fault.code, fault.pointer) == ("working-life-too-short", "/job/system")
    return fault.detail


def test_what_nobody_can_place_is_refused_with_what_the_most_people_could() -> None:
    # by hand: 10 s at 60 m2/h a gang are 1/6 m2, and of 50 um 8.33 mL: 4 gangs place 33 mL, 6 all
    quick = product(working_life=life(10.0), mixing_time=Duration(0.0))
    job = case(quick, *LOOSE, wet_film=PositiveThickness(50e-6))
    assert "4 people would place 33 mL; choose a slower product" in refused(job)
    six = production("place_field", area_rate=PositiveAreaRate(60 / HOUR), gangs_maximum=6)
    assert "a crew of 6 would place that" in refused(
        msgspec.structs.replace(job, productions=(six,))
    )


def test_the_smallest_mix_is_given_its_own_life() -> None:
    # by hand: a sample of 1 L lives 10 s, and 50 mL 10 x 20 ** 0.5 = 44.7 s where up to 5 times is
    # stated: enough for a crew of 2 that places 50 mL of 50 um in 30 s
    own = sample(1.0, exponent=0.5, longest_share=5.0)
    quick = product(working_life=life(10.0), mixing_time=Duration(0.0), working_life_sample=own)
    job = case(quick, *LOOSE, wet_film=PositiveThickness(50e-6), areas=[area(floor=4.0)])
    coat = job.plan().coats[0]
    assert all(mix.placing_time <= mix.working_life for mix in coat.mixes)
    assert min(mix.volume for mix in coat.mixes) >= 50e-6
    tabled = msgspec.structs.replace(own, longest_share=1.0)
    refused(
        msgspec.structs.replace(
            job, products=(msgspec.structs.replace(quick, working_life_sample=tabled),)
        )
    )


def test_life_and_largest_mix_are_each_other_s_inverse() -> None:
    of = Life(1200.0, "table", 20.0, 8 * HOUR, 2 * LITRE, 0.5, 0.25, 1.0)
    for litres in (2.5, 5.0, 20.0, 31.0):
        assert of.largest(of.of(litres * LITRE)) / LITRE == pytest.approx(litres)
    assert of.largest(1201.0) == 0.0
    assert of.largest(300.0) == math.inf
