"""`filmbuild-client keys`, against answers in the form of the contract."""

import json
import stat
from pathlib import Path

import httpx
import pytest
from terminals import Done, in_process

from filmbuild_sdk import Client
from filmbuild_sdk.cli.state import State
from filmbuild_sdk.testing import FakeService

SECRET = "secret-token:filmbuild_made-just-now"  # noqa: S105 - what the made-up service answers
NAME = "key_" + 26 * "1"
KEY = {
    "id": NAME,
    "kind": "secret",
    "name": "Office",
    "hint": "-now",
    "state": "live",
    "scopes": ["estimates:read", "prices:write"],
    "origins": [],
    "created_at": "2026-01-01T00:00:00Z",
    "created_by": "tests",
    "expires_at": "2027-01-31T00:00:00Z",
    "revoked_at": None,
    "last_used_at": None,
    "replaced_by": None,
}
WEB = {
    **KEY,
    "id": NAME[:-1] + "2",
    "kind": "publishable",
    "scopes": [],
    "origins": ["https://floors.example"],
}


@pytest.fixture
def service(monkeypatch: pytest.MonkeyPatch) -> FakeService:
    service = FakeService(
        {
            ("GET", "/v1/keys"): [{"items": [KEY], "next": "more"}, {"items": [WEB], "next": None}],
            ("POST", "/v1/keys"): {"key": KEY, "secret": SECRET},
            ("POST", f"/v1/keys/{NAME}/rotation"): {"key": WEB, "secret": SECRET},
            ("POST", f"/v1/keys/{NAME}/revocation"): {**KEY, "state": "revoked"},
        }
    )
    monkeypatch.setattr(State, "client", lambda _state: Client("http://a.test", transport=service))
    return service


def run(*arguments: str) -> Done:
    return in_process(["keys", *arguments], {})


def test_all_pages_are_listed(service: FakeService) -> None:
    done = run("list")
    assert [line.split()[0] for line in done.out.splitlines()[2:]] == [NAME, WEB["id"]]
    assert "estimates:read prices:write" in done.out
    assert [dict(one.url.params).get("cursor") for one in service.requests] == [None, "more"]


def test_a_new_key_alone_is_on_standard_output(service: FakeService) -> None:
    done = run(
        "create", "Office", "--scope", "prices:write", "--expires-at", "2027-01-31T00:00:00Z"
    )
    assert (done.code, done.out) == (0, SECRET + "\n")
    assert "not shown again" in done.err
    assert service.bodies() == [
        {
            "name": "Office",
            "kind": "secret",
            "scopes": ["prices:write"],
            "expires_at": "2027-01-31T00:00:00Z",
        }
    ]
    assert service.requests[0].headers["idempotency-key"]


def test_a_new_key_can_go_into_a_file_for_its_owner_alone(
    service: FakeService, tmp_path: Path
) -> None:
    path = tmp_path / "office.key"
    done = run("create", "Office", "--secret-file", str(path), "--json")
    assert done.code == 0
    assert path.read_text() == SECRET + "\n"
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert SECRET not in done.out + done.err
    assert json.loads(done.out)["key"]["id"] == NAME
    again = run("create", "Office", "--secret-file", str(path))
    assert again.code == 2
    assert len(service.requests) == 1


def test_a_key_that_was_lost_on_the_way_is_told(service: FakeService) -> None:
    """The service tells a key once: a repeated request is answered without it."""
    service._answers["POST", "/v1/keys"] = [  # noqa: SLF001 - another answer than that of the others
        httpx.Response(503),
        {"key": KEY, "secret": None},
    ]
    done = run("create", "Office")
    assert (done.code, done.out) == (3, "")
    assert f"keys revoke {NAME}" in done.err


def test_a_key_is_replaced_and_the_old_one_works_for_a_while(service: FakeService) -> None:
    done = run("rotate", NAME, "--overlap", "PT6H")
    assert (done.code, done.out) == (0, SECRET + "\n")
    assert service.bodies() == [{"overlap": "PT6H"}]
    assert "PT6H" in done.err


def test_a_key_is_revoked_where_that_is_confirmed(service: FakeService) -> None:
    refused = run("revoke", NAME)
    assert refused.code == 2
    assert service.requests == []
    done = run("revoke", NAME, "--yes")
    assert done.code == 0
    assert service.requests[0].url.path == f"/v1/keys/{NAME}/revocation"
