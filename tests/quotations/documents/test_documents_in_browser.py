"""Pages in a real browser, from a phone to a desk: readable by everyone, nothing runs out."""

from collections.abc import Iterator
from typing import Any, get_args

import browser
import pytest
from axe_playwright_python.sync_playwright import Axe
from document_cases import (
    DECLINED,
    DRAFT,
    accepted,
    catalogue,
    content_of,
    estimated,
    one_way,
    spanish,
    two_ways,
)
from playwright.sync_api import Browser, Page, sync_playwright

from filmbuild.quotations.content import QuotationState
from filmbuild.quotations.documents.job_pack import job_pack
from filmbuild.quotations.documents.pages import confirmation_page, job_pack_page, offer_page

WIDTHS = (320, 768, 1280)
STATES: tuple[QuotationState, ...] = get_args(QuotationState)
SPILLING = """() => [...document.querySelectorAll("h1,h2,h3,h4,p,li,th,td,dt,dd,label,input,button")]
  .filter(one => !one.closest(".scroll") && !one.closest(".wide"))
  .filter(one => one.getBoundingClientRect().right > document.documentElement.clientWidth + 1
    || one.scrollWidth > one.clientWidth + 1 && getComputedStyle(one).display !== "inline")
  .map(one => one.textContent.trim())"""
AXE = Axe().axe_script
"""Put into each page once: it is half a megabyte."""
EMPTYING = """() => document.querySelectorAll(".drawn").forEach(one => one.replaceChildren(
    ...[...one.children].filter(child => ["title", "desc"].includes(child.tagName))))"""
"""Drawings keep their frames and names, and lose their lines."""
FINDING = """() => axe.run(document, {resultTypes: ["violations"], preload: false})
  .then(found => found.violations)"""
"""Every rule; but of what is right, no list is made."""


@pytest.fixture(scope="module")
def opened() -> Iterator[Browser]:
    program = browser.program()
    with sync_playwright() as playwright:
        options = [one for one in browser.OPTIONS if one not in ("--headless", "--dump-dom")]
        running = playwright.chromium.launch(executable_path=program, args=options)
        yield running
        running.close()


def offer_in(state: QuotationState) -> str:
    content = two_ways()
    if state == "draft":
        content = content_of(*content.alternates, **DRAFT)
    decision = {"accepted": accepted(content), "declined": DECLINED}.get(state)
    return offer_page(content, state, decision, link="/v1/offers/t").content


PAGES: dict[str, Any] = {
    **{f"offer, {state}": lambda state=state: offer_in(state) for state in STATES},
    "offer in Spanish": lambda: offer_page(spanish(one_way()), "issued", None, link="/o").content,
    "confirmation": lambda: (
        confirmation_page(two_ways(), "thin", ["stripe"], "R", link="/o").content
    ),
    "job pack": lambda: job_pack_page(job_pack(*estimated(), catalogue()), "en").content,
    "job pack in Spanish": lambda: job_pack_page(job_pack(*estimated(), catalogue()), "es").content,
}
WITH_DRAWINGS = ("offer, issued", "offer in Spanish", "job pack")
"""Where each line of the drawings is looked at too; they are the same on the other pages."""


@pytest.mark.parametrize("name", PAGES)
def test_pages_are_accessible_and_fit_every_width(opened: Browser, name: str) -> None:
    """No finding of axe-core that it calls serious or critical."""
    text = PAGES[name]()
    page = opened.new_page()
    page.set_content(text)
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 800})
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        assert page.evaluate(SPILLING) == [], width
        assert _findings(page, drawings=name in WITH_DRAWINGS) == [], width
    page.close()


def _findings(page: Page, *, drawings: bool = True) -> list[str]:
    if not drawings:
        page.evaluate(EMPTYING)
    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE)
    found = page.evaluate(FINDING)
    return [
        f"{one['id']}: {one['nodes'][0]['html']}"
        for one in found
        if one["impact"] in ("serious", "critical")
    ]


def test_faults_would_be_found(opened: Browser) -> None:
    page = opened.new_page(viewport={"width": 320, "height": 800})
    page.set_content("<html><body><p style='color:#bbb'>pale</p><input></body></html>")
    assert {one.partition(":")[0] for one in _findings(page)} >= {"color-contrast", "label"}
    page.set_content(f"<p>{'W' * 200}</p>")
    assert page.evaluate(SPILLING) != []
    page.close()


def test_forms_are_not_printed(opened: Browser) -> None:
    page = opened.new_page()
    page.set_content(offer_in("issued"))
    assert page.locator("form").first.is_visible()
    page.emulate_media(media="print")
    assert not page.locator("form").first.is_visible()
    page.close()


def test_a_customer_can_decide_by_keyboard_alone(opened: Browser) -> None:
    page = opened.new_page()
    page.set_content(offer_page(one_way(), "issued", None, link="/o").content)
    page.locator("form input[type=checkbox]").first.focus()
    page.keyboard.press("Space")
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.type("Rosa Tide")
    sent = page.evaluate(
        "Object.fromEntries([...new FormData(document.forms[0])].map(([k, v]) => [k, v]))"
    )
    assert sent == {"alternate": "broadcast", "options": "stripe", "name": "Rosa Tide"}
    page.close()
