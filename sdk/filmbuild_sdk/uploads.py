"""Bodies that come from files: sent piece by piece, and told how far they are."""

import asyncio
import io
from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO, TypeAlias

Upload: TypeAlias = bytes | Path | BinaryIO
# called with the bytes sent so far and how many there are, where that is known; from 0 at each try
Progress: TypeAlias = Callable[[int, int | None], None]
PIECE = 64 * 1024


def is_upload(body: object) -> bool:
    return isinstance(body, bytes | Path) or hasattr(body, "read")


class Source:
    """A body, for one try after another.

    A file that cannot be rewound, such as a pipe, is sent once. An open file is sent from where it
    stands and left open.
    """

    def __init__(self, body: Upload, progress: Progress | None) -> None:
        if isinstance(body, io.TextIOBase):
            raise TypeError('open the file for bytes, with open(path, "rb")')
        self._body = body
        self._progress = progress
        self._start = _place(body)
        self.size = _size(body, self._start)
        self._begun = False

    @property
    def again(self) -> bool:
        """It can be sent from its beginning, still or once more."""
        return self._start is not None or not self._begun

    def pieces(self) -> Iterator[bytes]:
        with self._reader() as read:
            yield from self._counted(iter(lambda: read(PIECE), b""))

    async def pieces_waiting(self) -> AsyncIterator[bytes]:
        """The file is read beside the event loop, so that a slow disk does not hold up the rest."""
        with self._reader() as read:
            sent = 0
            self._tell(sent)
            while piece := await asyncio.to_thread(read, PIECE):
                yield piece
                sent += len(piece)
                self._tell(sent)

    def _counted(self, pieces: Iterator[bytes]) -> Iterator[bytes]:
        sent = 0
        self._tell(sent)
        for piece in pieces:
            yield piece
            sent += len(piece)
            self._tell(sent)

    def _tell(self, sent: int) -> None:
        if self._progress is not None:
            self._progress(sent, self.size)

    @contextmanager
    def _reader(self) -> Iterator[Callable[[int], bytes]]:
        self._begun = True
        if isinstance(self._body, bytes):
            yield io.BytesIO(self._body).read
        elif isinstance(self._body, Path):
            with self._body.open("rb") as file:
                yield file.read
        else:
            if self._start is not None:
                self._body.seek(self._start)
            yield self._body.read


def _place(body: Upload) -> int | None:
    """Where it begins; None where it cannot be gone back to."""
    if isinstance(body, bytes | Path):
        return 0
    return body.tell() if body.seekable() else None


def _size(body: Upload, start: int | None) -> int | None:
    if isinstance(body, bytes):
        return len(body)
    if isinstance(body, Path):
        return body.stat().st_size
    if start is None:
        return None
    end = body.seek(0, io.SEEK_END)
    body.seek(start)
    return end - start
