"""What every figure carries with it: the rule that made it, and the cautions and notes beside it."""

from typing import Any

import msgspec


class Rule(msgspec.Struct, frozen=True, kw_only=True):
    """One rule of the estimating method, as published to callers."""

    id: str
    statement: str
    equation: str | None = None
    source: str


class Trace(msgspec.Struct, frozen=True, omit_defaults=True, gc=False):
    """How a figure came about.

    `rule` names a `Rule`. `inputs` are the values it was applied to: quantities, plain numbers, or
    the names of the records they were read from. Which catalogue revision those records belong to
    is `catalogue_revision`; it is absent where the rule read nothing from the catalogue.
    """

    rule: str
    inputs: dict[str, Any] = {}
    catalogue_revision: int | None = None


class Note(msgspec.Struct, frozen=True):
    """Something assumed, or something this estimate does not cover, said in plain words."""

    code: str
    detail: str


class Caution(msgspec.Struct, frozen=True, kw_only=True):
    """A hazard of the work, with its published source; never a statement that the work is safe."""

    code: str
    title: str
    detail: str
    source: str
    applies_to: tuple[str, ...] = ()
