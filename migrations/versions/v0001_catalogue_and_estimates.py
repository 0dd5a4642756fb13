"""The catalogue in revisions, and stored estimates."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

_REVISION = ("catalogue_revision.organisation_id", "catalogue_revision.revision")


def upgrade() -> None:
    op.create_table(
        "catalogue_revision",
        _organisation(),
        sa.Column("revision", sa.Integer(), autoincrement=False, primary_key=True),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        _text("author", 200),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("summary", sa.Text(), nullable=False),
    )
    _create_versioned("product", _text("role", 64), _text("supplier", 200))
    _create_versioned("pack", _text("product_id", 64))
    _create_versioned("coating_system")
    _create_versioned("rate_book", _text("currency", 3))
    _create_versioned("consumable_rule", _text("kind", 64), _text("currency", 3))
    _create_versioned("tax_rule", _text("place", 200))
    op.create_table(
        "pack_price",
        _organisation(),
        sa.Column("pack_id", sa.String(64), primary_key=True),
        sa.Column("currency", sa.String(3), primary_key=True),
        sa.Column("effective_from", sa.Date(), primary_key=True),
        sa.Column("revision", sa.Integer(), autoincrement=False, primary_key=True),
        _text("amount", 48),
        sa.ForeignKeyConstraint(("organisation_id", "revision"), _REVISION),
    )
    _create_estimates()


def _organisation() -> sa.Column[str]:
    return sa.Column("organisation_id", sa.String(64), primary_key=True)


def _text(name: str, length: int) -> sa.Column[str]:
    return sa.Column(name, sa.String(length), nullable=False)


def _create_versioned(name: str, *searchable: sa.Column[str]) -> None:
    op.create_table(
        name,
        _organisation(),
        sa.Column("id", sa.String(64), primary_key=True),
        sa.Column("revision_from", sa.Integer(), autoincrement=False, primary_key=True),
        sa.Column("revision_to", sa.Integer()),
        _text("name", 200),
        *searchable,
        sa.Column("specification", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(("organisation_id", "revision_from"), _REVISION),
    )


def _create_estimates() -> None:
    op.create_table(
        "estimate",
        _organisation(),
        sa.Column("id", sa.String(64), primary_key=True),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        _text("site_name", 200),
        sa.Column("reference", sa.String(200)),
        _text("system_id", 64),
        _text("currency", 3),
        _text("total", 48),
        sa.Column("catalogue_revision", sa.Integer(), nullable=False),
        _text("engine_version", 64),
        sa.Column("request", sa.Text(), nullable=False),
        sa.Column("result", sa.Text(), nullable=False),
        sa.Index(None, "organisation_id", "created_at", "id"),
    )
    op.create_table(
        "idempotency_key",
        _organisation(),
        sa.Column("key", sa.String(255), primary_key=True),
        _text("request_digest", 128),
        _text("estimate_id", 64),
        sa.Column("status", sa.Integer(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("expires_at", sa.DateTime(timezone=True), nullable=False),
        sa.Index(None, "organisation_id", "expires_at"),
        sa.ForeignKeyConstraint(
            ("organisation_id", "estimate_id"), ("estimate.organisation_id", "estimate.id")
        ),
    )


def downgrade() -> None:
    op.drop_table("idempotency_key")
    op.drop_table("estimate")
    for name in (
        "pack_price",
        "tax_rule",
        "consumable_rule",
        "rate_book",
        "coating_system",
        "pack",
        "product",
        "catalogue_revision",
    ):
        op.drop_table(name)
