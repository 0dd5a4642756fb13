"""The command line: serving, and what is done to the database before."""

import asyncio
import signal
import socket
import sys
from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import asynccontextmanager, contextmanager
from datetime import UTC, datetime
from pathlib import Path
from types import FrameType
from typing import NoReturn

import click
import msgspec
import uvicorn
from msgspec import structs
from sqlalchemy import URL
from sqlalchemy.exc import SQLAlchemyError

import filmbuild
from filmbuild import settings
from filmbuild.accounts import keys, starting
from filmbuild.app import SCOPES, build_worker, contract_document, create_app
from filmbuild.catalogue import loader, wire
from filmbuild.db import Database, migrate
from filmbuild.db.backup import backup, restore
from filmbuild.edge.closing import Closing
from filmbuild.edge.openapi import text_of
from filmbuild.errors import FilmbuildError
from filmbuild.jobs.lock import not_at_work
from filmbuild.limits import connections
from filmbuild.limits.connections import affordable, bound_by, sweeping
from filmbuild.settings import Settings
from filmbuild.spans import Watcher
from filmbuild.watching.log import logging_to_standard_error
from filmbuild.watching.watch import Watch

FINISHING_SECONDS = 30
CLOSE = (b"connection", b"close")
CONTRACT = Path(filmbuild.__file__).parents[2] / "openapi" / "openapi.json"


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="filmbuild")
def cli() -> None:
    """Takeoff, materials, labour, schedule and price of resinous floors, over HTTP.

    The settings are read from the environment: FILMBUILD_DATA_FOLDER, FILMBUILD_DATABASE_URL,
    FILMBUILD_HOST, FILMBUILD_PORT, FILMBUILD_PUBLIC_URL, FILMBUILD_TRUSTED_PROXIES,
    FILMBUILD_CONNECTIONS, FILMBUILD_DRAIN_SECONDS, FILMBUILD_LIMITS_URL with FILMBUILD_LIMIT_SECRET_KEY, _PUBLISHABLE_KEY,
    _VISITOR and _ADDRESS, FILMBUILD_LOG (json, text or off), FILMBUILD_METRICS (off, loopback or
    on), FILMBUILD_TRACES (off or on), FILMBUILD_WEBHOOK_PRIVATE_NETWORKS (off or on) and
    FILMBUILD_SECURITY_CONTACT.
    """


@cli.command()
@click.option("--host", help="Address to listen on; only this machine unless given.")
@click.option("--port", type=click.IntRange(0, 65_535), help="Port to listen on; 0 is any free.")
@click.option("--quiet", is_flag=True, help="Say only what goes wrong.")
@click.option(
    "--work/--no-work",
    default=True,
    help="Whether to do background work too, where no other process does it.",
)
def serve(host: str | None, port: int | None, *, quiet: bool, work: bool) -> None:
    """Serve until stopped, and finish what was begun then."""
    configured = settings.read()
    closing = Closing()
    with logging_to_standard_error(configured.log, quiet=quiet) as log:
        config = uvicorn.Config(
            create_app(configured, working=work, closing=closing, request_log=log.requests),
            host=host or configured.host,
            port=configured.port if port is None else port,
            http=_bound(configured),
            ws="none",
            proxy_headers=False,
            server_header=False,
            access_log=False,
            log_config=None,
            timeout_graceful_shutdown=FINISHING_SECONDS,
        )
        server = Server(config, closing, log.close, configured.drain_seconds)
        server.run()
    if not server.started:
        sys.exit(1)


def _bound(configured: Settings) -> type[asyncio.Protocol]:
    """The protocol of connections, with this service's bounds."""
    bounds = structs.replace(
        connections.BOUNDS,
        connections=affordable(configured.connections),
        trusted=configured.trusted_proxies,
    )
    return bound_by(bounds)


