"""Signs for what lies at a place on the floor: pits, steps, drains, posts, joints and cracks."""

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from math import ceil, dist
from typing import TypeAlias
from xml.etree.ElementTree import Element

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.boxes import Box, bounding_box
from filmbuild.pipeline.drawing.labels import Line, draw_line
from filmbuild.pipeline.drawing.layout import View
from filmbuild.pipeline.drawing.paper import Paper, box_at
from filmbuild.pipeline.drawing.rooms import Room
from filmbuild.pipeline.drawing.svg import child, path
from filmbuild.pipeline.geometry import FOUR_CORNERS, Point, Ring
from filmbuild.pipeline.site import SiteArea
from filmbuild.pipeline.site_places import PlanPath
from filmbuild.pipeline.site_work import Joint
from filmbuild.pipeline.takeoff.plan_marks import (
    centred_ring,
    cornered_ring,
    flight_ring,
    line_of,
)

Style: TypeAlias = dict[str, str | float]

_THIN: Style = {"fill": "none", "stroke": "#000", "stroke_width": 0.25}
_FINE: Style = {"fill": "none", "stroke": "#000", "stroke_width": 0.15}
_DASHES = {"fill": "", "honour": "2.6 0.8", "coat_over": "1.6 0.6 0.3 0.6"}
_LETTERS = {"fill": "F", "honour": "H", "coat_over": "C"}
_TREATED = {"fill": "filled", "honour": "honoured", "coat_over": "coated over"}
_KINDS = ("control", "expansion")
_EXPANSION = "E"
_WIDE, _CORE = 1.1, 0.6
_LETTER = 2.2
_ALONG = (0.5, 0.3, 0.7, 0.15, 0.85)
_LEAST = 1.5
"""[mm] Drains and posts that are smaller on paper are drawn so large, about their middle."""
_INNER = 0.5
_TOOTH = 1.0
_JAG = 0.45
_ARROW = 1.0
_CLOSEST_TREADS = 0.5


class Sign(msgspec.Struct, frozen=True):
    name: str
    text: str


def joint_sign(joint: Joint) -> str:
    return f"joint-{joint.kind}-{joint.treatment}"


_JOINTS = {
    f"joint-{kind}-{treatment}": (kind, treatment) for kind in _KINDS for treatment in _TREATED
}
_TEXTS = {
    **{name: f"{kind} joint, {_TREATED[treatment]}" for name, (kind, treatment) in _JOINTS.items()},
    "crack": "crack to be chased and filled",
    "drain": "drain",
    "collar": "pipe or post",
    "pit": "pit or trench",
    "steps": "steps, the arrow goes up",
}


def signs_of(rooms: Sequence[Room]) -> list[Sign]:
    """Of what is drawn."""
    used: set[str] = set()
    for area in [room.area for room in rooms]:
        used |= {joint_sign(one) for one in area.joints if one.path is not None}
        if any(one.path is not None for one in area.cracks):
            used.add("crack")
        for name, things in (
            ("drain", area.drains),
            ("collar", area.collars),
            ("pit", area.pits),
            ("steps", area.steps),
        ):
            if any(one.at is not None for one in things):
                used.add(name)
    return [Sign(name, text) for name, text in _TEXTS.items() if name in used]


