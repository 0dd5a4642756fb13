"""The quote form's settings, enquiries, and proofs of work that were used."""

import sqlalchemy as sa
from alembic import op

revision = "0012"
down_revision = "0011"
branch_labels = None
depends_on = None

_MOMENT = sa.DateTime(timezone=True)
_NEW = ("quote_form", "used_proof", "enquiry")
_SAID = "(SELECT current_setting('filmbuild.organisation', true))"


def upgrade() -> None:
    op.create_table(
        "quote_form",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("created_at", _MOMENT, nullable=False),
        sa.Column("updated_at", _MOMENT, nullable=False),
        sa.Column("form", sa.Text(), nullable=False),
        sa.Column("secret", sa.String(64), nullable=False),
    )
    op.create_table(
        "used_proof",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("nonce", sa.String(64), primary_key=True),
        sa.Column("expires_at", _MOMENT, nullable=False),
    )
    op.create_table(
        "enquiry",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("id", sa.String(64), primary_key=True),
        sa.Column("created_at", _MOMENT, nullable=False),
        sa.Column("updated_at", _MOMENT, nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("state", sa.String(16), nullable=False),
        sa.Column("language", sa.String(8), nullable=False),
        sa.Column("units", sa.String(2), nullable=False),
        sa.Column("question", sa.Text(), nullable=False),
        sa.Column("person", sa.Text()),
        sa.Column("consent", sa.Text(), nullable=False),
        sa.Column("estimate_id", sa.String(64)),
        sa.Column("currency", sa.String(3)),
        sa.Column("lowest", sa.String(48)),
        sa.Column("highest", sa.String(48)),
        sa.Column("tax_included", sa.Boolean()),
        sa.Index(None, "organisation_id", "created_at", "id"),
    )
    if op.get_bind().dialect.name == "postgresql":
        for table in _NEW:
            _secure(table)


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
    for table in reversed(_NEW):
        op.drop_table(table)
