"""How an offer is shown, and in which parts it is paid."""

from typing import Annotated, Literal

from msgspec import Meta

from filmbuild.money import Percent
from filmbuild.pipeline.inputs import Identifier, Input, Label
from filmbuild.pipeline.results.offer import PaymentOccasion


class Presentation(Input, frozen=True, kw_only=True):
    """One sum for the work, a line for each area, or a line for each kind of work."""

    lines: Literal["lump_sum", "by_area", "by_work"] = "by_area"


class PaymentTerm(Input, frozen=True, kw_only=True):
    """A part of the offer: `percent` of it, or what the other parts leave.

    Those "per_visit" are split equally over the visits. `due_days` run from the occasion: from the
    end of the work for a "retention", which is held back for as long.
    """

    id: Identifier
    label: Label
    occasion: PaymentOccasion
    percent: Percent | None = None
    due_days: Annotated[int, Meta(ge=0, le=365)] = 0


PaymentPlan = Annotated[tuple[PaymentTerm, ...], Meta(max_length=12)]
