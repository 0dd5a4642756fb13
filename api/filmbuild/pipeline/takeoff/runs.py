"""How long something is that runs along walls."""

from filmbuild.errors import Faults
from filmbuild.pipeline.site_work import WallRun
from filmbuild.pipeline.takeoff.edges import Edges
from filmbuild.pipeline.takeoff.stretches import SLACK


def run_of(run: WallRun, edges: Edges, faults: Faults) -> float:
    """[m] As measured, along all walls, or along those on a stretch of one side.

    Faults: an offset without a side, a side that is not there, a stretch past its side's end or
    without any wall.
    """
    if run.side is None:
        if run.offset is not None:
            detail = "an offset is measured along a side: give the side as well"
            faults.add("offset-needs-side", detail, "offset")
        return edges.wall_length if run.length is None else run.length
    outline = edges.rings[0]
    if run.side >= len(outline.lengths):
        detail = f"the outline has sides 0 to {len(outline.lengths) - 1}"
        faults.add("no-such-side", detail, "side")
        return 0.0
    whole = outline.lengths[run.side]
    start = run.offset or 0.0
    end = whole if run.length is None else start + run.length
    if start >= whole or end > whole + SLACK:
        faults.add(
            "past-end-of-side",
            f"side {run.side} is {whole:.3f} m long; this stretch runs from {start:.3f} m to "
            f"{max(start, end):.3f} m",
            "offset" if start >= whole else "length",
        )
        return 0.0
    walls = outline.runs[run.side]
    length = sum([max(min(end, last) - max(start, first), 0.0) for first, last in walls])
    if length <= SLACK:
        detail = f"side {run.side} has no wall from {start:.3f} m to {end:.3f} m"
        faults.add("no-wall-there", detail, "side")
    return length
