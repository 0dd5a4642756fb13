"""Quantities as they are lettered on a drawing."""

from filmbuild.pipeline.drawing.svg import number
from filmbuild.quantities import Length, Quantity, UnitSystem, format_text

_POWERS = {" ft2": " ft\u00b2", " m2": " m\u00b2"}


def shown(quantity: Quantity, system: UnitSystem) -> str:
    """Lengths in metres are told to the millimetre, as a tape is read."""
    if system == "si" and isinstance(quantity, Length):
        return f"{number(quantity)} m"
    text = format_text(quantity, system)
    for plain, raised in _POWERS.items():
        text = text.replace(plain, raised)
    return text


def listed(parts: list[str]) -> str:
    return " \u00b7 ".join(parts)
