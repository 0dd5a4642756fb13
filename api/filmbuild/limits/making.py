"""The gate with its limits, as the settings have them."""

from collections.abc import Callable
from pathlib import Path

from filmbuild.edge.gate import Gate
from filmbuild.limits.buckets import Store
from filmbuild.limits.file import FileStore
from filmbuild.limits.gate import LimitedGate
from filmbuild.limits.memory import MemoryStore
from filmbuild.limits.patience import Event, OpenWhereItFails, unnoticed
from filmbuild.settings import Limits

FILE_NAME = "limits.sqlite3"


def limited(
    gate: Gate, limits: Limits, folder: Path, note: Callable[[Event], None] = unnoticed
) -> tuple[Gate, OpenWhereItFails | None]:
    """The gate as it is where there are no limits; what comes with it is to be closed."""
    if limits.url == "off":
        return gate, None
    buckets = OpenWhereItFails(_store(limits.url, folder), note)
    return LimitedGate(gate, buckets, limits, note), buckets


def _store(url: str, folder: Path) -> Store:
    if url == "file:":
        return FileStore(folder / FILE_NAME)
    if url == "memory:":
        return MemoryStore()
    from filmbuild.limits.valkey import ValkeyStore  # noqa: PLC0415 - its library is optional

    return ValkeyStore(url)
