"""How a failure is told: what happened, where, and what to do next."""

import sys

import msgspec

from filmbuild_sdk import (
    ApiError,
    Conflict,
    DecodeError,
    FilmbuildError,
    Forbidden,
    NotFound,
    RateLimited,
    ServerError,
    TransportError,
    Unauthorized,
    Unavailable,
)
from filmbuild_sdk.cli.output import say
from filmbuild_sdk.cli.state import State

DONE, REFUSED, WRONG_USE, NOT_REACHED, NOT_ALLOWED, FAILED, NOT_CONFIRMED = range(7)
INTERRUPTED = 130


def tell(error: FilmbuildError, state: State) -> int:
    """Writes to standard error, and gives the exit code."""
    if state.as_json:
        sys.stderr.buffer.write(msgspec.json.encode(_document(error)) + b"\n")
        sys.stderr.flush()
        return code_of(error)
    say(f"Error: {error}")
    say(_next(error, state))
    return code_of(error)


def interrupted() -> int:
    say("\nStopped. What was sent before may have been done.")
    return INTERRUPTED


def code_of(error: FilmbuildError) -> int:
    if isinstance(error, TransportError | Unavailable | RateLimited):
        return NOT_REACHED
    if isinstance(error, Unauthorized | Forbidden):
        return NOT_ALLOWED
    return FAILED if isinstance(error, ServerError | DecodeError) else REFUSED


def _document(error: FilmbuildError) -> object:
    """The problem document as it came, or what is known without one."""
    if isinstance(error, ApiError) and error.problem is not None:
        return error.problem
    status = error.status if isinstance(error, ApiError | DecodeError) else None
    return {
        "type": "about:blank",
        "title": type(error).__name__,
        "status": status,
        "detail": str(error),
    }


# the first kind that fits
_NEXT: tuple[tuple[type[FilmbuildError], str], ...] = (
    (TransportError, "Is the service running at {url}? Say where with --url or FILMBUILD_URL."),
    (Unauthorized, "Put a key that is in use into FILMBUILD_KEY, or into a file for --key-file."),
    (Forbidden, "Use a key with the scope: `filmbuild-client keys list` shows what each may do."),
    (RateLimited, "Try again {when}."),
    (Unavailable, "Try again {when}."),
    (NotFound, "Look at the name, and that --url is the service's address without /v1."),
    (Conflict, "Look at what has changed meanwhile, and try again."),
    (ServerError, "Report it to those who run the service, with the request's id."),
    (DecodeError, "Is {url} the service? If so, another version of this program may read it."),
    (FilmbuildError, "Mend what is listed, and try again: nothing was changed."),
)


def _next(error: FilmbuildError, state: State) -> str:
    after = error.retry_after if isinstance(error, ApiError) else None
    when = "later" if after is None else f"in {after:.0f} s"
    text = next(text for kind, text in _NEXT if isinstance(error, kind))
    return text.format(url=state.url, when=when)
