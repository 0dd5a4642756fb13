"""Prices by the customer's tier, that can be withdrawn; and updates of many of them at once.

The table of prices is made anew: its key leads with the revision, to which it no longer declares a
reference, and SQLite keeps its rows in the order of that key, without numbers of their own.
"""

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None

_COPIED = "organisation_id, revision, pack_id, currency, effective_from, amount, breaks"
_REFERENCE = (
    ("organisation_id", "revision"),
    ("catalogue_revision.organisation_id", "catalogue_revision.revision"),
)


def upgrade() -> None:
    _set_aside()
    op.create_table(
        "pack_price",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("revision", sa.Integer(), autoincrement=False, primary_key=True),
        sa.Column("pack_id", sa.String(64), primary_key=True),
        sa.Column("currency", sa.String(3), primary_key=True),
        sa.Column("tier", sa.String(64), primary_key=True),
        sa.Column("effective_from", sa.Date(), primary_key=True),
        sa.Column("amount", sa.String(48)),
        sa.Column("breaks", sa.Text()),
        sa.Column("before_revision", sa.Integer()),
        sa.Column("before_from", sa.Date()),
        sqlite_with_rowid=False,
    )
    _bring_back(f"{_COPIED}, tier", f"{_COPIED}, ''")
    op.create_table(
        "price_update",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("id", sa.String(64), primary_key=True),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("author", sa.String(200), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("kind", sa.String(16), nullable=False),
        sa.Column("based_on", sa.Integer(), nullable=False),
        sa.Column("revision", sa.Integer()),
        sa.Column("undoes", sa.String(64)),
        sa.Column("report", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(*_REFERENCE),
        sa.ForeignKeyConstraint(
            ("organisation_id", "undoes"), ("price_update.organisation_id", "price_update.id")
        ),
        sa.Index(None, "organisation_id", "created_at", "id"),
        sa.Index(None, "organisation_id", "undoes"),
    )


def downgrade() -> None:
    """What the tables of before cannot say is lost: tiers, and that a price was withdrawn."""
    op.drop_table("price_update")
    op.execute("DELETE FROM pack_price WHERE tier <> '' OR amount IS NULL")
    _set_aside()
    op.create_table(
        "pack_price",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("pack_id", sa.String(64), primary_key=True),
        sa.Column("currency", sa.String(3), primary_key=True),
        sa.Column("effective_from", sa.Date(), primary_key=True),
        sa.Column("revision", sa.Integer(), autoincrement=False, primary_key=True),
        sa.Column("amount", sa.String(48), nullable=False),
        sa.Column("breaks", sa.Text()),
        sa.ForeignKeyConstraint(*_REFERENCE),
    )
    _bring_back(_COPIED, _COPIED)


def _set_aside() -> None:
    """A temporary table, whose constraints cannot have the names of the new table's."""
    op.execute(f"CREATE TEMPORARY TABLE price_kept AS SELECT {_COPIED} FROM pack_price")  # noqa: S608 - of names that stand in this module
    op.drop_table("pack_price")


def _bring_back(columns: str, values: str) -> None:
    op.execute(f"INSERT INTO pack_price ({columns}) SELECT {values} FROM price_kept")  # noqa: S608 - of names that stand in this module
    op.execute("DROP TABLE price_kept")
