"""Answers that are given again to the same key, whatever was made."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

_MOMENT = sa.DateTime(timezone=True)


def upgrade() -> None:
    op.create_table(
        "kept_answer",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("caller", sa.String(64), primary_key=True),
        sa.Column("key", sa.String(255), primary_key=True),
        sa.Column("request_digest", sa.String(128), nullable=False),
        sa.Column("resource", sa.String(255), nullable=False),
        sa.Column("answer", sa.Text()),
        sa.Column("status", sa.Integer(), nullable=False),
        sa.Column("created_at", _MOMENT, nullable=False),
        sa.Column("expires_at", _MOMENT, nullable=False),
        sa.Index(None, "organisation_id", "expires_at"),
    )
    # digests of old keys were of the body alone: a key from before the change is refused with any
    # body until it expires, which is safer than making the same estimate twice
    op.execute(
        "INSERT INTO kept_answer SELECT organisation_id, 'anyone', key, request_digest, "
        "estimate_id, NULL, status, created_at, expires_at FROM idempotency_key"
    )
    op.drop_table("idempotency_key")


def downgrade() -> None:
    op.create_table(
        "idempotency_key",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("key", sa.String(255), primary_key=True),
        sa.Column("request_digest", sa.String(128), nullable=False),
        sa.Column("estimate_id", sa.String(64), nullable=False),
        sa.Column("status", sa.Integer(), nullable=False),
        sa.Column("created_at", _MOMENT, nullable=False),
        sa.Column("expires_at", _MOMENT, nullable=False),
        sa.Index(None, "organisation_id", "expires_at"),
        sa.ForeignKeyConstraint(
            ("organisation_id", "estimate_id"), ("estimate.organisation_id", "estimate.id")
        ),
    )
    op.drop_table("kept_answer")
