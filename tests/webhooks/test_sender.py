"""Messages are sent until they are received, in order where order matters, and to no dead end."""

import asyncio
from datetime import UTC, datetime, timedelta

import calling
import pytest
from calling import ORGANISATION
from open_gate import SOMEONE
from sqlalchemy import URL, func, select
from standardwebhooks import Webhook
from webhook_cases import NOON, Office, event, told

from filmbuild.accounts import audit
from filmbuild.db import EVERYONE
from filmbuild.edge.operations import Caller
from filmbuild.errors import Conflict
from filmbuild.webhooks import due, outbox, sender, tables
from filmbuild.webhooks.deliveries import DeliveryService
from filmbuild.webhooks.delivery_store import attempts_at
from filmbuild.webhooks.sender import AT_ONE_ENDPOINT, PAUSES
from filmbuild.webhooks.sending import Outcome
from filmbuild.webhooks.store import StoredEndpoint
from filmbuild.webhooks.wire import (
    WebhookEndpointChange,
    WebhookEndpointRequest,
    WebhookRotationRequest,
)
from filmbuild_sdk.webhooks import verify

BROKEN = Outcome(status=500, problem="answered 500", answer="oh")
GONE = Outcome(status=410, problem="answered 410")
MOMENT = timedelta(seconds=1)


async def stored(office: Office, endpoint: str) -> StoredEndpoint:
    return await office.endpoints.get(ORGANISATION, endpoint)


async def actions(office: Office) -> list[str]:
    async with office.database.reader(ORGANISATION) as connection:
        found = await audit.find(connection, ORGANISATION, None, None, 100)
    return [one.action for one in found][::-1]


async def test_a_message_is_signed_as_the_standards_library_verifies_it(office: Office) -> None:
    office.clock.now = datetime.now(UTC)  # the library looks at the clock
    endpoint = await office.endpoint()
    await office.tell("catalogue", 7)
    await office.send()
    (sent,) = office.postman.sent
    secret = (await stored(office, endpoint)).secret
    assert Webhook(secret).verify(sent.content, sent.headers)["data"] == {"revision": 7}
    assert verify(sent.content, sent.headers, secret).id == sent.id
    (delivery,) = await office.deliveries()
    assert (delivery.state, delivery.attempts, delivery.next_at) == ("delivered", 1, None)
    assert delivery.event_id == sent.id
    await office.pass_time(timedelta(days=1))
    assert len(office.postman.sent) == 1


async def test_while_a_secret_is_replaced_messages_carry_both_signatures(office: Office) -> None:
    office.clock.now = begun = datetime.now(UTC)
    endpoint = await office.endpoint()
    old = (await stored(office, endpoint)).secret
    asked = WebhookRotationRequest(overlap=timedelta(minutes=2))
    _, new = await office.endpoints.rotate(SOMEONE, endpoint, asked, None)
    assert new not in {None, old}
    await office.tell("catalogue", 1)
    await office.send()
    office.clock.now = begun + timedelta(minutes=2)
    await office.tell("catalogue", 2)
    await office.send()
    both, after = office.postman.sent
    assert len(both.headers["webhook-signature"].split()) == 2
    for secret in (old, new or ""):
        Webhook(secret).verify(both.content, both.headers)
    assert len(after.headers["webhook-signature"].split()) == 1
    Webhook(new or "").verify(after.content, after.headers)


async def test_pauses_grow_until_it_is_given_up(office: Office) -> None:
    """The pauses are those of the specification's section "Retry schedule", from memory."""
    await office.endpoint()
    office.postman.answers["/in"] = BROKEN
    await office.tell("catalogue", 1)
    await office.send()
    hours = [5 / 3600, 5 / 60, 0.5, 2, 5, 10, 14, 20, 24]
    for place, pause in enumerate(hours, start=1):
        assert len(office.postman.sent) == place
        await office.pass_time(timedelta(hours=pause) - MOMENT)
        assert len(office.postman.sent) == place
        await office.pass_time(MOMENT)
    assert len(office.postman.sent) == 10
    assert len({one.id for one in office.postman.sent}) == 1
    times = [int(one.headers["webhook-timestamp"]) for one in office.postman.sent]
    assert times == sorted(set(times))
    (delivery,) = await office.deliveries()
    assert (delivery.state, delivery.attempts, delivery.next_at) == ("failed", 10, None)
    async with office.database.reader(ORGANISATION) as connection:
        log = await attempts_at(connection, ORGANISATION, delivery.id)
    assert [one.number for one in log] == list(range(1, 11))
    assert {(one.status, one.problem, one.answer) for one in log} == {(500, "answered 500", "oh")}


