"""What happens to a repricing, event by event, however often the connection breaks."""

import asyncio
import time
from collections.abc import AsyncIterator, Iterator, Mapping
from dataclasses import dataclass

import httpx
import msgspec

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, Timeout
from filmbuild_sdk.errors import ApiError, DecodeError, TransportError
from filmbuild_sdk.retries import Attempts
from filmbuild_sdk.sending import AsyncSender, Sender
from filmbuild_sdk.sse import Message, Parser

END = "end"
CUT_SHORT = "the events ended before what they tell of did"


@dataclass(frozen=True, slots=True)
class RepricingEvent:
    """`type` is "estimate" with the estimate as `data`, or "progress" or "end" with the repricing.

    `id` is what to give as `last_event_id` to go on after it.
    """

    type: str
    id: str
    data: "models.RepricedEstimate | models.Repricing"


class _Place:
    """How far the events were read, and when to ask for more."""

    def __init__(self, sender: Sender | AsyncSender, call: Call[str]) -> None:
        self.call = call
        self.over = False
        self._sender = sender
        self._attempts: Attempts = sender.attempts(call)
        self._parser = Parser()

    def connected(self, status: int) -> None:
        self._parser = Parser()
        self.over = status == httpx.codes.NO_CONTENT

    def read(self, content: bytes, headers: Mapping[str, str]) -> Iterator[RepricingEvent]:
        """Whatever comes shows that the service is there: the tries count from one again."""
        self._attempts = self._sender.attempts(self.call)
        for message in self._parser.feed(content):
            if message.id:
                self.call = self.call.after(message.id)
            if event := _event(message, headers):
                yield event
            if message.event == END:
                self.over = True
                return

    def wait_after(self, failure: ApiError | TransportError) -> float:
        """[s] until the next try. Raises the failure where there is to be none."""
        wait = self._attempts.wait_after(failure)
        if wait is None:
            raise failure
        return max(wait, self._parser.retry or 0.0)


class FollowRepricing:
    """Walks over the events until the last one, and connects again after a broken connection.

    No event comes twice and none is left out. Each walk starts where the first one did. Raises
    FilmbuildError.
    """

    def __init__(self, sender: Sender, call: Call[str], *, timeout: Timeout) -> None:
        self._sender = sender
        self._call = call
        self._timeout = timeout

    def __iter__(self) -> Iterator[RepricingEvent]:
        place = _Place(self._sender, self._call)
        while not place.over:
            failure: ApiError | TransportError = TransportError(CUT_SHORT)
            try:
                yield from self._connection(place)
            except (ApiError, TransportError) as error:
                failure = error
            if not place.over:
                time.sleep(place.wait_after(failure))

    def _connection(self, place: _Place) -> Iterator[RepricingEvent]:
        with self._sender.opened(place.call, timeout=self._timeout) as answer:
            place.connected(answer.status_code)
            for content in answer.iter_bytes():
                yield from place.read(content, answer.headers)
                if place.over:
                    return


class AsyncFollowRepricing:
    """Walks over the events until the last one, and connects again after a broken connection.

    No event comes twice and none is left out. Each walk starts where the first one did. Raises
    FilmbuildError.
    """

    def __init__(self, sender: AsyncSender, call: Call[str], *, timeout: Timeout) -> None:
        self._sender = sender
        self._call = call
        self._timeout = timeout

    async def __aiter__(self) -> AsyncIterator[RepricingEvent]:
        place = _Place(self._sender, self._call)
        while not place.over:
            failure: ApiError | TransportError = TransportError(CUT_SHORT)
            try:
                async for event in self._connection(place):
                    yield event
            except (ApiError, TransportError) as error:
                failure = error
            if not place.over:
                await asyncio.sleep(place.wait_after(failure))

    async def _connection(self, place: _Place) -> AsyncIterator[RepricingEvent]:
        async with self._sender.opened(place.call, timeout=self._timeout) as answer:
            place.connected(answer.status_code)
            async for content in answer.aiter_bytes():
                for event in place.read(content, answer.headers):
                    yield event
                if place.over:
                    return


def _event(message: Message, headers: Mapping[str, str]) -> RepricingEvent | None:
    """None for a kind that this version does not know."""
    kinds = {"estimate": models.RepricedEstimate, "progress": models.Repricing}
    kind = kinds.get("progress" if message.event == END else message.event)
    if kind is None:
        return None
    content = message.data.encode()
    try:
        data = msgspec.json.decode(content, type=kind)
    except msgspec.MsgspecError as error:
        raise DecodeError(str(error), httpx.codes.OK, headers, content) from error
    return RepricingEvent(message.event, message.id, data)
