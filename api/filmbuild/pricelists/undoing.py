"""Takes an update back: each of its prices becomes what it was before, in a new revision."""

from collections.abc import Awaitable, Callable

from filmbuild.catalogue.priced import HeldPrices
from filmbuild.catalogue.snapshot import CatalogueSnapshot
from filmbuild.catalogue.store import PriceRow, breaks_text
from filmbuild.db import Database
from filmbuild.errors import Conflict, Faults
from filmbuild.pricelists import store
from filmbuild.pricelists.checking import Checked, PriceCounts
from filmbuild.pricelists.spill import BATCH, Spill
from filmbuild.pricelists.store import BroughtPrice

Said = tuple[str | None, str | None]
"""Amount and breaks as they are kept; no amount where there is no price."""


def undoing(database: Database, revision: int) -> Callable[[CatalogueSnapshot], Awaitable[Checked]]:
    """A price of the update that has been changed since stands in the way: raises Conflict.

    One that already is what it was before is left as it is. A date on which the list said nothing
    before gets a row that withdraws the price.
    """

    async def check(snapshot: CatalogueSnapshot) -> Checked:
        work = _Undoing(snapshot)
        async with database.reader(snapshot.organisation) as connection:
            pages = store.all_brought(connection, snapshot.organisation, revision, BATCH)
            async for page in pages:
                for one in page:
                    work.take_back(one)
        return work.checked()

    return check


class _Undoing:
    def __init__(self, snapshot: CatalogueSnapshot) -> None:
        self._snapshot = snapshot
        self._holding = HeldPrices(snapshot.prices)
        self._added = Spill()
        self._faults = Faults()
        self._counts = PriceCounts()

    def take_back(self, one: BroughtPrice) -> None:
        counts = self._counts
        counts.rows += 1
        if one.key.pack not in self._snapshot.packs.by_id:
            counts.unknown += 1
            return
        held = self._holding.on(*one.key)
        now = _said(held if held and held.effective_from == one.key.effective_from else None)
        before = _before(one)
        if now == before:
            counts.unchanged += 1
        elif now != _brought(one):
            pack, currency, tier, day = one.key
            named = f"{pack} in {currency}{f' for {tier}' if tier else ''} from {day}"
            detail = f"the price of {named} has been changed since; undo that first"
            self._faults.add("changed-since", detail)
        else:
            self._write(one, before, held)

    def checked(self) -> Checked:
        """Raises Conflict."""
        if len(self._faults):
            self._added.close()
            detail = f"{len(self._faults)} prices of the update were changed by later ones."
            raise Conflict(detail, self._faults.found)
        self._added.flush()
        return Checked(self._counts, (), 0, self._added, None)

    def _write(self, one: BroughtPrice, before: Said, held: PriceRow | None) -> None:
        counts = self._counts
        if before[0] is None:
            counts.withdrawn += 1
        elif held is None:
            counts.new += 1
        else:
            counts.changed += 1
        pack, currency, tier, day = one.key
        came, since = (held.revision, held.effective_from) if held else (None, None)
        key = (self._snapshot.organisation, self._snapshot.revision + 1, pack, currency, tier, day)
        self._added.append((*key, *before, came, since))


def _brought(one: BroughtPrice) -> Said:
    return (None, None) if one.amount is None else (f"{one.amount:f}", one.breaks)


def _before(one: BroughtPrice) -> Said:
    """What the list said of the very date; what held from an earlier one holds again by itself."""
    if one.was is None or one.was_since != one.key.effective_from:
        return None, None
    return f"{one.was:f}", one.was_breaks


def _said(held: PriceRow | None) -> Said:
    return (None, None) if held is None else (f"{held.amount:f}", breaks_text(held.breaks))