async def test_pauses_vary_so_that_not_all_come_back_at_once(office: Office) -> None:
    await office.endpoint()
    office.postman.answers["/in"] = BROKEN
    for jitter, longest in ((0.0, 5), (0.5, 5.5), (1.0, 6)):
        office.sender._jitter = lambda jitter=jitter: jitter  # type: ignore[misc] # noqa: SLF001 - chance is what is tested
        await office.tell(f"subject-{jitter}")
        await office.send()
        found = {one.subject: one.next_at for one in await office.deliveries()}
        assert found[f"subject-{jitter}"] == NOON + timedelta(seconds=longest)


async def test_a_later_event_of_the_same_subject_waits_and_others_do_not(office: Office) -> None:
    await office.endpoint()
    office.postman.answers["/in"] = BROKEN
    await office.tell("quo_1", 1)
    await office.send()
    await office.tell("quo_1", 2)
    await office.tell("quo_2", 3)
    await office.send()
    assert [told(one) for one in office.postman.sent] == [1, 3]
    del office.postman.answers["/in"]
    await office.tell("quo_1", 4)
    await office.pass_time(PAUSES[0])
    assert [told(one) for one in office.postman.sent[:2]] == [1, 3]
    assert sorted(told(one) for one in office.postman.sent[2:]) == [1, 2, 3, 4]
    of_one = [told(one) for one in office.postman.sent[2:] if told(one) != 3]
    assert of_one == [1, 2, 4]


async def test_what_was_given_up_holds_up_nothing(office: Office) -> None:
    await office.endpoint("/in")
    await office.endpoint("/other")
    office.postman.answers["/in"] = BROKEN
    await office.tell("quo_1", 1)
    await office.tell("quo_1", 2)
    await office.send()
    for pause in PAUSES[:-1]:
        await office.pass_time(pause)
    to_in = [told(one) for one in office.postman.sent if one.path == "/in"]
    assert to_in == [1] * 9
    assert [told(one) for one in office.postman.sent if one.path == "/other"] == [1, 2]
    # before it is given up something else arrives, so that the endpoint is not taken for dead
    office.postman.answers.clear()
    await office.tell("quo_9", 9)
    await office.send()
    office.postman.answers["/in"] = BROKEN
    await office.pass_time(PAUSES[-1])
    states = {
        (one.position, one.state) for one in await office.deliveries() if one.subject == "quo_1"
    }
    assert (1, "failed") in states
    assert told(office.postman.sent[-1]) == 2


async def test_an_endpoint_that_hangs_holds_up_no_other(office: Office) -> None:
    await office.endpoint("/slow")
    office.postman.hold = asyncio.Event()
    for number in range(AT_ONE_ENDPOINT * 2):
        await office.tell(f"quo_{number}", number)
    await office.sender.turn()
    await asyncio.sleep(0)
    for _ in range(3):
        await office.sender.turn()
    await office.until(lambda: len(office.postman.sent) >= AT_ONE_ENDPOINT)
    held, office.postman.hold = office.postman.hold, None
    await office.endpoint("/quick")
    await office.tell("quo_0", 100)
    await office.sender.turn()
    await office.until(lambda: office.postman.sent[-1].path == "/quick")
    assert len([one for one in office.postman.sent if one.path == "/slow"]) == AT_ONE_ENDPOINT
    held.set()
    await office.sender.settled()
    await office.send()
    assert len([one for one in office.postman.sent if one.path == "/slow"]) == 9


