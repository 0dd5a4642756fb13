"""`catalogue`: the whole of it, out and in."""

import sys
from pathlib import Path
from typing import Any, Literal, TypeAlias, get_args

import click
import msgspec

from filmbuild_sdk import Call, calls, models
from filmbuild_sdk.cli.failures import DONE, NOT_CONFIRMED
from filmbuild_sdk.cli.output import confirm, say, screen, sending, show_json, show_table
from filmbuild_sdk.cli.state import State, json_option, yes_option

Kind: TypeAlias = Literal[
    "consumables", "packs", "prices", "products", "rate_books", "suppliers", "systems", "taxes"
]
KINDS = click.Choice(get_args(Kind))
FORMATS = click.Choice(["json", "zip", "csv"])


@click.group()
def catalogue() -> None:
    """Products, packs, systems, rates and prices as one file."""


@catalogue.command("export")
@click.argument("target", metavar="[FILE]", required=False, type=click.Path(path_type=Path))
@click.option("--format", "form", type=FORMATS, help="Else by the name of FILE, or JSON.")
@click.option("--kind", type=KINDS, help="The one table to export as CSV.")
@click.option("--revision", type=int, help="As it was then; else the newest.")
@json_option
@click.pass_obj
def export(
    state: State,
    target: Path | None,
    form: str | None,
    kind: Kind | None,
    revision: int | None,
) -> None:
    """Write the catalogue to FILE, or to standard output: JSON, or tables as a CSV zip."""
    chosen = _form(target, form)
    if (chosen == "csv") != (kind is not None):
        raise click.UsageError("One table goes with --kind and CSV; all of them with zip.")
    if target is None and chosen == "zip" and sys.stdout.isatty():
        raise click.UsageError("An archive is not for a terminal: name a FILE.")
    with state.client() as client:
        if chosen == "json":
            whole = client.export_catalogue(revision=revision)
            content = msgspec.json.format(msgspec.json.encode(whole), indent=2) + b"\n"
        elif chosen == "zip":
            content = client.export_catalogue_tables_archive(revision=revision)
        else:
            table = client.export_catalogue_tables_table(revision=revision, kind=kind)
            content = table.encode()
    _deliver(state, target, content)


@catalogue.command("import")
@click.argument(
    "source", metavar="FILE", type=click.Path(path_type=Path, exists=True, dir_okay=False)
)
@click.option("--format", "form", type=FORMATS, help="Else by the name of FILE.")
@click.option("--kind", type=KINDS, help="What a single CSV table has.")
@click.option(
    "--missing",
    type=click.Choice(["keep", "retire"]),
    help="What becomes of records that FILE lacks; else they stay.",
)
@click.option("--based-on", type=int, help="Refuse it where records have changed since then.")
@click.option("--note", help="Why it is changed, for the history.")
@click.option("--check", is_flag=True, help="Only compare: nothing is written.")
@yes_option
@json_option
@click.pass_obj
def import_(
    state: State,
    /,
    source: Path,
    *,
    check: bool,
    yes: bool,
    **given: Any,  # noqa: ANN401 - passed on to the call
) -> int:
    """Compare FILE with the catalogue, ask, and bring the catalogue to what it says."""
    with state.client() as client:
        with sending("Comparing") as progress:
            checked = client.send(_importing(source, check_only=True, **given), progress=progress)
        if check or not checked.changes:
            _report(state, checked, checked_only=check)
            return DONE
        if not state.as_json:
            _report(state, checked, checked_only=False)
        if not confirm("Write this?", yes=yes):
            say("Nothing was done.")
            return NOT_CONFIRMED
        with sending("Writing") as progress:
            made = client.send(_importing(source, **given), progress=progress)
    if state.as_json:
        show_json(made)
    else:
        say(f"Made catalogue revision {made.revision}.")
    return DONE


def _importing(
    source: Path,
    *,
    form: str | None,
    kind: Kind | None,
    **given: Any,  # noqa: ANN401 - passed on to the call
) -> Call[models.ChangesReport]:
    chosen = _form(source, form)
    if (chosen == "csv") != (kind is not None):
        raise click.UsageError("One table goes with --kind and CSV; all of them as zip.")
    if chosen == "json":
        return calls.import_catalogue(source, **given)
    if chosen == "csv":
        return calls.import_catalogue_tables(source, media_type="text/csv", kind=kind, **given)
    return calls.import_catalogue_tables(source, media_type="application/zip", **given)


def _form(path: Path | None, given: str | None) -> str:
    named = path.suffix.lower().removeprefix(".") if path else "json"
    if given is None and named not in FORMATS.choices:
        raise click.UsageError(f"The name of {path} does not say what it is: give --format.")
    return given or named


def _deliver(state: State, target: Path | None, content: bytes) -> None:
    if target is None:
        sys.stdout.buffer.write(content)
        return
    try:
        target.write_bytes(content)
    except OSError as error:
        raise click.FileError(str(target), error.strerror) from error
    if state.as_json:
        show_json({"file": str(target), "bytes": len(content)})
    else:
        say(f"Wrote {len(content):,} bytes to {target}")


def _report(state: State, report: models.ChangesReport, *, checked_only: bool) -> None:
    if state.as_json:
        show_json(report)
        return
    if not report.changes:
        say("Nothing differs: there is nothing to write.")
        return
    rows = [
        (kind.replace("_", " "), one.new, one.changed, one.retired)
        for kind, one in report.counts.items()
    ]
    show_table(screen(), "Differences", ("kind ", "new", "changed", "retired"), rows)
    if checked_only:
        say("Only compared. Without --check it is written.")
