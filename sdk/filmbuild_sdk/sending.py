"""What the clients' methods stand on: something that sends a call."""

# ruff: noqa: ASYNC109 - the timeout is the HTTP client's own

from abc import ABC, abstractmethod
from typing import TypeVar

from filmbuild_sdk.call import UNCHANGED, Call, Timeout

T = TypeVar("T")


class Sender(ABC):
    @abstractmethod
    def send(self, call: Call[T], *, timeout: Timeout = UNCHANGED) -> T:
        """Waits for the answer. Raises FilmbuildError."""


class AsyncSender(ABC):
    @abstractmethod
    async def send(self, call: Call[T], *, timeout: Timeout = UNCHANGED) -> T:
        """Raises FilmbuildError."""