async def test_410_disables_the_endpoint_at_once(office: Office) -> None:
    endpoint = await office.endpoint()
    office.postman.answers["/in"] = GONE
    await office.tell("quo_1", 1)
    await office.tell("quo_1", 2)
    await office.send()
    assert len(office.postman.sent) == 1
    off = await stored(office, endpoint)
    assert (off.enabled, off.version) == (False, 2)
    assert "410" in (off.disabled_because or "")
    assert [one.state for one in await office.deliveries()] == ["failed", "cancelled"]
    assert sorted(await actions(office)) == ["webhook.created", "webhook.disabled"]
    await office.tell("quo_1", 3)
    assert len(await office.deliveries()) == 2


async def test_days_without_success_disable_the_endpoint(office: Office) -> None:
    endpoint = await office.endpoint()
    office.postman.answers["/in"] = BROKEN
    await office.tell("quo_1", 1)
    await office.send()
    assert (await stored(office, endpoint)).failing_since == NOON
    for pause in PAUSES:
        assert (await stored(office, endpoint)).enabled
        await office.pass_time(pause)
    assert not (await stored(office, endpoint)).enabled
    assert (await actions(office))[-1] == "webhook.disabled"


async def test_a_success_in_between_begins_the_days_anew(office: Office) -> None:
    endpoint = await office.endpoint()
    office.postman.answers["/in"] = BROKEN
    await office.tell("quo_1", 1)
    await office.send()
    del office.postman.answers["/in"]
    await office.pass_time(PAUSES[0])
    after = await stored(office, endpoint)
    assert (after.failing_since, after.enabled, after.version) == (None, True, 1)


async def test_one_sent_again_by_hand_has_the_same_id_and_a_new_time(office: Office) -> None:
    endpoint = await office.endpoint()
    service = DeliveryService(office.database, office.clock)
    await office.tell("quo_1", 1)
    await office.send()
    (delivery,) = await office.deliveries()
    await service.send_again(ORGANISATION, delivery.id)
    office.postman.answers["/in"] = BROKEN
    await office.pass_time(timedelta(hours=1))
    first, second = office.postman.sent
    assert first.id == second.id
    assert (
        int(second.headers["webhook-timestamp"]) - int(first.headers["webhook-timestamp"]) == 3600
    )
    (again,) = await office.deliveries()
    assert (again.state, again.attempts, again.tries) == ("waiting", 2, 1)
    off = WebhookEndpointChange(enabled=False)
    await office.endpoints.change(SOMEONE, endpoint, off, {"if-match": "*"})
    assert [one.state for one in await office.deliveries()] == ["cancelled"]
    with pytest.raises(Conflict, match="disabled"):
        await service.send_again(ORGANISATION, delivery.id)
    await office.endpoints.delete(SOMEONE, endpoint, {"if-match": "*"})
    with pytest.raises(Conflict, match="deleted"):
        await service.send_again(ORGANISATION, delivery.id)
    assert len((await service.get(ORGANISATION, delivery.id)).log) == 2


async def test_what_arrives_while_it_is_cancelled_was_received(office: Office) -> None:
    endpoint = await office.endpoint()
    office.postman.hold = asyncio.Event()
    await office.tell("quo_1", 1)
    await office.sender.turn()
    await office.until(lambda: bool(office.postman.sent))
    off = WebhookEndpointChange(enabled=False)
    await office.endpoints.change(SOMEONE, endpoint, off, {"if-match": "*"})
    office.postman.hold.set()
    await office.sender.settled()
    (delivery,) = await office.deliveries()
    assert (delivery.state, delivery.attempts) == ("delivered", 1)


async def test_a_sender_that_died_is_followed_by_one_that_sends_again(office: Office) -> None:
    await office.endpoint()
    office.postman.hold = asyncio.Event()
    await office.tell("quo_1", 1)
    await office.sender.turn()
    await office.until(lambda: bool(office.postman.sent))
    for task in office.sender._sending.values():  # noqa: SLF001 - as if the process were gone
        task.cancel()
    office.postman.hold = None
    office.sender = office.new_sender()
    await office.send()
    first, second = office.postman.sent
    assert (first.id, first.content) == (second.id, second.content)
    (delivery,) = await office.deliveries()
    assert (delivery.state, delivery.attempts) == ("delivered", 1)


