"""Tables of the quote form's settings, of enquiries, and of proofs of work that were used."""

from sqlalchemy import Boolean, Column, Index, Integer, String, Table, Text

from filmbuild.db import metadata
from filmbuild.db.columns import ExactDecimal, UtcDateTime

# `secret` signs the challenges, so that every process knows those of the others
quote_form = Table(
    "quote_form",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("version", Integer, nullable=False),
    Column("created_at", UtcDateTime, nullable=False),
    Column("updated_at", UtcDateTime, nullable=False),
    Column("form", Text, nullable=False),
    Column("secret", String(64), nullable=False),
)

# kept until the challenge has ended anyway
used_proof = Table(
    "used_proof",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("nonce", String(64), primary_key=True),
    Column("expires_at", UtcDateTime, nullable=False),
)

# `person` is JSON of all that tells who asks, and is missing once it was erased; `question` is JSON
# of the floor. An enquiry that could not be priced has no estimate
enquiry = Table(
    "enquiry",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("id", String(64), primary_key=True),
    Column("created_at", UtcDateTime, nullable=False),
    Column("updated_at", UtcDateTime, nullable=False),
    Column("version", Integer, nullable=False),
    Column("state", String(16), nullable=False),
    Column("language", String(8), nullable=False),
    Column("units", String(2), nullable=False),
    Column("question", Text, nullable=False),
    Column("person", Text),
    Column("consent", Text, nullable=False),
    Column("estimate_id", String(64)),
    Column("currency", String(3)),
    Column("lowest", ExactDecimal),
    Column("highest", ExactDecimal),
    Column("tax_included", Boolean),
    Index(None, "organisation_id", "created_at", "id"),
)
