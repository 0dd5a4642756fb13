"""Keys that make a request repeatable (draft-ietf-httpapi-idempotency-key-header-07).

A feature looks for the key in its own transaction before it writes, and keeps the answer in the same
one: either both are stored or neither.
"""

from filmbuild.idempotency.keys import (
    IDEMPOTENCY_KEY,
    KEPT_FOR,
    IdempotencyKeyReused,
    KeptAnswer,
    RequestKey,
    request_key,
)
from filmbuild.idempotency.store import delete_expired, find, keep

__all__ = [
    "IDEMPOTENCY_KEY",
    "KEPT_FOR",
    "IdempotencyKeyReused",
    "KeptAnswer",
    "RequestKey",
    "delete_expired",
    "find",
    "keep",
    "request_key",
]
