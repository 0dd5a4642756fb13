"""What a key is, and whose."""

from collections.abc import Mapping
from datetime import timedelta
from hashlib import sha256

import msgspec

from filmbuild.edge.operations import Caller, Header
from filmbuild.errors import InvalidInput

KEPT_FOR = timedelta(hours=24)
IDEMPOTENCY_KEY = Header(
    name="Idempotency-Key",
    description="a key of 1 to 255 visible characters, bare or in double quotes. Within 24 hours "
    "the same key with the same body gets the stored answer again; with another body it is "
    "refused (draft-ietf-httpapi-idempotency-key-header-07).",
    pattern=r'("[!#-\[\]-~]{1,253}"|[!#-~]{1,255})',
    example='"5f0c1a52-harbour-hall-2"',
)


class IdempotencyKeyReused(InvalidInput):
    """The key has come before, with another request."""

    code = "idempotency-key-reused"


class RequestKey(msgspec.Struct, frozen=True, kw_only=True):
    """A caller's key with the digest of the request that it came with."""

    organisation: str
    caller: str
    key: str
    digest: str


class KeptAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """What the first request with a key was answered, or of which record it was made."""

    status: int
    resource: str
    answer: str | None = None


def request_key(
    headers: Mapping[str, str], caller: Caller, operation: str, content: bytes
) -> RequestKey | None:
    """None where the request brings no key.

    The draft has the key in quotes; many clients send it bare, and both are the same key. The
    digest covers the operation with its path, so that a key is good for one request alone.
    """
    key = headers.get("idempotency-key", "").strip('"')
    if not key:
        return None
    digest = sha256(operation.encode() + b"\n" + content).hexdigest()
    return RequestKey(organisation=caller.organisation, caller=caller.actor, key=key, digest=digest)
