"""The tables of quotations, their history, their numbers and the secrets of their links."""

from sqlalchemy import Column, Date, ForeignKeyConstraint, Index, Integer, String, Table, Text

from filmbuild.db import metadata
from filmbuild.db.columns import ExactDecimal, UtcDateTime

# content is the JSON that the customer is shown, fixed when it is issued; costs are the seller's
# alone; agreed is the whole offer that holds once a change order is accepted,
# and starts_from the quotation whose offer held before
quotation = Table(
    "quotation",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("id", String(64), primary_key=True),
    Column("kind", String(16), nullable=False),
    Column("state", String(16), nullable=False),
    Column("version", Integer, nullable=False),
    Column("number", String(40)),
    Column("created_at", UtcDateTime, nullable=False),
    Column("updated_at", UtcDateTime, nullable=False),
    Column("issued_at", UtcDateTime),
    Column("valid_until", Date, nullable=False),
    Column("valid_days", Integer),
    Column("expires_at", UtcDateTime, nullable=False),
    Column("buyer_name", String(200), nullable=False),
    Column("site_name", String(200), nullable=False),
    Column("reference", String(200)),
    Column("currency", String(3), nullable=False),
    Column("total", ExactDecimal, nullable=False),
    Column("supersedes", String(64)),
    Column("changes", String(64)),
    Column("starts_from", String(64)),
    Column("nonce", String(64)),
    Column("digest", String(32)),
    Column("content", Text, nullable=False),
    Column("costs", Text, nullable=False),
    Column("agreed", Text),
    Column("decision", Text),
    Index(None, "organisation_id", "number", unique=True),
    Index(None, "organisation_id", "created_at", "id"),
    Index(None, "organisation_id", "state", "expires_at"),
    Index(None, "organisation_id", "changes"),
    Index(None, "organisation_id", "supersedes"),
)

# rows are only ever added
quotation_step = Table(
    "quotation_step",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("quotation_id", String(64), primary_key=True),
    Column("position", Integer, primary_key=True),
    Column("at", UtcDateTime, nullable=False),
    Column("actor", String(64), nullable=False),
    Column("kind", String(32), nullable=False),
    Column("detail", Text, nullable=False),
    ForeignKeyConstraint(
        ("organisation_id", "quotation_id"), ("quotation.organisation_id", "quotation.id")
    ),
)

number_series = Table(
    "number_series",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("series", String(32), primary_key=True),
    Column("last", Integer, nullable=False),
)

link_secret = Table(
    "link_secret",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("secret", String(64), nullable=False),
    Column("created_at", UtcDateTime, nullable=False),
)
