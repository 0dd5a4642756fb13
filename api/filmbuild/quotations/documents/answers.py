"""The forms of a quotation's answer beside its data, chosen by Accept."""

import asyncio
import re
from collections.abc import Awaitable, Callable
from typing import Protocol

from filmbuild.edge.operations import Answer, Call, NoQuery, Representation
from filmbuild.estimates.sheets import Page
from filmbuild.quotations.accepted import as_accepted
from filmbuild.quotations.content import Decision, QuotationContent, QuotationState
from filmbuild.quotations.documents.json_ld import offer_json_ld
from filmbuild.quotations.documents.lines import offer_lines_csv
from filmbuild.quotations.documents.pages import confirmation_page, offer_page
from filmbuild.quotations.documents.pdf import offer_pdf

HTML = "text/html"
PDF = "application/pdf"
JSON_LD = "application/ld+json"
CSV = "text/csv; charset=utf-8; header=present"
_UNSAFE = re.compile(r"[^A-Za-z0-9._-]+")
Headers = tuple[tuple[str, str], ...]


class Quoted(Protocol):
    """A quotation and how it stands. `link` is the path of the customer's own link."""

    @property
    def content(self) -> QuotationContent: ...
    @property
    def state(self) -> QuotationState: ...
    @property
    def decision(self) -> Decision | None: ...
    @property
    def link(self) -> str | None: ...


class Chosen(Protocol):
    """What a customer has filled in."""

    @property
    def name(self) -> str: ...
    @property
    def alternate(self) -> str | None: ...
    @property
    def options(self) -> tuple[str, ...]: ...


Show = Callable[[Call[None, NoQuery]], Awaitable[Quoted]]


def offer_representations(
    show: Show, *, decides: bool, headers: Headers = ()
) -> tuple[Representation[None, NoQuery], ...]:
    """Page, print, lines and linked data of what `show` finds.

    With `decides` the page has the forms by which a customer accepts or declines. `headers` go with
    every answer.
    """

    async def as_page(call: Call[None, NoQuery]) -> Answer:
        one = await show(call)
        link = one.link if decides else None
        made = await asyncio.to_thread(offer_page, one.content, one.state, one.decision, link=link)
        return page_answer(made, headers)

    async def as_print(call: Call[None, NoQuery]) -> Answer:
        one = await show(call)
        made = await asyncio.to_thread(offer_pdf, one.content, one.state, one.decision)
        name = file_name(one.content.number or one.content.site, "pdf")
        return Answer(made, (*headers, ("content-disposition", f'inline; filename="{name}"')))

    async def as_table(call: Call[None, NoQuery]) -> Answer:
        one = await show(call)
        content = as_accepted(one.content, one.decision)
        return Answer(offer_lines_csv(content).encode(), headers)

    async def as_linked_data(call: Call[None, NoQuery]) -> Answer:
        one = await show(call)
        content = as_accepted(one.content, one.decision)
        return Answer(offer_json_ld(content, link=one.link if decides else None), headers)

    return (
        Representation(
            media_type=HTML,
            summary="The quotation as a page",
            description="In its own language, for screens of any size and for print, with its own "
            "style sheet and no scripts. It says what has become of the quotation.",
            handler=as_page,
        ),
        Representation(
            media_type=PDF,
            summary="The quotation for print",
            description="A tagged PDF with the fonts in it. The same quotation in the same state "
            "is always the same bytes.",
            handler=as_print,
        ),
        Representation(
            media_type=CSV,
            summary="The lines as a table",
            description="RFC 4180: by alternate its lines, net, taxes and total, and what may be "
            "added; once it is accepted, of what was accepted alone. Text that a spreadsheet would take for a formula has an apostrophe before it.",
            handler=as_table,
        ),
        Representation(
            media_type=JSON_LD,
            summary="The quotation as linked data",
            description="An Offer of schema.org, or an AggregateOffer over the alternates, with "
            "lines and taxes as the parts of a compound price; once it is accepted, of what was "
            "accepted alone.",
            handler=as_linked_data,
        ),
    )


def confirmation(headers: Headers = ()) -> Callable[[Quoted, Chosen], Awaitable[Answer]]:
    """What answers a form of acceptance without a total: the page on which it is confirmed."""

    async def confirm(one: Quoted, chosen: Chosen) -> Answer:
        made = await asyncio.to_thread(
            confirmation_page,
            one.content,
            chosen.alternate,
            chosen.options,
            chosen.name,
            link=one.link or "",
        )
        return page_answer(made, headers)

    return confirm


def page_answer(page: Page, headers: Headers = ()) -> Answer:
    return Answer(page.content.encode(), (*headers, ("content-security-policy", page.policy)))


def file_name(text: str, ending: str) -> str:
    """Of plain letters and digits, so that no header can be broken by it."""
    return f"{_UNSAFE.sub('-', text).strip('-.')[:80] or 'document'}.{ending}"