class Marks:
    """Draws the signs of one plan."""

    def __init__(self, parent: Element, lettering: Element, view: View, paper: Paper) -> None:
        self._parent = parent
        self._lettering = lettering
        self._view = view
        self._paper = paper
        self._islands = Paper()

    def draw(self, room: Room) -> None:
        area = room.area
        for ring in room.shape.islands if area.joints else ():
            self._islands.take(bounding_box(self._placed(ring)))
        for pit in area.pits:
            if pit.at is not None:
                _draw_pit(self._parent, self._placed(cornered_ring(pit, pit.at)))
        self._draw_flights(area)
        self._draw_lines(area)
        for draw, things in ((_draw_drain, area.drains), (_draw_collar, area.collars)):
            for one in things:
                if one.at is not None:
                    self._draw_standing(draw, centred_ring(one, one.at))

    def _draw_lines(self, area: SiteArea) -> None:
        for joint in area.joints:
            if joint.path is not None:
                line = self._line(joint.path)
                self._keep_clear(line)
                _draw_joint(self._parent, joint_sign(joint), line)
                self._letter(joint_letters(joint.kind, joint.treatment), line)
        for crack in area.cracks:
            if crack.path is not None:
                line = self._line(crack.path)
                self._keep_clear(line)
                self._draw_crack(line)

    def _keep_clear(self, line: Ring) -> None:
        for start, end in pairwise(line):
            self._paper.draw(start, end)

    def _placed(self, ring: Ring) -> Ring:
        return tuple([self._view.place(point) for point in ring])

    def _line(self, line: PlanPath) -> Ring:
        figure = line_of(line, "si", Faults())
        if figure is None:
            raise ValueError("the site was taken off, but one of its paths cannot be read")
        return self._placed(figure.ring)

    def _draw_flights(self, area: SiteArea) -> None:
        for flight in area.steps:
            if flight.at is None:
                continue
            box = bounding_box(self._placed(flight_ring(flight, flight.at)))
            _draw_steps(self._parent, box, flight.up, flight.risers - 1)
            self._paper.take(box)

    def _draw_crack(self, line: Ring) -> None:
        """Jagged, as long as the sheet has teeth left."""
        count = sum([_teeth(*ends) for ends in pairwise(line)])
        jagged = self._paper.can_jag(count)
        _draw_crack(self._parent, list(_jagged(line)) if jagged else line)

    def _draw_standing(self, draw: Callable[[Element, Ring], None], ring: Ring) -> None:
        ring = _large_enough(self._placed(ring))
        draw(self._parent, ring)
        self._paper.take(bounding_box(ring))

    def _letter(self, letters: str, line: Ring) -> None:
        """On the longest piece, where there is room for it."""
        text = Line(letters, _LETTER, bold=True)
        (x1, y1), (x2, y2) = max(pairwise(line), key=lambda piece: dist(*piece))
        if dist((x1, y1), (x2, y2)) < 2 * text.width:
            return
        for share in _ALONG:
            spot = (x1 + (x2 - x1) * share, y1 + (y2 - y1) * share)
            box = box_at(spot, text.width, _LETTER)
            if self._paper.is_free(box) and self._islands.is_free(box):
                _draw_letters(self._lettering, text, spot)
                self._paper.take(box)
                return


def joint_letters(kind: str, treatment: str) -> str:
    return (_EXPANSION if kind == "expansion" else "") + _LETTERS[treatment]


def _draw_letters(parent: Element, text: Line, spot: Point) -> None:
    left, top, right, bottom = box_at(spot, text.width, _LETTER)
    size = {"width": right - left, "height": bottom - top}
    child(parent, "rect", x=left, y=top, **size, fill="#fff")
    draw_line(parent, text, spot, "middle")


def _draw_joint(parent: Element, name: str, line: Ring) -> None:
    """A control joint is one line, an expansion joint two."""
    kind, treatment = _JOINTS[name]
    dashes: Style = {"stroke_dasharray": _DASHES[treatment]} if _DASHES[treatment] else {}
    drawn = path(line)
    if kind == "control":
        child(parent, "path", class_=name, d=drawn, **_THIN, **dashes)
        return
    wide = {**_THIN, "stroke_width": _WIDE}
    child(parent, "path", class_=name, d=drawn, **wide, **dashes)
    core = {**_THIN, "stroke_width": _CORE, "stroke": "#fff"}
    child(parent, "path", class_="joint-core", d=drawn, **core)


def _draw_crack(parent: Element, line: Sequence[Point]) -> None:
    child(parent, "path", class_="crack", d=path(line), **_THIN, stroke_linejoin="round")


def _teeth(start: Point, end: Point) -> int:
    return ceil(dist(start, end) / _TOOTH)


def _jagged(line: Ring) -> Iterator[Point]:
    """Through the vertices, and between them to one side and the other."""
    yield line[0]
    for (x1, y1), (x2, y2) in pairwise(line):
        length = dist((x1, y1), (x2, y2))
        teeth = _teeth((x1, y1), (x2, y2))
        for tooth in range(1, teeth):
            share, side = tooth / teeth, _JAG if tooth % 2 else -_JAG
            yield (
                x1 + (x2 - x1) * share - (y2 - y1) / length * side,
                y1 + (y2 - y1) * share + (x2 - x1) / length * side,
            )
        yield x2, y2


def _draw_ring(parent: Element, name: str, ring: Ring, style: Style) -> None:
    """A box, or the circle that a ring of more corners stands for."""
    if len(ring) == FOUR_CORNERS:
        child(parent, "path", class_=name, d=path(ring, closed=True), **style)
        return
    left, top, right, bottom = bounding_box(ring)
    middle = {"cx": (left + right) / 2, "cy": (top + bottom) / 2}
    child(parent, "circle", class_=name, **middle, r=(right - left) / 2, **style)


