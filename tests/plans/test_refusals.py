"""Files that are no drawings, or too much of one: refused, and within bounds."""

import gzip
import io
import random
import subprocess
import sys
import zipfile

import msgspec
import pytest
from plan_cases import block, by_hand, polyline, reference, refused, square

from filmbuild.errors import Refusal
from filmbuild.plans import areas, drawing, scan
from filmbuild.plans.outcome import Outcome
from filmbuild.plans.scan import check_kind

LINE = ((0, "LINE"), (8, "0"), (10, 0), (20, 0), (11, 1), (21, 1))
ROOMS = by_hand(square(0, 0), square(9, 9))


def zipped(content: bytes) -> bytes:
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("plan.dxf", content)
    return whole.getvalue()


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "empty"),
        (b" \r\n ", "empty"),
        (gzip.compress(bytes(1_000_000)), "gzip"),
        (zipped(bytes(1_000_000)), "zip"),
        (b"AC1032\0\0\0\0", "DWG"),
        (b"AutoCAD Binary DXF\r\n\x1a\0", "binary DXF"),
        (b"%PDF-1.7", "PDF"),
        (b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "b">]><a>&b;</a>', "XML"),
        (b"\xef\xbb\xbf<svg/>", "XML"),
        (b'{"kind": "polygon"}', "JSON"),
        (random.Random(1).randbytes(100_000), "does not begin"),  # noqa: S311 - rubbish, no secret
        (b"0\nSECTIONS\n", "does not begin"),
        (b"999\ncomment\n" * 6_000, "does not begin"),
    ],
)
def test_other_kinds_of_file_are_named(content: bytes, says: str) -> None:
    with pytest.raises(Refusal) as caught:
        check_kind(content)
    assert caught.value.code == "not-dxf"
    assert says in caught.value.detail
    assert "accepted is a DXF" in caught.value.detail


@pytest.mark.parametrize("start", [b"", b"\xef\xbb\xbf", b"999\nmade by hand\n", b"\r\n  "])
def test_drawings_begin_with_a_section(start: bytes) -> None:
    check_kind(start + ROOMS)
    check_kind(start + ROOMS.replace(b"\n", b"\r\n"))


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (ROOMS + b"\0", "not-dxf"),
        (ROOMS + b"x" * 70_000, "not-dxf"),
        (ROOMS.replace(b"ENTITIES", b"ENTITLES"), "not-dxf"),
        (ROOMS.replace(b"14.0", b"wide"), "not-dxf"),
        (by_hand(*[LINE] * 300_001), "plan-too-large"),
        (by_hand(*[(*LINE[:1], (8, f"L{n}"), *LINE[2:]) for n in range(1_001)]), "plan-too-large"),
    ],
)
def test_rubbish_and_floods_are_refused(content: bytes, code: str) -> None:
    assert refused(content)[0] == code


def test_long_lines_are_looked_at_once() -> None:
    """A search that began anew at every byte of a line would take some 10^11 steps."""
    with pytest.raises(Refusal, match="ENTITIES"):
        scan.check_size((b"x" * 60_000 + b"\n") * 100)


def test_blocks_inside_blocks_are_counted_as_they_are_drawn(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(drawing, "MOST_DRAWN", 1_000)
    nested = [*block(0, LINE)]
    for number in range(1, 7):
        nested += block(number, *[reference(number - 1)] * 10)
    content = by_hand(reference(6), blocks=nested)
    code, detail = refused(content)
    assert code == "plan-too-large"
    assert "1000 entities" in detail
    endless = [*block(0, LINE), *block(1, reference(0, (70, 9_999), (71, 9_999), (44, 1), (45, 1)))]
    assert refused(by_hand(reference(1), blocks=endless))[0] == "plan-too-large"


def test_blocks_in_a_circle_come_to_an_end() -> None:
    circle = [*block(0, reference(1)), *block(1, reference(0))]
    assert refused(by_hand(reference(0), blocks=circle))[0] == "unknown-layer"


def test_more_areas_and_vertices_than_are_read_are_refused(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(areas, "MOST_AREAS", 1)
    assert refused(ROOMS)[0] == "plan-too-large"
    monkeypatch.setattr(areas, "MOST_AREAS", 2)
    monkeypatch.setattr(areas, "MOST_VERTICES", 7)
    assert refused(ROOMS)[0] == "plan-too-large"
    monkeypatch.setattr(areas, "MOST_VERTICES", 8)
    monkeypatch.setattr(areas, "MOST_ISLANDS", 0)
    column = square(1, 1, 1, layer="columns")
    assert refused(by_hand(square(0, 0), column), islands="columns")[0] == "plan-too-large"


def test_the_process_that_reads_holds_itself_to_its_limits() -> None:
    code = (
        "import json, resource, sys\n"
        "from filmbuild.plans import child\n"
        "child.limit()\n"
        "print(json.dumps([resource.getrlimit(kind) for kind in\n"
        "    (resource.RLIMIT_AS, resource.RLIMIT_CPU, resource.RLIMIT_CORE)]))\n"
        "try:\n    bytearray(3 << 30)\nexcept MemoryError:\n    print('refused')\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    ).stdout.splitlines()
    assert done == ["[[2147483648, 2147483648], [40, 40], [0, 0]]", "refused"]


def test_the_process_answers_with_a_reading_or_a_refusal() -> None:
    def run(content: bytes) -> Outcome:
        done = subprocess.run(
            [sys.executable, "-m", "filmbuild.plans.child", '{"layers":["floor"]}'],
            input=content,
            capture_output=True,
            check=True,
        )
        return msgspec.json.decode(done.stdout, type=Outcome)

    reading = run(ROOMS).reading
    assert reading is not None
    assert len(reading.areas) == 2
    assert run(by_hand(polyline((0, 0), (1, 1)), unit=0)).code == "missing-unit"


def test_the_service_starts_without_the_reader_of_drawings() -> None:
    code = "import sys, filmbuild.app\nprint(*{name.partition('.')[0] for name in sys.modules})"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert {"ezdxf", "resource", "fontTools"}.isdisjoint(done.stdout.split())
