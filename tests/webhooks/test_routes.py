"""Endpoints and deliveries over HTTP."""

import base64
from collections.abc import Iterator
from typing import Any

import calling
import pytest
from serving import Client, NewDatabase, client_of
from webhook_cases import URL

from filmbuild.webhooks.service import MOST_ENDPOINTS

PATH = "/v1/webhook-endpoints"
LOG = "/v1/webhook-deliveries"
OTHER = "secret-token:filmbuild_of-the-other-organisation"


@pytest.fixture
def client(new_database: NewDatabase) -> Iterator[Client]:
    with new_database(True) as url:
        calling.add_organisation(url, "other", OTHER)
        with client_of(url) as client:
            yield client


def make(client: Client, **more: Any) -> dict[str, Any]:
    answer = client.post(PATH, json={"url": URL, **more})
    assert answer.status_code == 201, answer.text
    made: dict[str, Any] = answer.json()
    return made


def codes(answer: Any, status: int) -> list[tuple[str, str]]:
    assert answer.status_code == status, answer.text
    assert answer.headers["content-type"] == "application/problem+json"
    return [(one["pointer"], one["code"]) for one in answer.json()["errors"]]


def test_the_secret_is_told_once(client: Client) -> None:
    """`whsec_` and base64 of 24 to 64 bytes (Standard Webhooks 1.0, "Signature scheme")."""
    answer = client.post(PATH, json={"url": URL}, headers={"idempotency-key": "a"})
    made = answer.json()
    assert answer.headers["cache-control"] == "no-store"
    prefix, _, text = made["secret"].partition("_")
    assert prefix == "whsec"
    assert 24 <= len(base64.b64decode(text, validate=True)) <= 64
    assert (made["enabled"], made["event_types"]) == (True, None)
    again = client.post(PATH, json={"url": URL}, headers={"idempotency-key": "a"})
    assert again.status_code == 201
    assert again.json() == made | {"secret": None}
    for path in (PATH, answer.headers["location"], "/v1/audit-log"):
        found = client.get(path)
        assert found.status_code == 200
        assert "whsec_" not in found.text
        assert text not in found.text
    assert client.get(PATH).json()["items"] == [
        {name: value for name, value in made.items() if name != "secret"}
    ]


def test_a_rotation_tells_another_one(client: Client) -> None:
    made = make(client)
    path = f"{PATH}/{made['id']}/rotation"
    answer = client.post(path, json={"overlap": "PT1H"}, headers={"idempotency-key": "r"})
    assert answer.status_code == 200, answer.text
    rotated = answer.json()
    assert rotated["secret"] not in {None, made["secret"]}
    assert rotated["old_secret_until"] > rotated["updated_at"]
    again = client.post(path, json={"overlap": "PT1H"}, headers={"idempotency-key": "r"})
    assert again.json() == rotated | {"secret": None}
    at_once = client.post(path, json={"overlap": "PT0S"}).json()
    assert at_once["old_secret_until"] is None
    assert at_once["secret"] not in {made["secret"], rotated["secret"]}
    assert codes(client.post(path, json={"overlap": "P8D"}), 422) == [("/overlap", "out-of-range")]


def test_all_that_is_wrong_is_said_at_once(client: Client) -> None:
    body = {"url": "http://localhost/in", "event_types": ["invoice.created", "floor.baked"]}
    assert codes(client.post(PATH, json=body), 422) == [
        ("/url", "invalid-url"),
        ("/event_types/1", "unknown-event-type"),
    ]
    assert [one for one, _ in codes(client.post(PATH, json={"url": 7, "colour": "red"}), 422)] == [
        "/url",
        "/colour",
    ]
    assert codes(client.post(PATH, json={"url": URL, "event_types": []}), 422)
    assert codes(client.post(PATH, json={"url": URL, "event_types": ["webhook.test"]}), 422)
    assert client.get(PATH).json()["items"] == []


