"""Where work says what it is at, for whoever watches it; nobody may, and then nothing happens.

What is computed never depends on it: a watcher is told names, and gives back a context manager.
"""

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from contextvars import ContextVar

Watcher = Callable[[str], AbstractContextManager[object]]

_NOBODY: AbstractContextManager[object] = nullcontext()
_watcher: ContextVar[Watcher | None] = ContextVar("watcher", default=None)


def span(name: str) -> AbstractContextManager[object]:
    """Stands around a piece of work; names are few, such as stage.takeoff, and hold no data."""
    watcher = _watcher.get()
    return _NOBODY if watcher is None else watcher(name)


@contextmanager
def watched_by(watcher: Watcher | None) -> Iterator[None]:
    """Within the block, and in the tasks and threads that are begun in it."""
    token = _watcher.set(watcher)
    try:
        yield
    finally:
        _watcher.reset(token)
