"""`filmbuild-client estimate` against a service, in pipes and in terminals."""

import json
from pathlib import Path
from typing import Any

import msgspec
import pytest
from click import unstyle
from rich.cells import cell_len

Run = Any
YAML = """\
units: us
site:
  name: Boat house (demo data)
  areas:
    - {id: slip, outline: {kind: rectangle, length: 24 ft 6 in, width: 13 ft}}
    - {id: store, outline: {kind: rectangle, length: 12 ft, width: 9 ft}}
job:
  system: harbour-thin-film
  start: 2026-06-15
  crew: [{labour_class: finisher, count: 2}]
"""
REQUEST = {
    "units": "us",
    "site": {
        "name": "Boat house (demo data)",
        "areas": [
            {
                "id": "slip",
                "outline": {"kind": "rectangle", "length": "24 ft 6 in", "width": "13 ft"},
            },
            {"id": "store", "outline": {"kind": "rectangle", "length": "12 ft", "width": "9 ft"}},
        ],
    },
    "job": {
        "system": "harbour-thin-film",
        "start": "2026-06-15",
        "crew": [{"labour_class": "finisher", "count": 2}],
    },
}
FLOOR = 24.5 * 13 + 12 * 9


@pytest.fixture
def request_file(tmp_path: Path) -> str:
    (tmp_path / "hall.yaml").write_text(YAML)
    return "hall.yaml"


def test_a_table_has_the_floor_that_was_measured(process: Run, request_file: str) -> None:
    done = process("estimate", request_file)
    assert (done.code, done.err) == (0, "")
    lines = [line.split() for line in done.out.splitlines()]
    assert ["all", f"{FLOOR:.1f}", "ft2"] in [line[:3] for line in lines]
    assert "\x1b" not in done.out
    assert not any(line.endswith(" ") for line in done.out.splitlines())


def test_the_same_file_in_three_forms_has_one_answer(piped: Run, tmp_path: Path) -> None:
    (tmp_path / "hall.json").write_bytes(msgspec.json.encode(REQUEST))
    (tmp_path / "hall.toml").write_bytes(msgspec.toml.encode(REQUEST))
    answers = [
        piped("estimate", "hall.json", "--json"),
        piped("estimate", "hall.toml", "--json"),
        piped("estimate", "-", "--format", "yaml", "--json", text=YAML.encode()),
    ]
    assert [done.code for done in answers] == [0, 0, 0]
    assert len({done.out for done in answers}) == 1
    assert json.loads(answers[0].out)["takeoff"]["totals"]["floor"]["value"] == FLOOR


def test_words_of_yaml_stay_words(piped: Run, tmp_path: Path) -> None:
    """YAML 1.2.2 section 10.3.2: NO is no answer, and 8:30 no number, as older YAML has it."""
    text = YAML.replace("id: slip", "id: NO").replace("id: store", "id: 8:30")
    (tmp_path / "odd.yaml").write_text(text)
    done = piped("estimate", "odd.yaml", "--json")
    assert done.code == 1
    faults = json.loads(done.err)["errors"]
    assert [one["pointer"] for one in faults] == ["/site/areas/1/id"]


def test_it_is_kept_and_drawn_and_printed(piped: Run, request_file: str, tmp_path: Path) -> None:
    done = piped(
        "estimate", request_file, "--store", "--pdf", "crew.pdf", "--drawing", "plan.svg", "--json"
    )
    assert done.code == 0, done.err
    stored = json.loads(done.out)
    assert stored["id"].startswith("est_")
    assert (tmp_path / "crew.pdf").read_bytes().startswith(b"%PDF-")
    assert "24 ft 6 in" in (tmp_path / "plan.svg").read_text()


def test_a_key_keeps_it_once(piped: Run, request_file: str) -> None:
    asked = ("estimate", request_file, "--store", "--idempotency-key", "boat-house-1", "--json")
    first, second = (json.loads(piped(*asked).out) for _ in range(2))
    assert first["id"] == second["id"]


def test_a_refusal_says_all_that_is_wrong_and_writes_nothing(piped: Run, tmp_path: Path) -> None:
    text = YAML.replace("24 ft 6 in", "24 parsecs").replace("12 ft", "-3 ft")
    (tmp_path / "wrong.yaml").write_text(text)
    done = piped("estimate", "wrong.yaml", "--drawing", "plan.svg")
    assert (done.code, done.out) == (1, "")
    assert "/site/areas/0/outline/length" in done.err
    assert "/site/areas/1/outline/length" in done.err
    assert "Mend what is listed" in done.err
    assert not (tmp_path / "plan.svg").exists()


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("hall.txt", "{}", "--format"),
        ("hall.json", "{", "is not JSON"),
        ("hall.yaml", "a: 1\na: 2", "is not YAML"),
        ("hall.toml", "a = ", "is not TOML"),
        ("hall.json", "[]", "no fields"),
    ],
)
def test_a_file_that_cannot_be_read_is_told_before_anything_is_sent(
    piped: Run, tmp_path: Path, name: str, content: str, said: str
) -> None:
    (tmp_path / name).write_text(content)
    done = piped("estimate", name, FILMBUILD_URL="http://127.0.0.1:9")
    assert (done.code, done.out) == (2, "")
    assert said in done.err


@pytest.mark.parametrize("columns", [80, 40])
def test_nothing_is_wider_than_the_terminal(typed: Run, request_file: str, columns: int) -> None:
    done = typed("estimate", request_file, columns=columns)
    assert done.code == 0, done.out
    lines = unstyle(done.out).splitlines()
    assert max(map(cell_len, lines)) <= columns
    whole = " ".join(" ".join(lines).split())
    assert "Harbour 140, 3 gal kit (demo data)" in whole
    assert f"{FLOOR:.1f} ft2" in whole
    assert "\x1b[1m" in done.out


def test_names_cannot_steer_the_terminal(typed: Run, tmp_path: Path) -> None:
    evil = REQUEST | {"site": {**REQUEST["site"], "name": "[red]Boat[/red] \u202ehouse"}}  # type: ignore[dict-item]  # a part of the request
    (tmp_path / "evil.json").write_bytes(msgspec.json.encode(evil))
    done = typed("estimate", "evil.json")
    assert "[red]Boat[/red] \ufffdhouse" in unstyle(done.out)
