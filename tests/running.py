"""The service as a process of its own, to be stopped, killed and begun again.

The process is a copy of this one, so that nothing need be loaded for it; a `fresh` one begins with
nothing, as threads of libraries such as the typesetter's are not copied and would be waited for.
"""

import os
import signal
import socket
import sys
import traceback
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from typing import NoReturn

import calling
import httpx
from sqlalchemy import URL
from waiting import until

from filmbuild import cli

STARTING_SECONDS = 60.0
STOPPING_SECONDS = 40.0
FAILED = 3


class Running:
    """A process that serves, and works in the background."""

    def __init__(
        self,
        url: URL,
        *options: str,
        port: int = 0,
        fresh: bool = False,
        environment: Mapping[str, str],
    ) -> None:
        self.port = port or _free_port()
        self.outcome: int | None = None
        given = ("--port", str(self.port), *options)
        self._process = _begin(url, environment, *given) if fresh else os.fork()
        if self._process == 0:
            _serve(url, environment, *given)
        self.client = httpx.Client(
            base_url=f"http://127.0.0.1:{self.port}", timeout=60, headers=calling.HEADERS
        )

    def up(self) -> bool:
        assert not self.ended(), "the service ended"
        with suppress(httpx.TransportError):
            return self.client.get("/v1/health").status_code == 200
        return False

    def listening(self) -> bool:
        with suppress(OSError), socket.create_connection(("127.0.0.1", self.port), timeout=1):
            return True
        return False

    def ended(self) -> bool:
        if self.outcome is None:
            process, status = os.waitpid(self._process, os.WNOHANG)
            if process:
                self.outcome = os.waitstatus_to_exitcode(status)
        return self.outcome is not None

    def kill(self) -> None:
        os.kill(self._process, signal.SIGKILL)
        until(self.ended, STOPPING_SECONDS)
        assert self.outcome == -signal.SIGKILL

    def ask_to_stop(self) -> None:
        os.kill(self._process, signal.SIGTERM)

    def stopped(self) -> int | None:
        until(self.ended, STOPPING_SECONDS)
        return self.outcome

    def close(self) -> None:
        self.client.close()
        if not self.ended():
            self.kill()


@contextmanager
def running(
    url: URL,
    *options: str,
    port: int = 0,
    fresh: bool = False,
    environment: Mapping[str, str] | None = None,
) -> Iterator[Running]:
    """Killed at the end, where it still runs. Allowances are its own: tests run beside each other.

    Unless `environment` says so, it does not drain: nothing is before it that would notice.
    """
    with several(url, *options, ports=(port,), fresh=fresh, environment=environment) as (service,):
        yield service


@contextmanager
def several(
    url: URL,
    *options: str,
    ports: Sequence[int],
    fresh: bool = False,
    environment: Mapping[str, str] | None = None,
) -> Iterator[list[Running]]:
    """As `running`, one for each of the ports (0 is any), which begin side by side."""
    alone = {"FILMBUILD_LIMITS_URL": "memory:", "FILMBUILD_DRAIN_SECONDS": "0"}
    chosen = {**alone, **(environment or {})}
    services = [
        Running(url, *options, port=port, fresh=fresh, environment=chosen) for port in ports
    ]
    try:
        for one in services:
            until(one.up, STARTING_SECONDS)
        yield services
    finally:
        for one in services:
            one.close()


def _begin(url: URL, environment: Mapping[str, str], *options: str) -> int:
    """The number of the process."""
    command = [sys.executable, "-m", "filmbuild.cli", "serve", "--quiet", *options]
    database = {"FILMBUILD_DATABASE_URL": url.render_as_string(hide_password=False)}
    return os.posix_spawn(sys.executable, command, {**os.environ, **database, **environment})


def _serve(url: URL, environment: Mapping[str, str], *options: str) -> NoReturn:
    """What the test run would do at its end is not this process's to do."""
    outcome: int | str | None = FAILED
    try:
        os.environ.update(environment)
        os.environ["FILMBUILD_DATABASE_URL"] = url.render_as_string(hide_password=False)
        cli.cli(["serve", "--quiet", *options])
    except SystemExit as error:
        outcome = error.code
    except BaseException:  # noqa: BLE001 - the copy of the test run must not go on with the tests
        traceback.print_exc()
    finally:
        os._exit(outcome if isinstance(outcome, int) else 0)


def _free_port() -> int:
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        port: int = listener.getsockname()[1]
        return port
