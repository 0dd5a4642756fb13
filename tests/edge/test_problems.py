"""Errors become RFC 9457 problem documents."""

import pytest

from filmbuild import errors
from filmbuild.edge.encoding import encode
from filmbuild.edge.problems import KINDS, problem_for, problem_for_status
from filmbuild.errors import Fault, FilmbuildError, InvalidInput


def _all_errors(base: type[FilmbuildError] = FilmbuildError) -> list[type[FilmbuildError]]:
    return [kind for sub in base.__subclasses__() for kind in (sub, *_all_errors(sub))]


@pytest.mark.parametrize(
    "kind", [kind for kind in _all_errors() if kind.__module__ == errors.__name__]
)
def test_every_error_of_ours_has_its_own_problem(kind: type[FilmbuildError]) -> None:
    problem = problem_for(kind("why"), "request-1")
    assert problem.type == f"/problems/{kind.code}"
    assert (problem.detail, problem.request_id) == ("why", "request-1")
    assert 400 <= problem.status < 500 or kind is errors.Unavailable


@pytest.mark.parametrize(
    ("kind", "status"),
    [
        # RFC 9110 section 15.5 and RFC 6585 section 3
        (errors.MalformedJson, 400),
        (errors.NotFound, 404),
        (errors.MethodNotAllowed, 405),
        (errors.NotAcceptable, 406),
        (errors.Conflict, 409),
        (errors.PreconditionFailed, 412),
        (errors.PayloadTooLarge, 413),
        (errors.UnsupportedMediaType, 415),
        (errors.InvalidInput, 422),
        (errors.Infeasible, 422),
        (errors.PreconditionRequired, 428),
        (errors.TooManyRequests, 429),
    ],
)
def test_statuses(kind: type[FilmbuildError], status: int) -> None:
    assert problem_for(kind(""), "r").status == status


def test_the_document_lists_the_faults() -> None:
    error = InvalidInput("The request is not valid.", (Fault("/a", "negative", "zero or more"),))
    assert encode(problem_for(error, "r"), "us") == (
        b'{"type":"/problems/invalid-input","title":"The request is not valid","status":422,'
        b'"detail":"The request is not valid.","request_id":"r",'
        b'"errors":[{"pointer":"/a","code":"negative","detail":"zero or more"}]}'
    )


def test_an_error_that_is_not_ours_is_not_told() -> None:
    problem = problem_for(RuntimeError("password=secret"), "r")
    assert (problem.status, problem.type) == (500, "/problems/internal-error")
    assert b"secret" not in encode(problem, "us")


def test_an_error_defined_elsewhere_is_answered_as_its_base() -> None:
    class StaleQuote(errors.Conflict):
        code = "stale-quote"

    assert problem_for(StaleQuote("old"), "r").type == "/problems/conflict"


@pytest.mark.parametrize(
    ("status", "code"),
    [
        (400, "bad-request"),
        (404, "not-found"),
        (418, "bad-request"),
        (422, "invalid-input"),
        (500, "internal-error"),
        (502, "internal-error"),
        (503, "unavailable"),
    ],
)
def test_statuses_of_a_framework_become_problems(status: int, code: str) -> None:
    problem = problem_for_status(status, "detail", "r")
    assert problem.type == KINDS[code].type
    assert (problem.detail == "detail") == (code != "internal-error")


@pytest.mark.parametrize(
    "error", [errors.MalformedJson, errors.PayloadTooLarge, errors.UnsupportedMediaType]
)
def test_a_refused_body_is_pointed_at_as_a_whole(error: type[FilmbuildError]) -> None:
    problem = problem_for(error("It cannot be read."), "request")
    assert [(one.pointer, one.code) for one in problem.errors] == [("", error.code)]
