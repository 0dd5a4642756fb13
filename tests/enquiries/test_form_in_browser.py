"""The form in a real browser, on a page of another origin with a strict content policy."""

import re
from collections.abc import Iterator
from contextlib import suppress
from typing import Any

import browser
import pytest
from axe_playwright_python.sync_playwright import Axe
from enquiries import cases, pages
from enquiries.pages import Host
from playwright.sync_api import Browser, Error, Locator, Page, expect, sync_playwright
from running import Running, running
from serving import NewDatabase

AXE = Axe().axe_script
FINDING = """() => axe.run(document, {resultTypes: ["violations"], preload: false})
  .then(found => found.violations.map(one => one.id + ": " + one.nodes[0].html))"""
SPILLING = """() => [...document.querySelector("filmbuild-quote-form").shadowRoot
  .querySelectorAll("h2,h3,p,label,span,input,button,select,textarea,svg,fieldset")]
  .filter(one => one.getBoundingClientRect().right > document.documentElement.clientWidth + 1)
  .map(one => one.outerHTML.slice(0, 90))"""
RANGE = re.compile(r"\$[\d,]+ (to|a) \$[\d,]+")


@pytest.fixture(scope="module")
def service(new_sqlite: NewDatabase) -> Iterator[Running]:
    with new_sqlite(True, loaded=True) as url, running(url) as service:
        yield service


@pytest.fixture(scope="module")
def site(service: Running) -> Iterator[Host]:
    with pages.host() as host:
        host.service = f"http://127.0.0.1:{service.port}"
        host.key = cases.set_up(service.client, host.origin)
        yield host


@pytest.fixture(scope="module")
def opened(service: Running) -> Iterator[Browser]:
    """After the service, which is a copy of this process and must not have the browser's."""
    assert service.up()
    program = browser.program()
    with sync_playwright() as playwright:
        options = [one for one in browser.OPTIONS if one not in ("--headless", "--dump-dom")]
        started = playwright.chromium.launch(executable_path=program, args=options)
        yield started
        started.close()


@pytest.fixture
def said() -> list[str]:
    """What pages wrote to the console as an error, or threw."""
    return []


@pytest.fixture
def page(opened: Browser, said: list[str]) -> Iterator[Page]:
    context = opened.new_context(viewport={"width": 1280, "height": 900}, locale="en-US")
    page = context.new_page()
    page.set_default_timeout(10_000)
    page.on("console", lambda one: said.append(one.text) if one.type == "error" else None)
    page.on("pageerror", lambda one: said.append(str(one)))
    yield page
    context.close()


def price(page: Page) -> Locator:
    return page.get_by_role("status", name=re.compile("Price range|Rango de precio"))


def give_room(page: Page, length: str = "24", width: str = "18") -> None:
    page.get_by_label("Length (ft)").first.fill(length)
    page.get_by_label("Width (ft)").first.fill(width)


def give_person(page: Page) -> None:
    page.get_by_label("Name", exact=True).fill("Rosa Tide")
    page.get_by_label("E-mail address").fill("rosa@tide.example")
    page.get_by_label("may keep these details").check()


def newest(service: Running) -> dict[str, Any]:
    found: dict[str, Any] = service.client.get(cases.ENQUIRIES).json()["items"][0]
    return found


