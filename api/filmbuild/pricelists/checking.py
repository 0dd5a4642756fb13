"""Compares the rows of an update with the prices that hold, one row at a time."""

from array import array
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal, NamedTuple

import msgspec

from filmbuild.catalogue.priced import HeldPrices
from filmbuild.catalogue.snapshot import CatalogueSnapshot
from filmbuild.catalogue.store import PriceRow, breaks_text
from filmbuild.errors import Fault, Faults, InvalidInput, PayloadTooLarge, Token
from filmbuild.money import Percent
from filmbuild.pipeline.specification import PriceBreak
from filmbuild.pricelists.amounts import (
    amount_form,
    amount_problem,
    as_kept,
    breaks_of,
    day_of,
    list_problems,
)
from filmbuild.pricelists.entries import MOST_ROWS, Entry, Steps, shown
from filmbuild.pricelists.spill import Spill

Placed = Literal["lines", "elements", "packs"]
Breaks = tuple[PriceBreak, ...]
DENSE_LISTS = 16
"""Lists and days beyond these remember the rows that they have seen in less space and more time."""
_CATEGORIES = {
    "unknown-pack": "unknown",
    "duplicate": "duplicated",
    "out-of-bounds": "out_of_bounds",
}


class PriceCounts(msgspec.Struct, kw_only=True):
    """Rows by what becomes of them; each row counts once, a faulty one by its first fault."""

    rows: int = 0
    new: int = 0
    changed: int = 0
    unchanged: int = 0
    unknown: int = 0
    duplicated: int = 0
    out_of_bounds: int = 0
    invalid: int = 0
    withdrawn: int = 0


class Difference(NamedTuple):
    """A row that is not the same as before, or one fault of a row; `was` is an earlier price."""

    line: int
    outcome: str
    pack: str
    currency: str
    tier: str
    effective_from: str
    was: str | None = None
    was_since: str | None = None
    was_breaks: str | None = None
    now: str | None = None
    now_breaks: str | None = None
    column: str | None = None
    code: str | None = None
    detail: str | None = None


@dataclass(slots=True)
class Checked:
    """What an update does. `added` are rows of the catalogue's table of prices."""

    counts: PriceCounts
    faults: tuple[Fault, ...]
    fault_count: int
    added: Spill
    differences: Spill | None

    def raise_if_faulty(self) -> None:
        """Raises InvalidInput."""
        if self.fault_count:
            counts = self.counts
            faulty = counts.unknown + counts.duplicated + counts.out_of_bounds + counts.invalid
            detail = (
                f"{faulty} of {counts.rows} rows have faults, {self.fault_count} in all; no price "
                "was changed."
            )
            raise InvalidInput(detail, self.faults)

    def close(self) -> None:
        self.added.close()
        if self.differences is not None:
            self.differences.close()


class _Day:
    """One price list on one day, and the lines of the rows that were for it, by pack."""

    __slots__ = ("day", "matches", "problems", "seen")

    def __init__(self, packs: int, currency: str, tier: str, text: str, dense: bool) -> None:
        self.problems = tuple(list_problems(currency, tier, text))
        known = not self.problems
        self.matches = amount_form(currency if known else "USD").fullmatch
        self.day = day_of(text) or date.min
        self.seen: array[int] | defaultdict[int, int] = (
            array("I", bytes(4 * packs)) if dense and known else defaultdict(int)
        )


