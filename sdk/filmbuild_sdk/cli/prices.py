"""`prices`: many prices changed from a file, taken back, and looked at."""

import datetime as dt
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Any

import click

from filmbuild_sdk import Call, Client, calls, models
from filmbuild_sdk.cli.failures import DONE, NOT_CONFIRMED, REFUSED
from filmbuild_sdk.cli.output import confirm, say, screen, sending, show_json, show_table
from filmbuild_sdk.cli.price_tables import counted, show_differences
from filmbuild_sdk.cli.state import State, json_option, yes_option

MEDIA_TYPES = {
    ".csv": "text/csv",
    ".json": "application/json",
    ".ndjson": "application/x-ndjson",
    ".jsonl": "application/x-ndjson",
}


@click.group()
def prices() -> None:
    """Change many prices at once, and look at them."""


def _percent(context: click.Context, option: click.Parameter, value: str | None) -> Decimal | None:
    try:
        return None if value is None else Decimal(value)
    except InvalidOperation:
        raise click.BadParameter("give a number such as 15 or 7.5", context, option) from None


@prices.command()
@click.argument(
    "source", metavar="FILE", type=click.Path(path_type=Path, exists=True, dir_okay=False)
)
@click.option("--currency", help="That of rows that do not name one, such as USD.")
@click.option("--tier", help="The customers' tier whose list is meant; else the usual list.")
@click.option(
    "--from",
    "effective_from",
    type=click.DateTime(["%Y-%m-%d"]),
    help="From when the prices hold, where a row does not say it; else today.",
)
@click.option(
    "--limit-percent",
    metavar="PERCENT",
    callback=_percent,
    help="Refuse rows that change a price by more than this.",
)
@click.option("--note", help="What the update is, for its history.")
@click.option("--check", is_flag=True, help="Only compare: nothing is written.")
@click.option("--all", "whole", is_flag=True, help="Show every difference, however many.")
@yes_option
@json_option
@click.pass_obj
def update(
    state: State,
    /,
    source: Path,
    effective_from: dt.datetime | None,
    *,
    check: bool,
    whole: bool,
    yes: bool,
    **given: Any,  # noqa: ANN401 - passed on to the call
) -> int:
    """Compare the prices in FILE with those in use, ask, and write them.

    FILE is CSV, JSON or NDJSON, by its name. All of its prices are written or none.
    """
    media_type = MEDIA_TYPES.get(source.suffix.lower())
    if media_type is None:
        raise click.UsageError(f"{source} must end in {', '.join(MEDIA_TYPES)}.")
    given |= {"media_type": media_type}
    given |= {"effective_from": effective_from.date() if effective_from else None}
    with state.client() as client:
        checked = _sent(client, "Comparing", calls.update_prices(source, check_only=True, **given))
        faulty = any(one.fault for one in checked.differences)
        if not state.as_json:
            show_differences(screen(), checked, whole=whole)
        if check or faulty or not checked.differences:
            if state.as_json:
                show_json(checked)
            return _only_compared(state, checked, faulty=faulty)
        if not confirm(f"Write these prices ({counted(checked.counts)})?", yes=yes):
            return _declined()
        made = _sent(client, "Writing", calls.update_prices(source, **given))
    return _written(state, made)


@prices.command()
@click.argument("update_id", metavar="UPDATE")
@yes_option
@json_option
@click.pass_obj
def undo(state: State, update_id: str, *, yes: bool) -> int:
    """Take the whole of UPDATE back; `prices updates` shows their ids."""
    with state.client() as client:
        found = client.get_price_update(update_id)
        when = f"{found.created_at:%Y-%m-%d %H:%M}"
        about = f"{update_id} of {when} ({found.note or 'no note'}, {counted(found.counts)})"
        if not confirm(f"Take back {about}?", yes=yes):
            return _declined()
        return _written(state, client.undo_price_update(update_id))


@prices.command("list")
@click.option("--currency", help="Only the lists in this currency.")
@json_option
@click.pass_obj
def lists(state: State, currency: str | None) -> None:
    """The price lists: one for each currency and customers' tier."""
    with state.client() as client:
        found = list(client.list_price_lists(currency=currency))
    if state.as_json:
        show_json(found)
        return
    rows = [
        (one.currency, one.tier or "(usual)", one.packs, one.prices, one.last_effective)
        for one in found
    ]
    columns = ("currency ", "tier ", "packs", "prices", "newest from ")
    show_table(screen(), "Price lists", columns, rows)


@prices.command()
@click.option("--limit", type=click.IntRange(1, 100), default=20, show_default=True)
@json_option
@click.pass_obj
def updates(state: State, limit: int) -> None:
    """What was changed lately, newest first."""
    with state.client() as client:
        page = client.send(calls.list_price_updates(limit=limit))
    if state.as_json:
        show_json(page.items)
        return
    rows = [
        (
            one.id or "",
            f"{one.created_at:%Y-%m-%d %H:%M}",
            one.note,
            counted(one.counts),
            _undone(one),
        )
        for one in page.items
    ]
    columns = ("update ", "made ", "note ", "what ", "taken back ")
    show_table(screen(), "Price updates", columns, rows)


def _sent(client: Client, what: str, call: Call[models.CheckedUpdate]) -> models.CheckedUpdate:
    with sending(what) as progress:
        return client.send(call, progress=progress)


def _only_compared(state: State, checked: models.CheckedUpdate, *, faulty: bool) -> int:
    if faulty:
        say("Mend the rows above, and run the same again: nothing was written.")
        return REFUSED
    if not checked.differences:
        say("Nothing differs: there is nothing to write.")
    elif not state.as_json:
        say("Only compared. Without --check it is written.")
    return DONE


def _written(state: State, made: models.CheckedUpdate) -> int:
    if state.as_json:
        show_json(made)
    elif made.revision is None:
        say("Nothing differed any more: nothing was written.")
    else:
        say(f"Catalogue revision {made.revision}: {counted(made.counts)}.")
        say(f"To take it back: filmbuild-client prices undo {made.id}")
    return DONE


def _declined() -> int:
    say("Nothing was done.")
    return NOT_CONFIRMED


def _undone(one: models.PriceUpdate) -> str:
    return f"by {one.undone_by}" if one.undone_by else ""
