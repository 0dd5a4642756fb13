"""Tables of repricings, and of what became of each estimate in them."""

from sqlalchemy import (
    Boolean,
    Column,
    Date,
    ForeignKeyConstraint,
    Index,
    Integer,
    String,
    Table,
    Text,
)

from filmbuild.db import metadata
from filmbuild.db.columns import ExactDecimal, UtcDateTime

# `sums` is JSON of what the prices came to in each currency; it and the counts are changed in the
# transaction that keeps the estimates' new revisions, so that they never disagree
repricing = Table(
    "repricing",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("id", String(64), primary_key=True),
    Column("created_at", UtcDateTime, nullable=False),
    Column("actor", String(64), nullable=False),
    Column("note", String(200), nullable=False),
    Column("catalogue_revision", Integer, nullable=False),
    Column("priced_on", Date),
    Column("minimum_margin_percent", ExactDecimal),
    Column("state", String(16), nullable=False),
    Column("ended_at", UtcDateTime),
    Column("problem", Text),
    Column("estimates", Integer, nullable=False),
    Column("done", Integer, nullable=False),
    Column("repriced", Integer, nullable=False),
    Column("unchanged", Integer, nullable=False),
    Column("accepted", Integer, nullable=False),
    Column("refused", Integer, nullable=False),
    Column("below_margin", Integer, nullable=False),
    Column("sums", Text, nullable=False),
    Index(None, "organisation_id", "created_at", "id"),
)

# made with the repricing, one for each estimate that was open then. `sequence` counts those that
# are done in the order in which they were, and is missing from those that wait
repricing_estimate = Table(
    "repricing_estimate",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("repricing_id", String(64), primary_key=True),
    Column("estimate_id", String(64), primary_key=True),
    Column("position", Integer, nullable=False),
    Column("sequence", Integer),
    Column("outcome", String(16)),
    Column("currency", String(3)),
    Column("was_revision", Integer),
    Column("was_total", ExactDecimal),
    Column("was_margin_percent", ExactDecimal),
    Column("now_revision", Integer),
    Column("now_total", ExactDecimal),
    Column("now_margin_percent", ExactDecimal),
    Column("below_margin", Boolean),
    Column("problem", Text),
    Column("faults", Text),
    ForeignKeyConstraint(
        ("organisation_id", "repricing_id"), ("repricing.organisation_id", "repricing.id")
    ),
    Index(None, "organisation_id", "repricing_id", "sequence", "position"),
)
