"""What a key is: its form, its digest, and what it may be allowed."""

import secrets
from hashlib import sha256
from typing import Literal

import msgspec

KeyKind = Literal["secret", "publishable"]
PREFIXES: dict[KeyKind, str] = {
    # RFC 8959: a URI whose scheme tells scanners of code and logs that it is to be kept secret
    "secret": "secret-token:filmbuild_",
    "publishable": "filmbuild-public_",
}
EVERYTHING = "*"
_BYTES = 32
_HINT = 6


class NewKey(msgspec.Struct, frozen=True):
    """`text` is shown once and kept nowhere; `hint` is its end, to tell keys apart by."""

    text: str
    digest: str
    hint: str


def new_key(kind: KeyKind) -> NewKey:
    """Of 256 random bits: nobody can guess one, so its digest needs no salt and no stretching."""
    return key_of(PREFIXES[kind] + secrets.token_urlsafe(_BYTES))


def key_of(text: str) -> NewKey:
    return NewKey(text, digest_of(text), text[-_HINT:])


def digest_of(text: str) -> str:
    return sha256(text.encode()).hexdigest()


def allows(scopes: tuple[str, ...], scope: str) -> bool:
    """`estimates:write` holds `estimates:read` as well, and `*` holds everything."""
    resource, _, verb = scope.partition(":")
    return (
        EVERYTHING in scopes
        or scope in scopes
        or (verb == "read" and f"{resource}:write" in scopes)
    )
