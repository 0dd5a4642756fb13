"""The table of the answers that are given again to the same key."""

from sqlalchemy import Column, Index, Integer, String, Table, Text

from filmbuild.db import metadata
from filmbuild.db.columns import UtcDateTime

# `answer` is missing where the feature makes the same answer again from `resource`, its record
kept_answer = Table(
    "kept_answer",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("caller", String(64), primary_key=True),
    Column("key", String(255), primary_key=True),
    Column("request_digest", String(128), nullable=False),
    Column("resource", String(255), nullable=False),
    Column("answer", Text),
    Column("status", Integer, nullable=False),
    Column("created_at", UtcDateTime, nullable=False),
    Column("expires_at", UtcDateTime, nullable=False),
    Index(None, "organisation_id", "expires_at"),
)
