"""Prices that fall with the number of packs."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("pack_price", sa.Column("breaks", sa.Text()))


def downgrade() -> None:
    op.drop_column("pack_price", "breaks")
