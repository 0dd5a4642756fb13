"""Settings of the form, proofs of work, and enquiries from their arrival to their erasure."""

import base64
import json
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta
from typing import Any

import altcha
import pytest
from calling import KEY_ID
from enquiries import cases
from serving import Client, NewDatabase, client_of
from sqlalchemy import URL

from filmbuild.enquiries import proof
from filmbuild.errors import Refusal


@pytest.fixture(params=["sqlite", "postgresql"], scope="module")
def url(request: pytest.FixtureRequest) -> Iterator[URL]:
    new: NewDatabase = request.getfixturevalue(f"new_{request.param}")
    with new(True, loaded=True) as url:
        yield url


@pytest.fixture(scope="module")
def client(url: URL) -> Iterator[Client]:
    with client_of(url) as client:
        yield client


@pytest.fixture(scope="module")
def headers(client: Client) -> dict[str, str]:
    return cases.page(cases.set_up(client))


def faults(answer: Any) -> list[tuple[str, str]]:
    assert answer.status_code == 422, answer.text
    return [(one["pointer"], one["code"]) for one in answer.json()["errors"]]


def sent(client: Client, headers: dict[str, str], **more: Any) -> dict[str, Any]:
    answer = client.post(
        cases.ENQUIRIES, json=cases.enquiry(client, headers, **more), headers=headers
    )
    assert answer.status_code == 201, answer.text
    found: dict[str, Any] = answer.json()
    return found


def test_an_enquiry_is_answered_closed_and_erased(client: Client, headers: dict[str, str]) -> None:
    made = sent(client, headers, message="Two doors.\nNo drain.", telephone="+1 (555) 010-0000")
    path = f"{cases.ENQUIRIES}/{made['id']}"
    found = client.get(path)
    enquiry = found.json()
    assert enquiry["person"]["message"] == "Two doors.\nNo drain."
    assert enquiry["state"] == "new"
    assert enquiry["consent"]["text"] == cases.WORDS[0]["consent"]
    assert client.patch(path, json={"state": "answered"}).status_code == 428
    tag = {"if-match": found.headers["etag"]}
    changed = client.patch(path, json={"state": "answered"}, headers=tag)
    assert changed.json()["state"] == "answered"
    assert client.patch(path, json={"state": "closed"}, headers=tag).status_code == 412
    listed = client.get(f"{cases.ENQUIRIES}?state=answered").json()["items"]
    assert [one["id"] for one in listed] == [made["id"]]
    assert client.delete(path).status_code == 204
    assert client.delete(path).status_code == 204
    erased = client.get(path).json()
    assert erased["person"] is None
    assert erased["price"] == made["price"]
    estimate = client.get(f"/v1/estimates/{enquiry['estimate']}")
    assert estimate.status_code == 200
    for text in (client.get(path).text, client.get(cases.ENQUIRIES).text, estimate.text):
        for personal in ("Two doors", "010-0000"):
            assert personal not in text


def test_other_systems_are_told_of_it_without_who_it_was(
    client: Client, headers: dict[str, str]
) -> None:
    hooks = {"url": "https://hooks.harbour.example/in", "event_types": ["enquiry.received"]}
    endpoint = client.post("/v1/webhook-endpoints", json=hooks).json()
    made = sent(client, headers, message="Two doors.")
    (told,) = client.get(f"/v1/webhook-deliveries?endpoint={endpoint['id']}").json()["items"]
    event = client.get(f"/v1/webhook-deliveries/{told['id']}").json()
    assert event["type"] == "enquiry.received"
    assert made["id"] in json.dumps(event)
    assert "Two doors" not in json.dumps(event)


def test_who_erased_it_is_logged(client: Client, headers: dict[str, str]) -> None:
    made = sent(client, headers)
    for _ in range(2):
        assert client.delete(f"{cases.ENQUIRIES}/{made['id']}").status_code == 204
    (entry,) = client.get("/v1/audit-log?action=enquiry.erased&limit=1").json()["items"]
    assert (entry["subject"], entry["actor"]) == (made["id"], KEY_ID)


def test_the_newest_come_first_in_pages(client: Client, headers: dict[str, str]) -> None:
    names = [sent(client, headers)["id"] for _ in range(3)]
    first = client.get(f"{cases.ENQUIRIES}?limit=2")
    assert [one["id"] for one in first.json()["items"]] == names[:0:-1]
    following = client.get(first.links["next"]["url"]).json()["items"]
    assert following[0]["id"] == names[0]


