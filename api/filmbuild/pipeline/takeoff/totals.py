"""Sums over the areas of a site."""

from math import fsum
from operator import attrgetter
from typing import Any

import msgspec

from filmbuild.pipeline.results import AreaTakeoff, Totals
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Quantity

_KINDS: dict[str, type[Quantity]] = {
    field.name: field.type
    for field in msgspec.structs.fields(Totals)
    if isinstance(field.type, type) and issubclass(field.type, Quantity)
}
_values = attrgetter(*_KINDS)


def totals_of(areas: tuple[AreaTakeoff, ...]) -> Totals:
    """Correctly rounded, so that the order of the areas does not move them."""
    sums = map(fsum, zip(*map(_values, areas), strict=True))
    totals: dict[str, Any] = {
        field: kind(value) for (field, kind), value in zip(_KINDS.items(), sums, strict=True)
    }
    trace = Trace("takeoff.total", {"areas": len(areas)})
    found = [field for field, value in totals.items() if value]
    return Totals(**totals, traces=dict.fromkeys(found, trace))
