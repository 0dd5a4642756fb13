"""Estimates in numbered revisions, their texts compressed."""

import json
import zlib
from datetime import date
from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

_FASTEST = 1
_MOVED = (
    "system_id",
    "currency",
    "total",
    "catalogue_revision",
    "engine_version",
    "request",
    "result",
)
_KEY = {"organisation_id": sa.String(64), "id": sa.String(64)}


def upgrade() -> None:
    _create_revisions()
    _move_into_revisions()
    with op.batch_alter_table("estimate") as table:
        for name in _MOVED:
            table.drop_column(name)
        table.add_column(
            sa.Column("latest_revision", sa.Integer(), nullable=False, server_default="1")
        )
        table.add_column(sa.Column("state", sa.String(16), nullable=False, server_default="open"))
        table.add_column(sa.Column("accepted_revision", sa.Integer()))
    with op.batch_alter_table("estimate") as table:
        table.alter_column("latest_revision", server_default=None)
        table.alter_column("state", server_default=None)
        table.create_index(
            op.f("ix_estimate_organisation_id_state_id"), ["organisation_id", "state", "id"]
        )


def _create_revisions() -> None:
    op.create_table(
        "estimate_revision",
        sa.Column("organisation_id", sa.String(64), primary_key=True),
        sa.Column("estimate_id", sa.String(64), primary_key=True),
        sa.Column("revision", sa.Integer(), autoincrement=False, primary_key=True),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("actor", sa.String(64), nullable=False),
        sa.Column("cause", sa.Text()),
        sa.Column("cause_id", sa.String(255)),
        sa.Column("catalogue_revision", sa.Integer(), nullable=False),
        sa.Column("priced_on", sa.Date(), nullable=False),
        sa.Column("engine_version", sa.String(64), nullable=False),
        sa.Column("system_id", sa.String(64), nullable=False),
        sa.Column("currency", sa.String(3), nullable=False),
        sa.Column("net", sa.String(48), nullable=False),
        sa.Column("total", sa.String(48), nullable=False),
        sa.Column("margin_percent", sa.String(48), nullable=False),
        sa.Column("request", sa.LargeBinary(), nullable=False),
        sa.Column("result", sa.LargeBinary(), nullable=False),
        sa.ForeignKeyConstraint(
            ("organisation_id", "estimate_id"), ("estimate.organisation_id", "estimate.id")
        ),
        sa.UniqueConstraint("organisation_id", "estimate_id", "cause_id"),
    )


def _estimates(*columns: sa.Column[Any]) -> sa.Table:
    keys = [sa.Column(name, kind, primary_key=True) for name, kind in _KEY.items()]
    return sa.Table("estimate", sa.MetaData(), *keys, *columns)


def _revisions() -> sa.Table:
    return sa.Table("estimate_revision", sa.MetaData(), autoload_with=op.get_bind())


def _ids() -> list[tuple[str, str]]:
    """All of them first: a table is not read on while it is written to."""
    keys = _estimates()
    rows = op.get_bind().execute(sa.select(keys.c.organisation_id, keys.c.id))
    return [(row.organisation_id, row.id) for row in rows]


def _move_into_revisions() -> None:
    moment = sa.Column("created_at", sa.DateTime(timezone=True))
    texts = (sa.Column(name, sa.Text()) for name in _MOVED if name != "catalogue_revision")
    old = _estimates(moment, *texts, sa.Column("catalogue_revision", sa.Integer()))
    revisions, bind = _revisions(), op.get_bind()
    for organisation, name in _ids():
        query = sa.select(old).where(old.c.organisation_id == organisation, old.c.id == name)
        row = dict(bind.execute(query).mappings().one())
        bind.execute(sa.insert(revisions), _first_revision(row))


def _first_revision(row: dict[str, Any]) -> dict[str, Any]:
    document = json.loads(row["result"])
    price = document["price"]
    return {
        **{name: row[name] for name in _MOVED},
        "organisation_id": row["organisation_id"],
        "estimate_id": row["id"],
        "revision": 1,
        "created_at": row["created_at"],
        "actor": "anyone",
        "priced_on": date.fromisoformat(document["priced_on"]),
        "net": price["net"]["amount"],
        "margin_percent": price["margin_percent"],
        "request": zlib.compress(row["request"].encode(), _FASTEST),
        "result": zlib.compress(row["result"].encode(), _FASTEST),
    }


def downgrade() -> None:
    """An estimate of several revisions is left with its latest."""
    with op.batch_alter_table("estimate") as table:
        table.drop_index(op.f("ix_estimate_organisation_id_state_id"))
        for name, kind in _moved_kinds():
            table.add_column(sa.Column(name, kind))
    _move_back()
    with op.batch_alter_table("estimate") as table:
        for name, kind in _moved_kinds():
            table.alter_column(name, existing_type=kind, nullable=False)
        for name in ("latest_revision", "state", "accepted_revision"):
            table.drop_column(name)
    op.drop_table("estimate_revision")


def _moved_kinds() -> tuple[tuple[str, sa.types.TypeEngine[Any]], ...]:
    return (
        ("system_id", sa.String(64)),
        ("currency", sa.String(3)),
        ("total", sa.String(48)),
        ("catalogue_revision", sa.Integer()),
        ("engine_version", sa.String(64)),
        ("request", sa.Text()),
        ("result", sa.Text()),
    )


def _move_back() -> None:
    old = _estimates(
        sa.Column("latest_revision", sa.Integer()),
        *(sa.Column(name, kind) for name, kind in _moved_kinds()),
    )
    revisions, bind = _revisions(), op.get_bind()
    for organisation, name in _ids():
        which = (old.c.organisation_id == organisation, old.c.id == name)
        latest = sa.select(old.c.latest_revision).where(*which).scalar_subquery()
        query = sa.select(*(revisions.c[one] for one in _MOVED)).where(
            revisions.c.organisation_id == organisation,
            revisions.c.estimate_id == name,
            revisions.c.revision == latest,
        )
        row = dict(bind.execute(query).mappings().one())
        for text in ("request", "result"):
            row[text] = zlib.decompress(row[text]).decode()
        bind.execute(sa.update(old).where(*which).values(row))
