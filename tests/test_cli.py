"""The command line, as a person uses it."""

import re
import signal
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from waiting import until

from filmbuild import cli
from filmbuild.errors import FilmbuildError
from filmbuild.jobs.lock import FileLock


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("FILMBUILD_DATA_FOLDER", str(tmp_path))
    return tmp_path


def run(*arguments: str) -> Result:
    return CliRunner().invoke(cli.cli, arguments)


def test_a_database_is_made_and_a_second_time_left_alone(folder: Path) -> None:
    first, second = run("migrate"), run("migrate")
    assert first.exit_code == second.exit_code == 0
    assert first.output == second.output
    assert (folder / "filmbuild.sqlite3").is_file()


def test_an_organisation_is_made_with_a_key_that_is_shown_once(folder: Path) -> None:
    run("migrate")
    made = run("create-organisation", "Alder Quay Floors", "--id", "alder-quay")
    assert made.exit_code == 0
    (key,) = re.findall(r"^secret-token:filmbuild_[A-Za-z0-9_-]{43}$", made.stdout, re.MULTILINE)
    assert "alder-quay" in made.stderr
    another = run("create-key", "Back office", "--scope", "estimates:write")
    assert another.exit_code == 0
    kept = (folder / "filmbuild.sqlite3").read_bytes()
    assert key.encode() not in kept
    assert another.stdout.strip().encode() not in kept
    assert run("create-organisation", "Once more", "--id", "alder-quay").exit_code == 1
    assert run("create-key", "Wrong", "--scope", "estimates:eat").exit_code == 2


@pytest.mark.usefixtures("folder")
def test_several_organisations_must_be_told_apart() -> None:
    run("migrate")
    assert "create-organisation" in str(run("create-key", "Nobody's").exception)
    run("create-organisation", "One", "--id", "one")
    run("create-organisation", "Two", "--id", "two")
    assert "one, two" in str(run("load-catalogue", "demo").exception)
    assert run("load-catalogue", "demo", "--organisation", "two").exit_code == 0
    assert "There is no organisation three" in str(
        run("create-key", "Nobody's", "--organisation", "three").exception
    )


def test_loading_tells_what_it_did_and_does_it_once(folder: Path) -> None:
    run("migrate")
    run("create-organisation", "Alder Quay Floors")
    first, second = run("load-catalogue"), run("load-catalogue", "demo")
    assert first.exit_code == second.exit_code == 0
    assert "products: 16 new" in first.output
    assert "Made revision 1" in first.output
    assert "products: 0 new, 0 changed, 16 unchanged" in second.output
    assert "Nothing had changed" in second.output
    with sqlite3.connect(folder / "filmbuild.sqlite3") as database:
        assert database.execute("SELECT count(*) FROM catalogue_revision").fetchone() == (1,)
    database.close()


@pytest.mark.usefixtures("folder")
def test_a_catalogue_of_another_form_is_refused(tmp_path: Path) -> None:
    run("migrate")
    run("create-organisation", "Alder Quay Floors")
    wrong = tmp_path / "wrong.json"
    wrong.write_text('{"products": 3}')
    result = run("load-catalogue", str(wrong))
    assert result.exit_code == 1
    assert isinstance(result.exception, FilmbuildError)
    assert {fault.pointer for fault in result.exception.faults} == {"/products", "/name"}
    assert run("load-catalogue", str(tmp_path / "missing.json")).exit_code == 1


@pytest.mark.usefixtures("folder")
def test_loading_needs_a_migrated_database() -> None:
    result = run("load-catalogue")
    assert result.exit_code == 1
    assert "filmbuild migrate" in result.output


@pytest.mark.parametrize(
    ("arguments", "name", "value", "said"),
    [
        (["migrate"], "FILMBUILD_PORT", "80800", "is not a port"),
        (["load-catalogue"], "FILMBUILD_DATA_FOLDER", "/dev/null/none", "filmbuild migrate"),
    ],
)
def test_failing_is_told_without_a_stack(
    arguments: list[str],
    name: str,
    value: str,
    said: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.setenv(name, value)
    monkeypatch.setattr("sys.argv", ["filmbuild", *arguments])
    with pytest.raises(SystemExit) as stop:
        cli.main()
    assert stop.value.code == 1
    error = capsys.readouterr().err
    assert error.startswith("Error: ")
    assert said in error
    assert "Traceback" not in error


@pytest.mark.usefixtures("folder")
def test_the_contract_is_shown_written_and_checked(tmp_path: Path) -> None:
    target = tmp_path / "contract" / "openapi.json"
    shown = run("openapi")
    assert run("openapi", "--check", "--file", str(target)).exit_code == 1
    assert run("openapi", "--write", "--file", str(target)).exit_code == 0
    assert target.read_text() == shown.output
    assert target.read_text().endswith("}\n")
    assert run("openapi", "--check", "--file", str(target)).exit_code == 0
    target.write_text(target.read_text().replace("Filmbuild", "Other"))
    assert run("openapi", "--check", "--file", str(target)).exit_code == 1


@pytest.mark.usefixtures("folder")
def test_serving_listens_where_it_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[tuple[str, int]] = []

    def run_server(server: cli.Server) -> None:
        asked.append((server.config.host, server.config.port))
        server.started = True

    monkeypatch.setattr(cli.Server, "run", run_server)
    assert run("serve").exit_code == 0
    assert run("serve", "--host", "::1", "--port", "0").exit_code == 0
    assert asked == [("127.0.0.1", 8080), ("::1", 0)]
    assert run("serve", "--port", "70000").exit_code == 2


@pytest.mark.usefixtures("folder")
def test_a_service_that_cannot_listen_fails(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cli.Server, "run", lambda _server: None)
    assert run("serve").exit_code == 1


@pytest.mark.usefixtures("folder")
def test_stopping_is_told_before_the_answers_are_done(monkeypatch: pytest.MonkeyPatch) -> None:
    """An answer without an end of its own would otherwise keep the service from ending."""
    told: list[bool] = []

    def run_server(server: cli.Server) -> None:
        server.handle_exit(signal.SIGTERM, None)
        told.append(server.closing.begun)
        server.started = True

    monkeypatch.setattr(cli.Server, "run", run_server)
    assert run("serve").exit_code == 0
    assert told == [True]


def test_work_can_be_done_by_a_process_that_does_not_serve(folder: Path) -> None:
    """It asks nobody outside for anything, and ends when it is asked to."""
    run("migrate")
    program = (
        "import sys\n"
        "connected = []\n"
        "sys.addaudithook(lambda event, arguments: event == 'socket.connect'"
        " and connected.append(arguments))\n"
        "from filmbuild import cli\n"
        "cli.cli(['work'], standalone_mode=False)\n"
        "print(connected)\n"
    )
    with subprocess.Popen(
        [sys.executable, "-c", program], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as worker:
        until((folder / "filmbuild.sqlite3.jobs").exists)
        until(lambda: not_free(folder / "filmbuild.sqlite3.worker"))
        worker.terminate()
        out, err = worker.communicate(timeout=60)
    assert (worker.returncode, out, err) == (0, "[]\n", "")


def not_free(path: Path) -> bool:
    lock = FileLock(path)
    taken = lock.take()
    lock.let_go()
    return not taken
