"""Requests that were good, and the ways in which they are spoilt."""

import re
from collections.abc import Callable, Iterator
from copy import deepcopy
from typing import Any, NamedTuple

from hypothesis import strategies as st

Path = tuple[str | int, ...]
_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?")
# fmt: off
WEIRD: tuple[Any, ...] = (
    None, True, 0, -1, 1e308, -1e308, 5e-324, -0.0, 10**25, 2**63, "", " ", "NaN", "Infinity",
    "1e400 m", "3 kg", "-2 ft", "0 ft", "1e9 ft", "1e-9 ft", "9" * 400, "x" * 5_000, "\x00",
    "\u202e", "\ud7ff" * 70, "\U0001f4a5" * 50, [], {}, [[]], ["x"] * 300, {"value": 1},
    {"value": -1e300, "unit": "ft"}, {"value": 1e300, "unit": "ft"}, {"value": 1, "unit": "\u202e"},
    "2026-02-30", "0001-01-01", "9999-12-31", "P1Y", "P999999999D", "PT0.000001S", "-PT1H",
    "1e30", "-1", "99.999", "00:00", "24:00", "Pacific/Apia", "../../etc", "harbour-20",
    "__proto__", "US",
)
# fmt: on


def _nested(depth: int) -> Any:
    value: Any = 1
    for level in range(depth):
        value = [value] if level % 2 else {"value": value}
    return value


_VALUES: st.SearchStrategy[Any] = st.one_of(
    st.sampled_from(WEIRD),
    st.integers(1, 200).map(_nested),
    st.recursive(
        st.none()
        | st.booleans()
        | st.integers()
        | st.floats(allow_nan=False, allow_infinity=False)
        | st.text(max_size=20),
        lambda inner: (
            st.lists(inner, max_size=3)
            | st.dictionaries(
                st.sampled_from(("value", "unit", "kind", "id", "x")), inner, max_size=3
            )
        ),
        max_leaves=5,
    ),
)


class Damage(NamedTuple):
    """What is done at a place, counted through the document; `value` is put there by some."""

    action: str
    place: int
    other: int
    value: Any


def damages(most: int = 4) -> st.SearchStrategy[list[Damage]]:
    place = st.integers(0, 2**31)
    one = st.builds(Damage, st.sampled_from(sorted(_ACTIONS)), place, place, _VALUES)
    return st.lists(one, min_size=1, max_size=most)


def damaged(document: Any, done: list[Damage]) -> Any:
    document = deepcopy(document)
    for damage in done:
        paths = list(places(document))
        if not paths:
            break
        *path, name = paths[damage.place % len(paths)]
        _ACTIONS[damage.action](_at(document, path), name, damage, document)
    return document


def places(value: Any, path: Path = ()) -> Iterator[Path]:
    """The path of every member of every object and array."""
    members = value.items() if isinstance(value, dict) else enumerate(value)
    for name, one in members:
        yield (*path, name)
        if isinstance(one, dict | list):
            yield from places(one, (*path, name))


def _at(document: Any, path: list[str | int] | Path) -> Any:
    for name in path:
        document = document[name]
    return document


def _delete(parent: Any, name: Any, _damage: Damage, _document: Any) -> None:
    del parent[name]


def _replace(parent: Any, name: Any, damage: Damage, _document: Any) -> None:
    parent[name] = deepcopy(damage.value)


def _double(parent: Any, name: Any, damage: Damage, _document: Any) -> None:
    if isinstance(parent, list):
        parent.extend(deepcopy(parent[name]) for _ in range(1 + damage.other % 30))


def _add(parent: Any, _name: Any, damage: Damage, _document: Any) -> None:
    if isinstance(parent, dict):
        known = ("extra", "id", "kind", "edges", "unit", "a/b~c")
        parent[known[damage.other % len(known)]] = deepcopy(damage.value)


def _swap(parent: Any, name: Any, damage: Damage, document: Any) -> None:
    """Another part of the document, one of the same name where there is any."""
    paths = list(places(document))
    alike = [path for path in paths if path[-1] == name]
    chosen = alike if damage.other % 2 else paths
    parent[name] = deepcopy(_at(document, chosen[damage.other // 2 % len(chosen)]))


def _tweak(parent: Any, name: Any, damage: Damage, _document: Any) -> None:
    """A number near or far from what it was, alone or in text: what still fits the schema."""
    value = parent[name]
    factor = (0.0, 1.0000001, 0.5, 2.0, 7.0, 1e-6, 1e6, -1.0)[damage.other % 8]
    if isinstance(value, bool):
        parent[name] = not value
    elif isinstance(value, int):
        parent[name] = int(value * factor) + damage.other % 2
    elif isinstance(value, float):
        parent[name] = value * factor
    elif isinstance(value, str) and (number := _NUMBER.search(value)):
        text = ("0", "1", "7", "60", "0.001", "9999", "1000000")[damage.other % 7]
        parent[name] = value[: number.start()] + text + value[number.end() :]


_ACTIONS: dict[str, Callable[[Any, Any, Damage, Any], None]] = {
    "add": _add,
    "delete": _delete,
    "double": _double,
    "replace": _replace,
    "swap": _swap,
    "tweak": _tweak,
    "tweak more": _tweak,
    "tweak still more": _tweak,
}
TEXTS: tuple[bytes, ...] = (
    b"", b"\x00", b"\xff", b"\xef\xbb\xbf", b'"', b"\\", b"\\ud83d", b"\\u0000", b"{", b"}", b"[" * 9_000,
    b'{"a":' * 9_000, b",", b":", b"NaN", b"-Infinity", b"1e999", b"-0", b"01", b"9" * 9_000, b"null",
    b'"site":{},', b'"units":"si",', b"//", b"\xed\xa0\x80",
)  # fmt: skip


def torn(text: bytes, at: int, length: int, piece: bytes) -> bytes:
    """The text with some of it, most often none, replaced by a piece of other text."""
    at %= len(text) + 1
    return text[:at] + piece + text[at + length :]


def leads_to_place(document: Any, pointer: str) -> bool:
    """Whether a JSON Pointer leads to a member, or to where its object lacks one."""
    *path, last = [
        name.replace("~1", "/").replace("~0", "~") for name in pointer.split("/")[1:]
    ] or [""]
    value = document
    for name in path:
        if isinstance(value, list) and name.isdecimal() and int(name) < len(value):
            value = value[int(name)]
        elif isinstance(value, dict) and name in value:
            value = value[name]
        else:
            return False
    if pointer == "" or isinstance(value, dict):
        return True
    return isinstance(value, list) and last.isdecimal() and int(last) < len(value)
