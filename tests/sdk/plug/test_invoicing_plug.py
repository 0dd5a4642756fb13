"""The example that books accepted quotations, against the running service. Names are invented."""

import base64
import datetime as dt
import json
import os
import signal
import sqlite3
import subprocess
import sys
import threading
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing, contextmanager
from decimal import Decimal
from pathlib import Path
from typing import Any, NamedTuple

import httpx
import msgspec
import pytest
from lxml import etree
from new_databases import NewDatabase
from quotation_cases import PROFILE, estimate_body, quotation_body
from running import Running, running
from standardwebhooks import Webhook
from waiting import until

from filmbuild_sdk import Client, models
from invoicing_plug.billing import Biller
from invoicing_plug.books import Books, Entry, Posting
from invoicing_plug.ledger import RECEIVABLE, entry_of
from invoicing_plug.receiver import Receiver, work

SECRET = "whsec_" + base64.b64encode(bytes(range(24))).decode()
SOON = dt.date(2026, 9, 2)
AFTER_ALL = dt.date(2099, 1, 1)
STEPS = ("billed_under", "invoice", "file", "book")
TABLES = ("bill", "settle")
PLAN = [
    {"id": "deposit", "label": "Deposit", "occasion": "on_acceptance", "percent": "30"},
    {"id": "rest", "label": "On completion", "occasion": "on_completion", "due_days": 14},
]


class Place(NamedTuple):
    """Where a plug of one test works."""

    service: Running
    folder: Path
    books: Books

    def biller(self, client: Client, today: dt.date = SOON) -> Biller:
        return Biller(client, self.books, self.folder / "ubl", lambda: today)

    def run(self, today: dt.date = SOON) -> None:
        with self.client() as client:
            self.biller(client, today).run()

    def client(self) -> Client:
        return Client(str(self.service.client.base_url), headers=dict(self.service.client.headers))

    def files(self) -> list[str]:
        return sorted(one.name for one in (self.folder / "ubl").glob("*.xml"))

    def rows(self, query: str) -> list[Any]:
        with closing(sqlite3.connect(self.folder / "books.sqlite3")) as connection:
            return connection.execute(query).fetchall()

    def assert_booked(self, quotation: str, stages: int) -> None:
        """Each invoice of the service is one file and one entry of its sums, and there are no others."""
        with self.client() as client:
            made = [client.get_invoice(one.id) for one in client.list_invoices(quotation=quotation)]
        assert len(made) == stages
        booked = self.rows("select id, number from entries order by id")
        assert booked == sorted((one.id, one.invoice.number) for one in made)
        assert self.files() == sorted(f"{one.id}.xml" for one in made)
        for one in made:
            total = cents(one.invoice.total.amount)
            lines = self.rows(f"select account, debit, credit from postings where entry='{one.id}'")  # noqa: S608 - an id of the service
            assert (RECEIVABLE, total, 0) in lines
            assert sum(line[1] for line in lines) == sum(line[2] for line in lines) == total
            tax = sum(line[2] for line in lines if line[0].startswith("2200"))
            assert tax == cents(one.invoice.tax.amount) > 0
            root = etree.parse(self.folder / "ubl" / f"{one.id}.xml").getroot()
            assert root.findtext("{*}LegalMonetaryTotal/{*}TaxInclusiveAmount") == str(
                one.invoice.total.amount
            )


@pytest.fixture(scope="module")
def service(new_sqlite: NewDatabase) -> Iterator[Running]:
    near = {"FILMBUILD_WEBHOOK_PRIVATE_NETWORKS": "on"}
    with new_sqlite(True, loaded=True) as url, running(url, environment=near) as service:
        profile = {**PROFILE, "payments": PLAN}
        sent(service, "PUT", "/v1/organisation", profile)
        yield service


@pytest.fixture
def place(service: Running, tmp_path: Path) -> Place:
    return Place(service, tmp_path, Books(tmp_path / "books.sqlite3"))


def cents(amount: Decimal) -> int:
    assert amount * 100 == int(amount * 100)
    return int(amount * 100)


def sent(
    service: Running, method: str, path: str, body: Any = None, headers: Any = None
) -> dict[str, Any]:
    answer = service.client.request(method, path, json=body, headers=headers)
    assert answer.is_success, answer.text
    found: dict[str, Any] = answer.json()
    return found


