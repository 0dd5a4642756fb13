"""The table of stored estimates."""

from sqlalchemy import Column, Index, Integer, String, Table, Text

from filmbuild.db import metadata
from filmbuild.db.columns import ExactDecimal, UtcDateTime

# request and result are JSON as it was received and answered: what was offered never changes
estimate = Table(
    "estimate",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("id", String(64), primary_key=True),
    Column("created_at", UtcDateTime, nullable=False),
    Column("site_name", String(200), nullable=False),
    Column("reference", String(200)),
    Column("system_id", String(64), nullable=False),
    Column("currency", String(3), nullable=False),
    Column("total", ExactDecimal, nullable=False),
    Column("catalogue_revision", Integer, nullable=False),
    Column("engine_version", String(64), nullable=False),
    Column("request", Text, nullable=False),
    Column("result", Text, nullable=False),
    Index(None, "organisation_id", "created_at", "id"),
)
