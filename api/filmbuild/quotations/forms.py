"""Bodies of plain HTML forms, read as strictly as JSON is."""

from typing import Any, TypeVar
from urllib.parse import parse_qsl

import msgspec

from filmbuild.edge.decoding import decode
from filmbuild.errors import Faults

T = TypeVar("T")
FORM = "application/x-www-form-urlencoded"
_MOST_FIELDS = 100


def read_form(kind: type[T], content: bytes, several: frozenset[str] = frozenset()) -> T:
    """Fields that are empty were not filled in; those in `several` may come more than once.

    Lines of a text are joined. Raises InvalidInput with a pointer to each field that is wrong.
    """
    faults = Faults()
    found: dict[str, Any] = {}
    for name, text in _fields(content, faults):
        value = " ".join(text.split())
        if not value:
            continue
        if name in several:
            found.setdefault(name, []).append(value)
        elif name in found:
            faults.add("duplicate-field", "this field is given more than once", name)
        else:
            found[name] = value
    faults.raise_if_any()
    return decode(kind, msgspec.json.encode(found))


def _fields(content: bytes, faults: Faults) -> list[tuple[str, str]]:
    try:
        return parse_qsl(
            content.decode(), max_num_fields=_MOST_FIELDS, encoding="utf-8", errors="strict"
        )
    except ValueError:
        detail = f"accepted: a form in UTF-8 with at most {_MOST_FIELDS} fields"
        faults.add("malformed-form", detail)
        return []
