"""What the service is sent and what it answers: tax rules.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

import datetime as dt
from decimal import Decimal
from typing import Literal

from msgspec import UNSET, UnsetType

from filmbuild_sdk.values import Answer, Choice, Input


class TaxRuleInput(Input, frozen=True, kw_only=True):
    """A tax rule to be written; its members are those of TaxRule."""

    id: str
    name: str
    place: str
    category: str
    base: Choice[Literal["materials_cost", "sale", "sale_of_materials"]]
    rate_percent: Decimal
    effective_from: dt.date
    code: Choice[Literal["AE", "E", "G", "K", "L", "M", "O", "S", "Z"]] | None = None
    effective_to: dt.date | None = None
    exemption_reason: str | None = None
    on_request: bool | UnsetType = UNSET  # left out: false
    scheme: Choice[Literal["sales_tax", "vat"]] | UnsetType = UNSET  # left out: "sales_tax"


class TaxRule(Answer, frozen=True, kw_only=True):
    """A tax of one place: what it is taken on, and from when to when.

    `base` is "sale" where the whole sale is taxed, "sale_of_materials" where only the materials of
    the sale are, or "materials_cost" where the contractor is the consumer of the materials and the
    tax is part of the cost. A rule `on_request` holds for those jobs alone whose terms name it.

    `code` is the category code of UNTDID 5305; without it, "S" is taken at a rate above zero, and
    else what `category` says in words. `exemption_reason` is why nothing is due.
    """

    id: str
    name: str
    place: str
    category: str
    base: str
    rate_percent: Decimal
    effective_from: dt.date
    code: str | None = None
    effective_to: dt.date | None = None
    exemption_reason: str | None = None
    on_request: bool = False
    scheme: str = "sales_tax"


class TaxRulePage(Answer, frozen=True, kw_only=True):
    """Tax rules in order of their ids."""

    catalogue_revision: int
    next: str | None
    items: tuple[TaxRule, ...]
