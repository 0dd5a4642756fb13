"""JSON Schemas as Python types, and their defaults as Python values."""

import datetime as dt
from collections.abc import Iterable
from typing import Any

import msgspec

from generator.contract import Contract, Json, referred

FORMATS = {
    "date": "dt.date",
    "date-time": "Moment",
    "decimal": "Decimal",
    "iso8601-duration": "dt.timedelta",
    "uuid": "UUID",
}
SIMPLE = {"string": "str", "integer": "int", "number": "float", "boolean": "bool", "null": "None"}
LONGEST_CHOICE = 30


class UnknownSchemaError(Exception):
    """The contract says something that this generator has no Python for."""


def is_quantity(schema: Json) -> bool:
    """A value with its unit, or a choice of that and text."""
    return any(
        set(one.get("properties", ())) == {"value", "unit"} for one in schema.get("anyOf", [schema])
    )


def is_money(schema: Json) -> bool:
    return set(schema.get("properties", ())) == {"amount", "currency"}


def is_model(schema: Json) -> bool:
    """It becomes a class of its own."""
    return "properties" in schema and not is_quantity(schema) and not is_money(schema)


class Types:
    def __init__(self, contract: Contract) -> None:
        self._schemas = contract.schemas

    def of(self, schema: Json, *, written: bool) -> str:
        """`written` types are what callers make: choices stay choices, quantities may be text."""
        if name := referred(schema):
            target = self._schemas[name]
            return name if is_model(target) else self.of(target, written=written)
        if is_quantity(schema):
            return "Quantity | str" if written else "Quantity"
        if is_money(schema):
            return "Money"
        if members := schema.get("anyOf") or schema.get("oneOf"):
            return _union(self.of(one, written=written) for one in members)
        if "enum" in schema:
            return _choice(schema["enum"], written=written)
        return self._by_type(schema, written=written)

    def _by_type(self, schema: Json, *, written: bool) -> str:
        kind = schema.get("type")
        if "contentMediaType" in schema:
            return "bytes"
        if kind == "array":
            return self._array(schema, written=written)
        if kind == "object":
            values = schema.get("additionalProperties", {})
            inner = self.of(values, written=written) if isinstance(values, dict) else "Any"
            return f"{'Mapping' if written else 'dict'}[str, {inner}]"
        if kind == "string":
            return FORMATS.get(schema.get("format", ""), "str")
        if kind in SIMPLE:
            return SIMPLE[kind]
        if kind is None and not schema.keys() & {"allOf", "not", "const", "properties"}:
            return "Any"
        raise UnknownSchemaError(schema)

    def _array(self, schema: Json, *, written: bool) -> str:
        if "prefixItems" in schema:
            inner = ", ".join(self.of(one, written=written) for one in schema["prefixItems"])
            return f"tuple[{inner}]"
        inner = self.of(schema["items"], written=written)
        return f"Sequence[{inner}]" if written else f"tuple[{inner}, ...]"

    def value(self, schema: Json, given: Any) -> str:  # noqa: ANN401 - any JSON value
        """The default of an answer's field, as Python."""
        if name := referred(schema):
            target = self._schemas[name]
            return self._object(name, given) if is_model(target) else self.value(target, given)
        if is_quantity(schema) and given is not None:
            return f"Quantity({given['value']!r}, {given['unit']!r})"
        for one in schema.get("anyOf", ()):
            if given is not None and one != {"type": "null"}:
                return self.value(one, given)
        if isinstance(given, list):
            return "(" + "".join(self.value(schema["items"], one) + ", " for one in given) + ")"
        return _plain(schema.get("format"), given)

    def _object(self, name: str, given: Json) -> str:
        properties = self._schemas[name]["properties"]
        fields = (f"{field}={self.value(properties[field], one)}" for field, one in given.items())
        return f"{name}({', '.join(fields)})"


def _plain(form: str | None, given: Any) -> str:  # noqa: ANN401 - any JSON value
    if form == "decimal":
        return f"Decimal({given if given.isdecimal() else repr(given)})"
    if form == "iso8601-duration":
        seconds = msgspec.convert(given, dt.timedelta).total_seconds()
        return f"dt.timedelta(seconds={seconds!r})"
    return repr(given)


def _union(members: Iterable[str]) -> str:
    parts = dict.fromkeys(part for member in members for part in member.split(" | "))
    return " | ".join(sorted(parts, key=lambda part: part == "None"))


def _choice(words: list[Any], *, written: bool) -> str:
    if all(type(word) is int for word in words):
        return f"Literal[{', '.join(map(repr, words))}]" if written else "int"
    if not all(isinstance(word, str) for word in words):
        raise UnknownSchemaError(words)
    if not written or len(words) > LONGEST_CHOICE:
        return "str"
    return f"Choice[Literal[{', '.join(map(repr, words))}]]"