class Server(uvicorn.Server):
    """Tells the application as soon as it is to stop, and not only once all answers were sent.

    It then goes on serving for `drain_seconds` [s], so that proxies read from the readiness that
    they are to ask others before connections are refused; who stops it at a keyboard need not wait.
    `at_end` is called when all is done: after that the signal that asked for it ends the process.
    Until then it looks after its connections.
    """

    def __init__(
        self,
        config: uvicorn.Config,
        closing: Closing,
        at_end: Callable[[], None],
        drain_seconds: float = 0.0,
    ) -> None:
        super().__init__(config)
        self.closing = closing
        self._at_end = at_end
        self._drain_seconds = drain_seconds
        self._asked_at: float | None = None

    @contextmanager
    def capture_signals(self) -> Iterator[None]:
        with super().capture_signals():
            try:
                yield
            finally:
                self._at_end()

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        self.sweeper = asyncio.create_task(sweeping(self.server_state.connections, self.closing))

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        try:
            await super().shutdown(sockets)
        finally:
            self.sweeper.cancel()

    async def on_tick(self, counter: int) -> bool:
        if not await super().on_tick(counter):
            return False
        now = asyncio.get_running_loop().time()
        if self._asked_at is None:
            self._asked_at = now
        if now - self._asked_at >= self._drain_seconds:
            return True
        self._announce_the_end()
        return False

    def _announce_the_end(self) -> None:
        """In all answers, so that no kept connection is asked again just when it is ended."""
        if CLOSE not in self.server_state.default_headers:
            self.server_state.default_headers = [*self.server_state.default_headers, CLOSE]

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        self.closing.begun = True
        if sig == signal.SIGINT:
            self._drain_seconds = 0.0
        self._announce_the_end()
        super().handle_exit(sig, frame)


@cli.command("work")
def work() -> None:
    """Do background work until stopped, where no other process does it."""
    configured = settings.read()
    watch = Watch(msgspec.structs.replace(configured, metrics="off"))
    with logging_to_standard_error(configured.log):
        asyncio.run(_work(configured, watch.watcher))
        watch.end()


async def _work(configured: Settings, watcher: Watcher | None) -> None:
    worker = build_worker(configured, watcher)
    loop = asyncio.get_running_loop()
    for one in (signal.SIGINT, signal.SIGTERM):
        loop.add_signal_handler(one, worker.stop)
    await worker.run()


@cli.command("backup")
@click.argument("target", type=click.Path(path_type=Path), metavar="FILE")
def make_backup(target: Path) -> None:
    """Copy the SQLite database to FILE, as it is now; the service may be running."""
    backup(settings.read().database_url, target)
    click.echo(f"Copied the database to {target}")


@cli.command("restore")
@click.argument("source", type=click.Path(path_type=Path), metavar="FILE")
def restore_backup(source: Path) -> None:
    """Put the copy FILE in the place of the SQLite database; the service must be stopped."""
    url = settings.read().database_url
    with not_at_work(url):
        restore(url, source)
    click.echo(f"Put back {source}; `filmbuild migrate` brings it up to date.")


@cli.command("migrate")
def migrate_database() -> None:
    """Make the database, or bring it up to date; a second run changes nothing."""
    url = settings.read().database_url
    migrate.upgrade(url)
    click.echo(f"The database is at revision {migrate.current(url)}: {url}")


@cli.command("create-organisation")
@click.argument("name")
@click.option("--id", "identity", help="Its id in the database; made at random unless given.")
def create_organisation(name: str, identity: str | None) -> None:
    """Make an organisation called NAME, and show its first key, this once."""
    _, key = asyncio.run(_create_organisation(_current_url(), name, identity))
    _show_key(key)


@cli.command("create-key")
@click.argument("name")
@click.option("--organisation", help="Its id; needed where there are several.")
@click.option("--scope", "scopes", multiple=True, help="Such as estimates:write; all unless given.")
def create_key(name: str, organisation: str | None, scopes: tuple[str, ...]) -> None:
    """Make a secret key called NAME, and show it, this once."""
    if unknown := [one for one in scopes if one not in SCOPES]:
        raise click.BadParameter(
            f"{', '.join(unknown)}; known are {', '.join(sorted(SCOPES))}", param_hint="--scope"
        )
    _show_key(asyncio.run(_create_key(_current_url(), organisation, name, scopes)))


def _show_key(key: str) -> None:
    click.echo(
        "Keep this key where only your programs can read it; it is not shown again.", err=True
    )
    click.echo(key)


