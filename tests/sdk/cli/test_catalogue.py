"""`filmbuild-client catalogue` against a service."""

import json
import zipfile
from pathlib import Path
from typing import Any

Run = Any


def test_what_is_exported_and_imported_again_changes_nothing(piped: Run) -> None:
    for name in ("all.json", "all.zip"):
        assert piped("catalogue", "export", name).code == 0
        done = piped("catalogue", "import", name, "--yes")
        assert (done.code, "Nothing differs" in done.err) == (0, True), done.err
    assert piped("catalogue", "export", "packs.csv", "--kind", "packs").code == 0
    done = piped("catalogue", "import", "packs.csv", "--kind", "packs", "--check", "--json")
    assert json.loads(done.out)["changes"] == []


def test_a_changed_record_is_compared_asked_about_and_written(
    piped: Run, typed: Run, tmp_path: Path
) -> None:
    piped("catalogue", "export", "all.json")
    whole = json.loads((tmp_path / "all.json").read_text())
    system = whole["systems"][0]
    system["name"] = f"{system['name']}, renamed"
    (tmp_path / "new.json").write_text(json.dumps(whole))
    checked = piped("catalogue", "import", "new.json", "--check")
    assert ["systems", "0", "1", "0"] in [line.split() for line in checked.out.splitlines()]
    assert typed("catalogue", "import", "new.json", answer="n\n").code == 6
    assert typed("catalogue", "import", "new.json", answer="y\n").code == 0
    after = json.loads(piped("catalogue", "export").out)
    assert system["name"] in [one["name"] for one in after["systems"]]


def test_tables_are_a_zip_of_csv(piped: Run, tmp_path: Path) -> None:
    piped("catalogue", "export", "all.zip")
    with zipfile.ZipFile(tmp_path / "all.zip") as archive:
        assert "packs.csv" in archive.namelist()


def test_an_archive_is_not_thrown_at_a_terminal(typed: Run) -> None:
    done = typed("catalogue", "export", "--format", "zip")
    assert done.code == 2
    assert "name a FILE" in done.out


def test_one_table_needs_its_kind(piped: Run, tmp_path: Path) -> None:
    (tmp_path / "packs.csv").write_text("id\n")
    for arguments in (
        ("export", "packs.csv"),
        ("import", "packs.csv"),
        ("export", "x.json", "--kind", "packs"),
    ):
        done = piped("catalogue", *arguments)
        assert (done.code, "--kind" in done.err) == (2, True)
