"""What a supplier asks for an order beside the prices of the packs: freight, and a least order."""

from decimal import Decimal
from math import ceil
from typing import Annotated

import msgspec
from msgspec import Meta

from filmbuild.money import Currency, NonNegativeExact
from filmbuild.pipeline.site import Identifier, Label
from filmbuild.pipeline.specification.base import Record
from filmbuild.quantities import PositiveMass

_NOISE = 1e-9  # of a mass: that of an order is a sum of floats


class FreightBand(Record, frozen=True, kw_only=True):
    """What an order of up to so much gross mass is shipped for."""

    up_to: PositiveMass
    price: NonNegativeExact


class FreightBeyond(Record, frozen=True, kw_only=True):
    """What each started further mass costs on top of the last band."""

    each: PositiveMass
    price: NonNegativeExact


class Supplier(Record, frozen=True, kw_only=True):
    """The terms of a supplier in one currency; `name` is what its products call it.

    `freight` bands rise in mass and do not fall in price; without any, orders ship free. An order
    of packs for less than `minimum_order` is charged as much.
    """

    id: Identifier
    name: Label
    currency: Currency
    freight: Annotated[tuple[FreightBand, ...], Meta(max_length=20)] = ()
    freight_beyond: FreightBeyond | None = None
    minimum_order: NonNegativeExact = NonNegativeExact("0")

    def freight_of(self, mass: float) -> "Freight":
        """Of an order of so much gross mass [kg]."""
        if mass <= 0.0 or not self.freight:
            return Freight(price=Decimal(0))
        for band in self.freight:
            if mass <= band.up_to * (1.0 + _NOISE):
                return Freight(price=Decimal(band.price), band=band)
        last, beyond = self.freight[-1], self.freight_beyond
        if beyond is None:
            return Freight(price=Decimal(last.price), band=last)
        further = ceil((mass * (1.0 - _NOISE) - last.up_to) / beyond.each)
        return Freight(price=last.price + further * beyond.price, band=last, further=further)


class Freight(msgspec.Struct, frozen=True, kw_only=True):
    """What an order is shipped for: by `band` and, above the last, `further` masses."""

    price: Decimal
    band: FreightBand | None = None
    further: int = 0
