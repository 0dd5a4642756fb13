"""Background work, and the repricing of all open estimates."""

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None

_MOMENT = sa.DateTime(timezone=True)


def upgrade() -> None:
    op.create_table(
        "job",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("id", sa.String(64), primary_key=True),
        sa.Column("kind", sa.String(64), nullable=False),
        sa.Column("subject", sa.String(64), nullable=False),
        sa.Column("state", sa.String(16), nullable=False),
        sa.Column("attempt", sa.Integer(), nullable=False),
        sa.Column("created_at", _MOMENT, nullable=False),
        sa.Column("ended_at", _MOMENT),
        sa.Column("detail", sa.Text()),
        sa.Index(None, "state", "created_at"),
    )
    _create_repricing()
    _create_repricing_estimate()


def _create_repricing() -> None:
    op.create_table(
        "repricing",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("id", sa.String(64), primary_key=True),
        sa.Column("created_at", _MOMENT, nullable=False),
        sa.Column("actor", sa.String(64), nullable=False),
        sa.Column("note", sa.String(200), nullable=False),
        sa.Column("catalogue_revision", sa.Integer(), nullable=False),
        sa.Column("priced_on", sa.Date()),
        sa.Column("minimum_margin_percent", sa.String(48)),
        sa.Column("state", sa.String(16), nullable=False),
        sa.Column("ended_at", _MOMENT),
        sa.Column("problem", sa.Text()),
        sa.Column("estimates", sa.Integer(), nullable=False),
        sa.Column("done", sa.Integer(), nullable=False),
        sa.Column("repriced", sa.Integer(), nullable=False),
        sa.Column("unchanged", sa.Integer(), nullable=False),
        sa.Column("accepted", sa.Integer(), nullable=False),
        sa.Column("refused", sa.Integer(), nullable=False),
        sa.Column("below_margin", sa.Integer(), nullable=False),
        sa.Column("sums", sa.Text(), nullable=False),
        sa.Index(None, "organisation_id", "created_at", "id"),
    )


def _create_repricing_estimate() -> None:
    op.create_table(
        "repricing_estimate",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("repricing_id", sa.String(64), primary_key=True),
        sa.Column("estimate_id", sa.String(64), primary_key=True),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("sequence", sa.Integer()),
        sa.Column("outcome", sa.String(16)),
        sa.Column("currency", sa.String(3)),
        sa.Column("was_revision", sa.Integer()),
        sa.Column("was_total", sa.String(48)),
        sa.Column("was_margin_percent", sa.String(48)),
        sa.Column("now_revision", sa.Integer()),
        sa.Column("now_total", sa.String(48)),
        sa.Column("now_margin_percent", sa.String(48)),
        sa.Column("below_margin", sa.Boolean()),
        sa.Column("problem", sa.Text()),
        sa.Column("faults", sa.Text()),
        sa.ForeignKeyConstraint(
            ("organisation_id", "repricing_id"), ("repricing.organisation_id", "repricing.id")
        ),
        sa.Index(None, "organisation_id", "repricing_id", "sequence", "position"),
    )


def downgrade() -> None:
    op.drop_table("repricing_estimate")
    op.drop_table("repricing")
    op.drop_table("job")