def _draw_drain(parent: Element, ring: Ring) -> None:
    """Its rim with a cross in it."""
    quarter = len(ring) // 4
    start = quarter // 2
    cross = "".join(path([ring[one], ring[one + 2 * quarter]]) for one in (start, start + quarter))
    _draw_ring(parent, "drain", ring, {**_THIN, "fill": "#fff"})
    child(parent, "path", class_="drain-cross", d=cross, **_FINE)


def _draw_collar(parent: Element, ring: Ring) -> None:
    """Solid, with a light core."""
    _draw_ring(parent, "collar", ring, {"fill": "#000"})
    _draw_ring(parent, "collar-core", _scaled(ring, 0.45, 0.45), {"fill": "#fff"})


def _draw_pit(parent: Element, ring: Ring) -> None:
    """A double rim with one diagonal."""
    _draw_ring(parent, "pit", ring, {**_THIN, "fill": "#fff"})
    left, top, right, bottom = bounding_box(ring)
    wide, tall = right - left, bottom - top
    if min(wide, tall) > 4 * _INNER:
        inner = _scaled(ring, 1 - 2 * _INNER / wide, 1 - 2 * _INNER / tall)
        quarter = len(inner) // 4
        start = quarter // 2
        diagonal = path([inner[start], inner[start + 2 * quarter]])
        _draw_ring(parent, "pit-inner", inner, _FINE)
        child(parent, "path", class_="pit-inner", d=diagonal, **_FINE)


def _draw_steps(parent: Element, box: Box, up: str, treads: int) -> None:
    """A line at the edge of each tread, and an arrow through them."""
    left, top, right, bottom = box
    child(
        parent,
        "path",
        class_="steps",
        d=path([(left, bottom), (right, bottom), (right, top), (left, top)], closed=True),
        **{**_THIN, "fill": "#fff"},
    )
    along_x = up.endswith("x")
    start, end = (left, right) if along_x else (bottom, top)
    if up.startswith("-"):
        start, end = end, start
    low, high = (top, bottom) if along_x else (left, right)

    def at(share: float, across: float) -> Point:
        onward, aside = start + (end - start) * share, low + (high - low) * across
        return (onward, aside) if along_x else (aside, onward)

    run = abs(end - start)
    if run / treads >= _CLOSEST_TREADS:
        edges = "".join(path([at(n / treads, 0), at(n / treads, 1)]) for n in range(1, treads))
        if edges:
            child(parent, "path", class_="treads", d=edges, **_FINE)
    half = min(_ARROW / (2 * (high - low)), 0.5)
    head = [at(1 - min(_ARROW / run, 1.0), 0.5 + side * half) for side in (-1, 1)]
    arrow = path([at(0, 0.5), at(1, 0.5)]) + path([head[0], at(1, 0.5), head[1]])
    child(parent, "path", class_="steps-up", d=arrow, **_THIN)


def _large_enough(ring: Ring) -> Ring:
    left, top, right, bottom = bounding_box(ring)
    wide, tall = right - left, bottom - top
    if wide >= _LEAST and tall >= _LEAST:
        return ring
    return _scaled(ring, max(_LEAST / wide, 1.0), max(_LEAST / tall, 1.0))


def _scaled(ring: Ring, across: float, down: float) -> Ring:
    """About the middle of its box."""
    left, top, right, bottom = bounding_box(ring)
    x, y = (left + right) / 2, (top + bottom) / 2
    return tuple([(x + (one - x) * across, y + (other - y) * down) for one, other in ring])


def draw_sample(parent: Element, name: str, middle: Point, width: float) -> None:
    """The sign as it stands in the legend."""
    x, y = middle
    line = ((x - width / 2, y), (x + width / 2, y))
    square = ((x - 1.0, y + 1.0), (x + 1.0, y + 1.0), (x + 1.0, y - 1.0), (x - 1.0, y - 1.0))
    if name in _JOINTS:
        _draw_joint(parent, name, line)
        _draw_letters(parent, Line(joint_letters(*_JOINTS[name]), _LETTER, bold=True), middle)
    elif name == "crack":
        _draw_crack(parent, list(_jagged(line)))
    elif name == "steps":
        _draw_steps(parent, (x - width / 2, y - 1.6, x + width / 2, y + 1.6), "x", 4)
    elif name == "pit":
        left, right = x - width / 2, x + width / 2
        _draw_pit(parent, ((left, y + 1.6), (right, y + 1.6), (right, y - 1.6), (left, y - 1.6)))
    else:
        (_draw_drain if name == "drain" else _draw_collar)(parent, square)
