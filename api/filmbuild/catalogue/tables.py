"""Tables of the catalogue.

Every record belongs to an organisation and holds from `revision_from` up to, but not including,
`revision_to`; a current record has no `revision_to`. Rows are never deleted, so that each revision
stays readable. Prices are dated and only ever added to: a correction is a row of a later revision,
and a row without an amount withdraws the price of that list and date.
"""

from sqlalchemy import (
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

ORGANISATION_ID = String(64)
IDENTIFIER = String(64)
LABEL = String(200)

catalogue_revision = Table(
    "catalogue_revision",
    metadata,
    Column("organisation_id", ORGANISATION_ID, primary_key=True),
    Column("revision", Integer, primary_key=True, autoincrement=False),
    Column("created_at", UtcDateTime, nullable=False),
    Column("author", LABEL, nullable=False),
    Column("note", Text, nullable=False),
    Column("summary", Text, nullable=False),
)


def _made_by(column: str) -> ForeignKeyConstraint:
    return ForeignKeyConstraint(
        ["organisation_id", column],
        ["catalogue_revision.organisation_id", "catalogue_revision.revision"],
    )


def _versioned(name: str, *searchable: Column[str]) -> Table:
    """`specification` is the record as canonical JSON, its quantities in the units authored."""
    return Table(
        name,
        metadata,
        Column("organisation_id", ORGANISATION_ID, primary_key=True),
        Column("id", IDENTIFIER, primary_key=True),
        Column("revision_from", Integer, primary_key=True, autoincrement=False),
        Column("revision_to", Integer),
        Column("name", LABEL, nullable=False),
        *searchable,
        Column("specification", Text, nullable=False),
        _made_by("revision_from"),
        # for what one revision began and ended
        Index(None, "organisation_id", "revision_from"),
        Index(None, "organisation_id", "revision_to"),
    )


product = _versioned(
    "product",
    Column("role", IDENTIFIER, nullable=False),
    Column("supplier", LABEL, nullable=False),
)
pack = _versioned("pack", Column("product_id", IDENTIFIER, nullable=False))
coating_system = _versioned("coating_system")
rate_book = _versioned("rate_book", Column("currency", String(3), nullable=False))
consumable_rule = _versioned(
    "consumable_rule",
    Column("kind", IDENTIFIER, nullable=False),
    Column("currency", String(3), nullable=False),
)
supplier = _versioned("supplier", Column("currency", String(3), nullable=False))
tax_rule = _versioned("tax_rule", Column("place", LABEL, nullable=False))

# The revision leads the key, so that what a revision adds stands together and is added at the end.
# No reference to it is declared: it is inserted first in the same transaction, and looking it up
# for each of 200,000 rows took a third of the time of writing them. Nor does SQLite number the rows,
# which would write the long key twice.
pack_price = Table(
    "pack_price",
    metadata,
    Column("organisation_id", ORGANISATION_ID, primary_key=True),
    Column("revision", Integer, primary_key=True, autoincrement=False),
    Column("pack_id", IDENTIFIER, primary_key=True),
    Column("currency", String(3), primary_key=True),
    # the customers' tier; empty for the usual list
    Column("tier", IDENTIFIER, primary_key=True),
    Column("effective_from", Date, primary_key=True),
    Column("amount", ExactDecimal),
    # price breaks as JSON; prices from before there were any have none
    Column("breaks", Text),
    # the row of the same list that held on `effective_from` before this one, where there was one
    Column("before_revision", Integer),
    Column("before_from", Date),
    sqlite_with_rowid=False,
)
