"""The only reader of the environment."""

import os
import re
from collections.abc import Mapping
from importlib.util import find_spec
from pathlib import Path

import msgspec
from sqlalchemy import URL, make_url
from sqlalchemy.exc import ArgumentError

from filmbuild.errors import Faults, Refusal

PREFIX = "FILMBUILD_"
NAMES = ("DATA_FOLDER", "DATABASE_URL", "HOST", "PORT")
DRIVERS = {"sqlite": "aiosqlite", "postgresql": "asyncpg"}
PORT = re.compile(r"[0-9]{1,5}")
LAST_PORT = 65535


class Settings(msgspec.Struct, frozen=True, kw_only=True):
    data_folder: Path
    database_url: URL
    host: str
    port: int


def read(environment: Mapping[str, str] = os.environ) -> Settings:
    """Raises InvalidInput with a fault for each variable that cannot be used."""
    faults = Faults()
    for name in sorted(environment):
        if name.startswith(PREFIX) and name.removeprefix(PREFIX) not in NAMES:
            known = ", ".join(PREFIX + known for known in NAMES)
            faults.add(
                "unknown-setting", f"{name} is not a setting; the settings are {known}", name
            )
    data_folder = Path(environment.get("FILMBUILD_DATA_FOLDER") or ".data")
    settings = Settings(
        data_folder=data_folder,
        database_url=_database_url(environment.get("FILMBUILD_DATABASE_URL"), data_folder, faults),
        host=environment.get("FILMBUILD_HOST") or "127.0.0.1",
        port=_port(environment.get("FILMBUILD_PORT") or "8080", faults),
    )
    faults.raise_if_any("The settings are not valid.")
    return settings


def _port(text: str, faults: Faults) -> int:
    if PORT.fullmatch(text) and int(text) <= LAST_PORT:
        return int(text)
    detail = f"{text!r} is not a port: give 0 (any free one) to {LAST_PORT}"
    faults.add("invalid-setting", detail, "FILMBUILD_PORT")
    return 0


def _database_url(text: str | None, data_folder: Path, faults: Faults) -> URL:
    default = URL.create("sqlite+aiosqlite", database=str(data_folder / "filmbuild.sqlite3"))
    if not text:
        return default
    try:
        url = _with_driver(make_url(text))
    except Refusal as refusal:
        reason = refusal.detail
    except (ArgumentError, ValueError):
        # The text may hold a password, so neither it nor the parser's message is repeated.
        reason = "it is not a database URL"
    else:
        return url
    accepted = "sqlite:///folder/file.sqlite3 or postgresql://user@host/name"
    detail = f"{reason}; give one such as {accepted}"
    faults.add("invalid-setting", detail, "FILMBUILD_DATABASE_URL")
    return default


def _refused(detail: str) -> Refusal:
    return Refusal("invalid-setting", detail)


def _with_driver(url: URL) -> URL:
    kind = url.get_backend_name()
    driver = DRIVERS.get(kind)
    if driver is None or url.drivername not in {kind, f"{kind}+{driver}"}:
        raise _refused(f"{url.drivername} is not supported")
    if kind == "sqlite" and url.database in {None, "", ":memory:"}:
        raise _refused("SQLite is kept in a file here")
    if find_spec(driver) is None:
        raise _refused(f"{kind} needs the optional dependencies of filmbuild[{kind}]")
    return url.set(drivername=f"{kind}+{driver}")
