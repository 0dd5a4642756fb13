"""Documents read back: the sums of a page, of print, of a table, of linked data."""

import csv
import io
import re
from decimal import Decimal
from typing import Any

import msgspec
import pypdf
from lxml import html
from pyld import jsonld

from filmbuild.quotations.content import QuotationContent
from filmbuild.quotations.documents.json_ld import offer_json_ld
from filmbuild.quotations.documents.lines import offer_lines_csv

VOCABULARY = "https://schema.org/"
_AMOUNT = re.compile(r"-?[\d.,\u00a0]*\d")


class Read(msgspec.Struct, frozen=True):
    """Of one alternate: its lines, then its net, its taxes and its total."""

    lines: tuple[tuple[str, Decimal], ...]
    net: Decimal
    taxes: tuple[Decimal, ...]
    total: Decimal

    def check(self) -> None:
        assert sum(amount for _, amount in self.lines) == self.net
        assert self.net + sum(self.taxes) == self.total


def amount(text: str, decimal: str = ".") -> Decimal:
    """A written amount of money, whose decimals follow `decimal`."""
    sign = -1 if text.strip().startswith("-") else 1
    found = _AMOUNT.search(text)
    assert found is not None, text
    kept = "".join(one for one in found[0] if one.isdigit() or one == decimal)
    return sign * Decimal(kept.replace(decimal, "."))


def parsed(text: str) -> Any:
    """A page as its tree of elements."""
    return html.fromstring(text)


def words(element: Any) -> str:
    return " ".join(element.text_content().split())


def tables(text: str) -> dict[str, list[Any]]:
    """By caption."""
    found: dict[str, list[Any]] = {}
    for table in parsed(text).iter("table"):
        (caption,) = table.iter("caption")
        found.setdefault(words(caption), []).append(table)
    return found


def of_page(text: str, caption: str, decimal: str = ".") -> list[Read]:
    read = []
    for table in tables(text)[caption]:
        body = [_cells(row) for row in table.xpath("./tbody/tr")]
        net, *taxes, total = [_cells(row)[1] for row in table.xpath("./tfoot/tr")]
        read.append(
            Read(
                lines=tuple((name, amount(value, decimal)) for name, value in body),
                net=amount(net, decimal),
                taxes=tuple(amount(one, decimal) for one in taxes),
                total=amount(total, decimal),
            )
        )
    return read


def _cells(row: Any) -> tuple[str, str]:
    """What a line is called, without how it is measured, and its amount."""
    head, value = row
    return " ".join((head.text or "").split()), words(value)


def of_table(content: QuotationContent) -> list[Read]:
    text = io.StringIO(offer_lines_csv(content), newline="")
    rows = list(csv.DictReader(text, strict=True))
    read = []
    for one in content.alternates:
        mine = [row for row in rows if row["alternate"] == one.id]
        sums = {row["row"]: Decimal(row["net"]) for row in mine}
        outside = ("net", "tax", "total", "optional", "optional-line")
        read.append(
            Read(
                lines=tuple(
                    (row["description"], Decimal(row["net"]))
                    for row in mine
                    if row["row"] not in outside
                ),
                net=sums["net"],
                taxes=tuple(Decimal(row["net"]) for row in mine if row["row"] == "tax"),
                total=sums["total"],
            )
        )
    return read


def expanded(content: QuotationContent) -> dict[str, Any]:
    """As a reader of linked data sees it, without fetching the context."""
    document = msgspec.json.decode(offer_json_ld(content))
    assert document["@context"] == VOCABULARY
    (whole,) = jsonld.expand({**document, "@context": {"@vocab": VOCABULARY}})
    assert isinstance(whole, dict)
    return whole


def of_linked_data(content: QuotationContent) -> list[Read]:
    whole = expanded(content)
    offers = [whole] if whole["@type"] == [f"{VOCABULARY}Offer"] else _all(whole, "offers")
    return [_offer(one) for one in offers]


def _offer(one: dict[str, Any]) -> Read:
    (compound,) = _all(one, "priceSpecification")
    lines, taxes = [], []
    for part in _all(compound, "priceComponent"):
        price = Decimal(value(part, "price"))
        if part["@type"] == [f"{VOCABULARY}UnitPriceSpecification"]:
            lines.append((value(part, "name"), price))
        else:
            taxes.append(price)
    total = Decimal(value(one, "price"))
    assert Decimal(value(compound, "price")) == total
    net = sum((price for _, price in lines), Decimal(0))
    return Read(tuple(lines), net, tuple(taxes), total)


def _all(node: dict[str, Any], term: str) -> list[dict[str, Any]]:
    found = node[f"{VOCABULARY}{term}"]
    assert isinstance(found, list)
    return found


def value(node: dict[str, Any], term: str) -> str:
    (found,) = _all(node, term)
    return str(found["@value"])


def print_text(content: bytes) -> str:
    """All pages, with single spaces."""
    pages = pypdf.PdfReader(io.BytesIO(content)).pages
    text = " ".join(page.extract_text() for page in pages)
    return " ".join(text.replace("\u200b", "").split())
