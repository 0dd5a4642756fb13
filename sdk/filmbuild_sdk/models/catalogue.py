"""What the service is sent and what it answers: catalogue.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

import datetime as dt
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any, Literal

from msgspec import UNSET, UnsetType

from filmbuild_sdk.models.consumable_rules import ConsumableRuleInput
from filmbuild_sdk.models.inputs import PriceBreak
from filmbuild_sdk.models.packs import PackInput
from filmbuild_sdk.models.products import ProductInput
from filmbuild_sdk.models.rate_books import RateBookInput
from filmbuild_sdk.models.records import FieldChange
from filmbuild_sdk.models.suppliers import SupplierInput
from filmbuild_sdk.models.systems import SystemInput
from filmbuild_sdk.models.tax_rules import TaxRuleInput
from filmbuild_sdk.values import Answer, Choice, Input, Moment


class RecordPatch(Input, frozen=True, kw_only=True):
    """A merge patch (RFC 7396) of one record as it was written."""

    kind: Choice[
        Literal["consumables", "packs", "products", "rate_books", "suppliers", "systems", "taxes"]
    ]
    id: str
    patch: Mapping[str, Any]


class RecordLists(Input, frozen=True, kw_only=True):
    """Records that are to be as they are written here, whether they are there already or not."""

    consumables: Sequence[ConsumableRuleInput] = ()
    packs: Sequence[PackInput] = ()
    products: Sequence[ProductInput] = ()
    rate_books: Sequence[RateBookInput] = ()
    suppliers: Sequence[SupplierInput] = ()
    systems: Sequence[SystemInput] = ()
    taxes: Sequence[TaxRuleInput] = ()


class RecordName(Input, frozen=True, kw_only=True):
    """One record of the catalogue."""

    kind: Choice[
        Literal["consumables", "packs", "products", "rate_books", "suppliers", "systems", "taxes"]
    ]
    id: str


class CatalogueChanges(Input, frozen=True, kw_only=True):
    """Changes across kinds that are made together, as one revision, or not at all.

    Each record may stand once. They are checked as they fit together in the end, in whatever order.
    """

    catalogue_revision: int
    check_only: bool | UnsetType = UNSET  # left out: false
    note: str | UnsetType = UNSET  # left out: "Several changes"
    patch: Sequence[RecordPatch] = ()
    put: RecordLists | UnsetType = UNSET
    retire: Sequence[RecordName] = ()


class PackPrice(Input, frozen=True, kw_only=True):
    """A pack's price from a date on, for customers of a `tier`; without one, for all others.

    `breaks` hold for all units: an order of at least so many packs pays their price for each.
    """

    pack: str
    amount: Decimal
    currency: str
    effective_from: dt.date
    breaks: Sequence[PriceBreak] = ()
    tier: str | UnsetType = UNSET  # left out: ""


class CatalogueImport(Input, frozen=True, kw_only=True):
    """A catalogue, or a part of one. `name` says what it is, for the history.

    Prices are only ever added: one of the same pack, currency and day corrects the one before.
    """

    name: str
    consumables: Sequence[ConsumableRuleInput] = ()
    packs: Sequence[PackInput] = ()
    prices: Sequence[PackPrice] = ()
    products: Sequence[ProductInput] = ()
    rate_books: Sequence[RateBookInput] = ()
    suppliers: Sequence[SupplierInput] = ()
    systems: Sequence[SystemInput] = ()
    taxes: Sequence[TaxRuleInput] = ()


class RecordChange(Answer, frozen=True, kw_only=True):
    """What becomes of one record, field by field; of prices, `id` is that of the pack."""

    kind: str
    id: str
    action: str
    fields: tuple[FieldChange, ...]


class Counts(Answer, frozen=True, kw_only=True):
    """Records of one kind. Prices are never retired: those no longer named are unchanged."""

    changed: int = 0
    new: int = 0
    retired: int = 0
    unchanged: int = 0


class ChangesReport(Answer, frozen=True, kw_only=True):
    """What was changed from revision `based_on`, or would be where it was only checked.

    `revision` is the one that was made; null where nothing differs, or it was only checked.
    `counts` are by kind, of those where something differs.
    """

    revision: int | None
    based_on: int
    checked_only: bool
    counts: dict[str, Counts]
    changes: tuple[RecordChange, ...]


class CurrentRevision(Answer, frozen=True, kw_only=True):
    """The newest revision, and how many records of each kind it holds."""

    revision: int
    created_at: Moment
    note: str
    records: dict[str, int]


class RevisionRecord(Answer, frozen=True, kw_only=True):
    """One revision; `changes` says by kind of record what it changed."""

    revision: int
    created_at: Moment
    author: str
    note: str
    changes: dict[str, Counts]


class RevisionPage(Answer, frozen=True, kw_only=True):
    """Newest first. `next` is the cursor of the page that follows; null on the last page."""

    items: tuple[RevisionRecord, ...]
    next: str | None
