"""Everything that a call can end in other than its answer: one tree, under FilmbuildError."""

# ruff: noqa: N818 - these name outcomes of HTTP, as the service does

import datetime as dt
from collections.abc import Mapping
from email.utils import parsedate_to_datetime

import msgspec

LONGEST_EXCERPT = 2_000
TOO_MANY = 429
PASSING_STATUSES = frozenset({TOO_MANY, 502, 503, 504})


class Fault(msgspec.Struct, frozen=True):
    """One thing wrong with the request: where (RFC 6901), a stable code, and what is accepted."""

    pointer: str = ""
    code: str = ""
    detail: str = ""


class Problem(msgspec.Struct, frozen=True, kw_only=True):
    """A problem document by RFC 9457; what a proxy leaves out is empty."""

    type: str = "about:blank"
    title: str = ""
    status: int | None = None
    detail: str = ""
    instance: str = ""
    request_id: str | None = None
    errors: tuple[Fault, ...] = ()


class FilmbuildError(Exception):
    """Base of everything that this package raises about a call."""


class TransportError(FilmbuildError):
    """No answer came. The cause is the error of the HTTP client.

    The service may have done what it was asked all the same, unless it was only asked to read.
    `passing` says whether another try may fare better, and `undone` that it has not: nothing was
    sent.
    """

    retry_after: float | None = None

    def __init__(self, detail: str, *, passing: bool = True, undone: bool = False) -> None:
        super().__init__(detail)
        self.passing = passing
        self.undone = undone


class _Answered(FilmbuildError):
    """An answer came: its status, headers and the beginning of its body are kept."""

    def __init__(
        self, detail: str, status: int, headers: Mapping[str, str], content: bytes
    ) -> None:
        super().__init__(detail, status, headers, content)
        self.detail = detail
        self.status = status
        self.headers = headers
        self.body = content[: 4 * LONGEST_EXCERPT].decode(errors="replace")[:LONGEST_EXCERPT]

    @property
    def request_id(self) -> str | None:
        """Quote it when reporting a failure."""
        return self.headers.get("x-request-id")

    def __str__(self) -> str:
        quoted = f" (request {self.request_id})" if self.request_id else ""
        return f"{self.status}: {self.detail}{quoted}"


class DecodeError(_Answered):
    """A success whose body is not what this version of the package expects."""


class ApiError(_Answered):
    """The service, or something before it, answered with a failure.

    `problem` is None where the body is no problem document: then `body` is all there is.
    """

    def __init__(
        self, detail: str, status: int, headers: Mapping[str, str], content: bytes
    ) -> None:
        super().__init__(detail, status, headers, content)
        self.problem = _problem(content)

    @property
    def passing(self) -> bool:
        """Another try may fare better."""
        return self.status in PASSING_STATUSES

    @property
    def undone(self) -> bool:
        """The service has not begun what it was asked for."""
        return self.status == TOO_MANY

    @property
    def errors(self) -> tuple[Fault, ...]:
        return self.problem.errors if self.problem else ()

    @property
    def request_id(self) -> str | None:
        return (self.problem and self.problem.request_id) or super().request_id

    @property
    def retry_after(self) -> float | None:
        """[s] from now, by the Retry-After header of RFC 9110 section 10.2.3."""
        return _seconds(self.headers.get("retry-after"))

    def __str__(self) -> str:
        lines = (f"{one.pointer or 'the whole body'}: {one.detail}" for one in self.errors)
        return "\n  ".join((super().__str__(), *lines))


class BadRequest(ApiError):
    """400: the request cannot be read."""


class Unauthorized(ApiError):
    """401: no key was given, or one that is not known, has expired or was revoked."""


class Forbidden(ApiError):
    """403: the key is known, and does not allow this."""


class NotFound(ApiError):
    """404: nothing of that name is there."""


class Conflict(ApiError):
    """409: the request does not fit the present state."""


class PreconditionFailed(ApiError):
    """412: changed since it was read."""


class TooLarge(ApiError):
    """413: the body has more bytes than the service takes."""


class PreconditionRequired(ApiError):
    """428: the tag of the version that is changed must be given."""


class InvalidInput(ApiError):
    """422: `errors` lists everything that is wrong, each with a pointer into the request."""


class Infeasible(InvalidInput):
    """422: the request is well formed, but nothing satisfies it."""


class RateLimited(ApiError):
    """429: `retry_after` says when to come back, where the service said it."""


class ServerError(ApiError):
    """5xx: the service failed."""


class Unavailable(ServerError):
    """502, 503 or 504: the service, or something that it depends on, does not answer now."""


_BY_STATUS: dict[int, type[ApiError]] = {
    400: BadRequest,
    401: Unauthorized,
    403: Forbidden,
    404: NotFound,
    409: Conflict,
    412: PreconditionFailed,
    413: TooLarge,
    422: InvalidInput,
    428: PreconditionRequired,
    TOO_MANY: RateLimited,
    502: Unavailable,
    503: Unavailable,
    504: Unavailable,
}
_INFEASIBLE = "/problems/infeasible"
_FIRST_SERVER_ERROR = 500


def error_of(status: int, headers: Mapping[str, str], content: bytes) -> ApiError:
    problem = _problem(content)
    kind = _BY_STATUS.get(status, ServerError if status >= _FIRST_SERVER_ERROR else ApiError)
    if kind is InvalidInput and problem is not None and problem.type.endswith(_INFEASIBLE):
        kind = Infeasible
    said = problem and (problem.detail or problem.title)
    return kind(said or "an answer without a problem document", status, headers, content)


def _problem(content: bytes) -> Problem | None:
    try:
        return msgspec.json.decode(content, type=Problem)
    except (msgspec.MsgspecError, UnicodeDecodeError):
        return None


def _seconds(retry_after: str | None) -> float | None:
    if retry_after is None:
        return None
    if retry_after.isascii() and retry_after.isdigit():
        return float(retry_after)
    try:
        moment = parsedate_to_datetime(retry_after)
    except ValueError:
        return None
    if moment.tzinfo is None:
        moment = moment.replace(tzinfo=dt.UTC)
    return max(0.0, (moment - dt.datetime.now(dt.UTC)).total_seconds())
