"""The README's commands show what it says they show."""

import re
import subprocess
import sys
from pathlib import Path

README = (Path(__file__).parents[3] / "README.md").read_text()
FILES = {"yaml": "boot-room.yaml", "csv": "rise.csv"}


def block(language: str) -> str:
    section = README.partition("\n## From a shell\n")[2].partition("\n## ")[0]
    (found,) = re.findall(rf"^```{language}\n(.*?)^```$", section, re.MULTILINE | re.DOTALL)
    assert isinstance(found, str)
    return found


def test_the_commands_show_what_the_readme_says(
    environment: dict[str, str], tmp_path: Path
) -> None:
    for language, name in FILES.items():
        (tmp_path / name).write_text(block(language))
    program = tmp_path / "filmbuild-client"
    program.write_text(f'#!/bin/sh\nexec {sys.executable} -m filmbuild_sdk.cli "$@"\n')
    program.chmod(0o755)
    path = f"{tmp_path}:{environment['PATH']}"
    shown = ""
    for command in re.findall(r"^\$ (.*)$", block("console"), re.MULTILINE):
        done = subprocess.run(
            ["/bin/bash", "-o", "pipefail", "-c", command],
            cwd=tmp_path,
            env={**environment, "PATH": path},
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stdout
        shown += f"$ {command}\n{done.stdout}"
    assert shown == block("console")
    assert (tmp_path / "floor.svg").read_text().startswith("<svg")
    assert (tmp_path / "crew.pdf").read_bytes().startswith(b"%PDF")
