"""A Valkey or Redis server of the tests' own."""

import os
import shutil
import socket
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from waiting import until

PROGRAMS = ("valkey-server", "redis-server")


class Server:
    """A Valkey or Redis of the tests' own that keeps nothing.

    On a socket in a folder, and at `address` as the settings have it.
    """

    def __init__(self, program: str, folder: Path) -> None:
        self._program = program
        self._socket = folder / "server.sock"
        self._process: subprocess.Popen[bytes] | None = None
        self._port = _free_port()
        self.url = f"unix://{self._socket}"
        self.address = f"redis://127.0.0.1:{self._port}/0"

    def start(self) -> None:
        options = ["--bind", "127.0.0.1", "--port", str(self._port)]
        options += ["--unixsocket", str(self._socket), "--save", ""]
        self._process = subprocess.Popen(
            [self._program, *options], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        until(self._socket.exists)

    def stop(self) -> None:
        if self._process is not None:
            self._process.kill()
            self._process.wait()
            self._socket.unlink(missing_ok=True)
            self._process = None


def _free_port() -> int:
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        port: int = listener.getsockname()[1]
        return port


@contextmanager
def server(folder: Path) -> Iterator[Server]:
    program = next(filter(None, map(shutil.which, PROGRAMS)), None)
    if program is None:
        reason = "neither Valkey nor Redis is installed (Debian: apt-get install redis-server)"
        if os.environ.get("CI"):
            pytest.fail(reason)
        pytest.skip(reason)
    one = Server(program, folder)
    one.start()
    try:
        yield one
    finally:
        one.stop()
