"""Answers as JSON, in the unit system that the caller asked for."""

from collections.abc import Callable
from functools import cache
from typing import Any

import msgspec

from filmbuild import money, quantities


@cache
def enc_hook(system: quantities.UnitSystem) -> Callable[[Any], object]:
    """Encodes quantities and money."""
    table = {**quantities.converters(system), **money.converters}

    def hook(value: object) -> object:
        converter = table.get(type(value))
        if converter is None:
            raise NotImplementedError(f"{type(value).__name__} has no JSON form")
        return converter(value)

    return hook


@cache
def encoder(system: quantities.UnitSystem) -> msgspec.json.Encoder:
    return msgspec.json.Encoder(enc_hook=enc_hook(system))


def encode(value: object, system: quantities.UnitSystem) -> bytes:
    return encoder(system).encode(value)
