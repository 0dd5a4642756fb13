"""Lists that come in pages, walked as one."""

from collections.abc import AsyncIterator, Callable, Coroutine, Iterator, Sequence
from typing import Any, Generic, Protocol, TypeVar

from filmbuild_sdk.call import Call

R_co = TypeVar("R_co", covariant=True)


class Page(Protocol[R_co]):
    """`next` is the cursor of the page that follows; None on the last page."""

    @property
    def items(self) -> Sequence[R_co]: ...
    @property
    def next(self) -> str | None: ...


P = TypeVar("P", bound=Page[Any])
R = TypeVar("R")


class Pages(Generic[P, R]):
    """All items of a list, each page asked for when it is reached. Every walk starts afresh."""

    def __init__(self, send: Callable[[Call[P]], P], first: Call[P]) -> None:
        self._send = send
        self._first = first

    def pages(self) -> Iterator[P]:
        call: Call[P] | None = self._first
        while call is not None:
            page = self._send(call)
            yield page
            call = None if page.next is None else call.at(page.next)

    def __iter__(self) -> Iterator[R]:
        for page in self.pages():
            yield from page.items


class AsyncPages(Generic[P, R]):
    """All items of a list, each page asked for when it is reached. Every walk starts afresh."""

    def __init__(self, send: Callable[[Call[P]], Coroutine[Any, Any, P]], first: Call[P]) -> None:
        self._send = send
        self._first = first

    async def pages(self) -> AsyncIterator[P]:
        call: Call[P] | None = self._first
        while call is not None:
            page = await self._send(call)
            yield page
            call = None if page.next is None else call.at(page.next)

    async def __aiter__(self) -> AsyncIterator[R]:
        async for page in self.pages():
            for item in page.items:
                yield item
