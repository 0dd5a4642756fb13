"""When a call is tried again, and after how long. Sleeps and sends nothing itself."""

import random
from dataclasses import dataclass
from typing import Any

from filmbuild_sdk.call import Call
from filmbuild_sdk.errors import ApiError, TransportError


@dataclass(frozen=True, slots=True, kw_only=True)
class Retries:
    """Waits are in seconds; each is twice the one before, and shortened by up to half at random.

    Only what can be repeated is tried again: reading, creating under an idempotency key, and
    whatever the service has not begun, as when no connection was made or it answers 429. A
    Retry-After is waited for on top; one beyond `longest_retry_after` ends the tries.
    """

    tries: int = 4
    first_wait: float = 0.5
    longest_wait: float = 8.0
    longest_retry_after: float = 60.0


DEFAULT_RETRIES = Retries()
NO_RETRIES = Retries(tries=1)


class Attempts:
    """Counts the tries of one call."""

    def __init__(self, call: Call[Any], policy: Retries) -> None:
        self._left = policy.tries
        self._repeatable = call.repeatable
        self._wait = policy.first_wait
        self._policy = policy

    def wait_after(self, failure: ApiError | TransportError, *, again: bool = True) -> float | None:
        """[s] until the next try; None where there is to be none, as where its body is used up."""
        self._left -= 1
        harmless = again and (self._repeatable or failure.undone)
        if self._left <= 0 or not failure.passing or not harmless:
            return None
        wait = min(self._wait, self._policy.longest_wait)
        self._wait *= 2
        wait *= random.uniform(0.5, 1.0)  # noqa: S311 - spreads callers out, keeps no secret
        asked = failure.retry_after or 0.0
        return asked + wait if asked <= self._policy.longest_retry_after else None
