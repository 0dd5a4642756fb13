"""Keys that make creating an estimate repeatable (draft-ietf-httpapi-idempotency-key-header-07)."""

from datetime import datetime, timedelta
from hashlib import sha256

from filmbuild.errors import Fault, InvalidInput
from filmbuild.estimates.store import IdempotencyKey

KEPT_FOR = timedelta(hours=24)


class IdempotencyKeyReused(InvalidInput):
    """The key has come before, with another body."""

    code = "idempotency-key-reused"


def read_key(header: str | None) -> str | None:
    """The draft has the key in quotes; many clients send it bare, and both are the same key."""
    return None if header is None else header.strip('"') or None


def key_for(key: str, content: bytes, estimate: str, status: int, now: datetime) -> IdempotencyKey:
    return IdempotencyKey(
        key=key,
        request_digest=digest(content),
        estimate_id=estimate,
        status=status,
        created_at=now,
        expires_at=now + KEPT_FOR,
    )


def digest(content: bytes) -> str:
    return sha256(content).hexdigest()


def check_same(known: IdempotencyKey, content: bytes) -> None:
    """Raises IdempotencyKeyReused."""
    if known.request_digest != digest(content):
        detail = "this key came with another body; use a new key for a new estimate"
        fault = Fault("", IdempotencyKeyReused.code, detail)
        raise IdempotencyKeyReused("The idempotency key was used before.", (fault,))
