"""Loads the modules of a package when something of them is first asked for.

The contract has hundreds of types, and a program uses a few: importing the package must not make
them all.
"""

import sys
from collections.abc import Callable, Mapping
from importlib import import_module


def loader(package: str, places: Mapping[str, str]) -> Callable[[str], object]:
    """The package's `__getattr__` (PEP 562); `places` has the module of each name."""

    def load(name: str) -> object:
        place = places.get(name)
        if place is None:
            raise AttributeError(f"module {package!r} has no attribute {name!r}")
        value: object = getattr(import_module(f"{package}.{place}"), name)
        setattr(sys.modules[package], name, value)
        return value

    return load
