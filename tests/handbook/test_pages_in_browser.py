"""The handbook in a real browser, from a phone to a desk, light and dark: readable by everyone."""

from collections.abc import Iterator
from typing import Any

import browser
import pytest
from axe_playwright_python.sync_playwright import Axe
from handbook_examples import ALONE, text_of
from playwright.sync_api import Browser, Page, sync_playwright
from running import running
from serving import NewDatabase, settings_for
from sqlalchemy import URL
from waiting import until

from filmbuild.app import contract_document
from filmbuild.edge import reference
from filmbuild.handbook import outline

ENTRIES = [one for one in outline.entries() if not one.name.startswith("problems/")]
PROBLEM_PAGES = ("/problems/invalid-input", "/problems/unauthorized")
"""All pages of problems are of one form."""
PATHS = (*(one.path for one in ENTRIES), *PROBLEM_PAGES)
SCROLLING_SECONDS = 20.0
ALL_RULES: dict[str, Any] = {}
CONTRAST = {"runOnly": ["color-contrast"]}
"""In the dark nothing but the colours is another."""
COLOURED = ("/docs/start-invoicing", "/docs/start-quote-form", "/problems/invalid-input")
"""Where each word of the examples is looked at, in its own colour; they are of one form."""
PLAIN = """() => document.querySelectorAll("pre code").forEach(one => {
    one.textContent = one.textContent; })"""
SPILLING = """() => [...document.querySelectorAll("h1,h2,h3,p,li,th,td,a,summary")]
  .filter(one => !one.closest(".scroll, .table") && !one.closest("pre") && one.getClientRects().length)
  .filter(one => one.getBoundingClientRect().right > document.documentElement.clientWidth + 1)
  .map(one => one.textContent.trim())"""
FINDING = """(only) => axe.run(document, {resultTypes: ["violations"], preload: false, ...only})
  .then(found => found.violations.map(one => `${one.id}: ${one.nodes[0].html}`))"""
AXE = Axe().axe_script


@pytest.fixture(scope="module")
def opened() -> Iterator[Browser]:
    program = browser.program()
    with sync_playwright() as playwright:
        options = [one for one in browser.OPTIONS if one not in ("--headless", "--dump-dom")]
        started = playwright.chromium.launch(executable_path=program, args=options)
        yield started
        started.close()


@pytest.fixture(scope="module")
def address(new_sqlite: NewDatabase) -> Iterator[str]:
    with new_sqlite(True, loaded=True) as url, running(url, ALONE) as service:
        yield f"http://127.0.0.1:{service.port}"


@pytest.fixture
def page(opened: Browser) -> Iterator[Page]:
    page = opened.new_page()
    yield page
    page.close()


@pytest.mark.parametrize("path", PATHS)
def test_pages_are_accessible_and_fit(page: Page, address: str, path: str) -> None:
    """No finding of axe-core at all, nothing wider than a phone, nothing fetched from elsewhere."""
    asked: list[str] = []
    complaints: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: complaints.append(message.text))
    page.goto(address + path)
    assert all(one.startswith(address) for one in asked), asked
    assert complaints == []
    page.evaluate(AXE)
    if path not in COLOURED:
        page.evaluate(PLAIN)
    _look(page, 320, ALL_RULES)
    page.emulate_media(color_scheme="dark")
    _look(page, 1280, CONTRAST)


def _look(page: Page, width: int, rules: dict[str, Any]) -> None:
    page.set_viewport_size({"width": width, "height": 800})
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert page.evaluate(SPILLING) == [], width
    assert page.evaluate(FINDING, rules) == [], width


def test_the_reference_is_accessible_and_fits(page: Page) -> None:
    """Of the whole contract a few operations: each is shown in the same way."""
    never_opened = URL.create("sqlite+aiosqlite", database="never-opened.sqlite3")
    document = contract_document(settings_for(never_opened))
    shown = {path: document["paths"][path] for path in ("/v1/plans", "/v1/packs/{pack_id}")}
    schemas = {name: document["components"]["schemas"][name] for name in ("Problem", "Fault")}
    components = {**document["components"], "schemas": schemas}
    text = reference.page({**document, "paths": shown, "components": components})
    page.set_content(text.replace("</head>", f"<style>{reference.STYLE}</style></head>"))
    page.evaluate(AXE)
    page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true; })")
    _look(page, 320, ALL_RULES)
    page.emulate_media(color_scheme="dark")
    _look(page, 1280, CONTRAST)


def test_faults_would_be_found(page: Page) -> None:
    page.set_viewport_size({"width": 320, "height": 800})
    page.set_content(f"<p style='color:#bbb'>pale</p><p><a href='#'>{'W' * 200}</a></p>")
    page.evaluate(AXE)
    assert {one.partition(":")[0] for one in page.evaluate(FINDING, ALL_RULES)} >= {
        "color-contrast"
    }
    assert page.evaluate(SPILLING) != []


def test_the_keyboard_reaches_the_page_and_scrolls_an_example(page: Page, address: str) -> None:
    page.set_viewport_size({"width": 320, "height": 800})
    page.goto(f"{address}/docs/webhooks")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "Skip to the page"
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "main"
    example = page.locator("pre").first
    while not example.evaluate("one => one === document.activeElement"):
        page.keyboard.press("Tab")
    page.keyboard.press("ArrowRight")
    until(lambda: example.evaluate("one => one.scrollLeft") > 0, SCROLLING_SECONDS)


def test_all_pages_are_reached_on_a_phone(page: Page, address: str) -> None:
    page.set_viewport_size({"width": 320, "height": 800})
    page.goto(f"{address}/docs")
    page.get_by_text("All pages", exact=True).click()
    page.locator(".folded").get_by_role("link", name="Paging").click()
    assert page.url == f"{address}/docs/paging"
    assert page.get_by_role("heading", level=1).inner_text() == "Paging"


def test_pictures_are_seen(page: Page, address: str) -> None:
    page.goto(f"{address}/docs/estimate")
    shown = page.locator("main img")
    assert shown.count() == text_of("estimate").count("](pictures/")
    for one in shown.all():
        assert one.evaluate("one => one.complete && one.naturalWidth > 0")
