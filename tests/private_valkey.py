"""A Valkey or Redis server of the tests' own."""

import os
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from waiting import until

PROGRAMS = ("valkey-server", "redis-server")


class Server:
    """A Valkey or Redis of the tests' own, on a socket in a folder, that keeps nothing."""

    def __init__(self, program: str, folder: Path) -> None:
        self._program = program
        self._socket = folder / "server.sock"
        self._process: subprocess.Popen[bytes] | None = None
        self.url = f"unix://{self._socket}"

    def start(self) -> None:
        options = ["--port", "0", "--unixsocket", str(self._socket), "--save", ""]
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
