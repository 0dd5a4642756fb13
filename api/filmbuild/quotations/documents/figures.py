"""Drawings and charts made ready to stand in a page: safe, with ids of their own, translated."""

import re
from collections.abc import Iterator
from xml.etree import ElementTree as ET

from filmbuild.pipeline.drawing.lettering import width_of
from filmbuild.pipeline.drawing.svg import NAMESPACE
from filmbuild.quotations.documents.languages import Language
from filmbuild.quotations.documents.shown import Figure
from filmbuild.quotations.documents.writer import Writer

ET.register_namespace("", NAMESPACE)
_ELEMENTS = frozenset(
    [
        "svg",
        "title",
        "desc",
        "defs",
        "pattern",
        "clipPath",
        "mask",
        "g",
        "path",
        "rect",
        "circle",
        "ellipse",
        "line",
        "polyline",
        "polygon",
        "text",
        "tspan",
    ]
)
"""What is drawn; anything else, such as a script or a foreign object, is left out."""
_ATTRIBUTES = frozenset(("style", "href"))
_REFERENCE = re.compile(r"url\(#")
_PIECES = " \u00b7 "
_FIGURE = re.compile(
    r"(?:1 : )?[-\d.,\u202f /\u00d7x]+"
    r"(?:(?:ft\u00b2|m\u00b2|ft|in|mm|cm|m|L|gal|lb|kg)[\d., /\u00d7x]*)*"
)
_POINT = re.compile(r"(?<=\d)\.(?=\d)")
_MONTH = re.compile(r"([A-Z][a-z]{2}) (\d{4})")
_WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_DATED = re.compile("(" + "|".join(_WEEKDAYS) + r") (\d+) (" + "|".join(_MONTHS) + r") (\d\d:\d\d)")
_NAMES_LEFT, _NAMES_WIDE = 12.0, 52.0
"""[mm] Where a chart's column of activities begins, and what it holds before the dates."""


def figure(svg: str, prefix: str, title: str, writer: Writer) -> Figure:
    """`svg` is a drawing of the pipeline; the lettering is narrowed where a translation is longer."""
    root = ET.fromstring(svg)  # noqa: S314 - made by the pipeline, which escapes what it letters
    _clean(root, prefix)
    if writer.language.phrases:
        for element in root.iter():
            _translate(element, writer)
    _, _, width, height = map(float, root.get("viewBox", "0 0 1 1").split())
    root.set("class", "drawn")
    return Figure(
        title=title, svg=ET.tostring(root, encoding="unicode"), width=width, height=height
    )


def _clean(element: ET.Element, prefix: str) -> None:
    for name, value in list(element.attrib.items()):
        plain = name.rpartition("}")[2]
        if plain in _ATTRIBUTES or plain.startswith("on"):
            del element.attrib[name]
        elif plain == "id":
            element.set(name, prefix + value)
        elif plain == "aria-labelledby":
            element.set(name, " ".join(prefix + one for one in value.split()))
        elif "url(#" in value:
            element.set(name, _REFERENCE.sub(f"url(#{prefix}", value))
    for child in list(element):
        if _tag(child) in _ELEMENTS:
            _clean(child, prefix)
        else:
            element.remove(child)


def _tag(element: ET.Element) -> str:
    """Comments and the like have no name in letters."""
    name: object = element.tag
    return name.rpartition("}")[2] if isinstance(name, str) else ""


def _translate(element: ET.Element, writer: Writer) -> None:
    if not element.text:
        return
    said = _said(element.text, writer)
    if _tag(element) == "text" and said != element.text:
        _fit(element, element.text, said)
    element.text = said


def _said(text: str, writer: Writer) -> str:
    return _PIECES.join(_piece(one, writer) for one in text.split(_PIECES))


def _piece(text: str, writer: Writer) -> str:
    symbol = writer.locale.number_symbols["latn"]["decimal"]
    if _FIGURE.fullmatch(text):
        return _POINT.sub(symbol, text)
    month_of = _MONTH.fullmatch(text)
    if month_of is not None and month_of[1] in _MONTHS:
        return f"{_month(month_of[1], writer)} {month_of[2]}"
    if text in _WEEKDAYS:
        return _weekday(text, writer)
    if text in _MONTHS:
        return _month(text, writer)
    said = _sentence(text, writer.language)
    if said != text:
        said = _POINT.sub(symbol, said)
    return _DATED.sub(lambda found: _dated(found, writer), said)


def _dated(found: re.Match[str], writer: Writer) -> str:
    weekday, day, month, clock = found.groups()
    return f"{_weekday(weekday, writer)} {day} {_month(month, writer)} {clock}"


def _sentence(text: str, language: Language) -> str:
    """Several sentences are translated one by one where they are not known together."""
    said = language.said(text)
    if said != text or ". " not in text:
        return said
    return " ".join(_sentences(text, language))


def _sentences(text: str, language: Language) -> Iterator[str]:
    for one in re.split(r"(?<=\.) ", text):
        bare = one.removesuffix(".")
        pieces = [language.said(piece) for piece in bare.split(_PIECES)]
        yield _PIECES.join(pieces) + one[len(bare) :]


def _weekday(english: str, writer: Writer) -> str:
    return str(writer.locale.days["format"]["abbreviated"][_WEEKDAYS.index(english)]).rstrip(".")


def _month(english: str, writer: Writer) -> str:
    names = writer.locale.months["format"]["abbreviated"]
    return str(names[_MONTHS.index(english) + 1]).rstrip(".")


def _fit(element: ET.Element, was: str, said: str) -> None:
    """Smaller lettering where the words are wider than those that the room was measured for."""
    bold = element.get("font-weight") == "bold"
    room, wide = width_of(was, 1.0, bold=bold), width_of(said, 1.0, bold=bold)
    size = float(element.get("font-size", "1"))
    if element.get("x") == str(int(_NAMES_LEFT)):
        room = max(room, _NAMES_WIDE / size)
    if wide > room:
        element.set("font-size", f"{size * room / wide:.3f}".rstrip("0").rstrip("."))
