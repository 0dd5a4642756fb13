"""Invoices, the stages that they bill, and the series of their numbers."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "invoice",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("id", sa.String(64), primary_key=True),
        sa.Column("number", sa.String(30), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("issued_on", sa.Date(), nullable=False),
        sa.Column("kind", sa.String(16), nullable=False),
        sa.Column("quotation_id", sa.String(64), nullable=False),
        sa.Column("stages", sa.Text(), nullable=False),
        sa.Column("buyer", sa.String(200), nullable=False),
        sa.Column("currency", sa.String(3), nullable=False),
        sa.Column("total", sa.String(48), nullable=False),
        sa.Column("content", sa.Text(), nullable=False),
        sa.Column("document", sa.Text(), nullable=False),
        sa.UniqueConstraint("organisation_id", "number"),
        sa.Index(None, "organisation_id", "created_at", "id"),
        sa.Index(None, "organisation_id", "quotation_id"),
    )
    op.create_table(
        "invoiced_stage",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("quotation_id", sa.String(64), primary_key=True),
        sa.Column("stage", sa.String(200), primary_key=True),
        sa.Column("invoice_id", sa.String(64), nullable=False),
        sa.ForeignKeyConstraint(
            ("organisation_id", "invoice_id"), ("invoice.organisation_id", "invoice.id")
        ),
    )
    op.create_table(
        "invoice_series",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("prefix", sa.String(16), nullable=False),
        sa.Column("digits", sa.Integer(), nullable=False),
        sa.Column("next", sa.Integer(), nullable=False),
    )


def downgrade() -> None:
    op.drop_table("invoice_series")
    op.drop_table("invoiced_stage")
    op.drop_table("invoice")
