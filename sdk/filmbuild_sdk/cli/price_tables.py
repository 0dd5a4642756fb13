"""The differences of a price update for a terminal."""

from rich.console import Console

from filmbuild_sdk import models
from filmbuild_sdk.cli.output import show_table

SHOWN = 20


def show_differences(console: Console, checked: models.CheckedUpdate, *, whole: bool) -> None:
    """Rows with faults first, as they are what must be looked at."""
    found = sorted(checked.differences, key=lambda one: one.fault is None)
    shown = found if whole else found[:SHOWN]
    if shown:
        columns = ("pack ", "line", "was", "now", "change", "from ", "what ")
        show_table(console, "Differences", columns, map(_row, shown))
    if len(found) > len(shown):
        console.print(f"{len(found) - len(shown):,} more: --all shows them")
    console.print(f"{checked.counts.rows:,} rows: {counted(checked.counts)}")


def _row(one: models.PriceDifference) -> tuple[object, ...]:
    what = one.fault.detail if one.fault else one.outcome.replace("_", " ")
    change = "" if one.percent is None else f"{one.percent:+} %"
    was, now = ("" if each is None else f"{each:,f}" for each in (one.was, one.now))
    return (one.pack, one.line, was, now, change, one.effective_from, what)


def counted(counts: models.PriceCounts) -> str:
    """Those of which there are any."""
    names = (
        "new",
        "changed",
        "withdrawn",
        "unchanged",
        "duplicated",
        "invalid",
        "out_of_bounds",
        "unknown",
    )
    parts = [
        f"{many:,} {name.replace('_', ' ')}" for name in names if (many := getattr(counts, name))
    ]
    return ", ".join(parts) or "nothing"