@cli.command("load-catalogue")
@click.argument("source", default="demo", metavar="[FILE|demo]")
@click.option("--organisation", help="Its id; needed where there are several.")
def load_catalogue(source: str, organisation: str | None) -> None:
    """Make FILE, or the demo catalogue, the current catalogue, and say what that changed."""
    body = wire.demo() if source == "demo" else _read(Path(source))
    report = asyncio.run(_load(_current_url(), organisation, body))
    for kind, counts in report.counts.items():
        told = ", ".join(f"{many} {what}" for what, many in structs.asdict(counts).items())
        click.echo(f"{kind.replace('_', ' ')}: {told}")
    for warning in report.warnings:
        click.echo(f"Warning: {warning.pointer}: {warning.detail}", err=True)
    if report.revision is None:
        click.echo("Nothing had changed: no revision was made.")
    else:
        click.echo(f"Made revision {report.revision} of the catalogue.")


@cli.command("openapi")
@click.option("--write", "action", flag_value="write", help="Write it to the file.")
@click.option("--check", "action", flag_value="check", help="Fail where the file differs from it.")
@click.option("--file", "target", type=click.Path(path_type=Path), default=CONTRACT)
def openapi(action: str | None, target: Path) -> None:
    """Show, write or check the contract that the service would publish."""
    text = text_of(contract_document())
    if action is None:
        click.echo(text, nl=False)
    elif action == "write":
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(text)
        click.echo(f"Wrote {target}")
    elif not target.is_file() or target.read_bytes() != text:
        raise click.ClickException(
            f"{target} is not what the service publishes: run `filmbuild openapi --write`"
        )
    else:
        click.echo(f"{target} is what the service publishes.")


@cli.command()
@click.option("--keep-running", is_flag=True, help="Leave the server running at the end.")
def quickstart(*, keep_running: bool) -> None:
    """Make a database, load the demo catalogue, serve it, and estimate a site through the SDK."""
    from filmbuild import quickstart as example  # noqa: PLC0415 - needs the SDK, which is optional

    example.main(keep_running=keep_running)


def _read(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        raise click.ClickException(f"cannot read {path}: {error.strerror}") from error


def _current_url() -> URL:
    """Of the database, which must be up to date."""
    url = settings.read().database_url
    if migrate.current(url) != migrate.head():
        raise click.ClickException("The database is not up to date: run `filmbuild migrate`.")
    return url


@asynccontextmanager
async def _opened(url: URL) -> AsyncIterator[Database]:
    database = Database(url)
    try:
        yield database
    finally:
        await database.dispose()


async def _load(url: URL, organisation: str | None, body: bytes) -> loader.LoadReport:
    async with _opened(url) as database:
        owner = organisation or await starting.only_organisation(database)
        return await loader.load(database, owner, wire.read(body), "filmbuild load-catalogue")


async def _create_organisation(url: URL, name: str, identity: str | None) -> tuple[str, str]:
    now = datetime.now(UTC)
    async with _opened(url) as database:
        made = await starting.create_organisation(database, name, now, identity)
        click.echo(f"Made the organisation {made}.", err=True)
        return made, await starting.create_key(database, made, "First key", now)


async def _create_key(
    url: URL, organisation: str | None, name: str, scopes: tuple[str, ...]
) -> str:
    async with _opened(url) as database:
        owner = organisation or await starting.only_organisation(database)
        allowed = scopes or (keys.EVERYTHING,)
        return await starting.create_key(database, owner, name, datetime.now(UTC), allowed)


def main() -> NoReturn:
    """Exit codes: 0 done, 1 failed with a message, 2 used or set wrongly."""
    try:
        cli()
    except FilmbuildError as error:
        click.echo(f"Error: {error}", err=True)
        sys.exit(1)
    except SQLAlchemyError as error:
        reason = str(error).partition("\n")[0]
        click.echo(f"Error: the database cannot be used: {reason}", err=True)
        click.echo("Run `filmbuild migrate` if it was never made.", err=True)
        sys.exit(1)
    sys.exit(0)


if __name__ == "__main__":
    main()
