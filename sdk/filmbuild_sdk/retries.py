"""When a call is tried again, and after how long. Sleeps and sends nothing itself."""

import random
from dataclasses import dataclass
from typing import Any

from filmbuild_sdk.call import Call
from filmbuild_sdk.errors import ApiError, TransportError


@dataclass(frozen=True, slots=True, kw_only=True)
class Retries:
    """Waits are in seconds; each is twice the one before, and shortened by up to half at random.

    Only what can be repeated is tried again: reading, and creating under an idempotency key. A
    Retry-After is kept to; one beyond `longest_retry_after` ends the tries.
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
        self._left = policy.tries if call.repeatable else 1
        self._wait = policy.first_wait
        self._policy = policy

    def wait_after(self, failure: ApiError | TransportError) -> float | None:
        """[s] until the next try; None where there is to be none."""
        self._left -= 1
        if self._left <= 0 or not failure.passing:
            return None
        wait = min(self._wait, self._policy.longest_wait)
        self._wait *= 2
        wait *= random.uniform(0.5, 1.0)  # noqa: S311 - spreads callers out, keeps no secret
        asked = failure.retry_after or 0.0
        return max(wait, asked) if asked <= self._policy.longest_retry_after else None
