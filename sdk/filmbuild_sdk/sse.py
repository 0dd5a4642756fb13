"""Server-sent events, read from bytes as they come (WHATWG HTML, section 9.2.6)."""

from collections.abc import Iterator
from dataclasses import dataclass

BYTE_ORDER_MARK = b"\xef\xbb\xbf"


@dataclass(frozen=True, slots=True)
class Message:
    """`id` is that of the last message that had one."""

    event: str
    data: str
    id: str


class Parser:
    """Of one connection. A message that was cut off is no message."""

    def __init__(self) -> None:
        self.retry: float | None = None
        self._rest = b""
        self._first = True
        self._id = ""
        self._event = ""
        self._data: list[str] = []

    def feed(self, content: bytes) -> Iterator[Message]:
        for line in self._lines(content):
            if line:
                self._take(line)
            elif message := self._message():
                yield message

    def _lines(self, content: bytes) -> Iterator[str]:
        """Ended by CR, LF or both; a CR at the end of the bytes may have its LF yet to come."""
        self._rest += content
        while (end := _first_end(self._rest)) is not None:
            if self._rest[end:] == b"\r":
                return
            line = self._rest[:end]
            pair = self._rest[end : end + 2] == b"\r\n"
            self._rest = self._rest[end + 1 + pair :]
            if self._first:
                line = line.removeprefix(BYTE_ORDER_MARK)
                self._first = False
            yield line.decode(errors="replace")

    def _take(self, line: str) -> None:
        field, _, value = line.partition(":")
        value = value.removeprefix(" ")
        if field == "event":
            self._event = value
        elif field == "data":
            self._data.append(value)
        elif field == "id" and "\0" not in value:
            self._id = value
        elif field == "retry" and value.isascii() and value.isdigit():
            self.retry = int(value) / 1000

    def _message(self) -> Message | None:
        event, data = self._event or "message", self._data
        self._event, self._data = "", []
        return Message(event, "\n".join(data), self._id) if data else None


def _first_end(content: bytes) -> int | None:
    ends = [place for mark in (b"\n", b"\r") if (place := content.find(mark)) >= 0]
    return min(ends, default=None)
