"""Every figure of the takeoff can be worked out again from its own trace."""

from collections.abc import Callable
from math import hypot, pi
from typing import Any

import pytest
from takeoff_cases import busy_site, measured

from filmbuild.estimates.rulebook import rulebook
from filmbuild.pipeline.results import AreaTakeoff, Takeoff

Inputs = dict[str, Any]


def everything() -> Takeoff:
    site = busy_site()
    return measured(*site.pop("areas"), **site)


def product(inputs: Inputs, *names: str) -> float:
    """Sum over the terms of the product of these inputs."""
    total = 0.0
    for term in zip(*(inputs[name] for name in names), strict=True):
        value = 1.0
        for factor in term:
            value *= factor
        total += value
    return total


def side(inputs: Inputs) -> float:
    total = 0.0
    terms = zip(
        inputs["risers"],
        inputs["rises"],
        inputs["goings"],
        inputs["waists"],
        inputs["one_side"],
        inputs["open_sides"],
        strict=True,
    )
    for risers, rise, going, waist, one, sides in terms:
        solid = rise * going * risers * (risers - 1) / 2
        slab = (risers - 1) * (rise * going / 2 + (waist or 0) * hypot(rise, going))
        assert one in (0, pytest.approx(solid if waist is None else slab))
        total += one * sides
    return total


def sheets(inputs: Inputs, lengths: str) -> float:
    width, overlap, lap = (inputs[name] for name in ("sheet_width", "overlap", "lap"))
    total = 0.0
    counts = inputs.get("counts", [1] * len(inputs["widths"]))
    for across, along, count in zip(inputs["widths"], inputs[lengths], counts, strict=True):
        need, covered, extra = across + 2 * lap, width, 0.0
        while covered < need - 1e-9:
            covered += width - overlap
            extra += overlap
        total += count * (need + extra) * (along + 2 * lap)
    return total


def chases(inputs: Inputs) -> float:
    halves = [0.5 if section == "v" else 1.0 for section in inputs["sections"]]
    return product(inputs | {"halves": halves}, "lengths", "widths", "depths", "halves")


def band(inputs: Inputs) -> float:
    flat = sum(inputs.get(name, 0.0) for name in ("along_walls", "pit_floor", "around_collars"))
    beside = inputs.get("added_treads", 0.0) + inputs.get("thresholds", 0.0)
    return float(flat * inputs.get("floor_to_plan", 1.0) + beside)


