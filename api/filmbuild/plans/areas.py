"""The areas of a plan, with their names and islands, from the shapes of its layers."""

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from statistics import median_low

import msgspec
import shapely

from filmbuild.errors import Refusal
from filmbuild.pipeline.boxes import bounding_box
from filmbuild.pipeline.geometry import FloorShape, Point, Ring, encloses
from filmbuild.pipeline.islands import island_faults
from filmbuild.pipeline.outlines import SAME_POINT, Ruler, ring_faults
from filmbuild.pipeline.overlap import EntangledError, overlaps
from filmbuild.pipeline.site import CoordinateUnit, Island, Polygon
from filmbuild.pipeline.takeoff.figures import METRES
from filmbuild.plans.drawing import Drawing, Layer, skipped_notes
from filmbuild.plans.loops import loops_of
from filmbuild.plans.units import Scale
from filmbuild.plans.wire import PlanArea, PlanLayer, PlanNote, PlanReading

FARTHEST = 1e5
"""[m] A plan that lies farther out is moved to the origin."""
JOINED_WITHIN = 0.002
"""[m] Ends of loose lines so near one another meet (common practice)."""
FARTHEST_OFF = 1e8
"""[m] Beyond the size of the earth."""
MOST_AREAS = 5_000
MOST_VERTICES = 200_000
MOST_IN_RING = 20_000
MOST_ISLANDS = 500
MOST_NOTES = 200
_NO_IDENTIFIER = re.compile(r"[^A-Za-z0-9._-]+")


class Chosen(msgspec.Struct, frozen=True, kw_only=True):
    """Names of layers; `layers` None where none are chosen yet."""

    layers: tuple[str, ...] | None = None
    islands: str | None = None
    names: str | None = None


class _Found(msgspec.Struct):
    layer: str
    outline: Ring
    islands: list[Ring]
    name: str | None = None


def reading_of(drawing: Drawing, scale: Scale, chosen: Chosen) -> PlanReading:
    """Raises Refusal where a layer that was chosen is not there, or holds too much."""
    notes = list(drawing.notes)
    found: list[_Found] = []
    metres = METRES[scale.unit]
    if chosen.layers is None:
        detail = "choose the layers of the areas with `layers`; those there are listed here"
        notes.append(PlanNote(code="no-layers-chosen", detail=detail))
    else:
        plan = _Plan(drawing, float(scale.factor), metres, Ruler(scale.unit, metres), notes)
        found = plan.areas(chosen)
    listed = sorted(drawing.layers.values(), key=lambda layer: layer.name)
    return PlanReading(
        unit=scale.unit,
        source_unit=scale.stated,
        areas=tuple(_written(found, scale.unit, metres)),
        layers=tuple(_described(layer) for layer in listed),
        notes=tuple(_some(notes)),
    )


def _some(notes: list[PlanNote]) -> list[PlanNote]:
    more = len(notes) - MOST_NOTES
    if more <= 0:
        return notes
    return [*notes[:MOST_NOTES], PlanNote(code="more-notes", detail=f"and {more} more")]


def _described(layer: Layer) -> PlanLayer:
    return PlanLayer(
        name=layer.name,
        closed_shapes=len(layer.closed),
        open_shapes=len(layer.open),
        texts=len(layer.texts),
    )


