"""Error code to HTTP problem document (RFC 9457): the one table."""

from typing import NamedTuple

import msgspec

from filmbuild.errors import Fault, FilmbuildError

MEDIA_TYPE = "application/problem+json"


class ProblemKind(NamedTuple):
    """What is the same for every problem of one code."""

    code: str
    status: int
    title: str

    @property
    def type(self) -> str:
        return f"/problems/{self.code}"


INTERNAL = ProblemKind("internal-error", 500, "The service failed")
KINDS: dict[str, ProblemKind] = {
    kind.code: kind
    for kind in (
        ProblemKind("malformed-json", 400, "The body is not JSON"),
        ProblemKind("bad-request", 400, "The request cannot be read"),
        ProblemKind("unauthorized", 401, "Credentials are needed"),
        ProblemKind("forbidden", 403, "Not allowed"),
        ProblemKind("not-found", 404, "Not found"),
        ProblemKind("method-not-allowed", 405, "Not an operation of this resource"),
        ProblemKind("not-acceptable", 406, "No acceptable representation"),
        ProblemKind("request-timeout", 408, "The request came too slowly"),
        ProblemKind("conflict", 409, "In conflict with the present state"),
        ProblemKind("precondition-failed", 412, "Changed since it was read"),
        ProblemKind("payload-too-large", 413, "The body is too large"),
        ProblemKind("uri-too-long", 414, "The path and query are too long"),
        ProblemKind("unsupported-media-type", 415, "The body's format is not read here"),
        ProblemKind("invalid-input", 422, "The request is not valid"),
        ProblemKind("infeasible", 422, "No answer exists"),
        ProblemKind("precondition-required", 428, "A precondition is needed"),
        ProblemKind("too-many-requests", 429, "Too many requests"),
        ProblemKind("header-fields-too-large", 431, "The header fields are too large"),
        INTERNAL,
        ProblemKind("unavailable", 503, "Not available now"),
    )
}
_BY_STATUS = {kind.status: kind for kind in reversed(KINDS.values())} | {
    422: KINDS["invalid-input"],
    400: KINDS["bad-request"],
}


class Problem(msgspec.Struct, frozen=True, kw_only=True):
    """A problem document by RFC 9457, with every fault of the request."""

    type: str
    title: str
    status: int
    detail: str
    request_id: str
    instance: str | msgspec.UnsetType = msgspec.UNSET
    errors: tuple[Fault, ...] = ()


_BODY_STATUSES = frozenset((400, 413, 415, 422))


def _problem(
    kind: ProblemKind, detail: str, request_id: str, faults: tuple[Fault, ...] = ()
) -> Problem:
    return Problem(
        type=kind.type,
        title=kind.title,
        status=kind.status,
        detail=detail,
        request_id=request_id,
        errors=faults,
    )


def kind_of(error: FilmbuildError) -> ProblemKind:
    """By the error's own code, else by that of the nearest base in the table."""
    codes = (getattr(base, "code", "") for base in type(error).__mro__)
    return next((KINDS[code] for code in codes if code in KINDS), INTERNAL)


def problem_for(error: BaseException, request_id: str) -> Problem:
    """An error that is not ours is answered without a word of what it was.

    A refused body always has a fault to point at: the whole of it where no part is to blame.
    """
    if isinstance(error, FilmbuildError) and (kind := kind_of(error)) is not INTERNAL:
        faults = error.faults
        if not faults and kind.status in _BODY_STATUSES:
            faults = (Fault("", error.code, error.detail),)
        return _problem(kind, error.detail, request_id, faults)
    return _problem(
        INTERNAL,
        "The request could not be answered; quote the request_id when reporting this.",
        request_id,
    )


def problem_for_status(status: int, detail: str, request_id: str) -> Problem:
    """For errors that a framework raises by HTTP status; unknown ones become the class's base."""
    kind = _BY_STATUS.get(status) or (
        KINDS["bad-request"] if status < INTERNAL.status else INTERNAL
    )
    if kind is INTERNAL:
        return problem_for(RuntimeError(), request_id)
    return _problem(kind, detail, request_id)
