"""The calls about keys, in the form in which the commands use them."""

from typing import Any

import msgspec

from filmbuild_sdk import Call
from filmbuild_sdk.call import key, path, query

PATH = "/v1/keys"


class Key(msgspec.Struct, frozen=True, kw_only=True):
    """What is shown of a key; what it has beside these is in `--json`."""

    id: str
    name: str = ""
    kind: str = ""
    state: str = ""
    scopes: tuple[str, ...] = ()
    origins: tuple[str, ...] = ()
    expires_at: str | None = None
    last_used_at: str | None = None


def listing(cursor: str | None) -> Call[dict[str, Any]]:
    return Call("GET", PATH, dict[str, Any], query=query(limit=100, cursor=cursor))


def creation(**fields: Any) -> Call[dict[str, Any]]:  # noqa: ANN401 - any JSON value
    """What is None is left out."""
    body = {name: value for name, value in fields.items() if value is not None}
    return Call("POST", PATH, dict[str, Any], body=body, idempotency_key=key(None))


def rotation(key_id: str, overlap: str) -> Call[dict[str, Any]]:
    return Call(
        "POST",
        path(PATH + "/{}/rotation", key_id),
        dict[str, Any],
        body={"overlap": overlap},
        idempotency_key=key(None),
    )


def revocation(key_id: str) -> Call[dict[str, Any]]:
    return Call("POST", path(PATH + "/{}/revocation", key_id), dict[str, Any])
