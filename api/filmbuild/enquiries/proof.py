"""Proof of work by the altcha protocol (https://altcha.org): what makes sending thousands dear.

A challenge names a number of rounds of PBKDF2 and a key that one of the first so many counters
gives; finding it takes a browser about a second, and checking it one signature.
"""

import binascii
import secrets
from datetime import UTC, datetime, timedelta

import altcha
import msgspec

from filmbuild.enquiries.form import Effort
from filmbuild.enquiries.wire import Challenge
from filmbuild.errors import Refusal

ALGORITHM = "PBKDF2/SHA-256"
GOOD_FOR = timedelta(minutes=20)
_BYTES = 32
_ROUNDS: dict[Effort, tuple[int, int]] = {
    "none": (1, 1),
    "usual": (1_000, 800),
    "high": (4_000, 1_500),
}
"""Rounds of each attempt, and attempts at most."""


class _Parameters(msgspec.Struct, frozen=True, rename="camel"):
    nonce: str
    salt: str
    expires_at: int


class _Challenge(msgspec.Struct, frozen=True):
    parameters: _Parameters
    signature: str


class _Solution(msgspec.Struct, frozen=True, rename="camel"):
    counter: int
    derived_key: str


class _Payload(msgspec.Struct, frozen=True):
    challenge: _Challenge
    solution: _Solution


class Used(msgspec.Struct, frozen=True):
    """Which challenge was solved, and until when it would be good."""

    nonce: str
    expires_at: datetime


def new_secret() -> str:
    return secrets.token_urlsafe(_BYTES)


def attempts(effort: Effort) -> int:
    return _ROUNDS[effort][1]


def new_challenge(secret: str, effort: Effort, now: datetime) -> Challenge:
    cost, most = _ROUNDS[effort]
    made = altcha.create_challenge(
        ALGORITHM,
        cost,
        counter=secrets.randbelow(most),
        expires_at=now + GOOD_FOR,
        hmac_secret=secret,
        hmac_key_secret=_key_secret(secret),
    )
    return msgspec.convert(made.to_dict(), Challenge)


def check(secret: str, proof: str) -> Used:
    """Raises a Refusal."""
    try:
        payload = msgspec.json.decode(_text(proof), type=_Payload)
    except (msgspec.DecodeError, ValueError):
        raise _invalid() from None
    result = altcha.verify_solution(proof, secret, hmac_key_secret=_key_secret(secret))
    if result.expired:
        raise Refusal("expired-proof", "")
    if not result.verified:
        raise _invalid()
    parameters = payload.challenge.parameters
    return Used(parameters.nonce, datetime.fromtimestamp(parameters.expires_at, UTC))


def _text(proof: str) -> bytes:
    return binascii.a2b_base64(proof)


def _invalid() -> Refusal:
    return Refusal("invalid-proof", "")


def _key_secret(secret: str) -> str:
    """Another one for the keys: what signs challenges must not sign what solves them."""
    return f"{secret}:key"
