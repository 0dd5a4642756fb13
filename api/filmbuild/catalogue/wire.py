"""A whole catalogue as one JSON document, as people author it: quantities are written with units."""

from importlib import resources
from typing import Any

import msgspec

from filmbuild.edge.decoding import decode
from filmbuild.pipeline.site import Input, Label
from filmbuild.pipeline.specification import (
    ConsumableRule,
    Pack,
    PackPrice,
    Product,
    RateBook,
    Record,
    Supplier,
    System,
    TaxRule,
)

LARGEST_CATALOGUE_BYTES = 512 << 20


class CatalogueFile(Input, frozen=True, kw_only=True):
    """Everything that is current: what a later document no longer holds is retired by it.

    Prices are the exception: they are only added to.
    """

    name: Label
    products: tuple[Product, ...] = ()
    packs: tuple[Pack, ...] = ()
    prices: tuple[PackPrice, ...] = ()
    systems: tuple[System, ...] = ()
    rate_books: tuple[RateBook, ...] = ()
    consumables: tuple[ConsumableRule, ...] = ()
    taxes: tuple[TaxRule, ...] = ()
    suppliers: tuple[Supplier, ...] = ()


class Authored(msgspec.Struct, frozen=True):
    """A catalogue document, and each of its records as the canonical text of what was written.

    `named` are the lists that stand in it, empty ones too.
    """

    file: CatalogueFile
    texts: dict[str, tuple[str, ...]]
    named: frozenset[str] = frozenset()

    def records(self, kind: str) -> tuple[tuple[Record, str], ...]:
        return tuple(zip(getattr(self.file, kind), self.texts[kind], strict=True))


def read(body: bytes) -> Authored:
    """Raises `MalformedJson`, or `InvalidInput` with every fault of form."""
    return authored(decode(CatalogueFile, body, max_bytes=LARGEST_CATALOGUE_BYTES), body)


def authored(file: CatalogueFile, body: bytes) -> Authored:
    """Of a document that has been decoded from `body`."""
    tree = msgspec.json.decode(body)
    lists = [field.name for field in msgspec.structs.fields(CatalogueFile) if field.name != "name"]
    texts = {name: tuple(canonical(one) for one in tree.get(name, ())) for name in lists}
    return Authored(file, texts, frozenset(tree).intersection(lists))


def demo() -> bytes:
    """The catalogue of an invented supplier that comes with the service."""
    return resources.files("filmbuild.catalogue").joinpath("demo.json").read_bytes()


def canonical(record: object) -> str:
    """One text for one meaning: members sorted, no spaces, whole numbers without a point."""
    return msgspec.json.encode(_plain(record), order="sorted").decode()


def _plain(value: Any) -> Any:  # noqa: ANN401 - any JSON value
    if type(value) is dict:
        return {name: _plain(member) for name, member in value.items()}
    if type(value) is list:
        return [_plain(item) for item in value]
    return int(value) if type(value) is float and value.is_integer() else value
