"""Tells messages of the service from anyone else's (Standard Webhooks, symmetric signatures).

A signature is over the bytes as they came: JSON that was read and written again is another text.
"""

import base64
import binascii
import hashlib
import hmac
import re
import time
from collections.abc import Iterable, Mapping
from typing import Any

import msgspec

PREFIX = "whsec_"
VERSION = "v1"
TOLERANCE = 300.0
_TIMESTAMP = re.compile(r"[0-9]{1,12}")


class NotVerified(ValueError):  # noqa: N818 - says what is wrong, as the other outcomes do
    """The message was not signed with this secret, not lately, or not at all."""


class Event(msgspec.Struct, frozen=True, kw_only=True):
    """A message: `id` is the same at every delivery of it, so that it can be handled once.

    `type` may be one that this version does not know; `data` is what it says.
    """

    id: str
    type: str
    timestamp: str
    data: Any = None


def verify(
    content: bytes,
    headers: Mapping[str, str],
    secret: str | Iterable[str],
    *,
    tolerance: float = TOLERANCE,
    now: float | None = None,
) -> Event:
    """The event in `content`, the body's bytes as they came. Raises NotVerified.

    `headers` are those of the request, in any case. Of several secrets, as while one is being
    replaced, any will do. A message signed more than `tolerance` [s] before or after `now` [s since
    1970, by default the clock's] is refused, so that what was overheard cannot be sent again later.
    """
    if not isinstance(content, bytes):
        raise TypeError("give the bytes of the body as they came, not what was read from them")
    given = {name.lower(): value for name, value in headers.items()}
    identity = _needed(given, "webhook-id")
    sent = _needed(given, "webhook-timestamp")
    signatures = _needed(given, "webhook-signature").split()
    if not _TIMESTAMP.fullmatch(sent):
        raise NotVerified("webhook-timestamp is not a number of seconds")
    if abs((time.time() if now is None else now) - int(sent)) > tolerance:
        raise NotVerified("the message was signed too long ago, or one of the clocks is wrong")
    signed = f"{identity}.{sent}.".encode() + content
    secrets = [secret] if isinstance(secret, str) else list(secret)
    expected = [signature(signed, one) for one in secrets]
    if not any(hmac.compare_digest(one, mine) for one in signatures for mine in expected):
        raise NotVerified("no signature fits the message")
    return _read(content, identity)


def signature(signed: bytes, secret: str) -> str:
    """HMAC-SHA-256 of `id.timestamp.body`, as webhook-signature has it."""
    digest = hmac.new(_key(secret), signed, hashlib.sha256).digest()
    return f"{VERSION},{base64.b64encode(digest).decode()}"


def _key(secret: str) -> bytes:
    try:
        return base64.b64decode(secret.removeprefix(PREFIX), validate=True)
    except binascii.Error as error:
        raise ValueError(f'a secret is "{PREFIX}" and base64 text') from error


def _needed(headers: Mapping[str, str], name: str) -> str:
    try:
        return headers[name]
    except KeyError:
        raise NotVerified(f"{name} is missing") from None


def _read(content: bytes, identity: str) -> Event:
    try:
        body = msgspec.json.decode(content)
        return msgspec.convert({**body, "id": identity}, Event)
    except (msgspec.MsgspecError, TypeError) as error:
        raise NotVerified("the body is not an event") from error
