"""The body of an update, kept in a temporary file until it has been read through."""

import asyncio
from collections.abc import AsyncIterator, Callable, Generator
from contextlib import suppress
from hashlib import sha256
from tempfile import TemporaryFile
from typing import BinaryIO, NamedTuple, cast

from filmbuild.errors import Unavailable, UnsupportedMediaType
from filmbuild.pricelists import csv_rows, json_rows
from filmbuild.pricelists.checking import Placed
from filmbuild.pricelists.entries import Defaults, Entry, Finder

LARGEST_BODY_BYTES = 64 << 20
WRITTEN_AT_ONCE = 1 << 20


class Format(NamedTuple):
    """How a media type is read, and how its rows are pointed at."""

    rows: Callable[[BinaryIO, Defaults, Finder], Generator[Entry, None, None]]
    placed: Placed


FORMATS = {
    "text/csv": Format(csv_rows.rows, "lines"),
    "application/x-ndjson": Format(json_rows.lines, "lines"),
    "application/json": Format(json_rows.rows, "elements"),
}


def format_of(content_type: str) -> Format:
    """Raises UnsupportedMediaType where the text is not in UTF-8."""
    kind, _, parameters = content_type.lower().partition(";")
    for one in parameters.split(";"):
        name, _, value = one.partition("=")
        if name.strip() == "charset" and value.strip().strip('"') not in ("utf-8", "us-ascii"):
            raise UnsupportedMediaType("Send the rows in UTF-8.")
    return FORMATS[kind.strip()]


class Received:
    """The bytes of a body in a file without a name, and their digest."""

    def __init__(self) -> None:
        self.file = cast("BinaryIO", TemporaryFile())  # noqa: SIM115 - closed by `close`
        self._digest = sha256()

    async def take_in(self, pieces: AsyncIterator[bytes]) -> None:
        """Raises Unavailable where there is no room for them."""
        waiting = bytearray()
        try:
            async for piece in pieces:
                waiting += piece
                if len(waiting) >= WRITTEN_AT_ONCE:
                    await asyncio.to_thread(self._write, bytes(waiting))
                    waiting.clear()
            self._write(bytes(waiting))
        except OSError as error:
            raise Unavailable("There is no room to take the update in.") from error

    def _write(self, content: bytes) -> None:
        self._digest.update(content)
        self.file.write(content)
        self.file.flush()

    @property
    def digest(self) -> bytes:
        return self._digest.digest()

    def close(self) -> None:
        # what could not be written is tried once more, and is not wanted any longer
        with suppress(OSError):
            self.file.close()
