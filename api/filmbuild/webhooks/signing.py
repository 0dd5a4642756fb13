"""Signs messages as the Standard Webhooks specification has it, and makes the secrets for it."""

import base64
import hashlib
import hmac
import secrets
from collections.abc import Iterable
from datetime import datetime

PREFIX = "whsec_"
VERSION = "v1"
SECRET_BYTES = 32


def new_secret() -> str:
    return PREFIX + base64.b64encode(secrets.token_bytes(SECRET_BYTES)).decode()


def signed_headers(
    identity: str, at: datetime, content: bytes, keys: Iterable[str]
) -> list[tuple[str, str]]:
    """A signature by each of the secrets; the receiver takes any that it knows."""
    seconds = str(int(at.timestamp()))
    signed = f"{identity}.{seconds}.".encode() + content
    return [
        ("webhook-id", identity),
        ("webhook-timestamp", seconds),
        ("webhook-signature", " ".join(_signature(signed, one) for one in keys)),
    ]


def _signature(signed: bytes, secret: str) -> str:
    key = base64.b64decode(secret.removeprefix(PREFIX), validate=True)
    digest = hmac.new(key, signed, hashlib.sha256).digest()
    return f"{VERSION},{base64.b64encode(digest).decode()}"
