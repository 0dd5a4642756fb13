"""What all results share."""

from datetime import datetime
from typing import Annotated

import msgspec
from msgspec import Meta

Moment = Annotated[datetime, Meta(tz=True)]
"""An instant, written with the offset of the site's time zone."""


class Result(msgspec.Struct, frozen=True, kw_only=True, gc=False):
    """Base of what is found; readers pass over fields they do not know."""
