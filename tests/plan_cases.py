"""Drawings made for tests: written by a DXF library, or by hand, tag after tag."""

import io
from collections.abc import Sequence
from typing import Any

from ezdxf.document import Drawing
from ezdxf.filemanagement import new

from filmbuild.plans.child import outcome
from filmbuild.plans.outcome import Asked
from filmbuild.plans.wire import PlanReading

Tags = Sequence[tuple[int, object]]


def drawing(unit: int = 4) -> Drawing:
    """An empty drawing; 4 is millimetres."""
    document = new("R2018")
    document.header["$INSUNITS"] = unit
    return document


def written(document: Drawing) -> bytes:
    text = io.StringIO()
    document.write(text)
    return text.getvalue().encode()


def on(layer: str, **rest: Any) -> dict[str, Any]:
    return {"layer": layer, **rest}


def read(content: bytes, **asked: Any) -> PlanReading:
    """In this process, without limits."""
    found = outcome(content, Asked(**{"layers": ("floor",), **asked}))
    assert found.reading is not None, found
    return found.reading


def refused(content: bytes, **asked: Any) -> tuple[str, str]:
    found = outcome(content, Asked(**{"layers": ("floor",), **asked}))
    assert found.reading is None, found
    return found.code, found.detail


def by_hand(*entities: Tags, unit: int = 6, blocks: Tags = ()) -> bytes:
    """6 is metres."""
    tags: list[tuple[int, object]] = [(0, "SECTION"), (2, "HEADER"), (9, "$ACADVER"), (1, "AC1015")]
    tags += [(9, "$INSUNITS"), (70, unit), (0, "ENDSEC")]
    if blocks:
        tags += [(0, "SECTION"), (2, "BLOCKS"), *blocks, (0, "ENDSEC")]
    tags += [(0, "SECTION"), (2, "ENTITIES")]
    for entity in entities:
        tags += entity
    tags += [(0, "ENDSEC"), (0, "EOF")]
    return "".join(f"{code}\n{value}\n" for code, value in tags).encode()


def polyline(*points: tuple[object, object], layer: str = "floor") -> Tags:
    tags: list[tuple[int, object]] = [(0, "LWPOLYLINE"), (100, "AcDbEntity"), (8, layer)]
    tags += [(100, "AcDbPolyline"), (90, len(points)), (70, 1)]
    return tags + [tag for x, y in points for tag in ((10, x), (20, y))]


def square(left: float, bottom: float, side: float = 5.0, layer: str = "floor") -> Tags:
    right, top = left + side, bottom + side
    return polyline((left, bottom), (right, bottom), (right, top), (left, top), layer=layer)


def block(number: int, *parts: Tags) -> Tags:
    start = [(0, "BLOCK"), (8, "0"), (2, f"B{number}"), (70, 0), (10, 0), (20, 0), (30, 0)]
    inner = [tag for part in parts for tag in part]
    return [*start, (3, f"B{number}"), *inner, (0, "ENDBLK"), (8, "0")]


def reference(number: int, *more: tuple[int, object]) -> Tags:
    start = [(0, "INSERT"), (100, "AcDbEntity"), (8, "floor"), (100, "AcDbBlockReference")]
    return [*start, (2, f"B{number}"), (10, 1), (20, 1), (30, 0), *more]