WORKED_OUT: dict[str, Callable[[Inputs], float]] = {
    "takeoff.floor": lambda found: (
        found["outline"]
        - found.get("islands", 0.0)
        - found.get("uncoated", 0.0)
        + found.get("added_by_slope", 0.0)
        + found.get("added_treads", 0.0)
        + found.get("thresholds", 0.0)
    ),
    "takeoff.band": band,
    "takeoff.running-length": lambda found: sum(found.values()),
    "takeoff.rest-of-floor": lambda found: (
        found["floor"] - found.get("hand_grind", 0.0) - found.get("cut_in", 0.0)
    ),
    "takeoff.base-walls": lambda found: (
        product(found, "runs", "heights") - sum(found.get("openings", ()))
    ),
    "takeoff.risers": lambda found: product(found, "risers", "widths", "rises"),
    "takeoff.treads": lambda found: product(
        found | {"treads": [risers - 1 for risers in found["risers"]]},
        "treads",
        "widths",
        "goings_and_nosings",
    ),
    "takeoff.step-sides": side,
    "takeoff.curbs": lambda found: (
        product(found, "lengths", "faces", "heights") + product(found, "lengths", "widths")
    ),
    "takeoff.cove-length": lambda found: sum(found["runs"]),
    "takeoff.cove-face": lambda found: (
        product(found, "runs", "radii") * pi / 2 + product(found, "runs", "straight_faces")
    ),
    "takeoff.cove-fillet": lambda found: product(found, "runs", "radii", "radii") * (1 - pi / 4),
    "takeoff.vertical": lambda found: sum(found.values()),
    "takeoff.tape": lambda found: sum(found.values()),
    "takeoff.slope": lambda found: product(
        {**found, "added": [hypot(1, one) - 1 for one in found["gradients"]]},
        "plan_areas",
        "added",
    ),
    "takeoff.pit-floor": lambda found: product(found, "counts", "areas", "coated"),
    "takeoff.pit-sides": lambda found: product(found, "counts", "sides", "depths"),
    "takeoff.footprint": lambda found: product(found, "counts", "areas"),
    "takeoff.drain-edge": lambda found: product(found, "counts", "perimeters"),
    "takeoff.collars": lambda found: product(found, "counts", "perimeters", "heights"),
    "takeoff.thresholds": lambda found: product(found, "widths", "depths"),
    "takeoff.lengths": lambda found: sum(found["lengths"]),
    "takeoff.crack-chase": chases,
    "takeoff.crack-sand": lambda found: product(found, "voids", "sand_fractions"),
    "takeoff.crack-liquid": lambda found: found["void"] - found["sand"],
    "takeoff.patch-area": lambda found: sum(found["areas"]),
    "takeoff.spalls": lambda found: product(found, "areas", "depths"),
    "takeoff.joints": lambda found: product(found, "lengths", "widths", "depths"),
    "takeoff.strip-area": lambda found: sum(found["areas"]),
    "takeoff.strip-volume": lambda found: product(found, "areas", "thicknesses"),
    "takeoff.dust-barrier": lambda found: sheets(found, "heights"),
    "takeoff.sheeting": lambda found: sheets(found, "lengths"),
    "takeoff.texture-sand-patch": lambda found: (
        sum(
            4 * volume / (pi * (sum(across) / len(across)) ** 2)
            for volume, across in zip(found["volumes"], found["diameters"], strict=True)
        )
        / len(found["volumes"])
    ),
}
EDGES = {"wall_length", "open_length", "joined_length"}


def figures(area: AreaTakeoff) -> dict[str, float]:
    return {
        field: value
        for field in area.__struct_fields__
        if isinstance(value := getattr(area, field), float) and value
    }


def test_every_figure_is_worked_out_again_from_its_trace() -> None:
    takeoff = everything()
    assert set(figures(takeoff.areas[0])) == {
        field
        for field in takeoff.areas[0].__struct_fields__
        if isinstance(getattr(takeoff.areas[0], field), float)
    }
    for area in takeoff.areas:
        assert area.traces["placing_order"].rule == "takeoff.placing-order"
        for field, value in figures(area).items():
            trace = area.traces[field]
            if field not in EDGES:
                again = WORKED_OUT[trace.rule](trace.inputs)
                assert again == pytest.approx(value, rel=1e-12), field


def test_edges_add_up() -> None:
    area = everything().areas[0]
    for field in EDGES:
        found = area.traces[field].inputs
        walls = found["edges"] + found["reveals"] - found["open"] - found["joined"]
        assert walls == pytest.approx(area.wall_length)
        assert found["open"] + found["drains"] == pytest.approx(area.open_length)
        assert found["joined"] == pytest.approx(area.joined_length)


def test_every_rule_named_is_in_the_rule_book() -> None:
    takeoff = everything()
    named = {trace.rule for area in takeoff.areas for trace in area.traces.values()}
    named |= {trace.rule for trace in takeoff.totals.traces.values()}
    named |= {one.trace.rule for one in takeoff.readings_needed}
    assert named <= rulebook().keys()


def test_totals_are_traced_to_the_areas() -> None:
    takeoff = everything()
    totals = takeoff.totals
    for field in totals.__struct_fields__:
        value = getattr(totals, field)
        if isinstance(value, float):
            summed = sum(getattr(area, field) for area in takeoff.areas)
            assert value == pytest.approx(summed, rel=1e-12)
            assert (field in totals.traces) == bool(value)
    assert totals.traces["floor"].inputs == {"areas": 2}
