"""Elements of SVG 1.1 with numbers and text that are safe to write."""

from collections.abc import Iterable
from unicodedata import category
from xml.etree.ElementTree import Element, SubElement

from filmbuild.pipeline.geometry import Point

NAMESPACE = "http://www.w3.org/2000/svg"
_JOINERS = "\u200c\u200d"
_REPLACEMENT = "\ufffd"


def child(parent: Element, tag: str, text: str = "", /, **attributes: str | float) -> Element:
    """Attributes are named as in SVG, with "_" for "-" and "class_" for "class"."""
    element = SubElement(parent, tag, _written(attributes))
    if text:
        element.text = printable(text)
    return element


def root(**attributes: str | float) -> Element:
    return Element("svg", {"xmlns": NAMESPACE, **_written(attributes)})


def _written(attributes: dict[str, str | float]) -> dict[str, str]:
    return {
        name.rstrip("_").replace("_", "-"): value if isinstance(value, str) else number(value)
        for name, value in attributes.items()
    }


def number(value: float) -> str:
    """To a thousandth of a millimetre."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def path(points: Iterable[Point], *, closed: bool = False) -> str:
    joined = "L".join(f"{number(x)} {number(y)}" for x, y in points)
    return f"M{joined}{'Z' if closed else ''}"


def printable(text: str) -> str:
    """Without what XML cannot hold, and without what would turn the direction of the line."""
    if text.isascii() and text.isprintable():
        return text
    return "".join([one if _is_printable(one) else _REPLACEMENT for one in text])


def _is_printable(character: str) -> bool:
    return category(character) not in ("Cc", "Cf", "Cn", "Co", "Cs", "Zl", "Zp") or (
        character in _JOINERS
    )
