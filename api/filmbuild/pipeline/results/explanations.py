"""Figures unfolded to the sentences that they come from."""

from typing import Literal

from filmbuild.pipeline.results.base import Result
from filmbuild.pipeline.results.documents import Document
from filmbuild.quantities import Quantity

Operation = Literal["value", "add", "subtract", "multiply", "divide", "round_up", "at_least"]


class Step(Result, frozen=True, kw_only=True):
    """One step of a sum: a named value, or an operation on earlier steps.

    `of` are places in the list of steps, from 0; a step between is a `number` in SI units. Exactly one of `quantity` and `number` is the
    value. "round_up" takes one step to the next whole number, and "at_least" is the largest.
    """

    operation: Operation
    name: str | None
    quantity: Quantity | None
    number: float | None
    of: tuple[int, ...] = ()


class Explanation(Result, frozen=True, kw_only=True):
    """How one figure came about; the last of `steps` is the figure.

    `pointer` is that of the figure in the answer of /v1/materials. `text` says the same in words,
    rounded to six digits, in the caller's units: quantities of other units are to be converted.
    """

    pointer: str
    subject: str
    name: str
    rule: str
    quantity: Quantity | None
    number: float | None
    text: str
    steps: tuple[Step, ...]


class ExplanationDocument(Document, frozen=True, kw_only=True):
    explanations: tuple[Explanation, ...]
