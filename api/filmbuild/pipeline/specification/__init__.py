"""What the catalogue says: products, packs, coating systems, rate books and rules.

These records are read from the catalogue, never computed here. Lists of points in temperature rise
in temperature. Money is in the one currency the snapshot was taken for.
"""

from filmbuild.pipeline.specification.base import (
    Driver,
    Fraction,
    PositiveFraction,
    Record,
    Stage,
    TaskCode,
)
from filmbuild.pipeline.specification.catalogue import Catalogue, PricedPack
from filmbuild.pipeline.specification.products import (
    Absorption,
    ApplicationLimits,
    Content,
    Hazards,
    OutsideTable,
    Pack,
    PackPrice,
    Part,
    PriceBreak,
    Product,
    ProductRole,
    RecoatPoint,
    TimePoint,
    WorkingLifeSample,
)
from filmbuild.pipeline.specification.rates import (
    ConsumableRule,
    Equipment,
    Factor,
    LabourClass,
    Production,
    RateBook,
    TaxCode,
    TaxRule,
    Travel,
)
from filmbuild.pipeline.specification.suppliers import (
    Freight,
    FreightBand,
    FreightBeyond,
    Supplier,
)
from filmbuild.pipeline.specification.systems import (
    Broadcast,
    Layer,
    MoistureLimits,
    Repairs,
    System,
)

__all__ = [
    "Absorption",
    "ApplicationLimits",
    "Broadcast",
    "Catalogue",
    "ConsumableRule",
    "Content",
    "Driver",
    "Equipment",
    "Factor",
    "Fraction",
    "Freight",
    "FreightBand",
    "FreightBeyond",
    "Hazards",
    "LabourClass",
    "Layer",
    "MoistureLimits",
    "OutsideTable",
    "Pack",
    "PackPrice",
    "Part",
    "PositiveFraction",
    "PriceBreak",
    "PricedPack",
    "Product",
    "ProductRole",
    "Production",
    "RateBook",
    "RecoatPoint",
    "Record",
    "Repairs",
    "Stage",
    "Supplier",
    "System",
    "TaskCode",
    "TaxCode",
    "TaxRule",
    "TimePoint",
    "Travel",
    "WorkingLifeSample",
]
