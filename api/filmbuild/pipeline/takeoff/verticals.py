"""Upright work along walls and on steps: base walls, coves, curbs, flights."""

from math import hypot, pi

from filmbuild.errors import Faults
from filmbuild.pipeline.site import SiteArea
from filmbuild.pipeline.site_work import BaseWall, StepFlight
from filmbuild.pipeline.takeoff.edges import Edges
from filmbuild.pipeline.takeoff.found import Found
from filmbuild.pipeline.takeoff.runs import run_of
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Area, Length


def measure_base_walls(area: SiteArea, edges: Edges, found: Found, faults: Faults) -> None:
    """Run x height less openings; the foot is taped, its head is the wall's own run."""
    runs, heights, openings = [], [], []
    for index, wall in enumerate(area.base_walls):
        at = faults.at("base_walls", index)
        run = run_of(wall, edges, at)
        opened = _opened(wall, run, at) if wall.openings else 0.0
        runs.append(Length(run))
        heights.append(wall.height)
        openings.append(Area(opened))
    value = sum([run * height for run, height in zip(runs, heights, strict=True)]) - sum(openings)
    inputs: dict[str, object] = {"runs": runs, "heights": heights}
    if any(openings):
        inputs["openings"] = openings
    found.area("base_walls", value, Trace("takeoff.base-walls", inputs))
    found.along("base_walls", sum(runs))
    found.runs_on("base_walls", sum(runs))


def _opened(wall: BaseWall, run: float, faults: Faults) -> float:
    """[m2] Openings as high as they reach within the base wall."""
    if sum([one.count * one.width for one in wall.openings]) > run:
        detail = f"this base wall runs {run:.3f} m; its openings together are wider"
        faults.add("openings-exceed-wall", detail, "openings")
    return sum(
        [
            one.count * one.width * min(one.height or wall.height, wall.height)
            for one in wall.openings
        ]
    )


def measure_coves(area: SiteArea, edges: Edges, found: Found, faults: Faults) -> None:
    runs, radii, straight = [], [], []
    for index, cove in enumerate(area.coves):
        at = faults.at("coves", index)
        runs.append(Length(run_of(cove, edges, at)))
        radii.append(cove.radius)
        height = cove.radius if cove.height is None else cove.height
        if height < cove.radius:
            detail = f"the whole height of this cove is at least its radius, {cove.radius:.4f} m"
            at.add("height-below-radius", detail, "height")
        straight.append(Length(max(height - cove.radius, 0.0)))
    both = list(zip(runs, radii, strict=True))
    faces = sum([run * pi / 2 * radius for run, radius in both])
    faces += sum([run * above for run, above in zip(runs, straight, strict=True)])
    inputs: dict[str, object] = {"runs": runs, "radii": radii}
    found.length("cove_length", sum(runs), Trace("takeoff.cove-length", {"runs": runs}))
    found.runs_on("coves", sum(runs))
    found.volume(
        "cove_volume",
        sum([run * radius**2 * (1 - pi / 4) for run, radius in both]),
        Trace("takeoff.cove-fillet", inputs),
    )
    if any(straight):
        inputs = inputs | {"straight_faces": straight}
    found.area("cove_face", faces, Trace("takeoff.cove-face", inputs))


def measure_curbs(area: SiteArea, found: Found) -> None:
    curbs = area.curbs
    found.area(
        "curbs",
        sum([one.length * (one.faces * one.height + one.width) for one in curbs]),
        Trace(
            "takeoff.curbs",
            {
                "lengths": [one.length for one in curbs],
                "faces": [one.faces for one in curbs],
                "heights": [one.height for one in curbs],
                "widths": [one.width for one in curbs],
            },
        ),
    )
    found.along("curbs", sum([2 * one.length for one in curbs]))
    found.runs_on("curbs", sum([one.length for one in curbs]))


def measure_steps(area: SiteArea, found: Found, faults: Faults) -> None:
    """The head and foot of each riser are taped, and each open side along its stepped line."""
    steps = area.steps
    sized: dict[str, object] = {
        "risers": [one.risers for one in steps],
        "widths": [one.width for one in steps],
    }
    for index, flight in enumerate(steps):
        _check_flight(flight, faults.at("steps", index))
        found.along("risers", 2 * flight.risers * flight.width)
        found.along("step_sides", flight.open_sides * _side_tape(flight))
    found.area(
        "risers",
        sum([one.risers * one.width * one.rise for one in steps]),
        Trace("takeoff.risers", sized | {"rises": [one.rise for one in steps]}),
    )
    found.runs_on("risers", sum([one.risers * one.width for one in steps]))
    depths = [Length(_depth(one)) for one in steps]
    treads = sum(
        [(one.risers - 1) * one.width * deep for one, deep in zip(steps, depths, strict=True)]
    )
    found.area(
        "added_treads", treads, Trace("takeoff.treads", sized | {"goings_and_nosings": depths})
    )
    sides = [Area(step_side(one)) for one in steps]
    found.area(
        "step_sides",
        sum([one.open_sides * side for one, side in zip(steps, sides, strict=True)]),
        Trace(
            "takeoff.step-sides",
            {
                "one_side": sides,
                "open_sides": [one.open_sides for one in steps],
                "risers": sized["risers"],
                "rises": [one.rise for one in steps],
                "goings": [one.going for one in steps],
                "waists": [one.waist for one in steps],
            },
        ),
    )


def _check_flight(flight: StepFlight, faults: Faults) -> None:
    if flight.going is None:
        if flight.treads == "added":
            faults.add("missing-field", 'treads that are "added" need the going of one', "going")
        if flight.coat_open_sides:
            faults.add("missing-field", "coated open sides need the going of one tread", "going")
    if flight.coat_open_sides and not flight.open_sides:
        faults.add("no-open-side", "state 1 or 2 open sides to have them coated", "open_sides")


def _depth(flight: StepFlight) -> float:
    """[m] What each tread adds to the floor: all of it outside the outline, else its nosing."""
    depth = flight.nosing or 0.0
    return depth + (flight.going or 0.0) if flight.treads == "added" else depth


def step_side(flight: StepFlight) -> float:
    """[m2] One coated open side of a flight with n risers; 0 where it is not coated.

    Solid to the floor, the n - 1 treads stand at 1 to n - 1 rises: `rise x going x n (n - 1) / 2`.
    Over a waist it is the triangles of the steps and the band of the slab along the slope.
    """
    if not flight.coat_open_sides or flight.going is None:
        return 0.0
    treads = flight.risers - 1
    rise, going = flight.rise, flight.going
    if flight.waist is None:
        return rise * going * flight.risers * treads / 2
    return treads * (rise * going / 2 + flight.waist * hypot(rise, going))


def _side_tape(flight: StepFlight) -> float:
    """[m] Along one open side: the foot of a coated one, else the ends of risers and of treads.

    The ends of treads inside the outline are edges of the outline already.
    """
    treads, going = flight.risers - 1, flight.going or 0.0
    if flight.coat_open_sides:
        return treads * (going if flight.waist is None else hypot(flight.rise, going))
    ends = treads * going if flight.treads == "added" else 0.0
    return flight.risers * flight.rise + ends
