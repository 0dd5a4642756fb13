"""A PostgreSQL server of the test run's own, in a temporary folder and behind a socket in it."""

import os
import pwd
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import Any

import psycopg
from sqlalchemy import URL

ACCOUNT = "postgres"
SERVICE = "filmbuild"
"""The role that the service has: it owns its tables, and row security binds it all the same."""
SERVER_OPTIONS = {
    "listen_addresses": "",
    "fsync": "off",
    "full_page_writes": "off",
    "synchronous_commit": "off",
}


class Cluster:
    """`control` runs `pg_ctl` with some words."""

    def __init__(self, folder: Path, control: Callable[..., None]) -> None:
        self._folder = folder
        self._control = control

    def stop(self) -> None:
        """As if it were unplugged."""
        self._control("-w", "-m", "immediate", "stop")

    def start(self) -> None:
        options = {**SERVER_OPTIONS, "unix_socket_directories": str(self._folder)}
        switches = " ".join(f"-c {name}='{value}'" for name, value in options.items())
        self._control("-w", "-l", str(self._folder / "log"), "-o", switches, "start")

    def url(self, database: str) -> URL:
        return URL.create(
            "postgresql+asyncpg",
            username=SERVICE,
            database=database,
            query={"host": str(self._folder)},
        )

    def create(self, database: str, template: str = "template0") -> URL:
        self._run(
            f'CREATE DATABASE "{database}" OWNER {SERVICE} TEMPLATE "{template}" STRATEGY file_copy'
        )
        return self.url(database)

    def drop(self, database: str) -> None:
        self._run(f'DROP DATABASE "{database}" WITH (FORCE)')

    def make_role(self) -> None:
        self._run(f"CREATE ROLE {SERVICE} LOGIN NOSUPERUSER NOBYPASSRLS")

    def ask(self, database: str, question: str) -> list[tuple[Any, ...]]:
        """As the server's own account, whom row security does not bind."""
        where = f"host={self._folder} user={ACCOUNT} dbname={database}"
        with psycopg.connect(where) as connection:
            return connection.execute(question.encode()).fetchall()

    def _run(self, statement: str) -> None:
        where = f"host={self._folder} user={ACCOUNT} dbname=postgres"
        with psycopg.connect(where, autocommit=True) as connection:
            connection.execute(statement.encode())


def programs() -> Path | None:
    """Where the newest installed server's programs are: on the path, or where Debian puts them."""
    on_path = shutil.which("initdb")
    if on_path:
        return Path(on_path).resolve().parent
    versions = Path("/usr/lib/postgresql").glob("*/bin/initdb")
    found = sorted(versions, key=lambda path: int(path.parts[-3]))
    return found[-1].parent if found else None


@contextmanager
def cluster(binaries: Path) -> Iterator[Cluster]:
    folder = Path(tempfile.mkdtemp(prefix="cluster-"))
    account = _account(folder)

    def run(program: str, *arguments: str) -> None:
        command = [str(binaries / program), "-D", str(folder / "data"), *arguments]
        subprocess.run(command, check=True, cwd=folder, stdout=subprocess.DEVNULL, **account)

    try:
        run("initdb", "-U", ACCOUNT, "-A", "trust", "-E", "UTF8", "--no-locale", "--no-sync")
        cluster = Cluster(folder, partial(run, "pg_ctl"))
        cluster.start()
        cluster.make_role()
        try:
            yield cluster
        finally:
            cluster.stop()
    finally:
        shutil.rmtree(folder)


def _account(folder: Path) -> dict[str, Any]:
    """The server refuses to run as root, so root hands it to the account that its package made."""
    if os.geteuid() != 0:
        return {}
    entry = pwd.getpwnam(ACCOUNT)
    os.chown(folder, entry.pw_uid, entry.pw_gid)
    return {"user": entry.pw_uid, "group": entry.pw_gid, "extra_groups": []}
