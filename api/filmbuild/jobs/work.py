"""What a feature has a worker do."""

from collections.abc import Awaitable, Callable, Mapping
from dataclasses import dataclass

import msgspec
from sqlalchemy.ext.asyncio import AsyncConnection


class Job(msgspec.Struct, frozen=True, kw_only=True):
    """Something to be done about the feature's record `subject`."""

    organisation: str
    id: str
    kind: str
    subject: str
    attempt: int


@dataclass(frozen=True, slots=True)
class Work:
    """One kind of job.

    `portion` is given the organisation and the subject, does a second's work or so in transactions
    of its own, and says whether more is left. `failed` is called once where it cannot go on, in the
    transaction that ends the job, with what is to be told of it.
    """

    portion: Callable[[str, str], Awaitable[bool]]
    failed: Callable[[AsyncConnection, str, str, str], Awaitable[None]]


Duty = Callable[[], Awaitable[None]]
"""What the worker sees to all the while, beside jobs; it goes on until it is cancelled."""
Works = Mapping[str, Work]
"""By kind."""
