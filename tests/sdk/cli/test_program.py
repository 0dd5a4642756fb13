"""What all commands have in common: the key, the exit codes, completion and broken pipes."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import loopback
import pytest
from calling import KEY

Run = Any


def answered(
    piped: Run, *plans: loopback.Plan, arguments: tuple[str, ...] = ("prices", "list")
) -> Any:
    with loopback.before(0) as proxy:
        proxy.plans.extend(plans)
        return piped(*arguments, FILMBUILD_URL=proxy.url)


@pytest.mark.parametrize(
    ("status", "code", "exit_code", "hint"),
    [
        (401, "unauthorized", 4, "FILMBUILD_KEY"),
        (403, "forbidden", 4, "keys list"),
        (404, "not-found", 1, "--url"),
        (409, "conflict", 1, "try again"),
        (422, "invalid-input", 1, "Mend"),
        (500, "internal-error", 5, "Report it"),
    ],
)
def test_each_refusal_has_its_exit_code_and_what_to_do_next(
    piped: Run, status: int, code: str, exit_code: int, hint: str
) -> None:
    done = answered(piped, loopback.answer(status, code, "It is so."))
    assert (done.code, done.out) == (exit_code, "")
    first, second = done.err.splitlines()
    assert first == f"Error: {status}: It is so. (request from-the-proxy)"
    assert hint in second


def test_a_busy_service_says_when_to_come_back(piped: Run) -> None:
    done = answered(piped, loopback.answer(429, "too-many-requests", "Slower.", retry_after="90"))
    assert done.code == 3
    assert "Try again in 90 s." in done.err


def test_a_service_that_is_not_there(piped: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("filmbuild_sdk.client.time.sleep", lambda _seconds: None)
    done = piped("prices", "list", FILMBUILD_URL="http://no-such-host.invalid", FILMBUILD_KEY="")
    assert done.code == 3
    assert "Is the service running at http://no-such-host.invalid?" in done.err


def test_what_failed_is_a_problem_document_for_programs(piped: Run) -> None:
    plan = loopback.answer(403, "forbidden", "No.")
    done = answered(piped, plan, arguments=("prices", "list", "--json"))
    assert (done.code, done.out) == (4, "")
    assert json.loads(done.err)["type"] == "/problems/forbidden"


def test_the_key_is_in_no_argument_and_no_output(piped: Run, tmp_path: Path) -> None:
    done = piped("--key", KEY, "prices", "list")
    assert (done.code, done.out) == (2, "")
    assert KEY not in done.err
    assert "--key-file" in done.err
    (tmp_path / "key").write_text("secret-token:filmbuild_of-the-file\n")
    with loopback.before(0) as proxy:
        proxy.plans.append(loopback.answer(401, "unauthorized", "No."))
        refused = piped("--url", proxy.url, "--key-file", "key", "prices", "list")
        assert b"Bearer secret-token:filmbuild_of-the-file\r\n" in proxy.requests[0]
    assert "of-the-file" not in refused.out + refused.err
    assert KEY not in piped("--help").out


def test_the_key_is_not_sent_unencrypted_to_another_machine(piped: Run) -> None:
    done = piped("--url", "http://192.0.2.1", "prices", "list")
    assert done.code == 2
    assert "--plain-http" in done.err
    assert KEY not in done.err


@pytest.mark.parametrize("url", ["localhost:8080", "http://a:b", "ftp://floors.example", "floors"])
def test_an_address_that_is_none_is_wrong_use(piped: Run, url: str) -> None:
    done = piped("--url", url, "prices", "list")
    assert (done.code, done.out) == (2, "")
    assert "is not an address" in done.err


def test_help_names_the_exit_codes(piped: Run) -> None:
    out = piped("--help").out
    for line in ("0  done", "3  the service was not reached", "6  not confirmed"):
        assert line in out


def test_a_reader_that_goes_away_is_no_failure(environment: dict[str, str], tmp_path: Path) -> None:
    program = [sys.executable, "-m", "filmbuild_sdk.cli", "catalogue", "export"]
    with subprocess.Popen(
        program, env=environment, cwd=tmp_path, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as running:
        assert running.stdout is not None
        assert running.stderr is not None
        running.stdout.read(10)
        running.stdout.close()
        assert running.stderr.read() == b""
        assert running.wait(60) == 0


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_shells_are_told_how_to_complete(piped: Run, shell: str) -> None:
    """By click's own means: the script asks the program, with the words in its environment."""
    script = piped("completion", shell)
    assert script.code == 0, script.err
    assert "_FILMBUILD_CLIENT_COMPLETE" in script.out
    asked = {
        "COMP_WORDS": "filmbuild-client prices u",
        "COMP_CWORD": "2" if shell != "fish" else "u",
    }
    words = piped(_FILMBUILD_CLIENT_COMPLETE=f"{shell}_complete", **asked)
    assert {"undo", "update", "updates"} <= set(
        words.out.replace(",", " ").replace("\t", " ").split()
    )


def test_without_its_extra_it_says_how_to_get_it() -> None:
    code = (
        "import sys\n"
        "sys.modules.update(dict.fromkeys(('click', 'rich', 'ruamel', 'pygments')))\n"
        "from filmbuild_sdk.cli import main\n"
        "main()\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 2
    assert (
        done.stderr
        == "Install what this command needs, in the repository: python3 -m pip install './sdk[cli]'\n"
    )
