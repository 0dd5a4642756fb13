"""What is kept of a repricing."""

from datetime import date, datetime
from decimal import Decimal
from typing import Literal

import msgspec

from filmbuild.errors import Fault
from filmbuild.estimates.repricing import RepriceOutcome
from filmbuild.estimates.store import RevisionSummary
from filmbuild.money import Exact

State = Literal["running", "stopped", "done", "failed"]


class Sum(msgspec.Struct, frozen=True, kw_only=True):
    """Of the repriced estimates in one currency; amounts as text."""

    estimates: int = 0
    raised: int = 0
    lowered: int = 0
    was: str = "0"
    now: str = "0"

    def with_one(self, was: Decimal, now: Decimal) -> "Sum":
        return Sum(
            estimates=self.estimates + 1,
            raised=self.raised + (now > was),
            lowered=self.lowered + (now < was),
            was=f"{Decimal(self.was) + was:f}",
            now=f"{Decimal(self.now) + now:f}",
        )


class Tally(msgspec.Struct, frozen=True, kw_only=True):
    """How far it has come."""

    done: int = 0
    repriced: int = 0
    unchanged: int = 0
    accepted: int = 0
    refused: int = 0
    below_margin: int = 0
    sums: dict[str, Sum] = {}

    def with_one(self, row: "Row") -> "Tally":
        sums = self.sums
        if row.now is not None and row.was is not None:
            before = sums.get(row.was.currency, Sum())
            sums = {**sums, row.was.currency: before.with_one(row.was.total, row.now.total)}
        return Tally(
            done=self.done + 1,
            repriced=self.repriced + (row.outcome == "repriced"),
            unchanged=self.unchanged + (row.outcome == "unchanged"),
            accepted=self.accepted + (row.outcome == "accepted"),
            refused=self.refused + (row.outcome == "refused"),
            below_margin=self.below_margin + row.below_margin,
            sums=sums,
        )


class Repricing(msgspec.Struct, frozen=True, kw_only=True):
    id: str
    created_at: datetime
    actor: str
    note: str
    catalogue_revision: int
    priced_on: date | None
    minimum_margin_percent: Exact | None
    state: State = "running"
    ended_at: datetime | None = None
    problem: str | None = None
    estimates: int = 0
    tally: Tally = Tally()

    @property
    def over(self) -> bool:
        return self.state in ("done", "failed")


class Row(msgspec.Struct, frozen=True, kw_only=True):
    """What became of one estimate, as the repricing keeps it."""

    sequence: int
    estimate: str
    outcome: str
    was: RevisionSummary | None
    now: RevisionSummary | None
    below_margin: bool
    problem: str | None = None
    faults: tuple[Fault, ...] = ()


def row_of(outcome: RepriceOutcome, sequence: int, minimum: Exact | None) -> Row:
    """An estimate that was agreed on, or cannot be done, has no new margin to be too low."""
    judged = outcome.outcome in ("repriced", "unchanged")
    margin = (outcome.now or outcome.was).margin_percent
    return Row(
        sequence=sequence,
        estimate=outcome.estimate,
        outcome=outcome.outcome,
        was=outcome.was,
        now=outcome.now,
        below_margin=judged and minimum is not None and margin < minimum,
        problem=outcome.problem,
        faults=outcome.faults,
    )
