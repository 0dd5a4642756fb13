"""The package as its users get it: built, and installed where nothing of this project is."""

import os
import shutil
import subprocess
import sys
import zipfile
from email.parser import Parser
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PROGRAM = """
from datetime import date
from decimal import Decimal
from pathlib import Path

import filmbuild_sdk
from filmbuild_sdk import AsyncClient, Client, InvalidInput, feet, models


def price(client: Client, system: str) -> Decimal:
    hall = models.SiteArea(id="hall", outline=models.Rectangle(length=feet(24, 6), width="13 ft"))
    job = models.Job(system=system, start=date(2026, 6, 15))
    asked = models.EstimateRequest(site=models.Site(areas=[hall]), job=job)
    try:
        return client.calculate(asked).price.total.amount
    except InvalidInput as refused:
        raise SystemExit(refused.errors[0].pointer) from refused


def raise_prices(client: Client, file: Path) -> str | None:
    def told(sent: int, total: int | None) -> None:
        print(sent, total)

    return client.update_prices(file, media_type="text/csv", progress=told).id


def done(client: Client, repricing: str) -> int:
    for event in client.follow_repricing(repricing):
        if isinstance(event.data, models.Repricing) and event.type == "end":
            return event.data.repriced
    return 0


async def first(client: AsyncClient) -> str | None:
    async for one in client.list_estimates(limit=1):
        return one.id
    return None


Client("http://127.0.0.1", key="secret-token:made-up").close()
print(filmbuild_sdk.__version__)
"""
LOADED = "import sys, filmbuild_sdk; print([one for one in sys.modules if 'models.' in one])"


def uv() -> str:
    found = os.environ.get("UV") or shutil.which("uv") or str(ROOT / ".tools" / "bin" / "uv")
    if not Path(found).exists():
        pytest.skip("uv is not installed; the README's command to check everything brings it")
    return found


def run(*command: str, cwd: Path) -> str:
    outside = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    done = subprocess.run(
        command, cwd=cwd, env=outside, text=True, capture_output=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    run(uv(), "build", "--wheel", "--package", "filmbuild-sdk", "-o", str(folder), cwd=ROOT)
    (made,) = folder.glob("*.whl")
    return made


def test_it_needs_an_http_client_and_a_decoder_alone(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        names = archive.namelist()
        (metadata,) = (name for name in names if name.endswith("METADATA"))
        needed = Parser().parsestr(archive.read(metadata).decode()).get_all("Requires-Dist") or []
    assert sorted(one.split(">")[0] for one in needed if "extra" not in one) == ["httpx", "msgspec"]
    assert "filmbuild_sdk/py.typed" in names
    assert {name.partition("/")[0] for name in names if "dist-info" not in name} == {
        "filmbuild_sdk"
    }


def test_it_is_typed_strictly_and_runs_in_an_empty_environment(wheel: Path, tmp_path: Path) -> None:
    python = str(tmp_path / "env" / "bin" / "python")
    run(uv(), "venv", "--python", sys.executable, "env", cwd=tmp_path)
    run(uv(), "pip", "install", "--python", python, str(wheel), "mypy", cwd=tmp_path)
    (tmp_path / "program.py").write_text(PROGRAM)
    checked = run(python, "-m", "mypy", "--strict", "program.py", cwd=tmp_path)
    assert "Success" in checked
    assert run(python, "program.py", cwd=tmp_path).strip()
    assert run(python, "-c", LOADED, cwd=tmp_path).strip() == "[]", (
        "types are loaded when asked for"
    )


def test_its_command_says_what_it_needs_and_works_with_it(wheel: Path, tmp_path: Path) -> None:
    python, program = (
        str(tmp_path / "env" / "bin" / name) for name in ("python", "filmbuild-client")
    )
    run(uv(), "venv", "--python", sys.executable, "env", cwd=tmp_path)
    run(uv(), "pip", "install", "--python", python, str(wheel), cwd=tmp_path)
    bare = subprocess.run([program], capture_output=True, text=True, check=False)
    assert (bare.returncode, "sdk[cli]" in bare.stderr) == (2, True)
    run(uv(), "pip", "install", "--python", python, f"{wheel}[cli]", cwd=tmp_path)
    assert "prices" in run(program, "--help", cwd=tmp_path)
