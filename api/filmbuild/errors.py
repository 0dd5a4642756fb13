"""What can go wrong with a caller's input, and a collector that reports all of it at once."""

# ruff: noqa: N818 - these name outcomes that callers are told of, as HTTP does

from typing import ClassVar, Self

import msgspec

Token = str | int
REPORTED_FAULTS = 200


class Fault(msgspec.Struct, frozen=True):
    """One thing wrong with the input.

    `pointer` is an RFC 6901 JSON Pointer ("" is the whole body), `code` is stable, and `detail`
    says what was wrong and what would be accepted.
    """

    pointer: str
    code: str
    detail: str


class Refusal(ValueError):
    """Why one value is not accepted; a decoder knows where it stood and makes a fault of it."""

    def __init__(self, code: str, detail: str) -> None:
        super().__init__(detail)
        self.code = code
        self.detail = detail

    def __reduce__(self) -> tuple[type[Self], tuple[str, str]]:
        return type(self), (self.code, self.detail)


class FilmbuildError(Exception):
    """An answer to the caller other than the one that was asked for."""

    code: ClassVar[str] = "error"

    def __init__(self, detail: str, faults: tuple[Fault, ...] = ()) -> None:
        super().__init__(detail)
        self.detail = detail
        self.faults = faults

    def __str__(self) -> str:
        if not self.faults:
            return self.detail
        lines = (f"{fault.pointer or '/'}: {fault.detail}" for fault in self.faults)
        return "\n".join((self.detail, *lines))

    def __reduce__(self) -> tuple[type[Self], tuple[str, tuple[Fault, ...]]]:
        return type(self), (self.detail, self.faults)


class InvalidInput(FilmbuildError):
    """The input breaks the contract; `faults` says where."""

    code = "invalid-input"


class Infeasible(FilmbuildError):
    """The input is well formed, but nothing satisfies it."""

    code = "infeasible"


class MalformedJson(FilmbuildError):
    """The body is not JSON text."""

    code = "malformed-json"


class Unauthorized(FilmbuildError):
    """No caller could be made out."""

    code = "unauthorized"


class Forbidden(FilmbuildError):
    """The caller may not do this."""

    code = "forbidden"


class NotFound(FilmbuildError):
    """Nothing of that name is here."""

    code = "not-found"


class MethodNotAllowed(FilmbuildError):
    """The resource has no such operation."""

    code = "method-not-allowed"


class NotAcceptable(FilmbuildError):
    """No representation that the caller accepts can be made."""

    code = "not-acceptable"


class Conflict(FilmbuildError):
    """The request does not fit the present state of the resource."""

    code = "conflict"


class PreconditionFailed(FilmbuildError):
    """The resource has changed since the caller read it."""

    code = "precondition-failed"


class PayloadTooLarge(FilmbuildError):
    """The body is longer than this operation reads."""

    code = "payload-too-large"


class UnsupportedMediaType(FilmbuildError):
    """The body is in a format that is not read here."""

    code = "unsupported-media-type"


class PreconditionRequired(FilmbuildError):
    """The request must say which version of the resource it is about."""

    code = "precondition-required"


class TooManyRequests(FilmbuildError):
    """The caller has used up an allowance."""

    code = "too-many-requests"


class Unavailable(FilmbuildError):
    """Something this service depends on does not answer."""

    code = "unavailable"


def pointer(tokens: tuple[Token, ...]) -> str:
    """RFC 6901 section 3: "~" is written "~0" and "/" is written "~1"."""
    return "".join(f"/{str(token).replace('~', '~0').replace('/', '~1')}" for token in tokens)


class _Log:
    """The faults of a collector and of all its views; beyond the cap they are only counted."""

    __slots__ = ("count", "kept")

    def __init__(self) -> None:
        self.kept: list[Fault] = []
        self.count = 0


class Faults:
    """Collects faults in the order in which they are found, to be raised once.

    `at` gives a view for a part of the input: it shares the collector and extends the pointer.
    """

    __slots__ = ("_log", "_tokens")

    def __init__(self) -> None:
        self._log = _Log()
        self._tokens: tuple[Token, ...] = ()

    def at(self, *tokens: Token) -> Self:
        view = object.__new__(type(self))
        view._log = self._log
        view._tokens = self._tokens + tokens
        return view

    def add(self, code: str, detail: str, *tokens: Token) -> None:
        log = self._log
        log.count += 1
        if len(log.kept) < REPORTED_FAULTS:
            log.kept.append(Fault(pointer(self._tokens + tokens), code, detail))

    def append(self, fault: Fault) -> None:
        """One that was found elsewhere, with its own pointer from the root."""
        self._log.count += 1
        if len(self._log.kept) < REPORTED_FAULTS:
            self._log.kept.append(fault)

    def __len__(self) -> int:
        return self._log.count

    @property
    def found(self) -> tuple[Fault, ...]:
        """At most `REPORTED_FAULTS`, and then one that says how many more there were."""
        kept = tuple(self._log.kept)
        more = self._log.count - len(kept)
        if not more:
            return kept
        return (*kept, Fault("", "more-faults", f"and {more} more; correct these first"))

    def raise_if_any(
        self, detail: str = "The request is not valid.", kind: type[FilmbuildError] = InvalidInput
    ) -> None:
        if self._log.count:
            raise kind(detail, self.found)
