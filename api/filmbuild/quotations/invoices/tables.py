"""The tables of invoices and of their numbers."""

from sqlalchemy import (
    Column,
    Date,
    ForeignKeyConstraint,
    Index,
    Integer,
    String,
    Table,
    Text,
    UniqueConstraint,
)

from filmbuild.db import metadata
from filmbuild.db.columns import ExactDecimal, UtcDateTime

# `content` is the invoice's JSON and `document` its XML, as they were made: they never change
invoice = Table(
    "invoice",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("id", String(64), primary_key=True),
    Column("number", String(30), nullable=False),
    Column("created_at", UtcDateTime, nullable=False),
    Column("issued_on", Date, nullable=False),
    Column("kind", String(16), nullable=False),
    Column("quotation_id", String(64), nullable=False),
    Column("stages", Text, nullable=False),
    Column("buyer", String(200), nullable=False),
    Column("currency", String(3), nullable=False),
    Column("total", ExactDecimal, nullable=False),
    Column("content", Text, nullable=False),
    Column("document", Text, nullable=False),
    UniqueConstraint("organisation_id", "number"),
    Index(None, "organisation_id", "created_at", "id"),
    Index(None, "organisation_id", "quotation_id"),
)

# its key is what keeps a stage from being billed twice
invoiced_stage = Table(
    "invoiced_stage",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("quotation_id", String(64), primary_key=True),
    Column("stage", String(200), primary_key=True),
    Column("invoice_id", String(64), nullable=False),
    ForeignKeyConstraint(
        ("organisation_id", "invoice_id"), ("invoice.organisation_id", "invoice.id")
    ),
)

# the row is locked by whoever invoices, and `next` moves in the invoice's own transaction
invoice_series = Table(
    "invoice_series",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("prefix", String(16), nullable=False),
    Column("digits", Integer, nullable=False),
    Column("next", Integer, nullable=False),
)
