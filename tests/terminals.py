"""The client's program: in a pseudo-terminal of so many columns, and within this process."""

import fcntl
import os
import pty
import select
import struct
import subprocess
import sys
import termios
import time
from dataclasses import dataclass
from pathlib import Path

from click.testing import CliRunner

from filmbuild_sdk.cli import program

LONGEST = 60.0


@dataclass(frozen=True)
class Done:
    """`code`, and what stood on standard output and error; of a terminal, all in `out`."""

    code: int
    out: str
    err: str = ""


def in_process(arguments: list[str], environment: dict[str, str], text: bytes = b"") -> Done:
    """As in a pipe, without the time that another process takes to begin."""
    runner = CliRunner(env=environment)
    with runner.isolation(input=text) as (out, err, _both):
        try:
            code = program.run(arguments)
        except SystemExit as end:
            code = int(end.code or 0)
        sys.stdout.flush()
        sys.stderr.flush()
        return Done(code, out.getvalue().decode(), err.getvalue().decode())


def in_terminal(
    arguments: list[str], columns: int, environment: dict[str, str], folder: Path, typed: str = ""
) -> Done:
    """`typed` is entered once a question stands there."""
    outer, inner = pty.openpty()
    fcntl.ioctl(inner, termios.TIOCSWINSZ, struct.pack("HHHH", 50, columns, 0, 0))
    with subprocess.Popen(
        [sys.executable, "-m", "filmbuild_sdk.cli", *arguments],
        cwd=folder,
        env={**environment, "TERM": "xterm-256color"},
        stdin=inner,
        stdout=inner,
        stderr=inner,
        start_new_session=True,
    ) as running:
        os.close(inner)
        shown = _all_of(outer, running, typed)
        os.close(outer)
    return Done(running.returncode, shown.decode())


def _all_of(outer: int, running: subprocess.Popen[bytes], typed: str) -> bytes:
    shown = b""
    end = time.monotonic() + LONGEST
    while time.monotonic() < end:
        ready, _, _ = select.select([outer], [], [], 0.2)
        if ready:
            try:
                piece = os.read(outer, 65_536)
            except OSError:  # Linux says so that the program has closed its side
                return shown
            shown += piece
            if typed and b"[y/N]" in shown:
                os.write(outer, typed.encode())
                typed = ""
        elif running.poll() is not None:
            return shown
    running.kill()
    raise AssertionError(f"it did not end: {shown.decode(errors='replace')}")