def test_a_repeated_request_makes_one_enquiry_and_one_estimate(
    client: Client, headers: dict[str, str]
) -> None:
    body = cases.enquiry(client, headers)
    keyed = headers | {"idempotency-key": "the-same-click"}
    first = client.post(cases.ENQUIRIES, json=body, headers=keyed)
    estimates = len(client.get("/v1/estimates?limit=100").json()["items"])
    again = client.post(cases.ENQUIRIES, json=body, headers=keyed)
    assert (first.status_code, first.content) == (again.status_code, again.content)
    assert len(client.get("/v1/estimates?limit=100").json()["items"]) == estimates
    other = client.post(cases.ENQUIRIES, json=body | {"name": "B"}, headers=keyed)
    assert faults(other) == [("", "idempotency-key-reused")]


def test_a_solution_is_good_once_in_every_process(
    client: Client, headers: dict[str, str], url: URL
) -> None:
    body = cases.enquiry(client, headers)
    with client_of(url) as second:
        assert second.post(cases.ENQUIRIES, json=body, headers=headers).status_code == 201
    again = client.post(cases.ENQUIRIES, json=body, headers=headers)
    assert faults(again) == [("/proof", "used-proof")]


def test_of_two_with_one_solution_at_once_one_is_kept(
    client: Client, headers: dict[str, str], url: URL
) -> None:
    body = cases.enquiry(client, headers)
    estimates = len(client.get("/v1/estimates?limit=100").json()["items"])
    with client_of(url) as second, ThreadPoolExecutor(2) as threads:
        answers = threads.map(
            lambda one: one.post(cases.ENQUIRIES, json=body, headers=headers), (client, second)
        )
        assert sorted(one.status_code for one in answers) == [201, 422]
    assert len(client.get("/v1/estimates?limit=100").json()["items"]) == estimates + 1


def test_made_up_proofs_are_refused(client: Client, headers: dict[str, str]) -> None:
    """The altcha protocol: what a server signed is what counts, and the key must be the one sought."""
    good = json.loads(base64.b64decode(cases.solved(client, headers)))
    cheaper = json.loads(json.dumps(good))
    cheaper["challenge"]["parameters"]["cost"] = 1
    longer = json.loads(json.dumps(good))
    longer["challenge"]["parameters"]["expiresAt"] += 9_000_000
    guessed = json.loads(json.dumps(good))
    guessed["solution"]["derivedKey"] = "00" * 32
    torn = [b"", b"[]", b"{}", b'{"challenge":[],"solution":{}}', b"\xff\xfe"]
    torn.extend(json.dumps(one).encode() for one in (cheaper, longer, guessed))
    for content in torn:
        body = cases.enquiry(client, headers, proof=base64.b64encode(content).decode())
        answer = client.post(cases.ENQUIRIES, json=body, headers=headers)
        assert faults(answer) == [("/proof", "invalid-proof")], content


def test_proofs_end_and_are_of_one_secret() -> None:
    earlier = datetime.now(UTC) - timedelta(hours=1)
    for secret, made_at, code in (
        ("ours", earlier, "expired-proof"),
        ("theirs", datetime.now(UTC), "invalid-proof"),
    ):
        told = proof.new_challenge(secret, "usual", made_at)
        names = told.parameters
        challenge = altcha.Challenge.from_dict(
            {
                "parameters": {
                    "algorithm": names.algorithm,
                    "cost": names.cost,
                    "keyLength": names.key_length,
                    "keyPrefix": names.key_prefix,
                    "keySignature": names.key_signature,
                    "nonce": names.nonce,
                    "salt": names.salt,
                    "expiresAt": names.expires_at,
                },
                "signature": told.signature,
            }
        )
        solution = altcha.solve_challenge(challenge)
        assert solution is not None
        solved = altcha.Payload(challenge, solution).to_base64()
        with pytest.raises(Refusal) as refused:
            proof.check("ours", solved)
        assert refused.value.code == code


