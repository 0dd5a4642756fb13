"""The log of a whole process: written to its end, and no condition for its work."""

import json
import os
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

import pytest
from new_databases import NewDatabase
from running import Running, running

from filmbuild import cli


@contextmanager
def served(
    new: NewDatabase, monkeypatch: pytest.MonkeyPatch, prepare: Callable[[], None]
) -> Iterator[Running]:
    """`prepare` is called in the process that serves, before it does; it is not told to be quiet."""
    serve = cli.cli

    def prepared(arguments: Sequence[str]) -> None:
        prepare()
        serve([one for one in arguments if one != "--quiet"])

    monkeypatch.setattr(cli, "cli", prepared)
    with new(True) as url, running(url, "--no-work") as service:
        yield service


def test_what_was_logged_before_the_end_is_written(
    new_sqlite: NewDatabase, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    path = tmp_path / "log"

    def to_file() -> None:
        os.dup2(os.open(path, os.O_WRONLY | os.O_CREAT), 2)

    with served(new_sqlite, monkeypatch, to_file) as service:
        asked = {"x-request-id": "the-last-one"}
        assert service.client.get("/v1/version", headers=asked).is_success
        service.ask_to_stop()
        service.stopped()
    lines = [json.loads(one) for one in path.read_text().splitlines()]
    assert [one["operation"] for one in lines if one.get("request_id") == "the-last-one"] == [
        "getVersion"
    ]
    assert lines[0]["event"].startswith("Started server process")
    assert lines[-1]["event"].startswith("Finished server process")
    assert all(one["time"] and one["level"] for one in lines)


@pytest.mark.parametrize("full", [False, True], ids=["closed", "full"])
def test_a_log_that_cannot_be_written_stops_nothing(
    new_sqlite: NewDatabase, monkeypatch: pytest.MonkeyPatch, full: bool
) -> None:
    """Linux's /dev/full answers every write as a full disk does (man 4 full)."""

    def cannot() -> None:
        if full:
            os.dup2(os.open("/dev/full", os.O_WRONLY), 2)
        else:
            os.close(2)

    with served(new_sqlite, monkeypatch, cannot) as service:
        for _ in range(3):
            assert service.client.get("/v1/version").is_success
