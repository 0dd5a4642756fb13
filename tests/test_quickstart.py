"""The README's first command, from an empty folder, and once more."""

import json
import os
import re
import shlex
import signal
import socket
import subprocess
import sys
from pathlib import Path

import httpx
import pytest

ROOT = Path(__file__).parents[1]


def quickstart(folder: Path, *options: str, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "filmbuild.cli", "quickstart", *options],
        cwd=folder,
        env={**os.environ, "COLUMNS": "120", "FILMBUILD_PORT": str(free_port()), **environment},
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )


def free_port() -> int:
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        port: int = listener.getsockname()[1]
        return port


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str]:
    folder = tmp_path_factory.mktemp("quickstart")
    done = quickstart(folder)
    assert done.returncode == 0, done.stdout + done.stderr
    return folder, done.stdout


def test_it_prints_the_whole_estimate(first: tuple[Path, str]) -> None:
    _, printed = first
    assert "Made revision 1 of the catalogue." in printed
    for heading in (
        "Takeoff",
        "Layers",
        "Packs to buy",
        "Consumables and tools",
        "Crew hours",
        "Dates (America/Chicago)",
        "Price (USD)",
    ):
        assert re.search(rf"^{re.escape(heading)}", printed, re.MULTILINE), heading
    assert "Caution: Respirable crystalline silica" in printed
    assert "29 CFR 1926.1153" in printed
    assert "secret-token" not in printed
    assert "filmbuild quickstart --keep-running" in " ".join(printed.split())


def test_a_second_run_changes_nothing_and_finds_the_same(first: tuple[Path, str]) -> None:
    folder, printed = first
    again = quickstart(folder)
    assert again.returncode == 0, again.stdout + again.stderr
    assert "Nothing had changed: no revision was made." in again.stdout
    assert estimate_in(again.stdout) == estimate_in(printed)


def estimate_in(printed: str) -> str:
    """What stands between the server's address and the id of the stored estimate."""
    return re.split(r"handbook: |Stored as ", printed)[1].partition("\n")[2]


def test_the_curl_shown_gets_the_same_estimate(first: tuple[Path, str]) -> None:
    """On a server left running, as the printed hint says."""
    folder, printed = first
    (line,) = re.findall(r"^curl .*$", printed, re.MULTILINE)
    words = shlex.split(line)
    body = (folder / words[words.index("--data-binary") + 1].removeprefix("@")).read_bytes()
    assert words[words.index("-X") + 1] == "POST"
    port = free_port()
    command = [sys.executable, "-m", "filmbuild.cli", "serve", "--quiet", "--port", str(port)]
    with subprocess.Popen(command, cwd=folder) as server:
        try:
            path = httpx.URL(words[words.index("POST") + 1]).path
            transport = httpx.HTTPTransport(retries=50)
            with httpx.Client(transport=transport, timeout=60) as client:
                answer = client.post(
                    f"http://127.0.0.1:{port}{path}",
                    content=body,
                    headers={
                        "content-type": "application/json",
                        "authorization": f"Bearer {(folder / '.data' / 'key').read_text().strip()}",
                    },
                )
        finally:
            server.terminate()
    assert answer.status_code == 201, answer.text
    total = json.loads(answer.text)["document"]["price"]["total"]["amount"]
    assert f"{float(total):,.2f}" in printed


def test_one_left_running_says_how_to_go_on(first: tuple[Path, str]) -> None:
    """From another folder: what it prints for another terminal has address and key in place."""
    folder, _ = first
    environment = {**os.environ, "FILMBUILD_PORT": str(free_port())}
    command = [sys.executable, "-m", "filmbuild.cli", "quickstart", "--keep-running"]
    with subprocess.Popen(
        command,
        cwd=folder,
        env=environment,
        stdout=subprocess.PIPE,
        text=True,
        start_new_session=True,
    ) as left_running:
        assert left_running.stdout is not None
        try:
            printed = []
            for line in left_running.stdout:
                printed.append(line)
                if line.startswith("Where to begin: "):
                    break
            exports = "".join(one for one in printed if one.startswith("export "))
            asked = (
                'curl -sS "$FILMBUILD_URL/v1/webhook-endpoints" '
                '-H "Authorization: Bearer $FILMBUILD_KEY" -H "Content-Type: application/json" '
                """-d '{"url": "http://127.0.0.1:9/"}'"""
            )
            answer = subprocess.run(
                ["/bin/bash", "-euc", f"{exports}\n{asked}"],
                cwd="/",
                stdout=subprocess.PIPE,
                check=True,
            ).stdout
            begin = httpx.get(printed[-1].removeprefix("Where to begin: ").strip())
        finally:
            # a shell has its background processes ignore an interrupt, and so all that they start
            os.killpg(left_running.pid, signal.SIGTERM)
    assert json.loads(answer)["url"] == "http://127.0.0.1:9/"
    assert "handbook" in begin.text
    assert "secret-token" not in "".join(printed)


def test_a_step_that_fails_is_told(tmp_path: Path) -> None:
    (tmp_path / "data").write_text("not a folder")
    done = quickstart(tmp_path, FILMBUILD_DATA_FOLDER=str(tmp_path / "data"))
    assert done.returncode != 0
    assert "data" in done.stderr
    assert "Traceback" not in done.stderr