class _Plan:
    """Shapes are in metres here, moved by `_shift` where the plan lies far out."""

    def __init__(
        self, drawing: Drawing, factor: float, metres: float, ruler: Ruler, notes: list[PlanNote]
    ) -> None:
        self._drawing = drawing
        self._metres = factor * metres
        self._ruler = ruler
        self._notes = notes
        self._shift: Point = (0.0, 0.0)

    def areas(self, chosen: Chosen) -> list[_Found]:
        names_asked = dict.fromkeys(name.strip().lower() for name in chosen.layers or ())
        layers = [self._layer(name, "unknown-layer") for name in names_asked]
        islands = (
            None if chosen.islands is None else self._layer(chosen.islands, "unknown-islands-layer")
        )
        names = None if chosen.names is None else self._layer(chosen.names, "unknown-names-layer")
        self._shift = self._far_off(layers)
        found = [one for layer in layers for one in self._outlines(layer)]
        if len(found) > MOST_AREAS:
            raise Refusal("plan-too-large", f"at most {MOST_AREAS} areas are read at once")
        if islands is not None:
            self._place_islands(found, islands)
        for one in found:
            self._keep_sound_islands(one)
        if names is not None:
            self._name(found, names)
        if sum(len(ring) for one in found for ring in (one.outline, *one.islands)) > MOST_VERTICES:
            raise Refusal("plan-too-large", f"at most {MOST_VERTICES} vertices are read at once")
        self._note_overlaps(found)
        return found

    def _note(self, code: str, detail: str) -> None:
        self._notes.append(PlanNote(code=code, detail=detail))

    def _layer(self, name: str, code: str) -> Layer:
        layer = self._drawing.layers.get(name.strip().lower())
        if layer is None:
            known = ", ".join(sorted(one.name for one in self._drawing.layers.values())[:20])
            detail = f"no entity lies on layer {name.strip()}; there are: {known or 'no layers'}"
            raise Refusal(code, detail)
        return layer

    def _far_off(self, layers: Sequence[Layer]) -> Point:
        """Where most shapes lie, in units of the drawing; (0, 0) for a plan near the origin.

        By the median, so that a stray shape does not move the others.
        """
        starts = [
            shape.points[0]
            for layer in layers
            for shape in (*layer.closed, *layer.open)
            if shape.points
        ]
        if not starts:
            return (0.0, 0.0)
        middle = (median_low([x for x, _ in starts]), median_low([y for _, y in starts]))
        if not FARTHEST < max(map(abs, middle)) * self._metres <= FARTHEST_OFF:
            return (0.0, 0.0)
        shift = (float(round(middle[0])), float(round(middle[1])))
        detail = f"({0.0 - shift[0]:.0f}, {0.0 - shift[1]:.0f}) of its units"
        self._note("plan-moved", f"the plan lies far out and was moved by {detail}")
        return shift

    def _ring(self, points: Sequence[Point]) -> Ring:
        """In metres, without vertices on one another."""
        (left, bottom), scale = self._shift, self._metres
        ring: list[Point] = []
        for x, y in points:
            point = ((x - left) * scale, (y - bottom) * scale)
            if not ring or not _same(ring[-1], point):
                ring.append(point)
        while len(ring) > 1 and _same(ring[0], ring[-1]):
            ring.pop()
        return tuple(ring)

    def _outlines(self, layer: Layer) -> Iterator[_Found]:
        for number, shape in enumerate(layer.closed):
            outline = self._sound(shape.points, f"layer {layer.name}, closed shape {number}")
            if outline is not None:
                yield _Found(layer.name, outline, [self._ring(hole) for hole in shape.holes])
        for number, ring in enumerate(self._loops(layer)):
            outline = self._sound(ring, f"layer {layer.name}, joined lines {number}")
            if outline is not None:
                yield _Found(layer.name, outline, [])
        self._notes.extend(skipped_notes(layer))

    def _loops(self, layer: Layer) -> list[tuple[Point, ...]]:
        """Closed lines that are drawn in pieces; the pieces that are left are noted."""
        chains = [shape.points for shape in layer.open if shape.points]
        found = loops_of(chains, JOINED_WITHIN / self._metres)
        if found.rings:
            detail = f"{found.used} loose lines were joined into {len(found.rings)} closed ones"
            self._note("lines-joined", f"layer {layer.name}: {detail}")
        left = len(layer.open) - found.used
        if left:
            detail = (
                f"layer {layer.name}: {left} open lines enclose no area: lines are joined where "
                f"two ends, and no third, lie within {JOINED_WITHIN * 1000:g} mm"
            )
            self._note("open-shapes", detail)
        return found.rings

    def _sound(self, points: Sequence[Point], what: str) -> Ring | None:
        if len(points) > MOST_IN_RING:
            self._note("shape-skipped", f"{what} has more than {MOST_IN_RING} vertices")
            return None
        ring = self._ring(points)
        if max(map(abs, bounding_box(ring))) > FARTHEST if ring else False:
            self._note("shape-skipped", f"{what} is larger than any building")
            return None
        faults = ring_faults(ring, self._ruler)
        if faults:
            self._note("shape-skipped", f"{what}: {faults[0].detail}")
            return None
        return ring

    def _place_islands(self, found: Sequence[_Found], layer: Layer) -> None:
        figures = [shapely.Polygon(one.outline) for one in found]
        tree = shapely.STRtree(figures)
        drawn = [(shape.points, "closed shape") for shape in layer.closed]
        drawn += [(points, "joined lines, shape") for points in self._loops(layer)]
        for number, (points, kind) in enumerate(drawn):
            what = f"layer {layer.name}, {kind} {number}"
            ring = self._sound(points, what)
            if ring is None:
                continue
            holders = tree.query(shapely.Polygon(ring), predicate="within").tolist()
            if not holders:
                place = self._ruler.place(ring[0])
                self._note("island-skipped", f"{what}, at {place}, lies wholly inside no area")
                continue
            inmost = min(holders, key=lambda index: figures[index].area)
            found[inmost].islands.append(ring)
        self._notes.extend(skipped_notes(layer))

    def _keep_sound_islands(self, one: _Found) -> None:
        place = self._ruler.place(one.outline[0])
        if len(one.islands) > MOST_ISLANDS:
            detail = f"the area at {place} has more than {MOST_ISLANDS} islands"
            raise Refusal("plan-too-large", detail)
        for ring in one.islands:
            for wrong in ring_faults(ring, self._ruler)[:1]:
                self._note("island-skipped", f"area at {place}: {wrong.detail}")
        one.islands = [ring for ring in one.islands if not ring_faults(ring, self._ruler)]
        faults = island_faults(FloorShape(one.outline, tuple(one.islands)), self._ruler)
        for fault in faults:
            self._note("island-skipped", f"area at {place}: {fault.detail}")
        bad = {fault.island for fault in faults}
        one.islands = [ring for number, ring in enumerate(one.islands) if number not in bad]

    def _name(self, found: Sequence[_Found], layer: Layer) -> None:
        (left, bottom), scale = self._shift, self._metres
        tree = shapely.STRtree([shapely.Polygon(one.outline) for one in found])
        for text in layer.texts:
            point = ((text.point[0] - left) * scale, (text.point[1] - bottom) * scale)
            near = tree.query(shapely.Point(point)).tolist()
            inside = [index for index in near if encloses(found[index].outline, point)]
            if not inside:
                detail = f'the text "{text.words}" at {self._ruler.place(point)} lies in no area'
                self._note("text-skipped", detail)
                continue
            for index in inside:
                named = found[index].name
                found[index].name = text.words if named is None else f"{named} {text.words}"[:200]

    def _note_overlaps(self, found: Sequence[_Found]) -> None:
        shapes = [FloorShape(one.outline, tuple(one.islands)) for one in found]
        try:
            pairs = overlaps(shapes, MOST_NOTES)
        except EntangledError:
            self._note("areas-overlap", "too many areas lie round one another to be compared")
            return
        for pair in pairs:
            place = self._ruler.place(pair.point)
            detail = f"areas {pair.first} and {pair.second} cover the same floor at {place}"
            self._note("areas-overlap", f"{detail}: one may be an island, or drawn twice")


def _same(first: Point, second: Point) -> bool:
    return abs(first[0] - second[0]) < SAME_POINT and abs(first[1] - second[1]) < SAME_POINT


def _written(found: Sequence[_Found], unit: CoordinateUnit, metres: float) -> Iterator[PlanArea]:
    taken: Counter[str] = Counter()
    for number, one in enumerate(found):
        yield PlanArea(
            id=_identifier(one.name or f"area-{number + 1}", taken),
            name=one.name,
            outline=_polygon(one.outline, unit, metres),
            islands=tuple(Island(outline=_polygon(ring, unit, metres)) for ring in one.islands),
        )


def _identifier(name: str, taken: Counter[str]) -> str:
    plain = _NO_IDENTIFIER.sub("-", name).strip("._-")[:50].lower() or "area"
    identifier = plain
    while identifier in taken:
        taken[plain] += 1
        identifier = f"{plain}-{taken[plain]}"
    taken[identifier] += 1
    return identifier


def _polygon(ring: Ring, unit: CoordinateUnit, metres: float) -> Polygon:
    vertices = tuple([(round(x / metres, 9), round(y / metres, 9)) for x, y in ring])
    return Polygon(unit=unit, vertices=vertices)
