"""Lines of a log, written by a thread of its own so that no request waits for a disk."""

import os
import queue
import threading
import time
from collections.abc import Callable

MOST_WAITING = 20_000
GATHERING_SECONDS = 0.02
CLOSING_SECONDS = 2.0

Write = Callable[[bytes], None]


class Lines:
    """What cannot be written is dropped and counted: a full disk or a closed pipe stops nothing."""

    def __init__(self, write: Write) -> None:
        self.dropped = 0
        self._write = write
        self._waiting: queue.SimpleQueue[bytes | None] = queue.SimpleQueue()
        self._thread = threading.Thread(target=self._run, name="log", daemon=True)
        self._thread.start()

    def add(self, line: bytes) -> None:
        """From any thread; never waits, and never fails."""
        if self._waiting.qsize() < MOST_WAITING:
            self._waiting.put(line)
        else:
            self.dropped += 1

    def close(self) -> None:
        """What was added is written by then, unless writing hangs."""
        self._waiting.put(None)
        self._thread.join(CLOSING_SECONDS)

    def _run(self) -> None:
        while True:
            gathered = [self._waiting.get()]
            if gathered[0] is not None:
                # woken for each line, the thread would take the interpreter from the requests
                time.sleep(GATHERING_SECONDS)
                gathered += [self._waiting.get() for _ in range(self._waiting.qsize())]
            lines = [one for one in gathered if one is not None]
            self._written(lines)
            if len(lines) < len(gathered):
                return

    def _written(self, lines: list[bytes]) -> None:
        if not lines:
            return
        try:
            self._write(b"".join(lines))
        except OSError:
            self.dropped += len(lines)


def to_descriptor(number: int) -> Write:
    """Keeps a copy of the descriptor: its number may be another file's once it is closed.

    Raises OSError where it is closed already.
    """
    kept = os.dup(number)

    def write(text: bytes) -> None:
        rest = memoryview(text)
        while rest:
            rest = rest[os.write(kept, rest) :]

    return write
