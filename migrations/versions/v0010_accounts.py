"""Organisations as callers, their keys, the audit log, and row security on PostgreSQL."""

import sqlalchemy as sa
from alembic import op

revision = "0010"
down_revision = "0009"
branch_labels = None
depends_on = None

_MOMENT = sa.DateTime(timezone=True)
_OWNED = (
    "catalogue_revision",
    "coating_system",
    "consumable_rule",
    "estimate",
    "estimate_revision",
    "invoice",
    "invoice_series",
    "invoiced_stage",
    "job",
    "kept_answer",
    "link_secret",
    "number_series",
    "organisation",
    "organisation_texts",
    "pack",
    "pack_price",
    "price_update",
    "product",
    "quotation",
    "quotation_step",
    "rate_book",
    "repricing",
    "repricing_estimate",
    "supplier",
    "tax_rule",
)
_NEW = ("account", "api_key", "key_origin", "audit_entry")
_SAID = "(SELECT current_setting('filmbuild.organisation', true))"
_KNOWN_BY = ("catalogue_revision", "organisation", "estimate", "quotation")


def upgrade() -> None:
    _create_account()
    _create_key()
    _create_audit_entry()
    _take_over_organisations()
    if op.get_bind().dialect.name == "postgresql":
        for table in (*_OWNED, *_NEW):
            _secure(table)


def _create_account() -> None:
    op.create_table(
        "account",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("name", sa.String(200), nullable=False),
        sa.Column("created_at", _MOMENT, nullable=False),
    )


def _create_key() -> None:
    op.create_table(
        "api_key",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("id", sa.String(64), primary_key=True),
        sa.Column("kind", sa.String(16), nullable=False),
        sa.Column("name", sa.String(100), nullable=False),
        sa.Column("digest", sa.String(64), nullable=False),
        sa.Column("hint", sa.String(16), nullable=False),
        sa.Column("scopes", sa.Text(), nullable=False),
        sa.Column("origins", sa.Text(), nullable=False),
        sa.Column("created_at", _MOMENT, nullable=False),
        sa.Column("created_by", sa.String(64), nullable=False),
        sa.Column("expires_at", _MOMENT),
        sa.Column("revoked_at", _MOMENT),
        sa.Column("last_used_at", _MOMENT),
        sa.Column("replaced_by", sa.String(64)),
        sa.ForeignKeyConstraint(("organisation_id",), ("account.organisation_id",)),
        sa.Index(None, "digest", unique=True),
    )
    op.create_table(
        "key_origin",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("key_id", sa.String(64), primary_key=True),
        sa.Column("origin", sa.String(255), primary_key=True),
        sa.ForeignKeyConstraint(
            ("organisation_id", "key_id"), ("api_key.organisation_id", "api_key.id")
        ),
        sa.Index(None, "origin"),
    )


def _create_audit_entry() -> None:
    op.create_table(
        "audit_entry",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("id", sa.String(64), primary_key=True),
        sa.Column("at", _MOMENT, nullable=False),
        sa.Column("actor", sa.String(64), nullable=False),
        sa.Column("action", sa.String(64), nullable=False),
        sa.Column("subject", sa.String(64), nullable=False),
        sa.Column("detail", sa.Text(), nullable=False),
        sa.Index(None, "organisation_id", "at", "id"),
    )


def _take_over_organisations() -> None:
    """Whoever has records already is an organisation; its first key is made by command."""
    for table in _KNOWN_BY:
        op.execute(
            "INSERT INTO account (organisation_id, name, created_at) "  # noqa: S608 - of names that stand in this module
            "SELECT DISTINCT organisation_id, organisation_id, CURRENT_TIMESTAMP "
            f"FROM {table} WHERE organisation_id NOT IN (SELECT organisation_id FROM account)"
        )


def _secure(table: str) -> None:
    """Rows of another organisation than the transaction's are not there, even for the owner."""
    op.execute(f"ALTER TABLE {table} ENABLE ROW LEVEL SECURITY")
    op.execute(f"ALTER TABLE {table} FORCE ROW LEVEL SECURITY")
    op.execute(
        f"CREATE POLICY organisation ON {table} "
        f"USING (organisation_id = {_SAID} OR {_SAID} = '*') "
        f"WITH CHECK (organisation_id = {_SAID} OR {_SAID} = '*')"
    )


def downgrade() -> None:
    if op.get_bind().dialect.name == "postgresql":
        for table in _OWNED:
            op.execute(f"DROP POLICY organisation ON {table}")
            op.execute(f"ALTER TABLE {table} NO FORCE ROW LEVEL SECURITY")
            op.execute(f"ALTER TABLE {table} DISABLE ROW LEVEL SECURITY")
    for table in reversed(_NEW):
        op.drop_table(table)
