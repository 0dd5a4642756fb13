"""Tables of stored estimates and of the keys that make creating them repeatable."""

from sqlalchemy import Column, ForeignKeyConstraint, Index, Integer, String, Table, Text

from filmbuild.catalogue.columns import ExactDecimal, UtcDateTime
from filmbuild.db import metadata

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

idempotency_key = Table(
    "idempotency_key",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("key", String(255), primary_key=True),
    Column("request_digest", String(128), nullable=False),
    Column("estimate_id", String(64), nullable=False),
    Column("status", Integer, nullable=False),
    Column("created_at", UtcDateTime, nullable=False),
    Column("expires_at", UtcDateTime, nullable=False),
    Index(None, "organisation_id", "expires_at"),
    ForeignKeyConstraint(
        ["organisation_id", "estimate_id"], ["estimate.organisation_id", "estimate.id"]
    ),
)
