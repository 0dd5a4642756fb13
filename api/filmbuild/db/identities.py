"""Names of records that tell nothing of them, and cannot be guessed."""

import secrets

_LETTERS = "0123456789abcdefghjkmnpqrstvwxyz"
_LENGTH = 26
ORGANISATION = r"[a-z0-9][a-z0-9_-]{0,62}"
"""Of the ids of organisations: none is that of EVERYONE, and all fit every place where one stands."""


def new_identity(prefix: str) -> str:
    """The prefix and 130 random bits in lower-case letters and digits."""
    return f"{prefix}_" + "".join(secrets.choice(_LETTERS) for _ in range(_LENGTH))
