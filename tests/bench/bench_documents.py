"""A quotation's documents, beside what the renderer takes for an empty page."""

import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import msgspec

sys.path.insert(0, str(Path(__file__).parents[1]))
import document_cases

from filmbuild.pipeline.estimate import estimate_document
from filmbuild.quotations.content import QuotationContent
from filmbuild.quotations.documents.json_ld import offer_json_ld
from filmbuild.quotations.documents.lines import offer_lines_csv
from filmbuild.quotations.documents.offer_view import offer_shown
from filmbuild.quotations.documents.pages import offer_page
from filmbuild.quotations.documents.pdf import offer_pdf, render

ROUNDS = 25
AREAS = 12


def figures() -> list[dict[str, Any]]:
    """An offer over twelve areas; each round has another number, so that nothing is remembered.

    The empty page has the template, the page and the fonts of the offer, and only its head. Both are
    made in turn, and their medians compared.
    """
    content = _content()
    bare = msgspec.structs.replace(
        offer_shown(content, "issued", None),
        choices=(),
        blocks=(),
        cautions=(),
        introduction=(),
        facts=(),
    )
    empty, whole, page, rest = [], [], [], []
    for number in range(ROUNDS + 3):
        title = f"Q-{number:05}"
        one = msgspec.structs.replace(content, number=title)
        head = msgspec.structs.replace(bare, title=title)
        empty.append(_seconds(render, "offer", head, content.issued_on))
        whole.append(_seconds(offer_pdf, one, "issued", None))
        page.append(_seconds(offer_page, one, "issued", None))
        rest.append(_seconds(offer_lines_csv, one) + _seconds(offer_json_ld, one))
    warm = slice(3, None)
    times = {
        "pdf_empty": statistics.median(empty[warm]),
        "pdf": statistics.median(whole[warm]),
        "page": statistics.median(page[warm]),
        "table_and_linked_data": statistics.median(rest[warm]),
    }
    found = [
        {"name": f"documents.{name}", "value": seconds * 1e3, "unit": "ms"}
        for name, seconds in times.items()
    ]
    ratio = times["pdf"] / times["pdf_empty"]
    found.append({"name": "documents.pdf.empty", "value": ratio, "unit": "times"})
    size = len(offer_pdf(content, "issued", None)) / 1024
    return [*found, {"name": "documents.pdf.size", "value": size, "unit": "KiB"}]


def _content() -> QuotationContent:
    request = document_cases.request_of("harbour-broadcast", "si", document_cases.rooms(AREAS))
    document = estimate_document(request, document_cases.catalogue())
    return document_cases.content_of(
        document_cases.alternate_of("a", "A", "harbour-broadcast", made=(request, document))
    )


def _seconds(make: Callable[..., object], *given: object) -> float:
    start = time.perf_counter()
    make(*given)
    return time.perf_counter() - start
