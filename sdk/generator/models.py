"""The module of the models: a struct for every type of the contract."""

import json
import keyword
import re
import textwrap
from collections.abc import Callable, Iterator

from generator.contract import Contract, Json, references
from generator.types import Types, is_model

LONGEST_COMMENT = 50
WIDTH = 100
# by the name whose use asks for it
IMPORTS = {
    "dt": "import datetime as dt",
    "Mapping": "from collections.abc import Mapping",
    "Sequence": "from collections.abc import Sequence",
    "Decimal": "from decimal import Decimal",
    "Any": "from typing import Any",
    "Literal": "from typing import Literal",
    "UUID": "from uuid import UUID",
    "msgspec": "import msgspec",
    "UNSET": "from msgspec import UNSET",
    "UnsetType": "from msgspec import UnsetType",
    **{
        name: f"from filmbuild_sdk.values import {name}"
        for name in ("Answer", "Choice", "Input", "Moment", "Money", "Quantity")
    },
    "Upload": "from filmbuild_sdk.uploads import Upload",
    "Progress": "from filmbuild_sdk.uploads import Progress",
    "calls": "from filmbuild_sdk import calls",
    "models": "from filmbuild_sdk import models",
}
MODULES = frozenset({"calls", "models"})


def models_modules(contract: Contract) -> dict[str, str]:
    """By module name: the types of each group of operations, and those that several share."""
    types = Types(contract)
    members: dict[str, list[str]] = {}
    for name in contract.used:
        if is_model(contract.schemas[name]):
            members.setdefault(contract.places[name], []).append(name)
    return {group: _module(members[group], contract, types) for group in sorted(members)}


def _module(names: list[str], contract: Contract, types: Types) -> str:
    classes = "\n\n".join(_class(name, contract, types) for name in names)
    used = sorted(
        {
            other
            for name in names
            for other in references(contract.schemas[name])
            if other not in names and is_model(contract.schemas[other])
        }
    )
    # resolved when a struct is first decoded into, so type checkers alone do not suffice
    borrowed = (
        f"from filmbuild_sdk.models.{contract.places[name]} import {name}\n" for name in used
    )
    return f"{imports(classes)}{''.join(borrowed)}\n{classes}\n"


def lazy_package(package: str, places: dict[str, str]) -> str:
    """A package whose names are loaded, each with its module, when they are first asked for."""
    shown = "".join(
        f"    from filmbuild_sdk.{package}.{place} import {name}\n"
        for name, place in sorted(places.items())
    )
    listed = "".join(f"    {name!r},\n" for name in sorted(places))
    held = "".join(f"    {name!r}: {place!r},\n" for name, place in sorted(places.items()))
    return (
        "from typing import TYPE_CHECKING\n"
        "from filmbuild_sdk.lazily import loader\n\n"
        f"if TYPE_CHECKING:\n{shown}"
        f"else:\n    __getattr__ = loader(\n        __name__, {{{held}}}\n    )\n\n"
        f"__all__ = [\n{listed}]\n"
    )


def imports(code: str) -> str:
    """Those of the known names that the code uses, in no order."""
    words = {name: rf"{name}\." if name in MODULES else rf"{name}\b" for name in IMPORTS}
    used = [IMPORTS[name] for name, word in words.items() if re.search(rf"(?<![\w.]){word}", code)]
    return "".join(f"{line}\n" for line in used)


def docstring(text: str, indent: str = "    ") -> str:
    if not text:
        return ""
    mark = 'r"""' if "\\" in text else '"""'
    width = WIDTH - len(indent)
    lines = [
        part
        for line in text.strip().split("\n")
        for part in textwrap.wrap(line, width, break_on_hyphens=False) or [""]
    ]
    body = "\n".join(indent + line if line else "" for line in lines).lstrip()
    return f"{indent}{mark}{body}" + (f"\n{indent}" if len(lines) > 1 else "") + '"""\n'


def _class(name: str, contract: Contract, types: Types) -> str:
    schema = contract.schemas[name]
    written = name in contract.written
    options = ["Input" if written else "Answer", "frozen=True", "kw_only=True"]
    tag = contract.tags.get(name)
    if tag:
        options += [f"tag_field={tag[0]!r}", f"tag={tag[1]!r}"]
    fields = [
        _field(field, one, types, required=field in schema.get("required", ()), written=written)
        for field, one in sorted(schema["properties"].items(), key=_place(schema))
        if not tag or field != tag[0]
    ]
    text = docstring(schema.get("description", ""))
    body = text + ("\n" if text and fields else "") + "".join(f"    {one}\n" for one in fields)
    return f"class {name}({', '.join(options)}):\n{body or '    pass'}\n"


def _place(schema: Json) -> Callable[[tuple[str, Json]], int]:
    """What is always there first, in the contract's order; the rest as it comes."""
    required = schema.get("required", [])
    return lambda one: required.index(one[0]) if one[0] in required else len(required)


def _field(name: str, schema: Json, types: Types, *, required: bool, written: bool) -> str:
    kind = types.of(schema, written=written)
    if required:
        return f"{python_name(name)}: {kind}{_renamed(name)}"
    default = "".join(_default(schema, types, written=written))
    if default.startswith("UNSET"):
        without = kind.removesuffix(" | None")
        kind = f"{without} | UnsetType" + kind.removeprefix(without)
    elif default == "None" and not kind.endswith("None"):
        kind += " | None"
    return f"{python_name(name)}: {kind}{_renamed(name, default)}"


def _default(schema: Json, types: Types, *, written: bool) -> Iterator[str]:
    given = schema.get("default")
    if written and "default" not in schema:
        yield "UNSET"
    elif given is None or given in ([], {}):
        yield {"None": "None", "[]": "()", "{}": "{}"}[str(given)]
    elif written:
        yield "UNSET"
        said = json.dumps(given)
        if len(said) <= LONGEST_COMMENT:
            yield f"  # left out: {said}"
    else:
        yield types.value(schema, given)


def python_name(name: str) -> str:
    """Of a field; some come from formats that write theirs in another way."""
    plain = re.sub(r"(?<=[a-z0-9])(?=[A-Z])", "_", name).lower()
    return f"{plain}_" if keyword.iskeyword(plain) else plain


def _renamed(name: str, default: str = "") -> str:
    if python_name(name) == name:
        return f" = {default}" if default else ""
    given, comment, said = default.partition("  # ")
    first = f"default={given}, " if given else ""
    return f" = msgspec.field({first}name={name!r}){comment}{said}"
