"""What of the sheet is lettered already, and what of it is the floor of a room."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from math import ceil, dist

import shapely

from filmbuild.pipeline.boxes import Box, bounding_box
from filmbuild.pipeline.drawing.layout import View
from filmbuild.pipeline.drawing.rooms import Room
from filmbuild.pipeline.geometry import Point

_MESH = 8.0
_CLEAR = 0.6
"""[mm] Between lettering and the line of a wall."""
MOST_EFFORT = 2_000_000
"""In boxes compared with a floor, which take about a microsecond each."""
_EFFORT_OF_FIGURE = 25
MOST_TEETH = 50_000
MOST_PIECES = 100_000
_PIECE = 4.0
_BESIDE_LINE = 0.3
_STEP = 6.0
_FEWEST_STEPS = 3
_MOST_STEPS = 25


class Paper:
    """Boxes that are taken, in a mesh so that only near ones are compared.

    Finding a place for lettering takes effort, of which a sheet has so much: floors of very many
    very odd shapes are then lettered in the table alone.
    """

    def __init__(self) -> None:
        self._taken: defaultdict[Point, list[Box]] = defaultdict(list)
        self._lines: defaultdict[Point, list[Box]] = defaultdict(list)
        self._pieces = MOST_PIECES
        self._effort = MOST_EFFORT
        self._teeth = MOST_TEETH

    def can_spend(self, effort: int) -> bool:
        self._effort -= effort
        return self._effort >= 0

    def can_jag(self, teeth: int) -> bool:
        """Whether lines may still be drawn with so many teeth."""
        self._teeth -= teeth
        return self._teeth >= 0

    def is_free(self, box: Box) -> bool:
        return _is_free(box, self._taken)

    def is_clear(self, box: Box) -> bool:
        """Whether no line that was drawn lies under it."""
        return _is_free(box, self._lines)

    def can_draw(self, start: Point, end: Point) -> bool:
        """Whether a line would cross nothing that is lettered."""
        return all(self.is_free(box) for box in _pieces(start, end))

    def draw(self, start: Point, end: Point) -> None:
        """Remember a line, as long as the sheet has pieces left."""
        self._pieces -= ceil(dist(start, end) / _PIECE)
        if self._pieces >= 0:
            for box in _pieces(start, end):
                for mesh in _meshes(box):
                    self._lines[mesh].append(box)

    def take(self, box: Box) -> None:
        for mesh in _meshes(box):
            self._taken[mesh].append(box)


def _is_free(box: Box, taken: Mapping[Point, Sequence[Box]]) -> bool:
    left, top, right, bottom = box
    return not any(
        other_left < right and left < other_right and other_top < bottom and top < other_bottom
        for mesh in _meshes(box)
        for other_left, other_top, other_right, other_bottom in taken.get(mesh, ())
    )


def _pieces(start: Point, end: Point) -> Iterator[Box]:
    """Boxes round short pieces of a line, so that they are narrow whichever way it runs."""
    (x, y), (to_x, to_y) = start, end
    count = max(ceil(dist(start, end) / _PIECE), 1)
    for piece in range(count):
        one, other = piece / count, (piece + 1) / count
        xs = sorted((x + (to_x - x) * one, x + (to_x - x) * other))
        ys = sorted((y + (to_y - y) * one, y + (to_y - y) * other))
        yield (
            xs[0] - _BESIDE_LINE,
            ys[0] - _BESIDE_LINE,
            xs[1] + _BESIDE_LINE,
            ys[1] + _BESIDE_LINE,
        )


def _meshes(box: Box) -> list[Point]:
    left, top, right, bottom = (int(side // _MESH) for side in box)
    return [(x, y) for x in range(left, right + 1) for y in range(top, bottom + 1)]


class Floor:
    """A room on paper."""

    def __init__(self, room: Room, view: View) -> None:
        self.room = room
        self.outline = tuple(map(view.place, room.shape.outline))
        self.box = bounding_box(self.outline)
        self._islands = [tuple(map(view.place, ring)) for ring in room.shape.islands]

    @property
    def width(self) -> float:
        return self.box[2] - self.box[0]

    @property
    def height(self) -> float:
        return self.box[3] - self.box[1]

    @cached_property
    def figure(self) -> shapely.Polygon:
        figure = shapely.Polygon(self.outline, self._islands)
        shapely.prepare(figure)
        return figure

    @cached_property
    def centre(self) -> Point:
        left, top, right, bottom = self.box
        if self.room.is_plain:
            return (left + right) / 2, (top + bottom) / 2
        middle = shapely.centroid(self.figure)
        return middle.x, middle.y

    @cached_property
    def spots(self) -> list[Point]:
        """Where lettering may be centred, the nearest to the middle first."""
        left, top, right, bottom = self.box
        x, y = self.centre
        across, down = _spread(left, right), _spread(top, bottom)
        spots = [(one, other) for other in down for one in across]
        spots.sort(key=lambda spot: (spot[0] - x) ** 2 + (spot[1] - y) ** 2)
        if self.room.is_plain:
            return [self.centre, *spots]
        inner = shapely.point_on_surface(self.figure)
        return [self.centre, *spots, (inner.x, inner.y)]

    def holds(self, boxes: Sequence[Box]) -> list[bool]:
        """Whether each box lies on the floor, clear of the walls."""
        if self.room.is_plain:
            left, top, right, bottom = self.box
            return [
                left + _CLEAR <= one_left
                and top + _CLEAR <= one_top
                and one_right <= right - _CLEAR
                and one_bottom <= bottom - _CLEAR
                for one_left, one_top, one_right, one_bottom in boxes
            ]
        lefts, tops, rights, bottoms = zip(*boxes, strict=True)
        wider = shapely.box(
            [one - _CLEAR for one in lefts],
            [one - _CLEAR for one in tops],
            [one + _CLEAR for one in rights],
            [one + _CLEAR for one in bottoms],
        )
        held: list[bool] = shapely.contains_properly(self.figure, wider).tolist()
        return held

    def holds_figure(self, corners: Sequence[Point], paper: Paper) -> bool:
        return paper.can_spend(_EFFORT_OF_FIGURE) and bool(
            shapely.contains_properly(self.figure, shapely.Polygon(corners))
        )

    def spot_for(
        self, width: float, height: float, paper: Paper, *, clear: bool = False
    ) -> Point | None:
        """The middle of a free box of that size on the floor, clear of lines if asked, or None."""
        if width > self.width or height > self.height:
            return None
        for spots in (self.spots[:1], self.spots[1:]):
            if not self.room.is_plain and not paper.can_spend(_EFFORT_OF_FIGURE + len(spots)):
                return None
            boxes = [box_at(spot, width, height) for spot in spots]
            for spot, box, held in zip(spots, boxes, self.holds(boxes), strict=True):
                if held and paper.is_free(box) and (not clear or paper.is_clear(box)):
                    return spot
        return None


def _spread(start: float, end: float) -> list[float]:
    """Places from one side to the other, a step or so apart."""
    count = min(max(ceil((end - start) / _STEP), _FEWEST_STEPS), _MOST_STEPS)
    return [start + (index + 0.5) * (end - start) / count for index in range(count)]


def box_at(middle: Point, width: float, height: float) -> Box:
    x, y = middle
    return x - width / 2, y - height / 2, x + width / 2, y + height / 2
