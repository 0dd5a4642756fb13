"""What everything that callers send shares."""

from typing import Annotated

import msgspec
from msgspec import Meta

Identifier = Annotated[str, Meta(pattern=r"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$(?!\n)")]
Label = Annotated[
    str, Meta(min_length=1, max_length=200, pattern=r"^[^\u0000-\u001f\u007f]*$(?!\n)")
]
Percentage = Annotated[float, Meta(ge=0, le=100)]
SideNumber = Annotated[int, Meta(ge=0, le=2_000)]
Count = Annotated[int, Meta(ge=1, le=10_000)]


class Input(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, gc=False):
    """Base of what callers send: fields by name, nothing unknown."""
