"""What alembic runs for each of its commands."""

from typing import Literal

from alembic import context
from alembic.autogenerate.api import AutogenContext
from alembic.util import CommandError
from sqlalchemy.types import TypeDecorator

import filmbuild.accounts.tables
import filmbuild.catalogue.tables
import filmbuild.enquiries.tables
import filmbuild.estimates.tables
import filmbuild.idempotency.tables
import filmbuild.jobs.tables
import filmbuild.organisations.tables
import filmbuild.pricelists.tables
import filmbuild.quotations.invoices.tables
import filmbuild.quotations.tables
import filmbuild.repricing.tables
import filmbuild.webhooks.tables  # noqa: F401 - loading it puts its tables in the metadata
from filmbuild import settings
from filmbuild.db.engine import open_migrating_engine
from filmbuild.db.metadata import metadata
from filmbuild.db.migrate import confirm_references


def render(kind: str, item: object, _context: AutogenContext) -> str | Literal[False]:
    """A migration names what the database stores, and so outlives the code's own column types."""
    if kind == "type" and isinstance(item, TypeDecorator):
        return f"sa.{item.impl_instance!r}"
    return False


def run() -> None:
    url = context.config.attributes.get("url") or settings.read().database_url
    with open_migrating_engine(url).begin() as connection:
        context.configure(
            connection=connection,
            target_metadata=metadata,
            render_as_batch=True,
            compare_server_default=True,
            render_item=render,
        )
        context.run_migrations()
        confirm_references(connection)


if context.is_offline_mode():
    raise CommandError(
        "Migrations run against a database: SQLite's way of changing a table copies its rows."
    )
run()
