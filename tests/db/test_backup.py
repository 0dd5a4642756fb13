"""Backup and restore, of both kinds of database."""

import asyncio
import shutil
import sqlite3
import subprocess
from contextlib import closing
from pathlib import Path
from typing import Any

import private_cluster
import pytest
from click.testing import CliRunner
from serving import Client, NewDatabase, client_of
from sqlalchemy import URL, make_url

from filmbuild import cli
from filmbuild.db import EVERYONE, Database, migrate
from filmbuild.db.backup import BackupError, backup, restore
from filmbuild.errors import Conflict
from filmbuild.jobs.lock import FileLock, not_at_work


def url_of(path: Path) -> URL:
    return URL.create("sqlite+aiosqlite", database=str(path))


@pytest.fixture
def original(new_sqlite: NewDatabase, tmp_path: Path) -> URL:
    with new_sqlite(True, loaded=True) as url:
        copy = tmp_path / "original.sqlite3"
        backup(url, copy)
    return url_of(copy)


def catalogue(client: Client) -> Any:
    return client.get("/v1/catalogue").json()


def rows(path: Path) -> list[Any]:
    with closing(sqlite3.connect(path)) as connection:
        return list(connection.iterdump())


def test_a_copy_has_everything_and_a_second_is_not_made_over_it(
    original: URL, tmp_path: Path
) -> None:
    copy = tmp_path / "copy.sqlite3"
    backup(original, copy)
    assert rows(copy) == rows(Path(str(original.database)))
    assert copy.stat().st_mode & 0o077 == 0, "who else may read it"
    with pytest.raises(BackupError, match="not written over"):
        backup(original, copy)
    assert list(tmp_path.glob("*.unfinished")) == []


async def test_a_copy_is_of_one_moment_while_others_write(original: URL, tmp_path: Path) -> None:
    """What a transaction has written and not yet committed is in no copy, nor waited for."""
    copy = tmp_path / "copy.sqlite3"
    database = Database(original)
    async with database.writer(EVERYONE) as connection:
        await connection.exec_driver_sql("DELETE FROM pack_price")
        await asyncio.to_thread(backup, original, copy)
    await database.dispose()
    with closing(sqlite3.connect(copy)) as connection:
        assert connection.execute("SELECT count(*) FROM pack_price").fetchone()[0] > 0


def test_a_database_put_back_is_what_it_was_whatever_came_after(
    original: URL, tmp_path: Path
) -> None:
    copy = tmp_path / "copy.sqlite3"
    backup(original, copy)
    with client_of(original) as client:
        before = catalogue(client)
    with closing(sqlite3.connect(str(original.database))) as connection, connection:
        # left in the journal beside the file, which must not be taken for part of the copy
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute("PRAGMA wal_autocheckpoint = 0")
        connection.execute("DELETE FROM pack_price")
    restore(original, copy)
    assert rows(Path(str(original.database))) == rows(copy)
    with client_of(original) as client:
        assert catalogue(client) == before


def test_a_copy_from_before_an_upgrade_is_migrated(tmp_path: Path) -> None:
    old, new = url_of(tmp_path / "old.sqlite3"), url_of(tmp_path / "new" / "new.sqlite3")
    migrate.upgrade(old, "0001")
    backup(old, tmp_path / "copy.sqlite3")
    restore(new, tmp_path / "copy.sqlite3")
    assert migrate.current(new) == "0001"
    migrate.upgrade(new)
    migrate.check(new)


def test_what_cannot_be_put_back_leaves_the_database_as_it_is(
    original: URL, tmp_path: Path
) -> None:
    before = rows(Path(str(original.database)))
    damaged = tmp_path / "damaged.sqlite3"
    content = bytearray(Path(str(original.database)).read_bytes())
    content[8192:40960] = b"\xff" * 32768
    damaged.write_bytes(content)
    foreign = tmp_path / "foreign.sqlite3"
    with closing(sqlite3.connect(foreign)) as connection:
        connection.execute("CREATE TABLE other (value INTEGER)")
    later = tmp_path / "later.sqlite3"
    shutil.copyfile(str(original.database), later)
    with closing(sqlite3.connect(later)) as connection, connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
    text = tmp_path / "text.sqlite3"
    text.write_text("not a database" * 100)
    refused = {
        damaged: "damaged|cannot be copied|malformed",
        foreign: "not a database of this service",
        later: "9999, which this version does not know",
        text: "cannot be copied",
        tmp_path / "none.sqlite3": "no file",
    }
    for path, said in refused.items():
        with pytest.raises(BackupError, match=said):
            restore(original, path)
    assert rows(Path(str(original.database))) == before


def test_the_commands_do_the_same(
    original: URL, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    copy, other = tmp_path / "copy.sqlite3", tmp_path / "other.sqlite3"
    monkeypatch.setenv("FILMBUILD_DATABASE_URL", f"sqlite:///{original.database}")
    assert CliRunner().invoke(cli.cli, ["backup", str(copy)]).exit_code == 0
    monkeypatch.setenv("FILMBUILD_DATABASE_URL", f"sqlite:///{other}")
    assert CliRunner().invoke(cli.cli, ["restore", str(copy)]).exit_code == 0
    assert rows(other) == rows(copy)


def test_nothing_is_put_back_under_a_running_service(tmp_path: Path) -> None:
    url = url_of(tmp_path / "file.sqlite3")
    worker = FileLock(tmp_path / "file.sqlite3.worker")
    assert worker.take()
    with pytest.raises(Conflict, match="stop it first"), not_at_work(url):
        raise AssertionError
    worker.let_go()
    with not_at_work(url):
        assert not worker.take()


def test_postgresql_says_how_it_is_done(tmp_path: Path) -> None:
    with pytest.raises(BackupError, match="pg_dump"):
        backup(make_url("postgresql+asyncpg://host/name"), tmp_path / "copy")


def test_postgresql_goes_through_its_own_programs_and_back(
    new_postgresql: NewDatabase, tmp_path: Path
) -> None:
    """As the message above says it: a dump of one database put back into another."""
    folder = private_cluster.programs()
    assert folder is not None
    tmp_path.chmod(0o755)
    dump = tmp_path / "dump"

    def run(program: str, url: URL, *arguments: str) -> None:
        where = ["--host", str(url.query["host"]), "--username", private_cluster.ACCOUNT]
        subprocess.run([folder / program, *where, *arguments], check=True)

    with new_postgresql(True, loaded=True) as url, new_postgresql(False) as other:
        with client_of(url) as client:
            before = catalogue(client)
        run("pg_dump", url, "--format=custom", f"--file={dump}", str(url.database))
        run("pg_restore", other, "--clean", "--if-exists", f"--dbname={other.database}", str(dump))
        migrate.check(other)
        with client_of(other) as client:
            assert catalogue(client) == before
            assert client.get("/v1/readiness").status_code == 200
