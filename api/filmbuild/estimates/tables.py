"""The tables of stored estimates and their revisions."""

from sqlalchemy import (
    Column,
    Date,
    ForeignKeyConstraint,
    Index,
    Integer,
    LargeBinary,
    String,
    Table,
    Text,
    UniqueConstraint,
)

from filmbuild.db import metadata
from filmbuild.db.columns import ExactDecimal, UtcDateTime

# what of an estimate may change: which revision is its latest, and whether one is accepted
estimate = Table(
    "estimate",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("id", String(64), primary_key=True),
    Column("created_at", UtcDateTime, nullable=False),
    Column("site_name", String(200), nullable=False),
    Column("reference", String(200)),
    Column("latest_revision", Integer, nullable=False),
    Column("state", String(16), nullable=False),
    Column("accepted_revision", Integer),
    Index(None, "organisation_id", "created_at", "id"),
    Index(None, "organisation_id", "state", "id"),
)

# rows are only ever added. request and result are JSON as it was received and answered, compressed,
# and last in the row, so that what reads the columns before them need not read past them
estimate_revision = Table(
    "estimate_revision",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("estimate_id", String(64), primary_key=True),
    Column("revision", Integer, primary_key=True, autoincrement=False),
    Column("created_at", UtcDateTime, nullable=False),
    Column("actor", String(64), nullable=False),
    Column("cause", Text),
    Column("cause_id", String(255)),
    Column("catalogue_revision", Integer, nullable=False),
    Column("priced_on", Date, nullable=False),
    Column("engine_version", String(64), nullable=False),
    Column("system_id", String(64), nullable=False),
    Column("currency", String(3), nullable=False),
    Column("net", ExactDecimal, nullable=False),
    Column("total", ExactDecimal, nullable=False),
    Column("margin_percent", ExactDecimal, nullable=False),
    Column("request", LargeBinary, nullable=False),
    Column("result", LargeBinary, nullable=False),
    ForeignKeyConstraint(
        ("organisation_id", "estimate_id"), ("estimate.organisation_id", "estimate.id")
    ),
    UniqueConstraint("organisation_id", "estimate_id", "cause_id"),
)
