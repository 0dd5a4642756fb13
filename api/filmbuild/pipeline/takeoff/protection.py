"""Sheeting: dust barriers at openings, and covers over what stays in the room."""

import math
from collections.abc import Sequence

from filmbuild.errors import Faults
from filmbuild.pipeline.site import Site, SiteArea
from filmbuild.pipeline.site_work import Opening, Sheeting
from filmbuild.pipeline.takeoff.found import Found
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Area

_ROUNDING = 1e-9
_PLAIN: dict[str, object] = {}


def check_sheeting(site: Site, faults: Faults) -> None:
    sheet = site.sheeting
    if sheet is not None and sheet.overlap >= sheet.width:
        detail = f"sheets {sheet.width:.3f} m wide overlap by less than their width"
        faults.add("overlap-too-wide", detail, "sheeting", "overlap")


def measure_sheeting(
    area: SiteArea, barriers: Sequence[Opening], sheet: Sheeting | None, found: Found
) -> None:
    """`barriers` close doorways off the floor, besides the openings that the area lists."""
    openings = (*area.openings, *barriers)
    stated = _PLAIN
    if sheet is not None:
        stated = {"sheet_width": sheet.width, "overlap": sheet.overlap, "lap": sheet.lap}
    if openings:
        sheets = [Area(sheet_area(one.width, one.height, sheet)) for one in openings]
        sizes: dict[str, object] = {
            "widths": [one.width for one in openings],
            "heights": [one.height for one in openings],
        }
        found.area("dust_barrier", sum(sheets), Trace("takeoff.dust-barrier", sizes | stated))
    if area.covers:
        covers = [one.count * sheet_area(one.width, one.length, sheet) for one in area.covers]
        sizes = {
            "widths": [one.width for one in area.covers],
            "lengths": [one.length for one in area.covers],
            "counts": [one.count for one in area.covers],
        }
        found.area("sheeting", sum(covers), Trace("takeoff.sheeting", sizes | stated))


def sheet_area(width: float, length: float, sheet: Sheeting | None) -> float:
    """[m2] Sheets side by side over `width`, each as long as `length`, with overlaps and laps."""
    if sheet is None or sheet.overlap >= sheet.width:
        return width * length
    across = width + 2 * sheet.lap
    advance = sheet.width - sheet.overlap
    sheets = max(math.ceil((across - sheet.overlap) / advance - _ROUNDING), 1)
    return (across + (sheets - 1) * sheet.overlap) * (length + 2 * sheet.lap)
