"""The table of price updates; the prices that they bring are the catalogue's rows."""

from sqlalchemy import Column, ForeignKeyConstraint, Index, Integer, String, Table, Text

from filmbuild.db import metadata
from filmbuild.db.columns import UtcDateTime

# `report` is the JSON of the counts and of what was asked; `revision` is missing where nothing
# differed, and so no revision was made
price_update = Table(
    "price_update",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("id", String(64), primary_key=True),
    Column("created_at", UtcDateTime, nullable=False),
    Column("author", String(200), nullable=False),
    Column("note", Text, nullable=False),
    Column("kind", String(16), nullable=False),
    Column("based_on", Integer, nullable=False),
    Column("revision", Integer),
    Column("undoes", String(64)),
    Column("report", Text, nullable=False),
    ForeignKeyConstraint(
        ["organisation_id", "revision"],
        ["catalogue_revision.organisation_id", "catalogue_revision.revision"],
    ),
    ForeignKeyConstraint(
        ["organisation_id", "undoes"], ["price_update.organisation_id", "price_update.id"]
    ),
    Index(None, "organisation_id", "created_at", "id"),
    Index(None, "organisation_id", "undoes"),
)
