"""What the clients' methods stand on: something that sends a call."""

# ruff: noqa: ASYNC109 - the timeout is the HTTP client's own

from abc import ABC, abstractmethod
from contextlib import AbstractAsyncContextManager, AbstractContextManager
from typing import Any, TypeVar

import httpx

from filmbuild_sdk.call import UNCHANGED, Call, Timeout
from filmbuild_sdk.retries import Attempts
from filmbuild_sdk.uploads import Progress

T = TypeVar("T")


class Sender(ABC):
    @abstractmethod
    def send(
        self, call: Call[T], *, progress: Progress | None = None, timeout: Timeout = UNCHANGED
    ) -> T:
        """Waits for the answer. Raises FilmbuildError."""

    @abstractmethod
    def opened(
        self, call: Call[Any], *, timeout: Timeout = UNCHANGED
    ) -> AbstractContextManager[httpx.Response]:
        """The answer, to be read as it comes. One try; raises FilmbuildError."""

    @abstractmethod
    def attempts(self, call: Call[Any]) -> Attempts: ...


class AsyncSender(ABC):
    @abstractmethod
    async def send(
        self, call: Call[T], *, progress: Progress | None = None, timeout: Timeout = UNCHANGED
    ) -> T:
        """Raises FilmbuildError."""

    @abstractmethod
    def opened(
        self, call: Call[Any], *, timeout: Timeout = UNCHANGED
    ) -> AbstractAsyncContextManager[httpx.Response]:
        """The answer, to be read as it comes. One try; raises FilmbuildError."""

    @abstractmethod
    def attempts(self, call: Call[Any]) -> Attempts: ...