def test_a_change_needs_the_tag_that_was_read(client: Client) -> None:
    made = make(client, description="Books", event_types=["invoice.created"])
    path = f"{PATH}/{made['id']}"
    tag = client.get(path).headers["etag"]
    assert codes(client.patch(path, json={"enabled": False}), 428) == []
    changed = client.patch(
        path,
        content=b'{"event_types": null, "enabled": false}',
        headers={"if-match": tag, "content-type": "application/merge-patch+json"},
    )
    assert changed.status_code == 200, changed.text
    assert changed.headers["etag"] != tag
    now = changed.json()
    assert (now["enabled"], now["event_types"], now["description"]) == (False, None, "Books")
    assert codes(client.patch(path, json={"enabled": True}, headers={"if-match": tag}), 412) == []
    faulty = client.patch(path, json={"url": "https://10.0.0.1/"}, headers={"if-match": "*"})
    assert codes(faulty, 422) == [("/url", "invalid-url")]
    assert client.delete(path).status_code == 428
    assert client.delete(path, headers={"if-match": changed.headers["etag"]}).status_code == 204
    assert client.get(path).status_code == 404
    actions = {one["action"] for one in client.get("/v1/audit-log").json()["items"]}
    assert actions == {"webhook.created", "webhook.changed", "webhook.deleted"}


def test_a_change_that_changes_nothing_leaves_the_tag(client: Client) -> None:
    path = f"{PATH}/{make(client)['id']}"
    tag = client.get(path).headers["etag"]
    answer = client.patch(path, json={"enabled": True}, headers={"if-match": tag})
    assert answer.headers["etag"] == tag


def test_there_are_only_so_many(client: Client) -> None:
    for _ in range(MOST_ENDPOINTS):
        make(client)
    assert client.post(PATH, json={"url": URL}).status_code == 409
    first = client.get(PATH, params={"limit": 15}).json()
    second = client.get(PATH, params={"limit": 15, "cursor": first["next"]}).json()
    assert (len(first["items"]), len(second["items"]), second["next"]) == (15, 5, None)


def test_a_test_is_sent_to_one_endpoint_whatever_it_chose(client: Client) -> None:
    made = make(client, event_types=["invoice.created"])
    make(client)
    answer = client.post(f"{PATH}/{made['id']}/test")
    assert answer.status_code == 202, answer.text
    delivery = answer.json()
    assert (delivery["type"], delivery["state"]) == ("webhook.test", "waiting")
    found = client.get(answer.headers["location"]).json()
    assert found["message"]["data"] == {"endpoint": made["id"]}
    assert found["message"]["type"] == "webhook.test"
    assert found["log"] == []
    assert client.get(LOG).json()["items"] == [delivery]
    again = client.post(f"{LOG}/{delivery['id']}/redelivery")
    assert again.status_code == 202
    assert again.json()["event"] == delivery["event"]
    client.patch(f"{PATH}/{made['id']}", json={"enabled": False}, headers={"if-match": "*"})
    assert client.post(f"{PATH}/{made['id']}/test").status_code == 409
    assert client.get(f"{LOG}/{delivery['id']}").json()["state"] == "cancelled"


def test_the_log_is_filtered_and_paged(client: Client) -> None:
    first, second = make(client)["id"], make(client)["id"]
    made = [client.post(f"{PATH}/{one}/test").json()["id"] for one in (first, second, first)]
    of_first = client.get(LOG, params={"endpoint": first}).json()["items"]
    assert [one["id"] for one in of_first] == [made[2], made[0]]
    assert client.get(LOG, params={"state": "delivered"}).json()["items"] == []
    page = client.get(LOG, params={"limit": 2, "state": "waiting"})
    assert 'rel="next"' in page.headers["link"]
    rest = client.get(
        LOG, params={"limit": 2, "state": "waiting", "cursor": page.json()["next"]}
    ).json()["items"]
    assert [one["id"] for one in (*page.json()["items"], *rest)] == made[::-1]
    assert codes(client.get(LOG, params={"state": "lost"}), 422) == [
        ("/state", "invalid-parameter")
    ]


def test_another_organisation_sees_none_of_it(client: Client) -> None:
    made = make(client)
    delivery = client.post(f"{PATH}/{made['id']}/test").json()
    theirs = {"authorization": f"Bearer {OTHER}", "if-match": "*"}
    for path in (PATH, LOG):
        assert client.get(path, headers=theirs).json()["items"] == []
    one, log = f"{PATH}/{made['id']}", f"{LOG}/{delivery['id']}"
    answers = [
        client.get(one, headers=theirs),
        client.patch(one, json={"enabled": False}, headers=theirs),
        client.delete(one, headers=theirs),
        client.post(f"{one}/test", headers=theirs),
        client.post(f"{one}/rotation", json={}, headers=theirs),
        client.get(log, headers=theirs),
        client.post(f"{log}/redelivery", headers=theirs),
    ]
    assert {one.status_code for one in answers} == {404}
    assert client.get(one).json()["enabled"]
