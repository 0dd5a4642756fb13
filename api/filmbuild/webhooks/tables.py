"""Tables of endpoints, of what happened, and of what was sent of it."""

from sqlalchemy import Boolean, Column, ForeignKeyConstraint, Index, Integer, String, Table, Text

from filmbuild.db import metadata
from filmbuild.db.columns import UtcDateTime

# the secrets are kept as they are, as they are needed to sign; `event_types` is a JSON array, and
# missing where all are wanted; `failing_since` is missing while the last attempt went well
endpoint = Table(
    "webhook_endpoint",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("id", String(64), primary_key=True),
    Column("url", String(2000), nullable=False),
    Column("description", String(200), nullable=False),
    Column("event_types", Text),
    Column("enabled", Boolean, nullable=False),
    Column("disabled_because", String(200)),
    Column("secret", String(100), nullable=False),
    Column("old_secret", String(100)),
    Column("old_secret_until", UtcDateTime),
    Column("version", Integer, nullable=False),
    Column("created_at", UtcDateTime, nullable=False),
    Column("updated_at", UtcDateTime, nullable=False),
    Column("failing_since", UtcDateTime),
)

# `position` orders the events of one subject; `payload` is the very text that is sent
event = Table(
    "webhook_event",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("id", String(64), primary_key=True),
    Column("type", String(64), nullable=False),
    Column("subject", String(64), nullable=False),
    Column("position", Integer, nullable=False),
    Column("created_at", UtcDateTime, nullable=False),
    Column("payload", Text, nullable=False),
    Index(None, "organisation_id", "subject", "position"),
    Index(None, "organisation_id", "created_at"),
)

# `attempts` counts all of them, `tries` those since it was last begun, by which the pauses grow;
# the log outlives its endpoint, so that it refers to none
delivery = Table(
    "webhook_delivery",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("id", String(64), primary_key=True),
    Column("endpoint_id", String(64), nullable=False),
    Column("event_id", String(64), nullable=False),
    Column("type", String(64), nullable=False),
    Column("subject", String(64), nullable=False),
    Column("position", Integer, nullable=False),
    Column("state", String(16), nullable=False),
    Column("attempts", Integer, nullable=False),
    Column("tries", Integer, nullable=False),
    Column("created_at", UtcDateTime, nullable=False),
    Column("next_at", UtcDateTime),
    Column("ended_at", UtcDateTime),
    ForeignKeyConstraint(
        ("organisation_id", "event_id"), ("webhook_event.organisation_id", "webhook_event.id")
    ),
    Index(None, "organisation_id", "created_at", "id"),
    Index(None, "organisation_id", "event_id"),
    Index(None, "organisation_id", "endpoint_id", "state", "subject", "position"),
    # the worker looks for what is due whoever's it is
    Index(None, "state", "next_at"),
    # and for what is old
    Index(None, "created_at"),
)

# `answer` is how the answer began
attempt = Table(
    "webhook_attempt",
    metadata,
    Column("organisation_id", String(64), primary_key=True),
    Column("delivery_id", String(64), primary_key=True),
    Column("number", Integer, primary_key=True),
    Column("at", UtcDateTime, nullable=False),
    Column("milliseconds", Integer, nullable=False),
    Column("status", Integer),
    Column("problem", String(200)),
    Column("answer", String(200)),
    ForeignKeyConstraint(
        ("organisation_id", "delivery_id"),
        ("webhook_delivery.organisation_id", "webhook_delivery.id"),
    ),
)
