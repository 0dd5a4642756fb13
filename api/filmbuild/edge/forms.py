"""Bodies that a web page's form sends without any script, read as the JSON that they stand for."""

from typing import Any
from urllib.parse import parse_qsl

import msgspec

from filmbuild.errors import Fault, InvalidInput, MalformedJson

FORM = "application/x-www-form-urlencoded"
LARGEST_FIELDS = 200


def json_of(content: bytes) -> bytes:
    """A field `total.amount` is the member `amount` of `total`; `options[]` is one of a list.

    Fields without a value are left out, as a page sends its empty fields too. Raises InvalidInput
    where a field comes twice, and MalformedJson where the text is no form.
    """
    try:
        pairs = parse_qsl(
            content.decode("ascii"),
            strict_parsing=bool(content),
            errors="strict",
            max_num_fields=LARGEST_FIELDS,
        )
    except ValueError as error:
        raise MalformedJson("The body is not a form.") from error
    tree: dict[str, Any] = {}
    for name, value in pairs:
        _put(tree, name, value)
    return msgspec.json.encode(tree)


def _put(tree: dict[str, Any], name: str, value: str) -> None:
    *above, last = name.removesuffix("[]").split(".")
    for one in above:
        tree = tree.setdefault(one, {})
        if not isinstance(tree, dict):
            raise _twice(name)
    if name.endswith("[]"):
        values = tree.setdefault(last, [])
        if not isinstance(values, list):
            raise _twice(name)
        values.append(value)
    elif last in tree:
        raise _twice(name)
    else:
        tree[last] = value


def _twice(name: str) -> InvalidInput:
    fault = Fault(
        "/" + name.removesuffix("[]").replace(".", "/"), "duplicate-field", "give it once"
    )
    return InvalidInput("A field of the form came twice.", (fault,))
