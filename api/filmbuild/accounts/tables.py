"""The tables of organisations as callers, of their keys, and of the audit log."""

from sqlalchemy import Column, ForeignKeyConstraint, Index, String, Table, Text

from filmbuild.db import metadata
from filmbuild.db.columns import UtcDateTime

account = Table(
    "account",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("name", String(200), nullable=False),
    Column("created_at", UtcDateTime, nullable=False),
)

# `digest` is of the whole key, which is kept nowhere; `scopes` and `origins` are JSON arrays
api_key = Table(
    "api_key",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("id", String(64), primary_key=True),
    Column("kind", String(16), nullable=False),
    Column("name", String(100), nullable=False),
    Column("digest", String(64), nullable=False),
    Column("hint", String(16), nullable=False),
    Column("scopes", Text, nullable=False),
    Column("origins", Text, nullable=False),
    Column("created_at", UtcDateTime, nullable=False),
    Column("created_by", String(64), nullable=False),
    Column("expires_at", UtcDateTime),
    Column("revoked_at", UtcDateTime),
    Column("last_used_at", UtcDateTime),
    Column("replaced_by", String(64)),
    ForeignKeyConstraint(("organisation_id",), ("account.organisation_id",)),
    Index(None, "digest", unique=True),
)

# browsers ask whether a page may call before they send its key: then only the origin is known
key_origin = Table(
    "key_origin",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("key_id", String(64), primary_key=True),
    Column("origin", String(255), primary_key=True),
    ForeignKeyConstraint(("organisation_id", "key_id"), ("api_key.organisation_id", "api_key.id")),
    Index(None, "origin"),
)

# `detail` is a JSON object without secrets
audit_entry = Table(
    "audit_entry",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("id", String(64), primary_key=True),
    Column("at", UtcDateTime, nullable=False),
    Column("actor", String(64), nullable=False),
    Column("action", String(64), nullable=False),
    Column("subject", String(64), nullable=False),
    Column("detail", Text, nullable=False),
    Index(None, "organisation_id", "at", "id"),
)