def issued(service: Running) -> dict[str, Any]:
    body = estimate_body()
    body["job"].setdefault("terms", {})["tax_place"] = "Port Alder"
    estimate = sent(service, "POST", "/v1/estimates", body)["id"]
    draft = sent(service, "POST", "/v1/quotations", quotation_body(estimate))
    tag = service.client.get(f"/v1/quotations/{draft['id']}").headers["etag"]
    return sent(service, "POST", f"/v1/quotations/{draft['id']}/issue", None, {"if-match": tag})


def accepted(service: Running) -> str:
    """The id of an offer that its customer accepted."""
    offer = issued(service)
    (first,) = offer["content"]["alternates"]
    choice = {
        "name": "A. Sample",
        "alternate": first["id"],
        "total": first["offer"]["total"],
    }
    sent(service, "POST", f"{offer['link']}/acceptance", choice)
    name: str = offer["id"]
    return name


def event(quotation: str, kind: str = "quotation.accepted") -> bytes:
    return json.dumps(
        {
            "type": kind,
            "timestamp": "2026-09-01T12:00:00Z",
            "data": {"id": quotation, "number": "Q-1", "state": "accepted"},
        }
    ).encode()


def delivered(url: str, content: bytes, name: str = "msg_1", secret: str = SECRET) -> int:
    now = dt.datetime.now(dt.UTC)
    headers = {
        "webhook-id": name,
        "webhook-timestamp": str(int(now.timestamp())),
        "webhook-signature": Webhook(secret).sign(name, now, content.decode()),
    }
    return httpx.post(url, content=content, headers=headers).status_code


@contextmanager
def receiving(place: Place) -> Iterator[tuple[Receiver, str]]:
    with Receiver(("127.0.0.1", 0), place.books, [SECRET]) as server:
        thread = threading.Thread(target=server.serve_forever, args=(0.02,))
        thread.start()
        try:
            yield server, f"http://127.0.0.1:{server.server_port}/"
        finally:
            server.shutdown()
            thread.join()


def test_the_services_own_messages_are_understood(place: Place) -> None:
    """From the customer's click to the ledger, without anything of the test's between."""
    with receiving(place) as (server, url), place.client() as client:
        asked = models.WebhookEndpointRequest(url=url, event_types=["quotation.accepted"])
        endpoint = client.create_webhook_endpoint(asked)
        assert endpoint.secret is not None
        server.secrets = (endpoint.secret,)
        stopping = threading.Event()
        biller = place.biller(client)
        worker = threading.Thread(target=work, args=(biller, server.arrived, stopping))
        worker.start()
        quotation = accepted(place.service)
        until(lambda: len(place.rows("select 1 from entries")) == 1, 30)
        stopping.set()
        server.arrived.set()
        worker.join()
        tag = place.service.client.get(f"/v1/webhook-endpoints/{endpoint.id}").headers["etag"]
        client.delete_webhook_endpoint(endpoint.id, if_match=tag)
    place.assert_booked(quotation, 1)


def killed_after(place: Place, step: str) -> None:
    """The plug in a process that is killed as soon as it has taken a step."""
    child = os.fork()
    if child == 0:
        try:
            owner: type = Biller if step in STEPS else Books
            _deadly(owner, step)
            place.run(AFTER_ALL)
        finally:
            os._exit(0)
    _, status = os.waitpid(child, 0)
    assert os.waitstatus_to_exitcode(status) == -signal.SIGKILL, "the step was never taken"


def _deadly(owner: type, step: str) -> None:
    taken = getattr(owner, step)

    def last(*arguments: object) -> None:
        taken(*arguments)
        os.kill(os.getpid(), signal.SIGKILL)

    setattr(owner, step, last)


def test_an_accepted_offer_is_invoiced_filed_and_booked_as_its_stages_fall_due(
    place: Place,
) -> None:
    quotation = accepted(place.service)
    stopping = threading.Event()
    with receiving(place) as (server, url), place.client() as client:
        worker = threading.Thread(
            target=work, args=(place.biller(client), server.arrived, stopping)
        )
        worker.start()
        assert delivered(url, event(quotation)) == 204
        until(lambda: len(place.rows("select 1 from entries")) == 1, 30)
        stopping.set()
        server.arrived.set()
        worker.join()
    place.assert_booked(quotation, 1)
    place.run(AFTER_ALL)
    place.assert_booked(quotation, 2)
    assert place.books.open_quotations() == []
    with place.client() as client:
        whole = client.get_invoice_lines(quotation).total.amount
    receivable = place.rows(f"select sum(debit) from postings where account = '{RECEIVABLE}'")  # noqa: S608 - a constant
    assert receivable == [(cents(whole),)]


