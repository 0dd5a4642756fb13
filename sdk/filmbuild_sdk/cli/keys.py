"""`keys`: who may call the service, and for what."""

import os
from pathlib import Path
from typing import Any

import click
import msgspec

from filmbuild_sdk.cli import key_calls
from filmbuild_sdk.cli.failures import DONE, NOT_CONFIRMED, NOT_REACHED
from filmbuild_sdk.cli.output import confirm, say, screen, show_json, show_table
from filmbuild_sdk.cli.state import State, json_option, yes_option


@click.group()
def keys() -> None:
    """Make, replace and revoke keys."""


_SECRET_FILE = click.option(
    "--secret-file",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Write the key there, for you alone to read; else it is printed.",
)


@keys.command("list")
@json_option
@click.pass_obj
def list_keys(state: State) -> None:
    """All keys, without what is secret about them."""
    found: list[Any] = []
    cursor = None
    with state.client() as client:
        while True:
            page = client.send(key_calls.listing(cursor))
            found += page["items"]
            cursor = page.get("next")
            if cursor is None:
                break
    if state.as_json:
        show_json(found)
        return
    rows = [_row(msgspec.convert(one, key_calls.Key)) for one in found]
    columns = ("key ", "name ", "kind ", "state ", "may ", "until ", "last used ")
    show_table(screen(), "Keys", columns, rows)


@keys.command()
@click.argument("name")
@click.option(
    "--kind", type=click.Choice(["secret", "publishable"]), default="secret", show_default=True
)
@click.option("--scope", "scopes", multiple=True, help="What it may do, such as estimates:read.")
@click.option("--origin", "origins", multiple=True, help="A web page that may use it.")
@click.option("--expires-at", help="When it ends, such as 2027-01-31T00:00:00Z.")
@_SECRET_FILE
@json_option
@click.pass_obj
def create(
    state: State,
    name: str,
    kind: str,
    scopes: tuple[str, ...],
    origins: tuple[str, ...],
    expires_at: str | None,
    secret_file: Path | None,
) -> int:
    """Make a key called NAME. The key itself is shown this once."""
    call = key_calls.creation(
        name=name,
        kind=kind,
        scopes=list(scopes) or None,
        origins=list(origins) or None,
        expires_at=expires_at,
    )
    _check(secret_file)
    with state.client() as client:
        return _hand_over(state, client.send(call), secret_file)


@keys.command()
@click.argument("key_id", metavar="KEY")
@click.option(
    "--overlap",
    default="P1D",
    show_default=True,
    metavar="DURATION",
    help="How long the old one goes on working (ISO 8601).",
)
@_SECRET_FILE
@json_option
@click.pass_obj
def rotate(state: State, key_id: str, overlap: str, secret_file: Path | None) -> int:
    """Replace KEY by a new one, and let both work for a while."""
    _check(secret_file)
    with state.client() as client:
        code = _hand_over(state, client.send(key_calls.rotation(key_id, overlap)), secret_file)
    say(f"The old one works for {overlap} more: put the new one in its place by then.")
    return code


@keys.command()
@click.argument("key_id", metavar="KEY")
@yes_option
@json_option
@click.pass_obj
def revoke(state: State, key_id: str, *, yes: bool) -> int:
    """End KEY at once."""
    if not confirm(f"Whatever uses {key_id} stops working. Revoke it?", yes=yes):
        say("Nothing was done.")
        return NOT_CONFIRMED
    with state.client() as client:
        answer = client.send(key_calls.revocation(key_id))
    if state.as_json:
        show_json(answer)
    else:
        say(f"Revoked {key_id}.")
    return DONE


def _check(secret_file: Path | None) -> None:
    """Before the key is made: it could not be shown again."""
    if secret_file is None:
        return
    if secret_file.exists():
        raise click.UsageError(f"{secret_file} is there already: name a new file.")
    if not os.access(secret_file.absolute().parent, os.W_OK):
        raise click.UsageError(f"Nothing can be written to {secret_file.absolute().parent}.")


def _hand_over(state: State, made: dict[str, Any], secret_file: Path | None) -> int:
    """The service tells a key once: where that answer was lost, the next has none."""
    secret = made["secret"]
    name = made["key"]["id"]
    if secret is not None and secret_file is not None:
        _keep(secret, secret_file)
        made = {**made, "secret": None}
    if state.as_json:
        show_json(made)
    say(f"Made {name}.")
    if secret is None:
        say(f"The key itself was lost on the way. End it and make another: keys revoke {name}")
        return NOT_REACHED
    if secret_file is not None:
        say(f"The key is in {secret_file}.")
    elif not state.as_json:
        say("The key, which is not shown again:")
        click.echo(secret)
    return DONE


def _keep(secret: str, path: Path) -> None:
    new = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(new, "w") as file:
        file.write(secret + "\n")


def _row(one: key_calls.Key) -> tuple[str, ...]:
    may = " ".join(one.scopes or one.origins)
    return (
        one.id,
        one.name,
        one.kind,
        one.state,
        "everything" if may == "*" else may,
        _day(one.expires_at),
        _day(one.last_used_at),
    )


def _day(moment: str | None) -> str:
    return (moment or "").partition("T")[0]
