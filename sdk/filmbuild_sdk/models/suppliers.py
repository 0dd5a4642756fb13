"""What the service is sent and what it answers: suppliers.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from collections.abc import Sequence
from decimal import Decimal

from msgspec import UNSET, UnsetType

from filmbuild_sdk.values import Answer, Input, Quantity


class FreightBand(Input, frozen=True, kw_only=True):
    """What an order of up to so much gross mass is shipped for."""

    up_to: Quantity | str
    price: Decimal


class FreightBeyond(Input, frozen=True, kw_only=True):
    """What each started further mass costs on top of the last band."""

    each: Quantity | str
    price: Decimal


class SupplierInput(Input, frozen=True, kw_only=True):
    """A supplier's terms to be written; its members are those of Supplier."""

    id: str
    name: str
    currency: str
    freight: Sequence[FreightBand] = ()
    freight_beyond: FreightBeyond | None = None
    minimum_order: Decimal | UnsetType = UNSET  # left out: "0"


class Supplier(Answer, frozen=True, kw_only=True):
    """The terms of a supplier in one currency; `name` is what its products call it.

    `freight` bands rise in mass and do not fall in price; without any, orders ship free. An order
    of packs for less than `minimum_order` is charged as much.
    """

    id: str
    name: str
    currency: str
    freight: tuple[FreightBand, ...] = ()
    freight_beyond: FreightBeyond | None = None
    minimum_order: Decimal = Decimal(0)


class SupplierPage(Answer, frozen=True, kw_only=True):
    """Suppliers' terms in order of their ids."""

    catalogue_revision: int
    next: str | None
    items: tuple[Supplier, ...]