def test_all_that_is_wrong_with_an_enquiry_is_told_at_once(
    client: Client, headers: dict[str, str]
) -> None:
    body = cases.enquiry(
        client,
        headers,
        question=cases.question(language="es", finish="gold"),
        email="",
        consent={"accepted": False, "version": "0" * 16},
        proof="",
    )
    answer = client.post(cases.ENQUIRIES, json=body, headers=headers)
    assert faults(answer) == [
        ("/question/finish", "unknown-finish"),
        ("/email", "contact-missing"),
        ("/consent/accepted", "consent-needed"),
        ("/proof", "invalid-proof"),
    ]
    assert answer.json()["errors"][1]["detail"].startswith("dé un correo")


def test_only_the_words_that_are_in_use_can_be_agreed_to(
    client: Client, headers: dict[str, str]
) -> None:
    body = cases.enquiry(client, headers)
    spanish = client.get(f"{cases.FORM}?language=es", headers=headers).json()
    body["consent"]["version"] = spanish["consent"]["version"]
    answer = client.post(cases.ENQUIRIES, json=body, headers=headers)
    assert faults(answer) == [("/consent/version", "consent-changed")]


def test_settings_are_checked_against_the_catalogue(
    client: Client, headers: dict[str, str]
) -> None:
    assert headers
    assert client.put(cases.FORM, json=cases.settings()).status_code == 428
    tag = {"if-match": client.get(f"{cases.FORM}/settings").headers["etag"]}

    def refused(**more: Any) -> list[tuple[str, str]]:
        return faults(client.put(cases.FORM, json=cases.settings(**more), headers=tag))

    finishes = cases.settings()["finishes"]
    finishes[1]["system"] = "none-such"
    assert [one[0] for one in refused(finishes=finishes)] == ["/finishes/1/system"]
    job = cases.settings()["job"]
    assert [one[0] for one in refused(job=job | {"rate_book": "no-book"})] == ["/job/rate_book"]
    finishes = cases.settings()["finishes"]
    finishes[1]["id"] = "plain"
    finishes[0]["words"].pop()
    assert refused(finishes=finishes, range={"below_percent": "100"}) == [
        ("/finishes/1/id", "duplicate-id"),
        ("/finishes/0/words", "missing-language"),
        ("/range/below_percent", "too-large"),
    ]
    settings = cases.settings(range={"below_percent": "5", "above_percent": "5"})
    changed = client.put(cases.FORM, json=settings, headers=tag)
    assert changed.status_code == 200, changed.text
    assert changed.json()["settings"]["range"]["below_percent"] == "5"
    again = {"if-match": changed.headers["etag"]}
    assert client.put(cases.FORM, json=cases.settings(), headers=again).status_code == 200


def test_the_form_is_told_in_the_language_asked(client: Client, headers: dict[str, str]) -> None:
    spanish = client.get(f"{cases.FORM}?language=es", headers=headers).json()
    assert spanish["title"] == "¿Cuánto costaría su piso?"
    assert [one["name"] for one in spanish["finishes"]] == ["Color liso", "Grano de cuarzo"]
    assert client.get(cases.FORM, headers=headers).json()["language"] == "en"


def test_the_script_may_be_loaded_by_every_page_and_is_kept_by_browsers(client: Client) -> None:
    """The Fetch standard asks for Access-Control-Allow-Origin on module scripts."""
    first = client.get("/quote-form/v1.js", headers={"authorization": ""})
    assert first.status_code == 200
    assert first.headers["content-type"] == "text/javascript; charset=utf-8"
    assert first.headers["access-control-allow-origin"] == "*"
    assert first.headers["cross-origin-resource-policy"] == "cross-origin"
    assert "max-age" in first.headers["cache-control"]
    again = client.get("/quote-form/v1.js", headers={"if-none-match": first.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")


def test_the_demonstration_page_takes_publishable_keys_alone(client: Client) -> None:
    page = client.get("/quote-form/demo", headers={"authorization": ""})
    assert "<filmbuild-quote-form" not in page.text
    assert "script-src 'self'" in page.headers["content-security-policy"]
    assert "unsafe" not in page.headers["content-security-policy"]
    key = "filmbuild-public_" + "x" * 43
    assert f'key="{key}"' in client.get(f"/quote-form/demo?key={key}").text
    for bad in ("secret-token:filmbuild_" + "x" * 43, '"><script>', "filmbuild-public_short"):
        assert client.get("/quote-form/demo", params={"key": bad}).status_code == 422
