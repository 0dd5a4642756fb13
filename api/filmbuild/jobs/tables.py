"""The table of jobs: what is to be done, not how far it has come."""

from sqlalchemy import Column, Index, Integer, String, Table, Text

from filmbuild.db import metadata
from filmbuild.db.columns import UtcDateTime

# `state` is due, done or failed; `subject` is the feature's own record that the job is about
job = Table(
    "job",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("id", String(64), primary_key=True),
    Column("kind", String(64), nullable=False),
    Column("subject", String(64), nullable=False),
    Column("state", String(16), nullable=False),
    Column("attempt", Integer, nullable=False),
    Column("created_at", UtcDateTime, nullable=False),
    Column("ended_at", UtcDateTime),
    Column("detail", Text),
    # a worker looks for what is due whoever asked for it
    Index(None, "state", "created_at"),
)
