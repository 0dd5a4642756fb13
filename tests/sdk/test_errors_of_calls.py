"""What a caller learns from a failure."""

import pickle
from typing import Any

import httpx
import pytest

import filmbuild_sdk
from filmbuild_sdk import ApiError, DecodeError, FilmbuildError, Problem, TransportError, calls

Play = Any
PROBLEM = {
    "type": "/problems/invalid-input",
    "title": "The request is not valid",
    "status": 422,
    "detail": "The request is not valid.",
    "request_id": "from-the-body",
    "errors": [
        {"pointer": "/site/areas/0/id", "code": "wrong-pattern", "detail": "letters and digits"},
        {"pointer": "", "code": "exactly-one", "detail": "give one of site and takeoff", "new": 1},
    ],
    "added_later": True,
}


def problem(status: int, **changed: object) -> httpx.Response:
    return httpx.Response(
        status,
        json={**PROBLEM, "status": status, **changed},
        headers={"content-type": "application/problem+json", "x-request-id": "from-the-header"},
    )


@pytest.mark.parametrize(
    ("status", "kind"),
    [
        (400, "BadRequest"),
        (401, "Unauthorized"),
        (403, "Forbidden"),
        (404, "NotFound"),
        (409, "Conflict"),
        (412, "PreconditionFailed"),
        (418, "ApiError"),
        (422, "InvalidInput"),
        (429, "RateLimited"),
        (500, "ServerError"),
        (501, "ServerError"),
        (503, "Unavailable"),
        (307, "ApiError"),
    ],
)
def test_each_status_has_its_error(play: Play, status: int, kind: str) -> None:
    error, _ = play(calls.health(), problem(status), retries=None)
    assert type(error) is getattr(filmbuild_sdk, kind)
    assert isinstance(error, ApiError)
    assert isinstance(error, FilmbuildError)
    assert error.status == status


def test_everything_that_the_service_said_is_kept(play: Play) -> None:
    error, _ = play(calls.health(), problem(422))
    assert isinstance(error.problem, Problem)
    assert error.problem.type == "/problems/invalid-input"
    assert error.problem.title == "The request is not valid"
    assert [(one.pointer, one.code) for one in error.errors] == [
        ("/site/areas/0/id", "wrong-pattern"),
        ("", "exactly-one"),
    ]
    assert error.request_id == "from-the-body"
    assert error.headers["X-Request-Id"] == "from-the-header"
    assert '"exactly-one"' in error.body


def test_the_message_says_where_and_what(play: Play) -> None:
    error, _ = play(calls.health(), problem(422))
    assert str(error).splitlines() == [
        "422: The request is not valid. (request from-the-body)",
        "  /site/areas/0/id: letters and digits",
        "  the whole body: give one of site and takeoff",
    ]


def test_what_nothing_satisfies_is_an_error_of_its_own(play: Play) -> None:
    error, _ = play(calls.health(), problem(422, type="/problems/infeasible"))
    assert type(error) is filmbuild_sdk.Infeasible
    assert isinstance(error, filmbuild_sdk.InvalidInput)


@pytest.mark.parametrize(
    "body", [b"<html>Bad gateway</html>", b"", b"\xff\xfe", b"[1]", b'"text"', b'{"status": "bad"}']
)
def test_a_body_that_is_no_problem_document_is_kept_as_it_came(play: Play, body: bytes) -> None:
    response = httpx.Response(502, content=body, headers={"x-request-id": "proxy-7"})
    error, _ = play(calls.health(), response, retries=None)
    assert type(error) is filmbuild_sdk.Unavailable
    assert error.problem is None
    assert error.errors == ()
    assert error.request_id == "proxy-7"
    assert error.body == body.decode(errors="replace")
    assert "502" in str(error)


def test_of_a_long_body_the_beginning_is_kept(play: Play) -> None:
    error, _ = play(calls.health(), httpx.Response(500, text="é" * 100_000))
    assert set(error.body) == {"é"}
    assert 1_000 < len(error.body) < 10_000


def test_a_proxys_sparse_problem_document_is_read(play: Play) -> None:
    error, _ = play(calls.health(), httpx.Response(403, json={"title": "Blocked"}))
    assert error.problem == Problem(title="Blocked")
    assert error.request_id is None
    assert str(error) == "403: Blocked"


@pytest.mark.parametrize(
    "body",
    [b"<html>Sign in</html>", b"{}", b'{"status": 5}', b"\xff", b'{"status": "up"'],
    ids=repr,
)
def test_a_success_that_does_not_fit_is_a_decode_error(play: Play, body: bytes) -> None:
    response = httpx.Response(200, content=body, headers={"x-request-id": "odd-1"})
    error, requests = play(calls.get_catalogue(), response)
    assert type(error) is DecodeError
    assert (error.status, error.request_id) == (200, "odd-1")
    assert error.body == body.decode(errors="replace")
    assert len(requests) == 1


def test_a_transport_error_names_the_request_and_its_cause(play: Play) -> None:
    error, _ = play(calls.get_rule("a/b"), httpx.ConnectTimeout("too slow"), retries=None)
    assert type(error) is TransportError
    assert isinstance(error.__cause__, httpx.ConnectTimeout)
    assert "GET http://floors.test/base/v1/rules/a%2Fb" in str(error)


@pytest.mark.parametrize("response", [problem(422), httpx.Response(200, content=b"{}")])
def test_errors_cross_process_boundaries_whole(play: Play, response: httpx.Response) -> None:
    error, _ = play(calls.get_catalogue(), response)
    copy = pickle.loads(pickle.dumps(error))  # noqa: S301 - made on the line itself
    assert type(copy) is type(error)
    assert str(copy) == str(error)
    assert copy.headers["x-request-id" if copy.request_id else "content-length"]
