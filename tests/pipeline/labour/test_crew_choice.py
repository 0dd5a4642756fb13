"""Who of the people available comes: the fewest who do the job as all of them would."""

from typing import Any

import pytest
from handing_on import DAY, chain, computed
from labour_cases import Case, floors_only, labour_class
from materials_cases import area, takeoff

from filmbuild.errors import FilmbuildError, InvalidInput
from filmbuild.pipeline.labour import choose_crew
from filmbuild.pipeline.selection import with_crew

CREW = (labour_class("hand"), 3), (labour_class("mate"), 5)


def chosen(case: Case, mixes: Any = lambda _crew: True) -> tuple[dict[str, int], str]:
    case = case.but(crew=CREW)
    selection = choose_crew(
        takeoff(*case.areas), case.job(), case.selection(), case.catalogue(), mixes
    )
    said = next((note.detail for note in selection.notes if note.code == "crew-chosen"), "")
    assert selection.workers == sum(count for _, count in selection.crew)
    return {one.id: count for one, count in selection.crew}, said


@pytest.mark.parametrize(
    ("floor", "crew"),
    [(100.0, {"hand": 2}), (401.0, {"hand": 3, "mate": 1}), (1_000.0, {"hand": 3, "mate": 3})],
)
def test_the_smallest_crew_that_places_each_coat_in_a_shift(
    floor: float, crew: dict[str, int]
) -> None:
    """Gangs of two place 50 m2 an hour each: 400, 800 and 1,200 m2 a shift."""
    found, said = chosen(floors_only(floor))
    assert found == crew
    assert "the whole floor at once" in said


def test_mixes_may_ask_for_more_people() -> None:
    found, said = chosen(floors_only(100.0), lambda crew: crew.workers >= 5)
    assert found == {"hand": 3, "mate": 2}
    assert "4 would not place the mixes in time" in said


def test_where_all_need_sections_the_fewest_people_with_as_few_sections_come() -> None:
    """1,600 m2 as rooms of 400: two sections for three gangs, and as few for no less."""
    rooms = tuple(area(f"room-{number}", 400.0, order=number) for number in range(1, 5))
    found, said = chosen(floors_only(1.0).but(areas=rooms))
    assert found == {"hand": 3, "mate": 1}
    assert "in 2 sections" in said
    assert "3 would place it in 4 sections" in said


def test_where_all_are_too_few_all_are_taken_and_the_stages_say_what_is_needed() -> None:
    found, said = chosen(floors_only(5_000.0))
    assert found == {"hand": 3, "mate": 5}
    assert said == ""


def test_people_are_taken_in_the_order_in_which_they_are_listed() -> None:
    selection = floors_only(1.0).but(crew=CREW).selection()
    assert [(one.id, count) for one, count in with_crew(selection, 2).crew] == [("hand", 2)]
    assert [count for _, count in with_crew(selection, 8).crew] == [3, 5]


def body() -> dict[str, Any]:
    outline = {"kind": "rectangle", "length": "30 m", "width": "12 m"}
    job = {
        "system": "harbour-thin-film",
        "start": DAY.isoformat(),
        "available": [
            {"labour_class": "finisher", "count": 4},
            {"labour_class": "labourer", "count": 6},
        ],
    }
    return {"units": "si", "site": {"areas": [{"id": "hall", "outline": outline}]}, "job": job}


def test_the_crew_that_was_chosen_stands_in_the_basis_and_holds_along_the_stages() -> None:
    whole = computed("estimate", body())
    crew = whole["basis"]["crew"]
    assert 2 <= sum(one["count"] for one in crew) < 10
    assert whole["labour"]["crew"] == sum(one["count"] for one in crew)
    assert "crew-chosen" in {note["code"] for note in whole["notes"]}
    inputs = whole["labour"]["traces"]["crew"]["inputs"]
    assert inputs["available"] == {"finisher": 4, "labourer": 6}
    assert inputs["fewer"] == whole["labour"]["crew"] - 1
    assert chain(body())["basis"]["crew"] == crew


def test_one_person_less_does_not_do_it() -> None:
    taken = computed("estimate", body())["basis"]["crew"]
    *others, last = [(one["labour_class"], one["count"]) for one in taken]
    fewer = body()
    del fewer["job"]["available"]
    fewer["job"]["crew"] = [
        {"labour_class": name, "count": count}
        for name, count in (*others, (last[0], last[1] - 1))
        if count > 0
    ]
    with pytest.raises(FilmbuildError) as raised:
        computed("estimate", fewer)
    codes = {fault.code for fault in raised.value.faults}
    assert codes <= {"coat-longer-than-shift", "crew-too-small"}


def test_a_crew_and_people_available_are_not_given_at_once() -> None:
    both = body()
    both["job"]["crew"] = [{"labour_class": "finisher", "count": 2}]
    with pytest.raises(InvalidInput) as raised:
        computed("estimate", both)
    assert [(one.code, one.pointer) for one in raised.value.faults] == [
        ("exactly-one", "/job/available")
    ]


def test_a_class_that_the_rate_book_lacks_is_named_where_it_was_given() -> None:
    unknown = body()
    unknown["job"]["available"][1]["labour_class"] = "poet"
    with pytest.raises(InvalidInput) as raised:
        computed("estimate", unknown)
    assert [one.pointer for one in raised.value.faults] == ["/job/available/1/labour_class"]
