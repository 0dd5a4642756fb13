"""JSON texts as they are kept: compressed, since a result is ten times as long as it need be.

The fastest level of zlib: half the time of PostgreSQL's own compression, and no slower on SQLite
than writing the longer text.
"""

import zlib

_FASTEST = 1


def packed(text: bytes) -> bytes:
    return zlib.compress(text, _FASTEST)


def unpacked(content: bytes) -> bytes:
    return zlib.decompress(content)
