"""Texture, repairs, stripping, sheeting and the readings to take."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from takeoff_cases import FOOT, SQUARE_FOOT, faults_of, measured, rectangle, room

from filmbuild.pipeline.results import Takeoff
from filmbuild.pipeline.takeoff.readings import film_areas, moisture_tests
from filmbuild.pipeline.trace import Note


def texture(**substrate: Any) -> float | None:
    return room(substrate=substrate).texture_depth


def patch(volume: str, *diameters: float) -> dict[str, Any]:
    return {"volume": volume, "diameters": [f"{size} mm" for size in diameters]}


def test_sand_circles() -> None:
    # ASTM E965: MTD = 4 V / (pi D^2). TNZ T/3:1981 has 350 mm for 45 mL stand for 0.45 mm, which
    # the formula puts at 0.468; 25 mL to 200 mm is 0.7958 mm by the same formula.
    assert texture(sand_patches=[patch("45 mL", 350, 350, 350, 350)]) == pytest.approx(
        0.468e-3, abs=0.5e-6
    )
    # The mean of the readings counts.
    uneven = patch("25 mL", 190, 210, 195, 205)
    assert texture(sand_patches=[uneven]) == pytest.approx(0.7958e-3, abs=0.05e-6)
    both = [uneven, patch("45 mL", 350, 350, 350, 350)]
    assert texture(sand_patches=both) == pytest.approx((0.7958e-3 + 0.4677e-3) / 2, abs=0.1e-6)


def test_a_reading_goes_before_what_the_profile_suggests() -> None:
    patches = [patch("25 mL", 200, 200, 200, 200)]
    assert texture() is None
    assumed = room(substrate={"profile": 3})
    assert assumed.texture_depth == pytest.approx(0.2e-3)
    assert assumed.traces["texture_depth"].rule == "takeoff.texture-assumed"
    read = room(substrate={"profile": 3, "sand_patches": patches})
    assert read.traces["texture_depth"].rule == "takeoff.texture-sand-patch"
    stated = texture(profile=3, sand_patches=patches, texture_depth="0 um")
    assert stated == 0
    depths = [texture(profile=profile) or 0.0 for profile in range(1, 11)]
    assert depths == sorted(set(depths))
    # Half of the 6 mm that the amplitude of profile 10 exceeds (ICRI 310.2R-2013).
    assert depths[-1] == pytest.approx(3e-3)


def test_three_diameters_are_too_few() -> None:
    found = faults_of(rectangle(substrate={"sand_patches": [patch("25 mL", 200, 200, 200)]}))
    assert list(found) == ["/areas/0/substrate/sand_patches/0/diameters"]


def test_joints_by_treatment() -> None:
    def joint(length: str, treatment: str) -> dict[str, str]:
        return {"length": length, "width": "10 mm", "depth": "20 mm", "treatment": treatment}

    area = room(
        joints=[
            joint("6 m", "fill"),
            joint("10 m", "honour"),
            joint("4 m", "coat_over"),
            joint("3 m", "coat_over"),
        ]
    )
    assert area.joint_length == pytest.approx(6)
    assert area.joint_volume == pytest.approx(6 * 0.01 * 0.02)
    assert area.honoured_joint_length == pytest.approx(10)
    assert area.coated_joint_length == pytest.approx(7)


def joint_notes(**joint: str) -> list[str]:
    notes: list[Note] = []
    body = {"length": "6 m", "width": "10 mm", "depth": "20 mm", **joint}
    measured(rectangle(joints=[body]), notes=notes)
    return [one.code for one in notes if one.code == "joint-moves"]


def test_joints_by_kind() -> None:
    joint = {"width": "10 mm", "depth": "20 mm"}
    area = room(
        joints=[
            {**joint, "length": "6 m"},
            {**joint, "length": "4 m", "kind": "expansion", "treatment": "honour"},
            {**joint, "length": "3 m", "kind": "expansion"},
            {**joint, "length": "1 m", "kind": "control", "treatment": "coat_over"},
        ]
    )
    assert area.control_joint_length == pytest.approx(7)
    assert area.expansion_joint_length == pytest.approx(7)
    assert area.joint_length == pytest.approx(9)


@pytest.mark.parametrize(
    ("kind", "treatment", "codes"),
    [
        ("expansion", "fill", ["joint-moves"]),
        ("expansion", "coat_over", ["joint-moves"]),
        ("expansion", "honour", []),
        ("control", "fill", []),
        ("control", "coat_over", []),
    ],
)
def test_an_expansion_joint_that_is_not_left_working_is_told(
    kind: str, treatment: str, codes: list[str]
) -> None:
    assert joint_notes(kind=kind, treatment=treatment) == codes


def moisture_notes(*areas: dict[str, Any], **site: Any) -> list[str]:
    notes: list[Note] = []
    measured(*areas, notes=notes, **site)
    return [one.detail for one in notes if one.code == "too-few-readings"]


def readings(emissions: int, humidities: int) -> dict[str, Any]:
    emission = {"emission": "2 lb/1000ft2/24h"}
    humidity = {"relative_humidity_percent": 70}
    return {"moisture": [emission] * emissions + [humidity] * humidities}


@pytest.mark.parametrize(
    ("emissions", "humidities", "expected"),
    [
        (0, 0, []),
        (3, 0, []),
        (0, 4, []),
        (0, 2, ["2 of 3 tests by ASTM F2170"]),
        (1, 3, ["1 of 3 tests by ASTM F1869"]),
        (1, 2, ["1 of 3 tests by ASTM F1869 and 2 of 3 tests by ASTM F2170"]),
    ],
)
def test_fewer_readings_than_the_floor_needs_are_told(
    emissions: int, humidities: int, expected: list[str]
) -> None:
    given = readings(emissions, humidities)
    of_area = moisture_notes(rectangle(substrate=given))
    of_site = moisture_notes(rectangle(), substrate=given)
    assert of_area == of_site
    assert len(of_area) == len(expected)
    assert all(part in told for part, told in zip(expected, of_area, strict=True))


def test_readings_of_one_level_add_up() -> None:
    areas = [
        {**rectangle(substrate=readings(0, 1)), "id": name, "level": level}
        for name, level in (("a", "ground"), ("b", "ground"), ("c", "ground"), ("d", "upper"))
    ]
    told = moisture_notes(*areas[:2], areas[3])
    assert [one.split(":")[0] for one in told] == ["level ground", "level upper"]
    # Three rooms of 60 m2 are 180 m2, 1938 ft2, and take four tests.
    assert "3 of 4 tests by ASTM F2170" in moisture_notes(*areas)[0]


def test_low_floor_is_made_up_by_its_mean_depth() -> None:
    area = room(
        spalls=[{"area": "0.5 m2", "depth": "8 mm"}],
        fills=[{"area": "12 m2", "depth": "3 mm"}],
        drains=[{"width": "1 m"}],
    )
    assert area.spall_area == pytest.approx(12.5)
    assert area.spall_volume == pytest.approx(0.004 + 0.036)
    whole = room(fills=[{"depth": "2 mm"}], drains=[{"width": "1 m"}])
    assert whole.spall_volume == pytest.approx(59 * 0.002)


def test_coating_to_be_stripped() -> None:
    listed = room(existing_coatings=[{"area": "20 m2", "thickness": "500 um"}, {"area": "5 m2"}])
    assert listed.strip_area == pytest.approx(25)
    assert listed.strip_volume == pytest.approx(0.01)
    # Grinding takes it off, at the rate book's slower pace.
    assert not room(substrate={"existing_coating": True}).strip_area
    whole = room(existing_coatings=[{"thickness": "1 mm"}])
    assert whole.strip_area == pytest.approx(60)
    assert whole.strip_volume == pytest.approx(0.06)


def test_sheeting_overlaps_and_laps() -> None:
    openings = [{"width": "5 m", "height": "2.5 m"}]
    plain = room(openings=openings)
    assert plain.dust_barrier == pytest.approx(12.5)
    sheet = {"width": "2 m", "overlap": "150 mm", "lap": "100 mm"}
    lapped = measured(
        rectangle(openings=openings, covers=[{"length": "3 m", "width": "1.8 m", "count": 2}]),
        sheeting=sheet,
    ).totals
    # 5.2 m across take three sheets of 2 m, with two overlaps, 2.7 m long.
    assert lapped.dust_barrier == pytest.approx((5.2 + 2 * 0.15) * 2.7)
    # 2.0 m across take one sheet.
    assert lapped.sheeting == pytest.approx(2 * 2.0 * 3.2)


@pytest.mark.parametrize(
    ("width", "sheets"),
    [("2 m", 1), ("2.01 m", 2), ("3.85 m", 2), ("3.86 m", 3)],
)
def test_so_many_sheets_cover_a_width(width: str, sheets: int) -> None:
    site = measured(
        rectangle(openings=[{"width": width, "height": "1 m"}]),
        sheeting={"width": "2 m", "overlap": "150 mm"},
    )
    across = float(width.removesuffix(" m"))
    assert site.totals.dust_barrier == pytest.approx(across + (sheets - 1) * 0.15)


@pytest.mark.parametrize(
    ("square_feet", "tests"),
    # ASTM F2170 (ASTM F1869 from memory): three in the first 1000 ft2 and at least one in each
    # further 1000 ft2.
    [(1, 3), (800, 3), (1000, 3), (1001, 4), (2000, 4), (2500, 5), (10_000, 12)],
)
def test_moisture_tests_by_size_of_floor(square_feet: float, tests: int) -> None:
    assert moisture_tests(square_feet * SQUARE_FOOT) == tests
    site = measured(rectangle(f"{square_feet / 10:.9f} ft", "10 ft"))
    assert places(site, "ASTM F1869") == places(site, "ASTM F2170") == tests


@pytest.mark.parametrize(
    ("square_feet", "areas"),
    # SSPC-PA 2 (2012): 12,500 ft2 take 15 areas, 75 spots and at least 225 readings.
    [(50, 1), (100, 1), (250, 3), (300, 3), (900, 3), (1000, 3), (1001, 4), (12_500, 15)],
)
def test_film_spots_by_size_of_floor(square_feet: float, areas: int) -> None:
    assert film_areas(square_feet * SQUARE_FOOT) == areas
    site = measured(rectangle(f"{square_feet / 10:.9f} ft", "10 ft"))
    assert places(site, "SSPC-PA 2") == 5 * areas
    assert [one.readings for one in site.readings_needed if one.level is None] == [15 * areas]


def places(site: Takeoff, method: str) -> int:
    return sum(one.places for one in site.readings_needed if one.method == method)


def test_each_level_is_a_slab_of_its_own() -> None:
    side = f"{30 * FOOT:.6f} m"
    rooms = [
        {**rectangle(side, side), "id": name, "level": level}
        for name, level in (("a", "ground"), ("b", "ground"), ("c", "first"))
    ]
    found = {
        one.level: one.places
        for one in measured(*rooms).readings_needed
        if one.method == "ASTM F2170"
    }
    assert found == {"ground": 4, "first": 3}


@given(smaller=st.floats(0.01, 5000), larger=st.floats(0.01, 5000))
@settings(max_examples=60, deadline=None)
def test_a_larger_floor_never_takes_fewer_readings(smaller: float, larger: float) -> None:
    smaller, larger = sorted((smaller, larger))
    assert moisture_tests(smaller) <= moisture_tests(larger)
    assert film_areas(smaller) <= film_areas(larger)


@pytest.mark.parametrize(
    ("area", "site", "expected"),
    [
        (
            rectangle(fills=[{"area": "61 m2", "depth": "1 mm"}]),
            {},
            {"/areas/0/fills/0/area": "exceeds-floor"},
        ),
        (
            rectangle(existing_coatings=[{}, {"area": "1 m2"}]),
            {},
            {"/areas/0/existing_coatings": "exceeds-floor"},
        ),
        (
            rectangle(),
            {"sheeting": {"width": "1 m", "overlap": "1 m"}},
            {"/sheeting/overlap": "overlap-too-wide"},
        ),
    ],
)
def test_surfaces_that_cannot_be_are_refused(
    area: dict[str, Any], site: dict[str, Any], expected: dict[str, str]
) -> None:
    assert faults_of(area, **site) == expected


def test_sand_and_liquid_share_the_void_of_a_chase() -> None:
    crack = {"length": "3 m", "width": "10 mm", "depth": "20 mm", "section": "square"}
    area = room(cracks=[{**crack, "sand_fraction": 0.4}, {**crack, "sand_fraction": 0}, crack])
    assert area.crack_volume == pytest.approx(3 * 0.6e-3)
    assert area.crack_sand_volume == pytest.approx(0.24e-3)
    assert area.crack_liquid_volume == pytest.approx(0.36e-3 + 0.6e-3)
    unstated = room(cracks=[crack])
    assert not unstated.crack_sand_volume
    assert not unstated.crack_liquid_volume


def test_a_chase_is_not_all_sand() -> None:
    crack = {"length": "3 m", "width": "10 mm", "depth": "20 mm", "sand_fraction": 0.81}
    assert list(faults_of(rectangle(cracks=[crack]))) == ["/areas/0/cracks/0/sand_fraction"]


def test_a_chase_and_its_trace() -> None:
    crack = {"length": "3 m", "width": "6 mm", "depth": "12 mm"}
    area = room(cracks=[crack, {**crack, "section": "square"}])
    assert area.crack_volume == pytest.approx(3 * 0.006 * 0.012 * 1.5)
    assert area.traces["crack_volume"].inputs == {
        "lengths": [3, 3],
        "widths": [0.006, 0.006],
        "depths": [0.012, 0.012],
        "sections": ["v", "square"],
    }
