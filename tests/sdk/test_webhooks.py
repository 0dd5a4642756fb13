"""Messages of the service told from others, against the standard's own library."""

import base64
import datetime as dt
import json

import pytest
from standardwebhooks import Webhook

from filmbuild_sdk.webhooks import Event, NotVerified, verify

SECRET, OTHER = (f"whsec_{base64.b64encode(bytes([one] * 24)).decode()}" for one in (3, 250))
NOW = 1_793_000_000
CONTENT = b'{"type":"quotation.accepted","timestamp":"2026-10-26T08:53:20Z","data":{"id":"quo_1", "n":1.0}}'


def signed(content: bytes = CONTENT, secret: str = SECRET, at: int = NOW) -> dict[str, str]:
    when = dt.datetime.fromtimestamp(at, dt.UTC)
    return {
        "webhook-id": "msg_1",
        "webhook-timestamp": str(at),
        "webhook-signature": Webhook(secret).sign("msg_1", when, content.decode()),
    }


def test_what_the_standards_library_signs_is_verified() -> None:
    event = verify(CONTENT, signed(), SECRET, now=NOW)
    assert event == Event(
        id="msg_1",
        type="quotation.accepted",
        timestamp="2026-10-26T08:53:20Z",
        data=json.loads(CONTENT)["data"],
    )


def test_names_of_headers_may_be_in_any_case() -> None:
    titled = {name.title(): value for name, value in signed().items()}
    assert verify(CONTENT, titled, SECRET, now=NOW).id == "msg_1"


def test_while_a_secret_is_replaced_either_will_do() -> None:
    both = signed()
    both["webhook-signature"] += " " + signed(secret=OTHER)["webhook-signature"] + " v1a,unread"
    for secret in (SECRET, OTHER, [OTHER, SECRET]):
        assert verify(CONTENT, both, secret, now=NOW).id == "msg_1"


@pytest.mark.parametrize("late", [-301, 301])
def test_a_message_of_another_time_is_refused(late: int) -> None:
    with pytest.raises(NotVerified, match="clock"):
        verify(CONTENT, signed(), SECRET, now=NOW + late)
    assert verify(CONTENT, signed(), SECRET, now=NOW + late, tolerance=400).id == "msg_1"


def test_json_that_was_written_again_is_another_message() -> None:
    again = json.dumps(json.loads(CONTENT)).encode()
    assert again != CONTENT
    with pytest.raises(NotVerified, match="signature"):
        verify(again, signed(), SECRET, now=NOW)


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("webhook-signature", "v1,AAAA"),
        ("webhook-signature", ""),
        ("webhook-timestamp", "1793000001"),
        ("webhook-timestamp", "soon"),
        ("webhook-id", "msg_2"),
    ],
)
def test_anything_that_was_altered_is_refused(name: str, value: str) -> None:
    with pytest.raises(NotVerified):
        verify(CONTENT, signed() | {name: value}, SECRET, now=NOW)


@pytest.mark.parametrize("name", list(signed()))
def test_a_message_without_a_header_is_refused(name: str) -> None:
    headers = signed()
    del headers[name]
    with pytest.raises(NotVerified, match=name):
        verify(CONTENT, headers, SECRET, now=NOW)


def test_another_secret_does_not_do_and_a_wrong_one_is_told() -> None:
    with pytest.raises(NotVerified, match="signature"):
        verify(CONTENT, signed(), OTHER, now=NOW)
    with pytest.raises(ValueError, match="base64"):
        verify(CONTENT, signed(), "whsec_?", now=NOW)


def test_what_was_read_already_cannot_be_verified() -> None:
    with pytest.raises(TypeError, match="bytes"):
        verify(json.loads(CONTENT), signed(), SECRET, now=NOW)


@pytest.mark.parametrize("content", [b"[]", b"not json", b'{"type":1,"timestamp":"x"}'])
def test_what_is_no_event_is_refused_even_when_signed(content: bytes) -> None:
    with pytest.raises(NotVerified, match="event"):
        verify(content, signed(content), SECRET, now=NOW)
