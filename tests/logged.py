"""An application whose log is kept in memory."""

import logging
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import calling
import msgspec
from litestar.handlers import HTTPRouteHandler
from litestar.testing import TestClient
from serving import Client, settings_for
from sqlalchemy import URL

from filmbuild.app import create_app
from filmbuild.watching import records, request_lines
from filmbuild.watching.lines import Lines
from filmbuild.watching.records import LineHandler, recording
from filmbuild.watching.request_lines import RequestLog


class Kept:
    """What was logged; complete once its application has ended."""

    def __init__(self) -> None:
        self.pieces: list[bytes] = []

    @property
    def text(self) -> str:
        return b"".join(self.pieces).decode()

    @property
    def lines(self) -> list[dict[str, Any]]:
        return [msgspec.json.decode(one) for one in self.text.splitlines()]

    def requests(self) -> list[dict[str, Any]]:
        return [one for one in self.lines if one["event"] == "request"]


@contextmanager
def logging_to(kept: Kept, *, quiet: bool = False) -> Iterator[RequestLog]:
    lines = Lines(kept.pieces.append)
    try:
        with recording(LineHandler(lines, records.as_json), logging.INFO):
            yield RequestLog(lines, request_lines.as_json, quiet=quiet)
    finally:
        lines.close()


@contextmanager
def logged(url: URL, kept: Kept, *extra: HTTPRouteHandler, quiet: bool = False) -> Iterator[Client]:
    with logging_to(kept, quiet=quiet) as log:
        app = create_app(settings_for(url), extra, request_log=log)
        with TestClient(app) as client:
            client.headers.update(calling.HEADERS)
            yield client