async def test_the_log_is_kept_for_thirty_days(office: Office) -> None:
    await office.endpoint("/in")
    await office.endpoint("/dead")
    office.postman.answers["/dead"] = Outcome(problem="nobody there")
    await office.tell("quo_1", 1)
    await office.send()
    await office.pass_time(timedelta(days=30) - MOMENT)
    assert len(await office.deliveries()) == 2
    del office.postman.answers["/dead"]
    await office.tell("quo_1", 2)
    await office.pass_time(timedelta(hours=1))
    left = await office.deliveries()
    assert {one.position for one in left} == {2}
    async with office.database.reader(EVERYONE) as connection:
        for table, rows in ((tables.event, 1), (tables.attempt, 1)):
            found = await connection.scalar(select(func.count()).select_from(table))
            assert found == rows, table.name


async def test_how_far_it_is_behind(office: Office) -> None:
    await office.endpoint()
    async with office.database.reader(EVERYONE) as connection:
        nothing = await due.lag(connection, NOON)
    assert nothing == due.Lag(oldest_due_at=None, due=0, waiting=0, failed=0)
    await office.tell("quo_1", 1)
    await office.tell("quo_2", 2)
    office.postman.answers["/in"] = BROKEN
    await office.send()
    await office.tell("quo_3", 3)
    async with office.database.reader(EVERYONE) as connection:
        found = await due.lag(connection, NOON + MOMENT)
    assert found == due.Lag(oldest_due_at=NOON, due=1, waiting=3, failed=0)


async def test_organisations_share_the_worker_and_nothing_else(
    office: Office, database_url: URL, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One that is slow at many endpoints leaves room for the other."""
    monkeypatch.setattr(sender, "FOR_ONE_ORGANISATION", 2)
    monkeypatch.setattr(sender, "AT_ONCE", 3)
    calling.add_organisation(database_url, "other", "secret-token:filmbuild_of-the-other")
    for number in range(3):
        await office.endpoint(f"/slow-{number}")
    await office.tell("quo_1", 1)
    theirs = Caller(organisation="other", actor="somebody")
    made, _ = await office.endpoints.create(
        theirs,
        WebhookEndpointRequest(url="https://hooks.harbour.example/theirs"),
        None,
    )
    async with office.database.writer("other") as connection:
        await outbox.write(
            connection, "other", event("catalogue", 5, "catalogue.changed", NOON + MOMENT)
        )
    office.clock.now = NOON + MOMENT
    office.postman.hold = asyncio.Event()
    await office.sender.turn()
    await office.until(lambda: len(office.postman.sent) >= 3)
    paths = [one.path for one in office.postman.sent]
    assert "/theirs" in paths
    office.postman.hold.set()
    await office.sender.settled()
    await office.send()
    (delivery,) = await office.deliveries("other")
    assert (delivery.endpoint_id, delivery.state) == (made.id, "delivered")
    assert len(await office.deliveries()) == 3


async def test_what_is_cancelled_while_it_queues_is_not_sent(office: Office) -> None:
    endpoint = await office.endpoint()
    office.postman.hold = asyncio.Event()
    for number in range(AT_ONE_ENDPOINT * 2):
        await office.tell(f"quo_{number}", number)
    running = asyncio.create_task(office.sender.run())
    await office.until(lambda: len(office.postman.sent) == AT_ONE_ENDPOINT)
    off = WebhookEndpointChange(enabled=False)
    await office.endpoints.change(SOMEONE, endpoint, off, {"if-match": "*"})
    office.postman.hold.set()
    await office.sender.settled()
    running.cancel()
    with pytest.raises(asyncio.CancelledError):
        await running
    states = sorted(one.state for one in await office.deliveries())
    assert states == ["cancelled"] * AT_ONE_ENDPOINT + ["delivered"] * AT_ONE_ENDPOINT
    assert len(office.postman.sent) == AT_ONE_ENDPOINT


async def test_stopping_finishes_what_is_being_sent(office: Office) -> None:
    await office.endpoint()
    office.postman.hold = asyncio.Event()
    await office.tell("quo_1")
    running = asyncio.create_task(office.sender.run())
    await office.until(lambda: len(office.postman.sent) == 1)
    running.cancel()
    await asyncio.sleep(0)
    office.postman.hold.set()
    with pytest.raises(asyncio.CancelledError):
        await running
    assert [one.state for one in await office.deliveries()] == ["delivered"]
