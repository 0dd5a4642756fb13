"""Strict decoding of request bodies: fast when all is well, thorough when it is not.

The slow path reads what the fast path refused, and accepts one thing more: a whole number written
with a point or an exponent (5.0, 1e3), which JSON Schema counts as an integer. Names that stand
twice in an object are refused on both paths.
"""

import re
from collections.abc import Hashable
from functools import cache
from typing import Any, TypeVar, cast

import msgspec

from filmbuild import money, quantities
from filmbuild.edge.json_text import read, repeats_names
from filmbuild.edge.walking import walk
from filmbuild.errors import Fault, Faults, InvalidInput, MalformedJson, PayloadTooLarge, pointer

T = TypeVar("T")
MAXIMUM_BODY_BYTES = 1 << 20
MOST_EXPLAINED_VALUES = 500_000
"""A body of 8 MiB has some 400,000 where names and values are of the usual length."""
_PATH_TOKEN = re.compile(r"\.([^.\[]+)|\[(\d+|\.\.\.)\]")


def dec_hook(kind: type, value: object) -> Any:  # noqa: ANN401 - msgspec asks for this signature
    """Decodes quantities and money; raises a `Refusal`."""
    if issubclass(kind, quantities.Quantity):
        return quantities.dec_hook(kind, value)
    return money.dec_hook(kind, value)


@cache
def _decoder(kind: Any) -> msgspec.json.Decoder[Any]:  # noqa: ANN401 - a cache key need not be generic
    return msgspec.json.Decoder(kind, dec_hook=dec_hook, strict=True)


@cache
def _type_info(kind: Any) -> msgspec.inspect.Type:  # noqa: ANN401 - as above
    return msgspec.inspect.type_info(kind)


def decode(kind: type[T], body: bytes, *, max_bytes: int = MAXIMUM_BODY_BYTES) -> T:
    """Raises `PayloadTooLarge`, `MalformedJson`, or `InvalidInput` with every fault there is."""
    if len(body) > max_bytes:
        raise PayloadTooLarge(f"At most {max_bytes} bytes are read here.")
    try:
        value: T = _decoder(cast("Hashable", kind)).decode(body)
        if not repeats_names(body):
            return value
    except msgspec.ValidationError as error:
        if body.count(b",") > MOST_EXPLAINED_VALUES:
            first = fault_of(error)
            told = f"the body has more than {MOST_EXPLAINED_VALUES} values: only its first fault is told"
            more = Fault("", "more-faults", told)
            raise InvalidInput("The request is not valid.", (first, more)) from error
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError):
        pass
    return _explain(kind, body)


def _explain(kind: type[T], body: bytes) -> T:
    faults = Faults()
    try:
        tree = walk(_type_info(cast("Hashable", kind)), read(body), faults, dec_hook)
    except RecursionError:
        raise MalformedJson("The body is nested too deeply.") from None
    faults.raise_if_any()
    try:
        return msgspec.convert(tree, kind, dec_hook=dec_hook, strict=True)
    except msgspec.ValidationError as error:
        raise InvalidInput("The request is not valid.", (fault_of(error),)) from error


def fault_of(error: msgspec.ValidationError) -> Fault:
    """What msgspec says, with its path turned into a JSON Pointer."""
    reason, _, path = str(error).partition(" - at `$")
    tokens = tuple(name or index for name, index in _PATH_TOKEN.findall(path.rstrip("`")))
    return Fault(pointer(tokens), "invalid-value", reason)
