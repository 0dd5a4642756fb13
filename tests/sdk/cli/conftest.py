import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from calling import KEY
from running import running
from serving import NewDatabase
from terminals import Done, in_process, in_terminal


@pytest.fixture(scope="package")
def address(new_sqlite: NewDatabase) -> Iterator[str]:
    with new_sqlite(True, loaded=True) as url, running(url, fresh=True) as service:
        yield f"http://127.0.0.1:{service.port}"


@pytest.fixture
def environment(address: str) -> dict[str, str]:
    kept = {name: text for name, text in os.environ.items() if not name.startswith("FILMBUILD_")}
    sized = {
        name: text for name, text in kept.items() if name not in {"COLUMNS", "LINES", "NO_COLOR"}
    }
    return {**sized, "FILMBUILD_URL": address, "FILMBUILD_KEY": KEY}


Run = Callable[..., Done]


@pytest.fixture
def piped(environment: dict[str, str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    """Runs the program as other programs do, in a folder of its own."""
    monkeypatch.chdir(tmp_path)
    return lambda *arguments, text=b"", **changed: in_process(
        [*arguments], {**environment, **changed}, text
    )


@pytest.fixture
def process(environment: dict[str, str], tmp_path: Path) -> Run:
    """The same, in a process of its own."""

    def run(*arguments: str) -> Done:
        done = subprocess.run(
            [sys.executable, "-m", "filmbuild_sdk.cli", *arguments],
            cwd=tmp_path,
            env=environment,
            capture_output=True,
            check=False,
            timeout=60,
        )
        return Done(done.returncode, done.stdout.decode(), done.stderr.decode())

    return run


@pytest.fixture
def typed(environment: dict[str, str], tmp_path: Path) -> Run:
    """Runs the program in a terminal, as a person does."""
    return lambda *arguments, columns=80, answer="": in_terminal(
        [*arguments], columns, environment, tmp_path, answer
    )
