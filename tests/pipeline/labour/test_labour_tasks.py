"""Which tasks there are, in which order, and what changes their pace."""

import math

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from labour_cases import (
    BODY,
    FILLER,
    HALL,
    HOUR,
    PRODUCTIONS,
    SYSTEM,
    TOP,
    Case,
    area_rate,
    floor,
    floors_only,
    length_rate,
    replaced,
)
from materials_cases import layer, production

from filmbuild.errors import InvalidInput
from filmbuild.pipeline.job import Conditions
from filmbuild.pipeline.labour.conditions import mean_slope
from filmbuild.pipeline.site import Substrate
from filmbuild.pipeline.specification import Broadcast, Factor, Production
from filmbuild.quantities import Duration, MassPerArea, PositiveSection, Temperature, Thickness


def codes(case: Case) -> list[str]:
    return [task.code for task in case.labour().tasks]


def crew_hours(case: Case, task: str) -> float:
    return next(one.duration for one in case.labour().tasks if one.id == task) / HOUR


def placing(factors: dict[Factor, float]) -> tuple[Production, ...]:
    field = production("place_field", workers=2, area_rate=area_rate(50), factors=factors)
    return replaced(PRODUCTIONS, field)


def test_what_the_site_does_not_need_is_not_there() -> None:
    assert codes(floors_only(50.0)) == ["set_up", "place_field", "place_field", "demobilise"]


def test_the_system_s_own_order_is_kept_and_the_site_s_work_put_in() -> None:
    order = ("set_up", "hand_grind", "vacuum", "machine_grind", "vacuum")
    case = Case(system=msgspec.structs.replace(SYSTEM, preparation=order))
    assert [task.id for task in case.labour().tasks][:9] == [
        "set_up",
        "hand_grind",
        "vacuum",
        "machine_grind",
        "vacuum#2",
        "chase_cracks",
        "fill_cracks",
        "grind_repairs",
        "mask",
    ]


def test_tape_is_pulled_where_a_layer_says_so_and_else_at_the_end() -> None:
    said = layer(BODY, "body", after=("pull_tape",))
    early = codes(Case().layers(said, layer(BODY, "second")))
    assert early[-6:] == [
        "place_cut_in",
        "place_field",
        "pull_tape",
        "place_cut_in",
        "place_field",
        "demobilise",
    ]
    assert codes(Case())[-3:] == ["place_field", "pull_tape", "demobilise"]


def test_a_broadcast_is_thrown_in_the_coat_and_swept_when_it_has_cured() -> None:
    coat = layer(BODY, "body", broadcast=Broadcast(product="quay-sand", rate=MassPerArea(1.0)))
    productions = replaced(
        PRODUCTIONS,
        production("broadcast", area_rate=area_rate(100)),
        production("sweep_broadcast", area_rate=area_rate(100)),
    )
    labour = floors_only(100.0, layers=(coat,), productions=productions).labour()
    found = {one.id: one for one in labour.activities}
    assert found["coat:body"].duration / HOUR == pytest.approx(2.0 + 1.0)
    swept = found["sweep_broadcast:body"]
    assert (swept.after, swept.waits_for_cure) == (("coat:body",), True)


def test_verticals_are_placed_only_by_the_layers_that_cover_them() -> None:
    layers = (layer(BODY, "body"), layer(BODY, "second", vertical=Thickness(1e-4)))
    productions = (
        *PRODUCTIONS,
        production("place_vertical", driver="vertical_area", area_rate=area_rate(10)),
    )
    case = floors_only(50.0, layers=layers, productions=productions)
    case = case.but(areas=(floor(50.0, vertical=5.0),))
    assert [task.id for task in case.labour().tasks if task.code == "place_vertical"] == [
        "place_vertical:second"
    ]


def test_coated_area_counts_verticals_for_the_layers_that_cover_them() -> None:
    """50 m2 of floor and 5 of wall, vacuumed at 10 m2/h by both people before each coat."""
    layers = (
        layer(BODY, "body", before=("vacuum",)),
        layer(BODY, "second", before=("vacuum",), vertical=Thickness(1e-4)),
    )
    productions = replaced(
        PRODUCTIONS,
        production("place_vertical", area_rate=area_rate(50)),
        production("vacuum", driver="coated_area", workers=2, area_rate=area_rate(10)),
    )
    case = floors_only(50.0, layers=layers, productions=productions)
    case = case.but(areas=(floor(50.0, vertical=5.0),))
    assert crew_hours(case, "vacuum:body") == pytest.approx(5.0)
    assert crew_hours(case, "vacuum:second") == pytest.approx(5.5)
    assert codes(case).count("place_vertical") == 1


def test_set_up_is_added_and_the_minimum_holds() -> None:
    field = production(
        "place_field", area_rate=area_rate(50), set_up=Duration(HOUR), minimum=Duration(2.5 * HOUR)
    )
    productions = replaced(PRODUCTIONS, field)
    small = floors_only(50.0, productions=productions)
    large = floors_only(100.0, productions=productions)
    assert crew_hours(small, "place_field:body") == pytest.approx(2.5)  # 1 + 1 is below
    assert crew_hours(large, "place_field:body") == pytest.approx(3.0)


