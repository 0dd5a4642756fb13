"""Unions and intersections of figures whose boundaries nearly coincide.

Figures turned by an odd angle have boundaries that ought to coincide and miss by a rounding
error. The overlay of floating-point figures then goes wrong now and again, by a whole face and
without a word (seen with GEOS 3.14.1); on a grid far below any length that matters it does not.
"""

from collections.abc import Sequence
from typing import Any

import shapely

FINENESS = 1e-13
"""The grid's step, as a share of the extent of the figures."""


def united(figures: Sequence[shapely.Geometry]) -> shapely.Geometry:
    return shapely.union_all(figures, grid_size=_step(figures))


def intersection(
    first: Any,  # noqa: ANN401 - one figure or an array of them
    second: Any,  # noqa: ANN401 - one figure or an array of them
) -> Any:  # noqa: ANN401 - one figure, or an array where either argument is one
    """Element by element where sequences are given."""
    return shapely.intersection(first, second, grid_size=max(_step(first), _step(second)))


def _step(figures: Any) -> float:  # noqa: ANN401 - one figure or an array of them
    bounds: list[float] = shapely.total_bounds(figures).tolist()
    return FINENESS * max(1.0, *map(abs, bounds))
