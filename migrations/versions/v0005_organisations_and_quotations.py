"""What organisations say of themselves, and their quotations with histories, numbers and links."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None

_MOMENT = sa.DateTime(timezone=True)


def upgrade() -> None:
    _organisations()
    _quotations()
    op.create_table(
        "quotation_step",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("quotation_id", sa.String(64), primary_key=True),
        sa.Column("position", sa.Integer(), primary_key=True),
        sa.Column("at", _MOMENT, nullable=False),
        sa.Column("actor", sa.String(64), nullable=False),
        sa.Column("kind", sa.String(32), nullable=False),
        sa.Column("detail", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ("organisation_id", "quotation_id"), ("quotation.organisation_id", "quotation.id")
        ),
    )
    op.create_table(
        "number_series",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("series", sa.String(32), primary_key=True),
        sa.Column("last", sa.Integer(), nullable=False),
    )
    op.create_table(
        "link_secret",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("secret", sa.String(64), nullable=False),
        sa.Column("created_at", _MOMENT, nullable=False),
    )


def _organisations() -> None:
    op.create_table(
        "organisation",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("created_at", _MOMENT, nullable=False),
        sa.Column("updated_at", _MOMENT, nullable=False),
        sa.Column("profile", sa.Text(), nullable=False),
    )
    op.create_table(
        "organisation_texts",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("language", sa.String(8), primary_key=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("created_at", _MOMENT, nullable=False),
        sa.Column("updated_at", _MOMENT, nullable=False),
        sa.Column("texts", sa.Text(), nullable=False),
    )


def _quotations() -> None:
    op.create_table(
        "quotation",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("id", sa.String(64), primary_key=True),
        sa.Column("kind", sa.String(16), nullable=False),
        sa.Column("state", sa.String(16), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("number", sa.String(40)),
        sa.Column("created_at", _MOMENT, nullable=False),
        sa.Column("updated_at", _MOMENT, nullable=False),
        sa.Column("issued_at", _MOMENT),
        sa.Column("valid_until", sa.Date(), nullable=False),
        sa.Column("valid_days", sa.Integer()),
        sa.Column("expires_at", _MOMENT, nullable=False),
        sa.Column("buyer_name", sa.String(200), nullable=False),
        sa.Column("site_name", sa.String(200), nullable=False),
        sa.Column("reference", sa.String(200)),
        sa.Column("currency", sa.String(3), nullable=False),
        sa.Column("total", sa.String(48), nullable=False),
        sa.Column("supersedes", sa.String(64)),
        sa.Column("changes", sa.String(64)),
        sa.Column("starts_from", sa.String(64)),
        sa.Column("nonce", sa.String(64)),
        sa.Column("digest", sa.String(32)),
        sa.Column("content", sa.Text(), nullable=False),
        sa.Column("costs", sa.Text(), nullable=False),
        sa.Column("agreed", sa.Text()),
        sa.Column("decision", sa.Text()),
        sa.Index(None, "organisation_id", "number", unique=True),
        sa.Index(None, "organisation_id", "created_at", "id"),
        sa.Index(None, "organisation_id", "state", "expires_at"),
        sa.Index(None, "organisation_id", "changes"),
        sa.Index(None, "organisation_id", "supersedes"),
    )


def downgrade() -> None:
    for table in (
        "link_secret",
        "number_series",
        "quotation_step",
        "quotation",
        "organisation_texts",
        "organisation",
    ):
        op.drop_table(table)
