"""Stored estimates as callers see them."""

from typing import Literal

import msgspec

from filmbuild.money import Money
from filmbuild.pipeline.requests import EstimateRequest
from filmbuild.pipeline.results import EstimateDocument
from filmbuild.pipeline.results.base import Moment
from filmbuild.pipeline.trace import Rule


class SheetQuery(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """`paper` is that of the page to print: left out, Letter in US units and A4 in SI units."""

    paper: Literal["a4", "letter"] | None = None


class StoredEstimate(msgspec.Struct, frozen=True, kw_only=True):
    """An estimate as it was made: what was asked, and what was answered. It never changes."""

    id: str
    created_at: Moment
    reference: str | None
    request: EstimateRequest
    document: EstimateDocument


class EstimateSummary(msgspec.Struct, frozen=True, kw_only=True):
    """One line of the list of estimates."""

    id: str
    created_at: Moment
    reference: str | None
    site: str
    system: str
    total: Money
    catalogue_revision: int
    engine_version: str


class EstimatePage(msgspec.Struct, frozen=True, kw_only=True):
    """Newest first. `next` is the cursor of the page that follows; null on the last page."""

    items: tuple[EstimateSummary, ...]
    next: str | None


class RulePage(msgspec.Struct, frozen=True, kw_only=True):
    """Rules in order of their ids."""

    items: tuple[Rule, ...]
    next: str | None
