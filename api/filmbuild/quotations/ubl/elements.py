"""Elements of UBL documents, written so that the same document has the same bytes."""

import re
from xml.etree.ElementTree import Element, SubElement, indent, tostring

_SCHEMA = "urn:oasis:names:specification:ubl:schema:xsd:"
# XML 1.0 section 2.2: what is no Char cannot be written, not even as a reference
_NO_CHARACTER = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_DECLARATION = '<?xml version="1.0" encoding="UTF-8"?>\n'


def root(name: str) -> Element:
    """Of the document type `name`; its children are tagged with the prefixes cac and cbc."""
    namespaces = {
        "xmlns": f"{_SCHEMA}{name}-2",
        "xmlns:cac": f"{_SCHEMA}CommonAggregateComponents-2",
        "xmlns:cbc": f"{_SCHEMA}CommonBasicComponents-2",
    }
    return Element(name, namespaces)


def part(parent: Element, name: str) -> Element:
    """An aggregate, to be filled."""
    return SubElement(parent, f"cac:{name}")


def text(parent: Element, name: str, value: str | None, **attributes: str) -> None:
    """Nothing where there is no value: UBL has no empty elements (its rule IND5)."""
    if value:
        SubElement(parent, f"cbc:{name}", attributes).text = legal(value)


def legal(value: str) -> str:
    """With U+FFFD for what XML cannot hold."""
    return _NO_CHARACTER.sub("\ufffd", value)


def written(document: Element) -> bytes:
    indent(document)
    return (_DECLARATION + tostring(document, encoding="unicode") + "\n").encode()
