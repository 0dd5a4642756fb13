"""The tables of what an organisation says of itself: its profile, and the words of its offers."""

from sqlalchemy import Column, Integer, String, Table, Text

from filmbuild.db import metadata
from filmbuild.db.columns import UtcDateTime

organisation = Table(
    "organisation",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("version", Integer, nullable=False),
    Column("created_at", UtcDateTime, nullable=False),
    Column("updated_at", UtcDateTime, nullable=False),
    Column("profile", Text, nullable=False),
)

organisation_texts = Table(
    "organisation_texts",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("language", String(8), primary_key=True),
    Column("version", Integer, nullable=False),
    Column("created_at", UtcDateTime, nullable=False),
    Column("updated_at", UtcDateTime, nullable=False),
    Column("texts", Text, nullable=False),
)
