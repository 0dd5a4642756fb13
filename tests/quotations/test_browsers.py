"""Decisions by plain HTML forms, where there is a page on which a total is confirmed."""

import asyncio
from collections.abc import Iterator
from typing import Any

import pytest
from litestar import Litestar
from litestar.testing import TestClient
from open_gate import OPEN_GATE
from quotation_cases import Issued, Office, office
from serving import Client, NewDatabase

from filmbuild.edge.http import handlers
from filmbuild.edge.operations import Answer
from filmbuild.quotations.offer_routes import offer_operations
from filmbuild.quotations.offer_wire import AcceptanceForm
from filmbuild.quotations.records import Shown

BROWSER = {"accept": "text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8"}


async def page(shown: Shown, form: AcceptanceForm) -> Answer:
    first = shown.content.alternates[0].offer.total
    return Answer(f"<p>{form.name}: {first.amount} {first.currency}</p>".encode())


class Desk:
    """A browser before the offers of an office, which tests drive from outside of its loop."""

    def __init__(self, shop: Office, client: Client, runner: asyncio.Runner) -> None:
        self.shop = shop
        self.client = client
        self.run = runner.run

    def issued(self) -> Issued:
        async def issue() -> Issued:
            return await self.shop.issued(await self.shop.estimate())

        return self.run(issue())

    def post(self, offer: Issued, last: str, **form: str) -> Any:
        return self.client.post(f"{offer.link}/{last}", data=form, headers=BROWSER)


@pytest.fixture
def desk(new_sqlite: NewDatabase) -> Iterator[Desk]:
    with new_sqlite(True, loaded=True) as url, asyncio.Runner() as runner:
        opening = office(url)
        shop = runner.run(opening.__aenter__())
        app = Litestar(
            handlers(offer_operations(shop.offers, page=page), 1 << 20, OPEN_GATE),
            openapi_config=None,
        )
        with TestClient(app) as client:
            client.follow_redirects = False
            yield Desk(shop, client, runner)
        runner.run(opening.__aexit__(None, None, None))


def test_a_total_is_shown_before_it_is_accepted(desk: Desk) -> None:
    offer = desk.issued()
    first = desk.post(offer, "acceptance", name="A. Sample", alternate="way-0")
    assert first.status_code == 200
    assert first.headers["content-type"].startswith("text/html")
    total = offer.choice()["total"]
    assert first.text == f"<p>A. Sample: {total['amount']} {total['currency']}</p>"
    wrong = desk.post(offer, "acceptance", name="A. Sample", alternate="way-0", total="1.00")
    assert (wrong.status_code, wrong.text) == (200, first.text)
    assert desk.run(desk.shop.state(offer.id)) == "issued"
    form = {"name": "A. Sample", "alternate": "way-0", "total": total["amount"]}
    done = desk.post(offer, "acceptance", **form)
    assert (done.status_code, done.headers["location"], done.content) == (303, offer.link, b"")
    assert desk.run(desk.shop.state(offer.id)) == "accepted"
    again = desk.post(offer, "acceptance", **form)
    assert (again.status_code, again.headers["location"]) == (303, offer.link)
    assert desk.run(desk.shop.steps(offer.id)) == ["drafted", "issued", "accepted"]


def test_who_comes_too_late_is_led_to_what_became_of_it(desk: Desk) -> None:
    offer = desk.issued()
    lines = {"name": "A. Sample", "reason": "Too dear.\r\nPerhaps in spring."}
    declined = desk.post(offer, "decline", **lines)
    assert (declined.status_code, declined.headers["location"]) == (303, offer.link)
    total = offer.choice()["total"]["amount"]
    late = desk.post(offer, "acceptance", name="A. Sample", alternate="way-0", total=total)
    assert (late.status_code, late.headers["location"]) == (303, offer.link)
    other = desk.post(offer, "decline", name="B. Sample")
    assert other.status_code == 303
    shown = desk.client.get(offer.link).json()
    assert shown["decision"]["name"] == "A. Sample"
    assert shown["decision"]["reason"] == "Too dear. Perhaps in spring."


def test_faults_and_bad_links_stay_problems(desk: Desk) -> None:
    offer = desk.issued()
    fault = desk.post(offer, "acceptance", name="A. Sample", alternate="way-9")
    assert fault.status_code == 422
    gone = desk.client.post(f"{offer.link[:-4]}/decline", data={"name": "A"}, headers=BROWSER)
    assert gone.status_code == 404
