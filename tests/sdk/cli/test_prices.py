"""`filmbuild-client prices` against a service."""

import json
from pathlib import Path
from typing import Any

import pytest
from click import unstyle
from rich.cells import cell_len

Run = Any
PACK = "harbour-20-kit-3gal"


@pytest.fixture
def rise(tmp_path: Path) -> str:
    text = f"pack,amount,effective_from\n{PACK},199.00,2026-03-01\n"
    (tmp_path / "rise.csv").write_text(text)
    return "rise.csv"


def price(piped: Run) -> Any:
    """As the catalogue's export has it, on that day."""
    whole = json.loads(piped("catalogue", "export", "--json").out)
    held = [one for one in whole["prices"] if (one["pack"], one["currency"]) == (PACK, "USD")]
    return next((one["amount"] for one in held if one["effective_from"] == "2026-03-01"), None)


def updates(piped: Run) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = json.loads(piped("prices", "updates", "--json").out)
    return found


def test_prices_are_compared_asked_about_written_and_taken_back(
    piped: Run, typed: Run, rise: str
) -> None:
    before = updates(piped)
    asked = ("prices", "update", rise, "--currency", "USD", "--note", "March list")
    checked = typed(*asked, "--check")
    assert checked.code == 0
    assert "+7.86 %" in unstyle(checked.out)  # 199.00 / 184.50 - 1, as the demo catalogue has it
    assert "Comparing" in checked.out
    refused = typed(*asked, answer="n\n")
    assert (refused.code, updates(piped)) == (6, before)
    assert "Nothing was done" in refused.out
    done = typed(*asked, answer="y\n")
    assert done.code == 0
    assert price(piped) == "199.00"
    (made, *_) = updates(piped)
    assert made["note"] == "March list"
    assert f"prices undo {made['id']}" in unstyle(done.out)
    undone = piped("prices", "undo", made["id"], "--yes")
    assert undone.code == 0, undone.err
    assert price(piped) != "199.00"


def test_without_anyone_to_ask_nothing_is_written(piped: Run, rise: str) -> None:
    before = updates(piped)
    done = piped("prices", "update", rise, "--currency", "USD")
    assert done.code == 2
    assert "--yes" in done.err
    assert updates(piped) == before


def test_in_a_pipe_the_answer_is_json_and_nothing_else(piped: Run, rise: str) -> None:
    done = piped("prices", "update", rise, "--currency", "USD", "--check", "--json")
    assert (done.code, done.err) == (0, "")
    (row,) = json.loads(done.out)["differences"]
    assert (row["pack"], row["now"], row["line"]) == (PACK, "199.00", 2)
    lists = json.loads(piped("prices", "list", "--currency", "USD", "--json").out)
    assert [one["currency"] for one in lists] == ["USD"]


def test_rows_with_faults_are_shown_first_and_refuse_the_file(piped: Run, tmp_path: Path) -> None:
    (tmp_path / "odd.csv").write_text(f"pack,amount\n{PACK},190.00\nno-such-pack,5.00\n")
    before = updates(piped)
    done = piped("prices", "update", "odd.csv", "--currency", "USD", "--yes")
    assert done.code == 1
    rows = [line for line in done.out.splitlines() if line.startswith((PACK, "no-such-pack"))]
    assert rows[0].startswith("no-such-pack")
    assert "Mend the rows" in done.err
    assert updates(piped) == before


def test_what_is_wrong_is_told_beside_the_row_where_there_is_room(
    typed: Run, rise: str, tmp_path: Path
) -> None:
    with (tmp_path / rise).open("a") as file:
        file.write("no-such-pack-of-that-name,1.00,2026-03-01\n")
    done = typed("prices", "update", rise, "--currency", "USD", "--check", columns=100)
    lines = [one.split("\r")[-1].rstrip() for one in unstyle(done.out).split("\r\n")]
    (row,) = (one for one in lines if one.startswith("no-such-pack-of-that-name "))
    told = row.index("there is no pack")
    below = lines[lines.index(row) + 1]
    assert below[:told].isspace()
    assert below[told:] == '"no-such-pack-of-that-name"'
    assert max(map(cell_len, lines)) <= 100


def test_no_currency_is_told_as_such(piped: Run, rise: str) -> None:
    done = piped("prices", "update", rise, "--check", "--json")
    assert done.code == 1
    assert "no currency is given" in done.out


def test_what_differs_nowhere_is_not_written(piped: Run, tmp_path: Path) -> None:
    (tmp_path / "same.csv").write_text("pack,amount\n")
    done = piped("prices", "update", "same.csv", "--currency", "USD", "--yes")
    assert done.code in {0, 1}
    assert "revision" not in done.err


@pytest.mark.parametrize(
    ("columns", "line"),
    [(80, f"{PACK}     2  184.50  199.00  +7.86 %  2026-03-01  changed"), (40, "  now 199.00")],
)
def test_differences_fit_the_terminal(typed: Run, rise: str, columns: int, line: str) -> None:
    """As a table, or where that is too wide, as paragraphs: no figure is cut in two."""
    done = typed("prices", "update", rise, "--currency", "USD", "--check", columns=columns)
    lines = [one.split("\r")[-1].rstrip() for one in unstyle(done.out).split("\r\n")]
    assert max(map(cell_len, lines)) <= columns
    assert line in lines
    assert PACK in " ".join(lines)


def test_wrong_words_are_told_with_what_is_right(piped: Run, rise: str, tmp_path: Path) -> None:
    (tmp_path / "rise.xls").write_text("")
    assert ".csv" in piped("prices", "update", "rise.xls").err
    wrong = piped("prices", "update", rise, "--limit-percent", "much")
    assert (wrong.code, "such as 15" in wrong.err) == (2, True)
