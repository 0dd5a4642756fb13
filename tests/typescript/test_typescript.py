"""The contract as TypeScript sees it: types are generated, a program is compiled and run."""

import json
import os
import shutil
import subprocess
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any

import calling
import pytest
from new_databases import NewDatabase
from running import Running, running

HERE = Path(__file__).parent
CONTRACT = HERE.parents[1] / "openapi" / "openapi.json"
FILES = ("package.json", "package-lock.json", "tsconfig.json", "program.ts")
INSTALLING_SECONDS = 120
# a field with a default may be left out: without this, the generator demands it in requests
OPTIONS = ("--default-non-nullable=false", "--output=schema.d.ts")


def unavailable(reason: str) -> None:
    if os.environ.get("CI"):
        pytest.fail(reason)
    pytest.skip(reason)


def done(folder: Path, *command: str) -> str:
    found = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)
    assert found.returncode == 0, found.stdout + found.stderr
    return found.stdout


@pytest.fixture(scope="module")
def compiled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the program, checked under `strict`."""
    if shutil.which("node") is None or shutil.which("npm") is None:
        unavailable("Node.js is not installed (Debian: apt-get install nodejs npm)")
    folder = tmp_path_factory.mktemp("typescript")
    for name in FILES:
        shutil.copy(HERE / name, folder)
    _install(folder)
    done(folder, "node_modules/.bin/openapi-typescript", str(CONTRACT), *OPTIONS)
    done(folder, "node_modules/.bin/tsc", "--project", ".")
    return folder


def _install(folder: Path) -> None:
    """As the lock file has it. No network is no fault of the contract."""
    command = ("npm", "ci", "--no-audit", "--no-fund", "--prefer-offline", "--ignore-scripts")
    try:
        subprocess.run(
            command,
            cwd=folder,
            check=True,
            capture_output=True,
            text=True,
            timeout=INSTALLING_SECONDS,
        )
    except subprocess.TimeoutExpired:
        unavailable("the packages could not be installed in time")
    except subprocess.CalledProcessError as error:
        unavailable(f"the packages could not be installed: {error.stderr}")


@pytest.fixture(scope="module")
def service(new_sqlite: NewDatabase) -> Iterator[Running]:
    with new_sqlite(True, loaded=True) as url, running(url) as service:
        yield service


def test_a_strictly_typed_program_makes_an_estimate_and_reads_a_problem(
    compiled: Path, service: Running, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("FILMBUILD_KEY", calling.KEY)
    said: dict[str, Any] = json.loads(
        done(compiled, "node", "program.js", str(service.client.base_url))
    )
    stored = service.client.get(f"/v1/estimates/{said['id']}").json()
    assert said["total"] == stored["document"]["price"]["total"]["amount"]
    assert Decimal(said["total"]) > 0
    # a rectangle of 12 m by 8 m
    assert said["walls"] == pytest.approx(40.0)
    assert said["status"] == 422
    assert said["faults"] == ["/job/system unknown-system"]
