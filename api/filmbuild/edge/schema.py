"""JSON Schema of the contract's types, for the components of the OpenAPI document."""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from functools import partial
from inspect import cleandoc
from typing import Any

import msgspec
from msgspec import _json_schema

from filmbuild import money, quantities
from filmbuild.edge.encoding import enc_hook

REFERENCE = "#/components/schemas/{name}"


def schema_hook(kind: type) -> dict[str, Any]:
    """The whole schema of a quantity, an exact decimal or a currency."""
    if issubclass(kind, quantities.Quantity):
        return quantities.schema_hook(kind)
    return money.schema_hook(kind)


@contextmanager
def _defaults_in_words() -> Iterator[None]:
    """Msgspec 0.22 writes defaults without an encoding hook, so it fails on our own types."""
    in_words = partial(msgspec.to_builtins, enc_hook=enc_hook("si"))
    setattr(_json_schema, "to_builtins", in_words)  # noqa: B010 - a private name that mypy does not export
    try:
        yield
    finally:
        setattr(_json_schema, "to_builtins", msgspec.to_builtins)  # noqa: B010 - as above


def schemas(types: Iterable[Any]) -> tuple[tuple[dict[str, Any], ...], dict[str, Any]]:
    """The schema of each type, mostly a reference, and the components they refer to.

    Quantities and money become components of their own, each written once.
    """
    used: dict[str, dict[str, Any]] = {}

    def refer(kind: type) -> dict[str, Any]:
        used[kind.__name__] = {"title": kind.__name__, **schema_hook(kind)}
        return {"$ref": REFERENCE.format(name=kind.__name__)}

    with _defaults_in_words():
        top, found = msgspec.json.schema_components(
            types, schema_hook=refer, ref_template=REFERENCE
        )
    if clash := used.keys() & found.keys():
        raise ValueError(f"component names are taken twice: {sorted(clash)}")
    for component in found.values():
        if "description" in component:
            component["description"] = cleandoc(component["description"])
    return top, dict(sorted((found | used).items()))


def components(types: Iterable[Any]) -> dict[str, Any]:
    return schemas(types)[1]