def test_a_visitor_gets_a_price_and_sends_an_enquiry(
    site: Host, service: Running, page: Page, said: list[str]
) -> None:
    page.goto(f"{site.origin}/en")
    give_room(page)
    page.get_by_label("Length (in)").first.fill("6")
    page.get_by_label("Quartz grain").check()
    page.get_by_label("How many steps").fill("3")
    page.get_by_label("How wide are the steps? (ft)").fill("4")
    page.get_by_label("How long are all cracks together? (ft)").fill("9")
    page.get_by_label("A coin's edge fits in").check()
    expect(price(page)).to_contain_text(RANGE)
    expect(price(page)).to_contain_text("Grinding and cleaning the concrete")
    expect(price(page)).to_contain_text("Tax is not included.")
    seen = RANGE.search(price(page).inner_text())
    give_person(page)
    page.get_by_role("button", name="Send the enquiry").click()
    expect(page.get_by_role("heading", name="Your enquiry has arrived")).to_be_focused()
    kept = newest(service)
    assert seen is not None
    expect(page.get_by_text(seen[0])).to_be_visible()
    expect(page.get_by_text(kept["id"][-8:].upper())).to_be_visible()
    assert kept["person"]["name"] == "Rosa Tide"
    assert kept["question"]["finish"] == "quartz"
    assert kept["question"]["steps"]["count"] == 3
    assert kept["question"]["rooms"][0]["length"] == {"value": 24.5, "unit": "ft"}
    assert kept["estimate"]
    assert page.context.cookies() == []
    assert page.evaluate("localStorage.length + sessionStorage.length") == 0
    assert said == []


def test_by_keyboard_alone_an_outline_is_drawn_and_sent(
    site: Host, service: Running, page: Page, said: list[str]
) -> None:
    page.goto(f"{site.origin}/en")
    keys = page.keyboard
    first = page.get_by_label("Length and width")
    expect(first).to_be_visible()
    while not first.evaluate("one => one === one.getRootNode().activeElement"):
        keys.press("Tab")
    keys.press("ArrowRight")
    keys.press("Tab")
    keys.press("Tab")
    expect(page.get_by_role("application")).to_be_focused()
    for steps, key in ((10, "ArrowRight"), (6, "ArrowDown"), (4, "ArrowLeft"), (4, "ArrowDown")):
        keys.press("Enter")
        for _ in range(steps):
            keys.press(key)
    keys.press("Enter")
    expect(
        page.get_by_text("Corner 5 set at 12 ft right, 20 ft down. Wall of 8 ft.")
    ).to_be_visible()
    for _ in range(6):
        keys.press("ArrowLeft")
    keys.press("Enter")
    for _ in range(10):
        keys.press("ArrowUp")
    keys.press("Enter")
    expect(page.get_by_text("The outline is closed, with 6 corners.")).to_be_visible()
    plain = page.get_by_label("Plain colour")
    _tab_to(page, plain)
    keys.press("Space")
    expect(price(page)).to_contain_text(RANGE)
    _tab_to(page, page.get_by_label("Name", exact=True))
    keys.type("Rosa Tide")
    keys.press("Tab")
    keys.press("Tab")
    keys.type("555-0100")
    _tab_to(page, page.get_by_label("may keep these details"))
    keys.press("Space")
    _tab_to(page, page.get_by_role("button", name="Send the enquiry"))
    keys.press("Enter")
    expect(page.get_by_role("heading", name="Your enquiry has arrived")).to_be_focused()
    (room,) = newest(service)["question"]["rooms"]
    expected = [[0, 0], [20, 0], [20, 12], [12, 12], [12, 20], [0, 20]]
    assert (room["unit"], room["corners"]) == ("ft", expected)
    assert said == []


def _tab_to(page: Page, wanted: Locator) -> None:
    for _ in range(40):
        if wanted.evaluate("one => one === one.getRootNode().activeElement"):
            return
        page.keyboard.press("Tab")
    raise AssertionError("not reached by the keyboard")


def test_an_outline_is_drawn_by_pointer_and_may_not_cross_itself(site: Host, page: Page) -> None:
    page.set_viewport_size({"width": 320, "height": 800})
    page.goto(f"{site.origin}/en")
    page.get_by_label("Draw its outline").check()
    board = page.get_by_role("application")

    def press(x: int, y: int) -> None:
        box = board.bounding_box()
        assert box is not None
        across, down = box["width"] / 25, box["height"] / 17
        board.click(position={"x": (x + 0.5) * across, "y": (y + 0.5) * down})

    for x, y in ((0, 0), (10, 10), (10, 0), (0, 10)):
        press(x, y)
    expect(page.get_by_text("That wall would cross another one.")).to_be_visible()
    page.get_by_role("button", name="Start again").click()
    for x, y in ((0, 0), (10, 0), (10, 8), (0, 8), (0, 0)):
        press(x, y)
    expect(page.get_by_text("The outline is closed, with 4 corners.")).to_be_visible()
    page.get_by_label("Plain colour").check()
    expect(price(page)).to_contain_text(RANGE)


