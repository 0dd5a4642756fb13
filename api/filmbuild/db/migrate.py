"""Moves a database to a revision of the schema. Blocking: from a running loop, use a thread."""

from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import URL, Connection, make_url

import filmbuild
from filmbuild.db.engine import open_migrating_engine


def upgrade(url: str | URL, revision: str = "head") -> None:
    """Make the database if it is missing, and bring it up to `revision`; a second run does nothing.

    All the migrations that are due are one transaction.
    """
    url = make_url(url)
    if url.drivername.startswith("sqlite") and url.database:
        # what is in it is about customers: only the service itself may look
        Path(url.database).parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    command.upgrade(config(url), revision)


def downgrade(url: str | URL, revision: str) -> None:
    command.downgrade(config(url), revision)


def check(url: str | URL) -> None:
    """Raises alembic's CommandError if the tables are other than the code declares."""
    command.check(config(url))


def current(url: str | URL) -> str | None:
    engine = open_migrating_engine(url)
    with engine.begin() as connection:
        return MigrationContext.configure(connection).get_current_revision()


def head() -> str | None:
    return ScriptDirectory.from_config(config()).get_current_head()


def revisions() -> frozenset[str]:
    """All that this version knows."""
    script = ScriptDirectory.from_config(config())
    return frozenset(one.revision for one in script.walk_revisions())


def confirm_references(connection: Connection) -> None:
    """SQLite's migrations run with foreign keys off, so what they left is checked once, after."""
    if connection.dialect.name != "sqlite":
        return
    broken = connection.exec_driver_sql("PRAGMA foreign_key_check").all()
    if broken:
        tables = ", ".join(sorted({row[0] for row in broken}))
        raise RuntimeError(f"{len(broken)} rows refer to rows that do not exist, in {tables}")


def config(url: str | URL | None = None) -> Config:
    """Alembic's settings from the checkout's pyproject.toml."""
    root = Path(filmbuild.__file__).parents[2]
    if not (root / "migrations").is_dir():
        raise RuntimeError(f"there are no migrations in {root}; they are run from a checkout")
    return Config(toml_file=root / "pyproject.toml", attributes={"url": url})
