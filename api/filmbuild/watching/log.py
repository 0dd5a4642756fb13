"""The log of a process that serves or works: where it goes, and in which form."""

import logging
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from filmbuild.settings import LogForm
from filmbuild.watching import records, request_lines
from filmbuild.watching.lines import Lines, to_descriptor
from filmbuild.watching.records import LineHandler, recording
from filmbuild.watching.request_lines import RequestLog

STANDARD_ERROR = 2


@dataclass(frozen=True, slots=True)
class Log:
    """`close` writes what is left, and may be called again."""

    requests: RequestLog | None
    close: Callable[[], None]


@contextmanager
def logging_to_standard_error(form: LogForm | None, *, quiet: bool = False) -> Iterator[Log]:
    """Within the block all logging goes there; text for people where it is a terminal, else JSON.

    There is no log where it is off, or where standard error is closed.
    """
    lines = _opened(form)
    if lines is None:
        with recording(logging.NullHandler(), logging.WARNING):
            yield Log(None, lambda: None)
        return
    text = form == "text" or (form is None and sys.stderr.isatty())
    handler = LineHandler(lines, records.as_text if text else records.as_json)
    try:
        with recording(handler, logging.WARNING if quiet else logging.INFO):
            shown = request_lines.as_text if text else request_lines.as_json
            yield Log(RequestLog(lines, shown, quiet=quiet), lines.close)
    finally:
        lines.close()


def _opened(form: LogForm | None) -> Lines | None:
    if form == "off":
        return None
    try:
        return Lines(to_descriptor(STANDARD_ERROR))
    except OSError:
        return None
