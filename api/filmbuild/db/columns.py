"""Column types that keep the same value on SQLite and PostgreSQL."""

from datetime import UTC, datetime
from decimal import Decimal

from sqlalchemy import DateTime, Dialect, String, TypeDecorator

from filmbuild.money import Exact

WIDEST_DECIMAL = 48


class ExactDecimal(TypeDecorator[Exact]):
    """A decimal kept as its own text: SQLite has no exact numbers, and no sum is made in SQL."""

    impl = String(WIDEST_DECIMAL)
    cache_ok = True

    def process_bind_param(self, value: Decimal | None, dialect: Dialect) -> str | None:  # noqa: ARG002 - SQLAlchemy passes the dialect to every type, whether it is read or not
        return None if value is None else f"{value:f}"

    def process_result_value(self, value: str | None, dialect: Dialect) -> Exact | None:  # noqa: ARG002 - SQLAlchemy passes the dialect to every type, whether it is read or not
        return None if value is None else Exact(value)


class UtcDateTime(TypeDecorator[datetime]):
    """A moment, kept in UTC to the microsecond; SQLite would forget the offset."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:  # noqa: ARG002 - SQLAlchemy passes the dialect to every type, whether it is read or not
        if value is None:
            return None
        if value.tzinfo is None:
            msg = "a moment needs its offset from UTC"
            raise ValueError(msg)
        return value.astimezone(UTC)

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:  # noqa: ARG002 - SQLAlchemy passes the dialect to every type, whether it is read or not
        if value is None or value.tzinfo is not None:
            return value and value.astimezone(UTC)
        return value.replace(tzinfo=UTC)
