"""A DXF drawing's model space, sorted by layer: the only reader of drawing files."""

import io
from collections import Counter, defaultdict
from collections.abc import Iterator
from typing import Any, NamedTuple

import msgspec
from ezdxf import filemanagement, recover
from ezdxf.lldxf.const import DXFError

from filmbuild.errors import Refusal
from filmbuild.pipeline.geometry import Point
from filmbuild.plans.shapes import Shape, Skipped, shape_of
from filmbuild.plans.wire import PlanNote

DEEPEST_BLOCKS = 8
MOST_DRAWN = 200_000
MOST_LAYERS = 1_000
LONGEST_NAME = 200
LONGEST_LINE = 500
OWN_LAYER = "0"


class Text(NamedTuple):
    point: Point
    words: str


class Layer(msgspec.Struct):
    """`open` are chains of points; `skipped` counts entities by why they make no shape."""

    name: str
    closed: list[Shape] = []
    open: list[Shape] = []
    texts: list[Text] = []
    skipped: Counter[tuple[str, str]] = msgspec.field(default_factory=Counter)


class Drawing(NamedTuple):
    """`unit_code` is that of $INSUNITS; layers are by their names in small letters."""

    unit_code: int
    layers: dict[str, Layer]
    notes: list[PlanNote]


def read_drawing(content: bytes) -> Drawing:
    """Raises Refusal for what is no drawing, or one that is drawn too often or too deep."""
    document, notes = _document(content)
    layers: dict[str, Layer] = {}
    seen = _Seen()
    for name, entity in _entities(document.modelspace(), None, 0, seen):
        layer = layers.setdefault(name.lower(), Layer(name))
        if len(layers) > MOST_LAYERS:
            raise Refusal("plan-too-large", f"at most {MOST_LAYERS} layers are read")
        _add(layer, entity)
    if seen.inserts:
        detail = f"{seen.inserts} block references were taken apart"
        notes.append(PlanNote(code="blocks-taken-apart", detail=detail))
    for reason, count in sorted(seen.passed.items()):
        notes.append(PlanNote(code="block-skipped", detail=f"{count} block references: {reason}"))
    return Drawing(_unit_code(document), layers, notes)


def _document(content: bytes) -> tuple[Any, list[PlanNote]]:
    try:
        return _read(content), []
    except (DXFError, UnicodeError, ValueError, TypeError, LookupError, AttributeError) as error:
        first = error
    try:
        document, _ = recover.read(io.BytesIO(content))
    except (DXFError, UnicodeError, ValueError, TypeError, LookupError, AttributeError):
        detail = f"the file cannot be read as a DXF drawing: {_line(str(first))}"
        raise Refusal("not-dxf", detail) from first
    said = _line(str(first))
    detail = f"the file is damaged and was read as far as it goes, check the areas: {said}"
    return document, [PlanNote(code="drawing-repaired", detail=detail)]


def _read(content: bytes) -> Any:  # noqa: ANN401 - the library's document
    text = io.TextIOWrapper(io.BytesIO(content), encoding="utf-8", errors="ignore")
    encoding = filemanagement.dxf_stream_info(text).encoding
    text = io.TextIOWrapper(io.BytesIO(content), encoding=encoding, errors="surrogateescape")
    return filemanagement.read(text)


def _unit_code(document: Any) -> int:  # noqa: ANN401 - the library's document
    code = document.header.get("$INSUNITS", 0)
    return code if isinstance(code, int) else 0


class _Seen:
    def __init__(self) -> None:
        self.drawn = 0
        self.inserts = 0
        self.passed: Counter[str] = Counter()


def _entities(
    drawn: Any,  # noqa: ANN401 - an iterable of the library's entities
    inherited: str | None,
    depth: int,
    seen: _Seen,
) -> Iterator[tuple[str, Any]]:
    """Each entity with its layer; what a block draws on layer 0 lies on its reference's layer."""
    for entity in drawn:
        seen.drawn += 1
        if seen.drawn > MOST_DRAWN:
            detail = f"with its blocks taken apart it has more than {MOST_DRAWN} entities"
            raise Refusal("plan-too-large", detail)
        own = str(entity.dxf.get("layer", OWN_LAYER))
        layer = inherited if inherited is not None and own == OWN_LAYER else own
        if entity.dxftype() == "INSERT":
            yield from _inserted(entity, layer, depth, seen)
        else:
            yield layer, entity


def _inserted(
    insert: Any,  # noqa: ANN401 - a block reference of the library
    layer: str,
    depth: int,
    seen: _Seen,
) -> Iterator[tuple[str, Any]]:
    if depth >= DEEPEST_BLOCKS:
        seen.passed[f"more than {DEEPEST_BLOCKS} blocks inside one another"] += 1
        return
    if insert.block() is None:
        seen.passed["the block is not in the file"] += 1
        return
    seen.inserts += 1
    for one in insert.multi_insert() if insert.mcount > 1 else (insert,):
        yield from _entities(one.virtual_entities(), layer, depth + 1, seen)


def _add(layer: Layer, entity: Any) -> None:  # noqa: ANN401 - an entity of the library
    kind = entity.dxftype()
    if kind in ("TEXT", "MTEXT"):
        words = " ".join(_line(entity.plain_text()).split())[:LONGEST_NAME]
        place = entity.dxf.insert
        if words:
            layer.texts.append(Text((place.x, place.y), words))
        return
    try:
        shape = shape_of(entity)
    except Skipped as why:
        layer.skipped[kind, str(why)] += 1
        return
    except (DXFError, ValueError, TypeError, ArithmeticError, LookupError, AttributeError):
        layer.skipped[kind, "it is damaged"] += 1
        return
    if shape is None:
        layer.skipped[kind, "it is no line of a plan"] += 1
    elif shape.closed:
        layer.closed.append(shape)
    else:
        layer.open.append(shape)


def _line(text: str) -> str:
    """Without what cannot be shown: control characters, and bytes that are no letters."""
    shown = "".join(one if one.isprintable() else " " for one in text)
    return shown[:LONGEST_LINE].encode("utf-8", "replace").decode("utf-8")


def skipped_notes(layer: Layer) -> Iterator[PlanNote]:
    """One for each kind of entity and reason."""
    by_reason: defaultdict[str, list[str]] = defaultdict(list)
    for (kind, reason), count in sorted(layer.skipped.items()):
        by_reason[reason].append(f"{count} {kind}")
    for reason, kinds in by_reason.items():
        detail = f"layer {layer.name}: {', '.join(kinds)}: {reason}"
        yield PlanNote(code="entity-skipped", detail=detail)