@pytest.mark.parametrize("shown", ["en", "es", "en/dark"])
def test_it_is_accessible_and_fits_every_width(
    site: Host, page: Page, said: list[str], shown: str
) -> None:
    page.goto(f"{site.origin}/{shown}")
    page.get_by_role("button", name=re.compile("Add a room|Añadir un espacio")).click()
    page.get_by_label(re.compile("Draw its outline|Dibujar su contorno")).last.check()
    page.get_by_role("button", name=re.compile("Send|Enviar")).click()
    expect(page.get_by_text(re.compile("look at these|revise esto"))).to_be_visible()
    page.evaluate(AXE)
    for width in (1280, 320):
        page.set_viewport_size({"width": width, "height": 900})
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        assert page.evaluate(SPILLING) == [], width
        assert page.evaluate(FINDING) == [], width
    assert said == []


def test_without_the_service_no_price_is_shown_and_nothing_is_lost(
    site: Host, service: Running, page: Page
) -> None:
    page.goto(f"{site.origin}/en")
    give_room(page)
    page.get_by_label("Plain colour").check()
    expect(price(page)).to_contain_text(RANGE)
    give_person(page)
    page.route("**/v1/**", lambda route: route.abort())
    page.get_by_label("Length (ft)").first.fill("40")
    expect(price(page)).not_to_contain_text("$")
    expect(price(page)).to_contain_text("cannot be reached just now")
    page.get_by_role("button", name="Send the enquiry").click()
    expect(page.get_by_text("The enquiry was not sent.")).to_be_visible()
    page.unroute("**/v1/**")
    price(page).get_by_role("button", name="Try again").click()
    expect(price(page)).to_contain_text(RANGE)
    page.get_by_role("button", name="Send the enquiry").click()
    expect(page.get_by_role("heading", name="Your enquiry has arrived")).to_be_visible()
    assert newest(service)["question"]["rooms"][0]["length"]["value"] == 40


def test_an_answer_that_comes_late_is_not_shown(site: Host, page: Page) -> None:
    page.goto(f"{site.origin}/en")
    held: list[Any] = []

    def hold(route: Any) -> None:
        held.append(route)

    page.route("**/prices", hold)
    give_room(page)
    with page.expect_request("**/prices"):
        page.get_by_label("Plain colour").check()
    expect(price(page)).to_contain_text("Working out the price")
    page.unroute("**/prices")
    page.get_by_label("Length (ft)").first.fill("40")
    expect(price(page)).to_contain_text(RANGE)
    seen = price(page).inner_text()
    with suppress(Error):
        held[0].continue_()
    page.evaluate("new Promise(requestAnimationFrame)")
    assert price(page).inner_text() == seen
    page.get_by_label("Length (ft)").first.fill("")
    expect(price(page)).not_to_contain_text("$")


def test_an_answer_that_is_lost_makes_one_enquiry(site: Host, service: Running, page: Page) -> None:
    before = len(service.client.get(f"{cases.ENQUIRIES}?limit=100").json()["items"])
    page.goto(f"{site.origin}/en")
    give_room(page)
    page.get_by_label("Plain colour").check()
    give_person(page)

    def lose(route: Any) -> None:
        route.fetch()
        route.abort()

    page.route("**/v1/enquiries", lose)
    page.get_by_role("button", name="Send the enquiry").click()
    expect(page.get_by_text("The enquiry was not sent.")).to_be_visible()
    page.unroute("**/v1/enquiries")
    page.get_by_role("button", name="Send the enquiry").click()
    expect(page.get_by_role("heading", name="Your enquiry has arrived")).to_be_visible()
    after = service.client.get(f"{cases.ENQUIRIES}?limit=100").json()["items"]
    assert len(after) == before + 1


