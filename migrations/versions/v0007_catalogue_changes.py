"""Finding what a revision of the catalogue changed, without reading the whole of it."""

from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None

_VERSIONED = (
    "product",
    "pack",
    "coating_system",
    "rate_book",
    "consumable_rule",
    "supplier",
    "tax_rule",
)
_INDEXED = tuple(
    (table, column) for table in _VERSIONED for column in ("revision_from", "revision_to")
)


def upgrade() -> None:
    for table, column in _INDEXED:
        op.create_index(_name(table, column), table, ["organisation_id", column])


def downgrade() -> None:
    for table, column in reversed(_INDEXED):
        op.drop_index(_name(table, column), table)


def _name(table: str, column: str) -> str:
    return f"ix_{table}_organisation_id_{column}"
