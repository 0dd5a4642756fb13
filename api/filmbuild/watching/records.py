"""Everything else that is logged, in the same form as the lines of requests.

What went wrong is told by the types of errors and the places in the code, never by their messages:
these quote what callers and databases hold, and a log is read by others than those may be.
"""

import logging
import traceback
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import PurePath
from typing import Literal

import msgspec
from sqlalchemy.exc import DBAPIError

from filmbuild.errors import Unavailable
from filmbuild.watching.lines import Lines

LEVELS: dict[int, "Level"] = {
    logging.DEBUG: "debug",
    logging.INFO: "info",
    logging.WARNING: "warning",
    logging.ERROR: "error",
    logging.CRITICAL: "critical",
}
Level = Literal["debug", "info", "warning", "error", "critical"]
OWN = ("filmbuild", "uvicorn")
"""Loggers whose messages are known to be of the code's own words."""
MOST_FRAMES = 30
LONGEST_FOREIGN = 200


class Failure(msgspec.Struct, frozen=True):
    type: str
    at: tuple[str, ...]


class RecordLine(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    time: datetime
    level: Level
    event: str
    logger: str
    failures: tuple[Failure, ...] = ()


Format = Callable[[RecordLine], bytes]


def as_json(line: RecordLine) -> bytes:
    return msgspec.json.encode(line) + b"\n"


def as_text(line: RecordLine) -> bytes:
    """For people, on a terminal."""
    told = [f"{line.time:%H:%M:%S} {line.level:<7} {line.event}"]
    for one in line.failures:
        told += [f"    {one.type}", *(f"      {place}" for place in one.at)]
    return "\n".join([*told, ""]).encode()


class LineHandler(logging.Handler):
    def __init__(self, lines: Lines, form: Format) -> None:
        super().__init__()
        self._lines = lines
        self._form = form

    def emit(self, record: logging.LogRecord) -> None:
        self._lines.add(self._form(line_of(record)))


def line_of(record: logging.LogRecord) -> RecordLine:
    error = record.exc_info[1] if record.exc_info else None
    return RecordLine(
        time=datetime.fromtimestamp(record.created, UTC),
        level=LEVELS.get(record.levelno, "info"),
        event=_event(record),
        logger=record.name,
        failures=tuple(_failures(error)),
    )


def _event(record: logging.LogRecord) -> str:
    if record.name.partition(".")[0] not in OWN:
        # its arguments may be anyone's data, and so may what follows the first line
        return str(record.msg).partition("\n")[0][:LONGEST_FOREIGN]
    given = record.args if isinstance(record.args, tuple) else ()
    told = tuple(name_of(one) if isinstance(one, BaseException) else one for one in given)
    try:
        return str(record.msg) % told if told else record.getMessage()
    except (TypeError, ValueError):
        return str(record.msg)


def name_of(error: BaseException) -> str:
    """What kind of error it is; its own words only where they are ours and quote nobody."""
    if isinstance(error, Unavailable):
        return str(error)
    name = type(error).__name__
    if isinstance(error, DBAPIError):
        code = getattr(error.orig, "sqlstate", None) or type(error.orig).__name__
        return f"{name} ({code})"
    if isinstance(error, OSError) and error.strerror:
        return f"{name} ({error.strerror})"
    return name


def _failures(error: BaseException | None) -> Iterator[Failure]:
    """The error, and before it those that led to it."""
    seen: set[int] = set()
    while error is not None and id(error) not in seen:
        seen.add(id(error))
        frames = [
            f"{_short(frame.f_code.co_filename)}:{line} {frame.f_code.co_name}"
            for frame, line in traceback.walk_tb(error.__traceback__)
        ]
        yield Failure(name_of(error), tuple(frames[-MOST_FRAMES:]))
        error = error.__cause__ or (None if error.__suppress_context__ else error.__context__)


def _short(path: str) -> str:
    parts = PurePath(path).parts
    return "/".join(parts[-3:])


@contextmanager
def recording(handler: logging.Handler, level: int) -> Iterator[None]:
    """All loggers of the process write to the handler within the block, and to no other."""
    root = logging.getLogger()
    before, level_before = root.handlers[:], root.level
    own_before = {name: logging.getLogger(name).level for name in OWN}
    root.handlers[:] = [handler]
    root.setLevel(max(level, logging.WARNING))
    for name in OWN:
        logging.getLogger(name).setLevel(level)
    try:
        yield
    finally:
        root.handlers[:] = before
        root.setLevel(level_before)
        for name, one in own_before.items():
            logging.getLogger(name).setLevel(one)
