"""Prices that fall with the number of packs, and suppliers' terms."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("pack_price", sa.Column("breaks", sa.Text()))
    op.create_table(
        "supplier",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("id", sa.String(64), primary_key=True),
        sa.Column("revision_from", sa.Integer(), autoincrement=False, primary_key=True),
        sa.Column("revision_to", sa.Integer()),
        sa.Column("name", sa.String(200), nullable=False),
        sa.Column("currency", sa.String(3), nullable=False),
        sa.Column("specification", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ("organisation_id", "revision_from"),
            ("catalogue_revision.organisation_id", "catalogue_revision.revision"),
        ),
    )


def downgrade() -> None:
    op.drop_table("supplier")
    op.drop_column("pack_price", "breaks")