def test_a_form_that_cannot_be_loaded_says_so(site: Host, page: Page) -> None:
    page.route("**/v1/**", lambda route: route.abort())
    page.goto(f"{site.origin}/en")
    expect(page.get_by_role("alert")).to_have_text("The quote form cannot be reached just now.")
    page.unroute("**/v1/**")
    page.get_by_role("button", name="Try again").click()
    expect(page.get_by_role("heading", name="What would your floor come to?")).to_be_visible()


def test_who_builds_the_page_is_told_why_it_stays_empty(site: Host, page: Page) -> None:
    """A page of an origin that has keys can read what is wrong with the one it uses."""
    told: list[str] = []
    page.on("console", lambda one: told.append(one.text) if one.type == "warning" else None)
    page.goto(f"{site.origin}/en")
    page.locator("filmbuild-quote-form").evaluate("one => one.setAttribute('key', 'other')")
    expect(page.get_by_role("alert")).to_be_visible()
    (line,) = told
    assert "The key is not known" in line
    assert page.request.get(line.rpartition("See ")[2]).ok


def test_what_was_wrong_is_not_called_wrong_once_it_is_typed_anew(site: Host, page: Page) -> None:
    page.goto(f"{site.origin}/en")
    give_room(page)
    page.get_by_label("Plain colour").check()
    expect(price(page)).to_contain_text(RANGE)
    page.get_by_role("button", name="Send the enquiry").click()
    summary = page.get_by_text("Please look at these once more")
    expect(page.get_by_text("Please fill this in.", exact=True)).to_be_visible()
    page.get_by_label("Name", exact=True).fill("Rosa Tide")
    expect(page.get_by_text("Please fill this in.", exact=True)).to_be_hidden()
    page.get_by_label("Telephone").fill("555 0100")
    expect(page.locator("[aria-invalid=true]")).to_have_count(1)
    expect(summary).to_be_visible()
    page.get_by_label("may keep these details").check()
    expect(page.locator("[aria-invalid=true]")).to_have_count(0)
    expect(summary).to_be_hidden()


def test_the_demonstration_page_shows_the_form(
    site: Host, service: Running, page: Page, said: list[str]
) -> None:
    key = cases.page_key(service.client, site.service)
    page.goto(f"{site.service}/quote-form/demo")
    page.get_by_label("Publishable key").fill(key)
    page.get_by_label("Language").select_option("es")
    page.get_by_role("button", name="Show the form").click()
    expect(page.get_by_role("heading", name="¿Cuánto costaría su piso?")).to_be_visible()
    page.evaluate(AXE)
    assert page.evaluate(FINDING) == []
    assert said == []


def test_prices_that_change_in_between_are_told(site: Host, service: Running, page: Page) -> None:
    page.goto(f"{site.origin}/en")
    give_room(page)
    page.get_by_label("Quartz grain").check()
    expect(price(page)).to_contain_text(RANGE)
    seen = RANGE.search(price(page).inner_text())
    formula = {
        "note": "Dearer",
        "selector": {},
        "currency": "USD",
        "effective_from": "2026-01-02",
        "percent": "60",
    }
    raised = service.client.post("/v1/price-formulas", json=formula)
    assert raised.status_code == 201, raised.text
    give_person(page)
    page.get_by_role("button", name="Send the enquiry").click()
    assert seen is not None
    changed = page.get_by_text("Prices have changed while you were here")
    expect(changed).to_contain_text(seen[0])
    kept = newest(service)["price"]
    expect(page.get_by_text(f"${float(kept['lowest']['amount']):,.0f} to")).to_be_visible()