def test_factors_multiply_in_an_area_and_are_weighted_over_areas() -> None:
    """30 m2 hard and coated x 1.5 x 2, and 70 m2 plain: (30 x 3 + 70)/50 = 3.2 h."""
    hard = Substrate(hardness="hard", existing_coating=True)
    areas = (floor(30.0, substrate=hard), floor(70.0))
    case = floors_only(1.0, productions=placing({"hard_concrete": 1.5, "existing_coating": 2.0}))
    assert crew_hours(case.but(areas=areas), "place_field:body") == pytest.approx(3.2)


@pytest.mark.parametrize(
    ("surface", "expected"), [(10.0, 2.0), (10.1, 1.0), (29.9, 1.0), (30.0, 3.0)]
)
def test_hot_and_cold_surfaces(surface: float, expected: float) -> None:
    weather = Conditions(surface_temperature=Temperature(surface))
    case = floors_only(50.0, productions=placing({"cold": 2.0, "hot": 3.0}), conditions=weather)
    assert crew_hours(case, "place_field:body") == pytest.approx(expected)


@given(st.floats(0.5, 30.0), st.floats(1.0, 1.5), st.floats(1.0, 3.0))
def test_a_larger_small_area_never_takes_less_time(
    size: float, growth: float, factor: float
) -> None:
    productions = placing({"small_area": factor})
    smaller = floors_only(size, productions=productions, small_area=10.0)
    larger = floors_only(size * growth, productions=productions, small_area=10.0)
    name = "place_field:body"
    assert crew_hours(larger, name) >= crew_hours(smaller, name) * (1 - 1e-12)
    plain = size / 50.0
    written = 0.5e-3 / 3600  # times are kept to the millisecond
    assert plain - written <= crew_hours(smaller, name) <= plain * factor + written


def test_work_may_go_by_count_and_by_volume() -> None:
    productions = replaced(
        PRODUCTIONS,
        production("vacuum", driver="worker", count_per_hour=4.0),
        production("fill_cracks", driver="crack_length", volume_rate=4e-4 / HOUR),
    )
    case = Case(productions=productions)
    assert crew_hours(case, "vacuum") == pytest.approx(2 / 4)
    assert crew_hours(case, "fill_cracks") == pytest.approx(6e-4 / 4e-4)


def test_routing_cracks_as_published() -> None:
    """300 m at 3.5 to 4.5 m/min take 1.43 to 1.11 h (FHWA-RD-99-147, table 8, crew of one)."""
    hall = msgspec.structs.replace(HALL, crack_length=type(HALL.crack_length)(300.0))
    for pace, expected in ((3.5, 1.43), (4.5, 1.11)):
        routing = production(
            "chase_cracks", driver="crack_length", length_rate=length_rate(pace * 60)
        )
        case = Case(areas=(hall,), productions=replaced(PRODUCTIONS, routing))
        assert crew_hours(case, "chase_cracks") == pytest.approx(expected, abs=0.005)


@given(st.floats(1.0, 140.0), st.floats(1.0, 1.4), st.integers(2, 12))
def test_more_floor_never_takes_less_time_or_money(size: float, growth: float, people: int) -> None:
    smaller = floors_only(size).people(people).labour()
    larger = floors_only(size * growth).people(people).labour()
    assert larger.labour[0].amount.amount >= smaller.labour[0].amount.amount
    assert larger.productive >= smaller.productive
    assert larger.shifts >= smaller.shifts


def refused(case: Case) -> dict[str, tuple[str, str]]:
    with pytest.raises(InvalidInput) as raised:
        case.labour()
    return {one.code: (one.pointer, one.detail) for one in raised.value.faults}


def test_a_task_without_production_is_named() -> None:
    without = tuple(one for one in PRODUCTIONS if one.task != "mask")
    pointer, detail = refused(Case(productions=without))["no-production"]
    assert pointer == "/job/rate_book"
    assert "mask" in detail


def test_a_crew_that_is_too_small_is_told_the_smallest_that_works() -> None:
    productions = replaced(
        PRODUCTIONS, production("place_field", workers=3, area_rate=area_rate(50))
    )
    case = Case(productions=productions)
    pointer, detail = refused(case.people(1))["crew-too-small"]
    assert pointer == "/job/crew"
    assert detail.endswith("is 3")
    assert case.people(3).labour().crew == 3
    assert "crew-too-small" in refused(case.people(2))


def test_placing_is_not_listed_by_hand() -> None:
    odd = msgspec.structs.replace(SYSTEM, preparation=("set_up", "place_field"))
    pointer, detail = refused(Case(system=odd))["task-misplaced"]
    assert pointer == "/job/system"
    assert "place_field" in detail