@pytest.mark.parametrize("step", [*STEPS, *TABLES])
def test_a_plug_killed_after_any_step_goes_on_where_it_was(place: Place, step: str) -> None:
    quotation = accepted(place.service)
    with receiving(place) as (_, url):
        assert delivered(url, event(quotation)) == 204
        killed_after(place, step)
        assert delivered(url, event(quotation)) == 204
    place.run(AFTER_ALL)
    place.assert_booked(quotation, 2)


def test_messages_that_come_again_late_and_at_once_are_booked_once(place: Place) -> None:
    first, second = accepted(place.service), accepted(place.service)
    messages = [("b", second), ("a", first), ("a", first), ("c", first), ("b", second)]
    with receiving(place) as (_, url), ThreadPoolExecutor(len(messages)) as threads:
        statuses = threads.map(lambda one: delivered(url, event(one[1]), one[0]), messages)
        assert [*statuses] == [204] * len(messages)
        assert place.rows("select count(*) from events") == [(3,)]
        runs = [threads.submit(place.run, AFTER_ALL) for _ in range(3)]
        for one in runs:
            one.result()
    assert place.rows("select count(*) from entries") == [(4,)]
    assert len(place.files()) == 4
    numbers = invoices_of(place, [first, second])
    assert place.rows("select id from entries order by id") == numbers


def invoices_of(place: Place, quotations: Sequence[str]) -> list[tuple[str]]:
    with place.client() as client:
        pages = [client.list_invoices(quotation=one) for one in quotations]
        return sorted((one.id,) for page in pages for one in page)


def test_what_a_message_says_is_not_believed(place: Place) -> None:
    """Still open, and unknown: neither is billed, and both messages are done with."""
    still_open = issued(place.service)["id"]
    with receiving(place) as (_, url):
        assert delivered(url, event(still_open), "msg_1") == 204
        assert delivered(url, event("quo_" + "7" * 26), "msg_2") == 204
    place.run()
    assert place.books.open_events() == []
    assert place.rows("select 1 from quotations") == []


def test_unknown_types_are_confirmed_and_forgeries_refused(place: Place) -> None:
    other = "whsec_" + base64.b64encode(bytes(24)).decode()
    with receiving(place) as (_, url):
        assert delivered(url, event("quo_1", "quotation.withdrawn")) == 204
        assert delivered(url, b'{"type":"quotation.accepted","timestamp":"","data":[]}') == 204
        assert delivered(url, event("quo_1"), secret=other) == 401
        assert httpx.post(url, content=event("quo_1")).status_code == 401
    assert place.books.open_events() == []


def test_no_entry_is_kept_whose_sides_differ(place: Place) -> None:
    sides = [Posting("1200 Receivables", 100, 0), Posting("4000 Revenue", 0, 99)]
    entry = Entry("inv_1", "1", "2026-09-01", "USD", 2, "Sample Hall (demo data)", sides)
    with pytest.raises(sqlite3.IntegrityError, match="debits and credits differ"):
        place.books.book(entry)
    assert place.rows("select 1 from postings") == []


def test_a_credit_note_stands_on_the_other_sides(place: Place) -> None:
    quotation = accepted(place.service)
    with place.client() as client:
        place.books.keep_event("msg_1", quotation)
        place.run()
        (one,) = client.list_invoices(quotation=quotation)
        stored = client.get_invoice(one.id)
    note = msgspec.structs.replace(
        stored, invoice=msgspec.structs.replace(stored.invoice, kind="credit_note")
    )
    sides = [(line.account, line.credit, line.debit) for line in entry_of(stored).postings]
    assert [tuple(line) for line in entry_of(note).postings] == sides


def test_what_it_is_not_told_is_asked_for(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "invoicing_plug", "books", "ubl"],
        cwd=tmp_path,
        env={"PYTHONPATH": os.pathsep.join(sys.path)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 2
    assert "FILMBUILD_KEY and FILMBUILD_SECRETS: not set" in done.stderr
    assert list(tmp_path.iterdir()) == []
