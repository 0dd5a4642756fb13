"""The mixing sheet by a timer: when each mix is begun and must be down, its wet edge, and who."""

from typing import Any

import msgspec
import pytest
from materials_cases import HOUR, LITRE, MINUTE, Case, area, case, life, pack, product, production

from filmbuild.pipeline.results import Coat
from filmbuild.pipeline.trace import Note
from filmbuild.quantities import Duration, PositiveAreaRate, PositiveLengthRate, PositiveVolume

LOOSE = tuple(pack("harbour-100", f"{name}-can", "50", volumes={name: 5.0}) for name in "ab")
LIFE: dict[str, Any] = {
    "working_life": life(20 * MINUTE),
    "mixing_time": Duration(3 * MINUTE),
    "premix_time": Duration(MINUTE),
}


def planned(job: Case) -> tuple[Coat, list[str]]:
    notes: list[Note] = []
    coat = job.plan(notes).coats[0]
    return coat, [note.detail for note in notes if note.code == "wet-edge-not-met"]


def starts(coat: Coat) -> list[float]:
    return [mix.starts_at / MINUTE for mix in coat.mixes]


def test_those_who_place_mix_in_between() -> None:
    # by hand: two gangs of one place 6.25 L on 25 m2 in 12.5 min; with 3 min of mixing and 1 of
    # stirring the first part before it, mixes are begun after 1 and after 1 + 15.5 + 1 min
    coat, _ = planned(case(product(**LIFE), *LOOSE))
    assert starts(coat) == pytest.approx([1.0, 17.5])
    assert [mix.down_by / MINUTE for mix in coat.mixes] == pytest.approx([21.0, 37.5])
    assert {mix.premix_time for mix in coat.mixes} == {MINUTE}


def test_somebody_free_mixes_while_the_others_place() -> None:
    # by hand: field in a gang of two leaves the third to mix: the second mix is ready when the
    # first is down after 1 + 3 + 12.5 min, and so begun 3 min before
    pair = production(
        "place_field", area_rate=PositiveAreaRate(120 / HOUR), workers=2, gangs_maximum=1
    )
    job = case(product(**LIFE), *LOOSE, workers=3, productions=(pair,))
    coat, notes = planned(job)
    assert starts(coat) == pytest.approx([1.0, 13.5])
    assert notes == []


def test_the_next_mix_is_ready_no_sooner_than_it_can_be_mixed() -> None:
    # by hand: mixes of 1 L are placed in 2 min and take 4 to stir and mix
    of = product(**LIFE, largest_mix=PositiveVolume(1 * LITRE))
    fast = production("place_field", area_rate=PositiveAreaRate(120 / HOUR), gangs_maximum=1)
    job = case(of, *LOOSE, areas=[area(floor=12.0)], productions=(fast,))
    coat, _ = planned(job)
    assert starts(coat) == pytest.approx([1.0, 5.0, 9.0])


def test_an_edge_is_met_wet_within_the_life_of_its_mix() -> None:
    # by hand: the first mix is down by 21 min, and the second begun to be placed after 20.5
    coat, notes = planned(case(product(**LIFE), *LOOSE))
    first, last = coat.mixes
    assert first.wet_edge_by == first.down_by
    assert last.wet_edge_by is None
    assert last.starts_at + last.mixing_time < first.down_by
    assert notes == []


def test_an_edge_that_dries_first_is_told_with_the_crew_that_meets_it() -> None:
    # by hand: an edge stays wet for 3 min, and two who place and mix are 4 min away from it; three
    # of whom two place have the next mix ready
    wet = life(3 * MINUTE)
    two = production("place_field", area_rate=PositiveAreaRate(60 / HOUR), gangs_maximum=2)
    job = case(product(**LIFE, wet_edge_time=wet), *LOOSE, productions=(two,))
    coat, notes = planned(job)
    assert coat.mixes[0].wet_edge_by == pytest.approx((1 + 3 + 12.5 + 3) * MINUTE)
    (detail,) = notes
    assert "the edge of mix 1 has dried for 1.0 min" in detail
    assert "a crew of 3 would meet all of them in time" in detail
    assert planned(msgspec.structs.replace(job, workers=3))[1] == []


def test_an_edge_that_no_crew_meets_is_told() -> None:
    # by hand: with somebody to mix, mixes of 1 L are 4 min apart and placed in a minute or less
    of = product(**LIFE, wet_edge_time=life(MINUTE), largest_mix=PositiveVolume(1 * LITRE))
    (detail,) = planned(case(of, *LOOSE))[1]
    assert "the longest of 12 edges" in detail
    assert "no crew of up to 5 would: choose a product that stays open longer" in detail


def test_wet_edges_follow_the_temperature() -> None:
    wet = (*life(20 * MINUTE, 10.0), *life(10 * MINUTE, 20.0))
    of = product(**{**LIFE, "working_life": life(15 * MINUTE)}, wet_edge_time=wet)
    for temperature, minutes in ((20.0, 10.0), (10.0, 20.0)):
        coat, _ = planned(
            case(
                msgspec.structs.replace(of, working_life=life(15 * MINUTE, temperature)),
                *LOOSE,
                temperature=temperature,
            )
        )
        first = coat.mixes[0]
        down = first.starts_at + first.mixing_time + first.placing_time
        assert first.wet_edge_by == pytest.approx(down + minutes * MINUTE)


def test_where_a_mix_ends_with_its_room_there_is_no_edge_to_meet() -> None:
    of = product(largest_mix=PositiveVolume(5 * LITRE))
    rooms = [area("far", 20.0, 1), area("near", 40.0, 2)]
    coat, _ = planned(case(of, *LOOSE, areas=rooms))
    assert [mix.areas for mix in coat.mixes] == [("far",), ("near",), ("near",)]
    assert [mix.wet_edge_by is None for mix in coat.mixes] == [True, False, True]


def test_who_places_is_said_gang_by_gang() -> None:
    field = production("place_field", area_rate=PositiveAreaRate(60 / HOUR), workers=2)
    along = production(
        "place_cut_in",
        driver="edge_length",
        length_rate=PositiveLengthRate(60 / HOUR),
        gangs_maximum=2,
    )
    job = case(
        product(),
        *LOOSE,
        areas=[area(cut_in=5.0, wall_length=24.0)],
        workers=3,
        productions=(field, along),
    )
    coat, _ = planned(job)
    assert [(one.task, one.gang, one.people) for one in coat.placers] == [
        ("place_field", 1, {"placer": 2}),
        ("place_cut_in", 1, {"placer": 1}),
        ("place_cut_in", 2, {"placer": 1}),
    ]
    assert {mix.placed_by for mix in coat.mixes} == {(1, 2)}


def test_each_mix_names_its_container() -> None:
    of = product(container=PositiveVolume(10 * LITRE))
    assert {mix.container for mix in planned(case(of, *LOOSE))[0].mixes} == {10 * LITRE}
