"""No room left on the disk: nothing half-written, and the next request right once there is room."""

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path

import price_update_cases as prices
import pytest
import repricing_cases as cases
from running import running
from serving import NewDatabase
from sqlalchemy import URL
from waiting import until

from filmbuild.db.backup import BackupError, backup, restore

MEGABYTE = 1 << 20
DISK_MEGABYTES = 8


@pytest.fixture
def disk(tmp_path: Path) -> Iterator[Path]:
    """A small one of the test's own."""
    folder = tmp_path / "disk"
    folder.mkdir()
    options = ["-t", "tmpfs", "-o", f"size={DISK_MEGABYTES}m"]
    mount, unmount = shutil.which("mount"), shutil.which("umount")
    if not (os.geteuid() == 0 and mount and unmount) or (
        subprocess.run([mount, *options, "none", str(folder)], check=False).returncode != 0
    ):
        pytest.skip("only who may mount a disk can have a small one")
    try:
        yield folder
    finally:
        subprocess.run([unmount, "--lazy", str(folder)], check=True)


def fill(disk: Path) -> Path:
    """What takes up all the room there is."""
    ballast = disk / "ballast"
    with ballast.open("wb", buffering=0) as file:
        try:
            while file.write(bytes(MEGABYTE // 16)):
                pass
        except OSError:
            pass
    return ballast


def test_requests_are_refused_until_there_is_room(new_sqlite: NewDatabase, disk: Path) -> None:
    with new_sqlite(True, loaded=True) as template:
        backup(template, disk / "file.sqlite3")
    url = URL.create("sqlite+aiosqlite", database=str(disk / "file.sqlite3"))
    with running(url) as service:
        client = service.client
        created = client.post("/v1/estimates", json=cases.request())
        begun = client.post("/v1/repricings", json={"note": "First"})
        assert (created.status_code, begun.status_code) == (201, 202)
        until(lambda: client.get(f"/v1/repricings/{begun.json()['id']}").json()["state"] == "done")
        ballast = fill(disk)
        answers = [client.post("/v1/estimates", json=cases.request()) for _ in range(20)]
        kept = [one.json()["id"] for one in answers if one.status_code == 201]
        refused = [one for one in answers if one.status_code != 201]
        assert refused, "there was room for all of them"
        for one in refused:
            assert one.status_code == 503
            assert "no room" in one.json()["detail"]
        # what can be told without writing is told, and only what was said to be kept is there
        listed = {one["id"] for one in client.get("/v1/estimates?limit=100").json()["items"]}
        assert listed == {created.json()["id"], *kept}
        assert client.post("/v1/calculations", json=cases.request()).status_code == 200
        ballast.unlink()
        assert client.post("/v1/estimates", json=cases.request()).status_code == 201
        begun = client.post("/v1/repricings", json={"note": "Second"})
        assert begun.json()["estimates"] == len(listed) + 1
        path = f"/v1/repricings/{begun.json()['id']}"
        until(lambda: client.get(path).json()["state"] == "done")


DAYS = [f"{year}-{month:02d}-15" for year in range(2030, 2999) for month in range(1, 13)]


@pytest.mark.parametrize("room", [0, MEGABYTE])
def test_a_price_update_is_refused_until_there_is_room_to_check_it(
    new_sqlite: NewDatabase, disk: Path, monkeypatch: pytest.MonkeyPatch, room: int
) -> None:
    """For the rows that come in, or for what is set aside of them."""
    rows = "".join(f"{prices.KIT},1.00,{day}\n" for day in DAYS)
    body = f"pack,amount,effective_from\n{rows}".encode()
    assert len(body) < MEGABYTE
    asked = {"currency": "USD"}
    monkeypatch.setattr(tempfile, "tempdir", str(disk))
    with new_sqlite(True, loaded=True) as url, running(url) as service:
        ballast = fill(disk)
        os.truncate(ballast, ballast.stat().st_size - room)
        for check_only in ("true", "false"):
            refused = service.client.post(
                prices.UPDATES,
                content=body,
                headers=prices.CSV,
                params=asked | {"check_only": check_only},
            )
            assert refused.status_code == 503, refused.text
            assert "no room" in refused.json()["detail"]
        assert prices.newest(service.client) == 1
        ballast.unlink()
        made = service.client.post(prices.UPDATES, content=body, headers=prices.CSV, params=asked)
        assert made.json()["counts"]["new"] + made.json()["counts"]["changed"] == len(DAYS)


def test_a_backup_without_room_is_none(new_sqlite: NewDatabase, disk: Path) -> None:
    with new_sqlite(True, loaded=True) as url:
        ballast = fill(disk)
        with pytest.raises(BackupError, match="full"):
            backup(url, disk / "copy.sqlite3")
        assert not (disk / "copy.sqlite3").exists()
        ballast.unlink()
        backup(url, disk / "copy.sqlite3")
        restore(url, disk / "copy.sqlite3")
