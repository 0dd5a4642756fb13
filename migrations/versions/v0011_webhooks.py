"""Endpoints of webhooks, what happened, and what was sent of it."""

import sqlalchemy as sa
from alembic import op

revision = "0011"
down_revision = "0010"
branch_labels = None
depends_on = None

_MOMENT = sa.DateTime(timezone=True)
_NEW = ("webhook_endpoint", "webhook_event", "webhook_delivery", "webhook_attempt")
_SAID = "(SELECT current_setting('filmbuild.organisation', true))"


def upgrade() -> None:
    _create_endpoint()
    _create_event()
    _create_delivery()
    _create_attempt()
    if op.get_bind().dialect.name == "postgresql":
        for table in _NEW:
            _secure(table)


def _create_endpoint() -> None:
    op.create_table(
        "webhook_endpoint",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("id", sa.String(64), primary_key=True),
        sa.Column("url", sa.String(2000), nullable=False),
        sa.Column("description", sa.String(200), nullable=False),
        sa.Column("event_types", sa.Text()),
        sa.Column("enabled", sa.Boolean(), nullable=False),
        sa.Column("disabled_because", sa.String(200)),
        sa.Column("secret", sa.String(100), nullable=False),
        sa.Column("old_secret", sa.String(100)),
        sa.Column("old_secret_until", _MOMENT),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("created_at", _MOMENT, nullable=False),
        sa.Column("updated_at", _MOMENT, nullable=False),
        sa.Column("failing_since", _MOMENT),
    )


def _create_event() -> None:
    op.create_table(
        "webhook_event",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("id", sa.String(64), primary_key=True),
        sa.Column("type", sa.String(64), nullable=False),
        sa.Column("subject", sa.String(64), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("created_at", _MOMENT, nullable=False),
        sa.Column("payload", sa.Text(), nullable=False),
        sa.Index(None, "organisation_id", "subject", "position"),
        sa.Index(None, "organisation_id", "created_at"),
    )


def _create_delivery() -> None:
    op.create_table(
        "webhook_delivery",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("id", sa.String(64), primary_key=True),
        sa.Column("endpoint_id", sa.String(64), nullable=False),
        sa.Column("event_id", sa.String(64), nullable=False),
        sa.Column("type", sa.String(64), nullable=False),
        sa.Column("subject", sa.String(64), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("state", sa.String(16), nullable=False),
        sa.Column("attempts", sa.Integer(), nullable=False),
        sa.Column("tries", sa.Integer(), nullable=False),
        sa.Column("created_at", _MOMENT, nullable=False),
        sa.Column("next_at", _MOMENT),
        sa.Column("ended_at", _MOMENT),
        sa.ForeignKeyConstraint(
            ("organisation_id", "event_id"), ("webhook_event.organisation_id", "webhook_event.id")
        ),
        sa.Index(None, "organisation_id", "created_at", "id"),
        sa.Index(None, "organisation_id", "event_id"),
        sa.Index(None, "organisation_id", "endpoint_id", "state", "subject", "position"),
        sa.Index(None, "state", "next_at"),
        sa.Index(None, "created_at"),
    )


def _create_attempt() -> None:
    op.create_table(
        "webhook_attempt",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("delivery_id", sa.String(64), primary_key=True),
        sa.Column("number", sa.Integer(), primary_key=True),
        sa.Column("at", _MOMENT, nullable=False),
        sa.Column("milliseconds", sa.Integer(), nullable=False),
        sa.Column("status", sa.Integer()),
        sa.Column("problem", sa.String(200)),
        sa.Column("answer", sa.String(200)),
        sa.ForeignKeyConstraint(
            ("organisation_id", "delivery_id"),
            ("webhook_delivery.organisation_id", "webhook_delivery.id"),
        ),
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
    for table in reversed(_NEW):
        op.drop_table(table)
