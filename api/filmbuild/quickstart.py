"""The whole job once: a database, the demo catalogue, a server, and one site through the SDK."""

import os
import shlex
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import click
import msgspec
from rich.console import Console
from rich.text import Text

from filmbuild import quickstart_tables, settings
from filmbuild.settings import Settings
from filmbuild_sdk import Client, FilmbuildError, models

ORGANISATION = "default"
NAME = "Alder Quay Floors (demo data)"
KEY_FILE = "key"
REQUEST = Path(__file__).with_name("quickstart_request.json")
READY_WITHIN = 30.0
"""[s] A server that does not answer by then has a fault worth reading."""


def main(*, keep_running: bool = False) -> None:
    """Raises click.ClickException where a step fails; a second run finds all in place."""
    configured = settings.read()
    _make_folder(configured.data_folder)
    console = Console(width=None if sys.stdout.isatty() else 110)
    _filmbuild("migrate")
    key = _key(configured.data_folder)
    _filmbuild("load-catalogue", "demo", "--organisation", ORGANISATION)
    with _server(configured) as (address, server):
        console.print(f"Serving at {address} (handbook: {address}/docs)")
        _estimate(console, address, configured.data_folder, key)
        if keep_running:
            console.print(_next_steps(address, configured.data_folder / KEY_FILE), soft_wrap=True)
            server.wait()
            return
    console.print(
        "\nThe server has stopped. To leave one running: "
        "[bold]filmbuild quickstart --keep-running[/], or on an existing database "
        "[bold]filmbuild serve[/] (both through .tools/bin/uv run)."
    )


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        raise click.ClickException(f"cannot make the folder {folder}: {error.strerror}") from error


def _key(folder: Path) -> str:
    """That of the first run, which is kept in the data folder for its owner alone."""
    path = folder / KEY_FILE
    if not path.exists():
        made = _filmbuild("create-organisation", NAME, "--id", ORGANISATION, shown=False)
        if made.returncode:
            # the organisation is there, and the file that had its key is not
            made = _filmbuild("create-key", "Quickstart", "--organisation", ORGANISATION)
        with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w") as file:
            file.write(made.stdout)
    return path.read_text().strip()


def _estimate(console: Console, address: str, folder: Path, key: str) -> None:
    request = msgspec.json.decode(REQUEST.read_bytes(), type=models.EstimateRequest)
    with Client(address, key=key) as client:
        try:
            stored = client.create_estimate(request)
        except FilmbuildError as error:
            raise click.ClickException(f"the estimate was refused: {error}") from error
    quickstart_tables.show(console, stored.document)
    body = folder / "request.json"
    body.write_bytes(REQUEST.read_bytes())
    console.print(f"\nStored as [bold]{stored.id}[/]. The same again, by hand:")
    console.print(
        _curl(address, body, folder / KEY_FILE), soft_wrap=True, highlight=False, markup=False
    )


def _next_steps(address: str, key: Path) -> Text:
    """What another terminal needs, from whatever folder it is used in; the key itself is not shown."""
    return Text(
        "\nStill serving; stop with Ctrl-C. In the terminal in which you go on:\n"
        f"export FILMBUILD_URL={address}\n"
        f'export FILMBUILD_KEY="$(cat {shlex.quote(str(key.absolute()))})"\n'
        f"Where to begin: {address}/docs"
    )


def _curl(address: str, body: Path, key: Path) -> str:
    return (
        f"curl -sS -X POST {address}/v1/estimates -H 'Content-Type: application/json' "
        f'-H "Authorization: Bearer $(cat {shlex.quote(str(key))})" '
        f"--data-binary @{shlex.quote(str(body))}"
    )


def _filmbuild(*arguments: str, shown: bool = True) -> subprocess.CompletedProcess[str]:
    """What makes keys tells them on its standard output, which is not shown."""
    command = [sys.executable, "-m", "filmbuild.cli", *arguments]
    secret = arguments[0].startswith("create-")
    done = subprocess.run(
        command,
        check=False,
        text=True,
        stdout=subprocess.PIPE if secret else None,
        stderr=None if shown else subprocess.PIPE,
    )
    if done.returncode and shown:
        raise click.ClickException(f"`filmbuild {' '.join(arguments)}` failed")
    return done


@contextmanager
def _server(configured: Settings) -> Iterator[tuple[str, subprocess.Popen[bytes]]]:
    port = _free_port(configured.port)
    address = f"http://127.0.0.1:{port}"
    command = [sys.executable, "-m", "filmbuild.cli", "serve"]
    command += ["--host", "127.0.0.1", "--port", str(port), "--quiet"]
    with subprocess.Popen(command, env=settings.on_one_machine()) as server:
        try:
            _wait_until_ready(address, server)
            yield address, server
        finally:
            server.terminate()


def _wait_until_ready(address: str, server: subprocess.Popen[bytes]) -> None:
    until = time.monotonic() + READY_WITHIN
    with Client(address, retries=None) as client:
        while True:
            if server.poll() is not None:
                raise click.ClickException("the server did not start; its message stands above")
            try:
                client.readiness()
            except FilmbuildError as error:
                if time.monotonic() > until:
                    raise click.ClickException(f"the server is not ready: {error}") from error
                time.sleep(0.1)
            else:
                return


def _free_port(wanted: int) -> int:
    """The port of the settings, or any free one where another program has it."""
    for port in (wanted, 0):
        with socket.socket() as listener:
            listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                listener.bind(("127.0.0.1", port))
            except OSError:
                continue
            free: int = listener.getsockname()[1]
            return free
    raise click.ClickException("no port is free on 127.0.0.1")
