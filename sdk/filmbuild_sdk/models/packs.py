"""What the service is sent and what it answers: packs.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

import datetime as dt
from collections.abc import Sequence

from msgspec import UNSET, UnsetType

from filmbuild_sdk.models.inputs import PriceBreak
from filmbuild_sdk.values import Answer, Input, Money, Quantity


class Content(Input, frozen=True, kw_only=True):
    """What a pack holds of one part: exactly one of volume and mass."""

    part: str
    mass: Quantity | str | None = None
    volume: Quantity | str | None = None


class PackInput(Input, frozen=True, kw_only=True):
    """A pack to be written; what it costs is said by prices."""

    id: str
    product: str
    name: str
    contents: Sequence[Content]
    gross_mass: Quantity | str | None = None
    minimum_order: int | UnsetType = UNSET  # left out: 1


class PackRecord(Answer, frozen=True, kw_only=True):
    """A pack; `price` is null where it cannot be bought on that day in that currency."""

    id: str
    product: str
    name: str
    contents: tuple[Content, ...]
    minimum_order: int
    gross_mass: Quantity | None
    price: Money | None
    breaks: tuple[PriceBreak, ...]
    price_since: dt.date | None
    priced_on: dt.date


class PackPage(Answer, frozen=True, kw_only=True):
    """Packs in order of their ids."""

    catalogue_revision: int
    next: str | None
    items: tuple[PackRecord, ...]
