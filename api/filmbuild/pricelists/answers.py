"""Updates and their differences as they are answered: at once, or piece by piece."""

from collections.abc import AsyncIterator, Iterable, Iterator
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

import msgspec

from filmbuild.edge.decoding import dec_hook
from filmbuild.edge.encoding import encode
from filmbuild.errors import Fault
from filmbuild.money import Exact, NonNegativeExact
from filmbuild.pipeline.csv_text import Cell, csv_text
from filmbuild.pipeline.specification import PriceBreak
from filmbuild.pricelists.checking import Difference, PriceCounts
from filmbuild.pricelists.service import Preview
from filmbuild.pricelists.spill import Spill
from filmbuild.pricelists.store import BroughtPrice, StoredUpdate
from filmbuild.pricelists.wire import (
    CheckedUpdate,
    PriceChange,
    PriceDifference,
    PriceUpdate,
)

CHANGE_TITLES = (
    "outcome",
    "pack",
    "currency",
    "tier",
    "effective_from",
    "was",
    "was_since",
    "was_breaks",
    "now",
    "now_breaks",
    "percent",
)
DIFFERENCE_TITLES = ("line", *CHANGE_TITLES, "column", "code", "detail")
_COUNTS = msgspec.json.Decoder(PriceCounts)
_BREAKS = msgspec.json.Decoder(tuple[PriceBreak, ...], dec_hook=dec_hook)
_DIFFERENCES = msgspec.msgpack.Decoder(list[Difference])
_HUNDREDTH = Decimal("0.01")


def update_of(
    stored: StoredUpdate,
    undone_by: str | None,
    kind: type[PriceUpdate] = PriceUpdate,
    **more: object,
) -> PriceUpdate:
    return kind(
        id=stored.id,
        kind=stored.kind,
        created_at=stored.created_at,
        author=stored.author,
        note=stored.note,
        based_on=stored.based_on,
        revision=stored.revision,
        undoes=stored.undoes,
        undone_by=undone_by,
        counts=_COUNTS.decode(stored.report),
        **more,
    )


def made(stored: StoredUpdate) -> bytes:
    """What an update that was carried out is answered with."""
    return encode(update_of(stored, None, CheckedUpdate, differences=()), "us")


async def previewed(preview: Preview) -> AsyncIterator[bytes]:
    """The check as JSON; its differences are sent as they are read from the file."""
    shell = update_of(preview.update, None, CheckedUpdate, differences=())
    text = encode(msgspec.structs.replace(shell, id=None), "us")
    yield text.removesuffix(b"]}")
    separator = b""
    try:
        for batch in _differences(preview):
            yield separator + b",".join(encode(_difference(one), "us") for one in batch)
            separator = b","
    finally:
        preview.checked.close()
    yield b"]}"


async def previewed_table(preview: Preview) -> AsyncIterator[bytes]:
    """The same as CSV."""
    yield csv_text(DIFFERENCE_TITLES, ()).encode()
    try:
        for batch in _differences(preview):
            yield _lines(_difference_cells(one) for one in batch)
    finally:
        preview.checked.close()


def _differences(preview: Preview) -> Iterator[list[Difference]]:
    spill: Spill | None = preview.checked.differences
    return spill.batches(_DIFFERENCES) if spill is not None else iter(())


def _difference(row: Difference) -> PriceDifference:
    fault = None
    if row.code is not None:
        fault = Fault(f"/{row.column}" if row.column else "", row.code, row.detail or "")
    return PriceDifference(
        line=row.line,
        outcome=row.outcome,
        pack=row.pack,
        currency=row.currency,
        tier=row.tier,
        effective_from=row.effective_from,
        was=_amount(row.was),
        was_since=None if row.was_since is None else date.fromisoformat(row.was_since),
        was_breaks=_breaks(row.was_breaks),
        now=_amount(row.now),
        now_breaks=_breaks(row.now_breaks),
        percent=_percent(_amount(row.was), _amount(row.now)),
        fault=fault,
    )


def _difference_cells(row: Difference) -> list[Cell]:
    percent = _percent(_amount(row.was), _amount(row.now))
    return [
        row.line,
        row.outcome,
        row.pack,
        row.currency,
        row.tier,
        _day(row.effective_from),
        _amount(row.was),
        _day(row.was_since),
        _steps(row.was_breaks),
        _amount(row.now),
        _steps(row.now_breaks),
        None if percent is None else float(percent),
        row.column,
        row.code,
        row.detail,
    ]


def change_of(row: BroughtPrice) -> PriceChange:
    return PriceChange(
        outcome=_outcome(row),
        pack=row.key.pack,
        currency=row.key.currency,
        tier=row.key.tier,
        effective_from=row.key.effective_from.isoformat(),
        was=None if row.was is None else NonNegativeExact(row.was),
        was_since=row.was_since,
        was_breaks=_breaks(row.was_breaks),
        now=None if row.amount is None else NonNegativeExact(row.amount),
        now_breaks=_breaks(row.breaks),
        percent=_percent(row.was, row.amount),
    )


async def changes_table(pages: AsyncIterator[list[BroughtPrice]]) -> AsyncIterator[bytes]:
    yield csv_text(CHANGE_TITLES, ()).encode()
    async for page in pages:
        yield _lines(_change_cells(one) for one in page)


def _change_cells(row: BroughtPrice) -> list[Cell]:
    percent = _percent(row.was, row.amount)
    return [
        _outcome(row),
        row.key.pack,
        row.key.currency,
        row.key.tier,
        row.key.effective_from,
        row.was,
        row.was_since,
        _steps(row.was_breaks),
        row.amount,
        _steps(row.breaks),
        None if percent is None else float(percent),
    ]


def _outcome(row: BroughtPrice) -> str:
    if row.amount is None:
        return "withdrawn"
    return "new" if row.was is None else "changed"


def _lines(rows: Iterable[list[Cell]]) -> bytes:
    """Lines without a header."""
    return csv_text((), rows).removeprefix("\r\n").encode()


def _amount(text: str | None) -> NonNegativeExact | None:
    return None if text is None else NonNegativeExact(text)


def _day(text: str | None) -> date | str | None:
    """What a faulty row has there may be no day, and is shown as it is."""
    try:
        return text and date.fromisoformat(text)
    except ValueError:
        return text


def _breaks(text: str | None) -> tuple[PriceBreak, ...]:
    return _BREAKS.decode(text) if text else ()


def _steps(text: str | None) -> str | None:
    """As an update reads them."""
    return " ".join(f"{one.from_packs}:{one.amount:f}" for one in _breaks(text)) or None


def _percent(was: Decimal | None, now: Decimal | None) -> Exact | None:
    """None where there is nothing to compare with; halves away from zero."""
    if was is None or now is None or not was:
        return None
    change = ((now - was) * 100 / was).quantize(_HUNDREDTH, rounding=ROUND_HALF_UP)
    return Exact(change or change.copy_abs())