def test_a_product_without_cure_times_is_refused() -> None:
    silent = msgspec.structs.replace(BODY, full_cure=())
    pointer, detail = refused(Case(products=(FILLER, silent, TOP)))["no-cure-times"]
    assert pointer == "/job/system"
    assert "quay-body" in detail


def test_products_that_the_catalogue_lacks_are_named() -> None:
    with pytest.raises(InvalidInput) as raised:
        Case(products=(BODY,)).labour()
    details = " ".join(one.detail for one in raised.value.faults)
    assert "quay-filler" in details
    assert "quay-top" in details


def test_a_rate_that_does_not_fit_its_driver_is_refused() -> None:
    odd = production("vacuum", driver="worker", area_rate=area_rate(10))
    case = Case(productions=replaced(PRODUCTIONS, odd))
    assert "worker" in refused(case)["no-production"][1]
    shifts = production("vacuum", driver="shift", count_per_hour=1.0)
    case = Case(productions=replaced(PRODUCTIONS, shifts))
    assert "shifts" in refused(case)["no-production"][1]


def test_a_machine_that_the_rate_book_lacks_is_refused() -> None:
    assert "grinder" in refused(Case(equipment=()))["unknown-equipment"][1]


def test_a_coat_takes_the_most_specific_production() -> None:
    """100 m2 at 50 m2/h by any; 25 for topcoats; 100 for the layer "body", and 20 for it as a topcoat."""
    rates = (
        production("place_field", workers=2, area_rate=area_rate(50)),
        production("place_field", workers=2, area_rate=area_rate(25), roles=("topcoat",)),
        production("place_field", workers=2, area_rate=area_rate(100), layers=("body",)),
        production(
            "place_field",
            workers=2,
            area_rate=area_rate(20),
            layers=("body",),
            roles=("topcoat",),
        ),
    )
    layers = (layer(BODY, "first"), layer(BODY, "body"), layer(TOP, "top"))
    others = tuple(one for one in PRODUCTIONS if one.task != "place_field")
    case = floors_only(100.0, layers=layers, productions=(*others, *rates))
    assert crew_hours(case, "place_field:first") == pytest.approx(2.0)
    assert crew_hours(case, "place_field:body") == pytest.approx(1.0)
    assert crew_hours(case, "place_field:top") == pytest.approx(4.0)


def test_work_that_only_other_coats_have_a_production_for_is_named() -> None:
    others = tuple(one for one in PRODUCTIONS if one.task != "place_field")
    tops = production("place_field", area_rate=area_rate(25), roles=("topcoat",))
    case = floors_only(100.0, productions=(*others, tops))
    pointer, detail = refused(case)["no-production"]
    assert pointer == "/job/rate_book"
    assert "place_field" in detail


def test_times_are_whole_milliseconds() -> None:
    for task in floors_only(12.3456).labour().tasks:
        assert task.duration == round(task.duration, 3)


def test_a_steep_area_takes_its_factor_from_the_rate_book_s_slope_on() -> None:
    """2010 ADA Standards 106.5: steeper than 1 in 20 is a ramp; (1 + 1/400)^0.5 of its plan."""
    productions = placing({"steep": 1.5})
    plan = 50.0

    def sloping(gradient: float) -> float:
        added = plan * (math.hypot(1.0, gradient) - 1)
        case = floors_only(1.0, productions=productions)
        ramp = floor(plan + added, added_by_slope=added)
        hours: float = crew_hours(case.but(areas=(ramp,)), "place_field:body")
        return hours / (1 + added / plan)

    assert sloping(1 / 20) == pytest.approx(1.5, rel=1e-6)
    assert sloping(1 / 12) == pytest.approx(1.5, rel=1e-6)
    assert sloping(1 / 50) == pytest.approx(1.0, rel=1e-6)


def test_steps_added_to_a_slope_do_not_flatten_it() -> None:
    added = 50.0 * (math.hypot(1.0, 1 / 12) - 1)
    ramp = floor(50.0 + added + 10.0, added_by_slope=added, added_treads=10.0)
    assert mean_slope(ramp) == pytest.approx(1 / 12)


def test_hard_access_slows_the_areas_that_the_site_says_it_of() -> None:
    """40 m2 x 1.5 and 60 m2 plain at 50 m2/h: 2.4 h."""
    areas = (msgspec.structs.replace(floor(40.0), access="hard"), floor(60.0))
    case = floors_only(1.0, productions=placing({"hard_access": 1.5})).but(areas=areas)
    assert crew_hours(case, "place_field:body") == pytest.approx(2.4)


def test_a_task_tells_its_machine_s_width_and_set_up() -> None:
    wide = production(
        "place_field",
        area_rate=area_rate(50),
        set_up=Duration(HOUR / 4),
        machine_width=PositiveSection(0.45),
    )
    tasks = floors_only(50.0, productions=replaced(PRODUCTIONS, wide)).labour().tasks
    field = next(one for one in tasks if one.code == "place_field")
    assert (field.machine_width, field.set_up) == (0.45, HOUR / 4)
