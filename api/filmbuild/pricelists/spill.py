"""Rows set aside in a temporary file, so that a large update takes no more memory than a small one."""

from collections.abc import Iterator
from contextlib import suppress
from tempfile import TemporaryFile
from typing import BinaryIO, TypeVar, cast

import msgspec

from filmbuild.errors import Unavailable

T = TypeVar("T")
BATCH = 2_000
_LENGTH_BYTES = 4


class Spill:
    """Rows are written once, in batches, and can then be read any number of times."""

    def __init__(self) -> None:
        self._file = cast("BinaryIO", TemporaryFile())  # noqa: SIM115 - closed by `close`
        self._waiting: list[tuple[object, ...]] = []
        self.rows = 0

    def append(self, row: tuple[object, ...]) -> None:
        self._waiting.append(row)
        if len(self._waiting) == BATCH:
            self.flush()

    def flush(self) -> None:
        """Raises Unavailable where there is no room for them, as `append` does."""
        if self._waiting:
            batch = msgspec.msgpack.encode(self._waiting)
            try:
                self._file.write(len(batch).to_bytes(_LENGTH_BYTES, "big"))
                self._file.write(batch)
                self._file.flush()
            except OSError as error:
                raise Unavailable("There is no room to check the update in.") from error
            self.rows += len(self._waiting)
            self._waiting.clear()

    def batches(self, decoder: msgspec.msgpack.Decoder[list[T]]) -> Iterator[list[T]]:
        """After `flush`; the decoder says what the rows are read as."""
        self._file.seek(0)
        while length := self._file.read(_LENGTH_BYTES):
            yield decoder.decode(self._file.read(int.from_bytes(length, "big")))

    def close(self) -> None:
        # what could not be written is tried once more, and is not wanted any longer
        with suppress(OSError):
            self._file.close()