class Checker:
    """`run` goes through the rows, and `fault` is told of those that cannot be read."""

    def __init__(
        self,
        snapshot: CatalogueSnapshot,
        *,
        placed: Placed,
        limit: Percent | None = None,
        differences: bool = False,
    ) -> None:
        self._snapshot = snapshot
        self._placed = placed
        self._limit = limit
        self._held = HeldPrices(snapshot.prices)
        self._numbers = {name: place for place, name in enumerate(snapshot.packs.ids)}
        self._days: dict[tuple[str, str, str], _Day] = {}
        self._faults = Faults()
        self._faulty_line = 0
        self._counts = PriceCounts()
        self._added = Spill()
        self._differences = Spill() if differences else None

    def run(self, entries: Iterable[Entry]) -> Checked:
        """Raises PayloadTooLarge past the most rows, InvalidInput without any."""
        counts, numbers, days, put = self._counts, self._numbers, self._days, self._added.append
        held = self._held.on
        owner, revision = self._snapshot.organisation, self._snapshot.revision + 1
        for line, pack, amount, currency, tier, day, steps in entries:
            counts.rows += 1
            if counts.rows > MOST_ROWS:
                raise PayloadTooLarge(f"Send at most {MOST_ROWS} rows at once.")
            one = days.get((currency, tier, day)) or self._day(currency, tier, day)
            number = numbers.get(pack)
            kept, breaks = amount, ()  # type: tuple[str, Breaks]
            if number is None or steps or one.problems or one.matches(amount) is None:
                found = self._looked_at(line, pack, amount, currency, steps, one)
                if found is None or number is None:
                    continue
                kept, breaks = found
            if one.seen[number]:
                detail = f"the same pack, list and day as at line {one.seen[number]}"
                self._fault(line, pack, "pack", "duplicate", detail)
                continue
            one.seen[number] = line
            before = held(pack, currency, tier, one.day)
            if before is None:
                counts.new += 1
            elif before.amount == Decimal(kept) and before.breaks == breaks:
                counts.unchanged += 1
                continue
            elif self._limit is not None and self._beyond(line, pack, before, kept):
                continue
            else:
                counts.changed += 1
            text = breaks_text(breaks) if breaks else None
            came, since = (before.revision, before.effective_from) if before else (None, None)
            put((owner, revision, pack, currency, tier, day, kept, text, came, since))
            if self._differences is not None:
                self._differ(line, (pack, currency, tier, day), before, kept, text)
        return self._checked()

    def fault(self, line: int, pack: str, column: str, code: str, detail: str) -> None:
        """Of a row that `run` is not given."""
        if line != self._faulty_line:
            self._counts.rows += 1
            if self._counts.rows > MOST_ROWS:
                raise PayloadTooLarge(f"Send at most {MOST_ROWS} rows at once.")
        self._fault(line, pack, column, code, detail)

    def close(self) -> None:
        self._added.close()
        if self._differences is not None:
            self._differences.close()

    def _checked(self) -> Checked:
        if not self._counts.rows:
            fault = Fault("", "no-rows", "there is no row in it")
            raise InvalidInput("The update has no rows.", (fault,))
        self._added.flush()
        if self._differences is not None:
            self._differences.flush()
        found, count = self._faults.found, len(self._faults)
        return Checked(self._counts, found, count, self._added, self._differences)

    def _day(self, currency: str, tier: str, text: str) -> _Day:
        dense = len(self._days) < DENSE_LISTS
        made = _Day(len(self._numbers), currency, tier, text, dense)
        self._days[currency, tier, text] = made
        return made

    def _looked_at(
        self, line: int, pack: str, amount: str, currency: str, steps: Steps, one: _Day
    ) -> tuple[str, Breaks] | None:
        """The amount and the breaks as they are kept; None where anything is wrong."""
        before = len(self._faults)
        if pack not in self._numbers:
            what = f'there is no pack "{shown(pack)}"' if pack else "name a pack"
            self._fault(line, pack, "pack", "unknown-pack" if pack else "missing-pack", what)
        for problem in one.problems:
            self._fault(line, pack, *problem)
        if one.problems:
            return None
        kept = as_kept(amount, currency)
        if kept is None:
            self._fault(line, pack, "amount", *amount_problem(amount, currency))
            return None
        breaks = breaks_of(steps, kept, currency)
        if isinstance(breaks, str):
            self._fault(line, pack, "breaks", "invalid-breaks", breaks)
            return None
        return (kept, breaks) if len(self._faults) == before else None

    def _beyond(self, line: int, pack: str, before: PriceRow, kept: str) -> bool:
        was, now, limit = before.amount, Decimal(kept), self._limit or Percent(0)
        if was is None or abs(now - was) * 100 <= limit * was:
            return False
        detail = f"from {was:f} to {now:f} is a change of more than {limit:f} %"
        self._fault(line, pack, "amount", "out-of-bounds", detail)
        return True

    def _fault(self, line: int, pack: str, column: str, code: str, detail: str) -> None:
        category = _CATEGORIES.get(code, "invalid")
        if line != self._faulty_line:
            self._faulty_line = line
            setattr(self._counts, category, getattr(self._counts, category) + 1)
        self._faults.add(code, f"{self._where(line, pack)}: {detail}", *self._tokens(line, column))
        if self._differences is not None:
            row = Difference(line, category, shown(pack), "", "", "")
            self._differences.append(row._replace(column=column, code=code, detail=detail))

    def _where(self, line: int, pack: str) -> str:
        words: dict[Placed, str] = {
            "lines": f"line {line}",
            "elements": f"row {line}",
            "packs": f"pack {pack}",
        }
        return words[self._placed]

    def _tokens(self, line: int, column: str) -> tuple[Token, ...]:
        """Lines are counted from 1, as editors do; elements of an array from 0, by RFC 6901."""
        tail = (column,) if column else ()
        match self._placed:
            case "lines":
                return ("lines", line, *tail)
            case "elements":
                return (line - 1, *tail)
        return ()

    def _differ(
        self,
        line: int,
        key: tuple[str, str, str, str],
        before: PriceRow | None,
        kept: str,
        text: str | None,
    ) -> None:
        if self._differences is None:
            return
        row = Difference(line, "new" if before is None else "changed", *key)
        if before is not None:
            row = row._replace(
                was=f"{before.amount:f}",
                was_since=before.effective_from.isoformat(),
                was_breaks=breaks_text(before.breaks),
            )
        self._differences.append(row._replace(now=kept, now_breaks=text))
