"""What the options before a command say, and the client that they make."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, TypeVar

import click
import httpx

from filmbuild_sdk import Client

DEFAULT_URL = "http://127.0.0.1:8080"
# the largest price files are worked on for longer than other calls
LONG_WORK = httpx.Timeout(300.0, connect=5.0)
F = TypeVar("F", bound=Callable[..., Any])


@dataclass(slots=True)
class State:
    url: str = DEFAULT_URL
    key: str | None = None
    plain_http: bool = False
    timeout: float | None = None
    as_json: bool = False

    def __repr__(self) -> str:
        return f"State({self.url!r})"

    def client(self) -> Client:
        timeout = LONG_WORK if self.timeout is None else self.timeout
        if not _is_address(self.url):
            raise click.UsageError(f"{self.url} is not an address such as {DEFAULT_URL}.")
        try:
            return Client(self.url, key=self.key, plain_http=self.plain_http, timeout=timeout)
        except ValueError as error:
            told = str(error).replace("plain_http=True", "--plain-http")
            raise click.UsageError(f"The key cannot be sent: {told}.") from error


def _is_address(text: str) -> bool:
    try:
        url = httpx.URL(text)
    except httpx.InvalidURL:
        return False
    return url.scheme in {"http", "https"} and bool(url.host)


def json_option(command: F) -> F:
    """Adds --json, which `State.as_json` has."""

    def note(context: click.Context, _option: click.Parameter, value: bool) -> None:
        context.ensure_object(State).as_json = value

    return click.option(
        "--json",
        is_flag=True,
        expose_value=False,
        callback=note,
        help="Answer with JSON, for other programs.",
    )(command)


def yes_option(command: F) -> F:
    return click.option("--yes", "-y", is_flag=True, help="Do it without asking.")(command)
