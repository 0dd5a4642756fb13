"""Runs something in a process that is killed, as by `kill -9`, just before it writes.

The process is a copy of this one, so that nothing need be loaded for each of many deaths.
"""

import os
import signal
import traceback
from collections.abc import Callable
from typing import Any

from sqlalchemy import Engine, event

WRITES = ("INSERT", "UPDATE", "DELETE", "CREATE", "DROP", "ALTER")
FINISHED, FAILED = 0, 3
COMMIT = 0
"""In the place of a number of writes."""


def deaths(action: Callable[[], None], look: Callable[[], object]) -> int:
    """Kills at its commit, at the first write, and at ever later ones until it lives to its end.

    What is seen after each death must be what was seen before; how many deaths there were. The
    action is one transaction. Beyond the first few writes not every one is died at, as what comes
    before a death must be done each time.
    """
    before = look()
    assert _outcome(action, COMMIT) == -signal.SIGKILL
    assert look() == before, "killed at the commit"
    number, died = 1, 1
    while _outcome(action, number) == -signal.SIGKILL:
        assert look() == before, f"killed at write {number}"
        number += 1 + number // 4
        died += 1
    return died


def _outcome(action: Callable[[], None], fatal: int) -> int:
    child = os.fork()
    if child == 0:
        _live(action, fatal)
    status = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    assert status in (FINISHED, -signal.SIGKILL)
    return status


def _live(action: Callable[[], None], fatal: int) -> None:
    """Never returns: what the test run would do at its end is not this process's to do."""
    outcome = FAILED
    try:
        _die_at(fatal)
        action()
        outcome = FINISHED
    except BaseException:  # noqa: BLE001 - the copy of the test run must not go on with the tests
        traceback.print_exc()
    finally:
        os._exit(outcome)


def _die_at(fatal: int) -> None:
    writes = 0

    def statement(_connection: Any, _cursor: Any, text: str, *_rest: Any) -> None:
        nonlocal writes
        writes += text.lstrip().upper().startswith(WRITES)
        if fatal != COMMIT and writes == fatal:
            os.kill(os.getpid(), signal.SIGKILL)

    def commit(_connection: Any) -> None:
        if fatal == COMMIT and writes:
            os.kill(os.getpid(), signal.SIGKILL)

    event.listen(Engine, "before_cursor_execute", statement)
    event.listen(Engine, "commit", commit)
