"""The modules of the calls and of the clients' methods: a function for every operation."""

import re
from collections.abc import Callable

from generator.contract import JSON, Contract, Operation, Parameter, referred
from generator.models import docstring, imports
from generator.types import Types

TIMEOUT = "timeout: Timeout = UNCHANGED"
METHODS_HEAD = """
from abc import ABC, abstractmethod
from typing import TypeVar

from filmbuild_sdk.call import UNCHANGED, Call, Timeout
from filmbuild_sdk.paging import AsyncPages, Pages

T = TypeVar("T")

"""
CLASS_HEAD = '''
class {name}(ABC):
    """{text}"""

    @abstractmethod
    {define} send(self, call: Call[T], *, timeout: Timeout = UNCHANGED) -> T:
        """Raises FilmbuildError."""

'''


class _Writer:
    def __init__(self, contract: Contract) -> None:
        self._contract = contract
        self._types = Types(contract)

    def answer(self, operation: Operation) -> str:
        if operation.answer is None:
            return "None"
        name = referred(operation.answer)
        return f"models.{name}" if name else self._types.of(operation.answer, written=False)

    def parameters(self, operation: Operation, *more: str) -> str:
        """As they are declared: the path's, the body, and by name the query's and `more`."""
        first = [f"{one.name}: str" for one in operation.in_path]
        if operation.body:
            first.append(f"request: models.{operation.body}")
        if operation.files:
            first.append("content: bytes")
        named = ["if_match: str"] if operation.matched else []
        if len(operation.files) > 1:
            words = ", ".join(map(repr, operation.files))
            named.append(f"media_type: Choice[Literal[{words}]] = {operation.files[0]!r}")
        named += [self._parameter(one) for one in operation.in_query]
        if operation.keyed:
            named.append("idempotency_key: str | None = None")
        named += more
        return ", ".join([*first, *(["*", *named] if named else [])])

    def _parameter(self, one: Parameter) -> str:
        kind = self._types.of(one.schema, written=True)
        return f"{one.name}: {kind}" if one.required else f"{one.name}: {kind} | None = None"

    def call(self, operation: Operation) -> str:
        answer = self.answer(operation)
        arguments = [repr(operation.method), _path(operation), _runtime(answer)]
        if operation.in_query:
            given = ", ".join(f"{one.name}={one.name}" for one in operation.in_query)
            arguments.append(f"query=query({given})")
        if operation.body:
            arguments.append("body=request")
        if operation.media_type != JSON:
            arguments.append(f"media_type={operation.media_type!r}")
        if operation.files:
            kind = "media_type" if len(operation.files) > 1 else repr(operation.files[0])
            arguments += ["body=content", f"media_type={kind}"]
        if operation.accept != JSON:
            arguments.append(f"accept={operation.accept!r}")
        if operation.matched:
            arguments.append("if_match=if_match")
        if operation.keyed:
            arguments.append("idempotency_key=key(idempotency_key)")
        return (
            f"def {operation.name}({self.parameters(operation)}) -> Call[{answer}]:\n"
            f"{docstring(operation.summary.rstrip('.') + '.')}"
            f"    return Call({', '.join(arguments)})\n"
        )

    def method(self, operation: Operation, *, wait: bool) -> str:
        item = self._contract.item(operation)
        call = f"calls.{operation.name}({_passed(operation)})"
        answer = self.answer(operation)
        define = "def"
        if item is not None:
            pages = "AsyncPages" if wait else "Pages"
            answer = f"{pages}[{answer}, models.{referred(item)}]"
            result = f"{pages}(lambda call: self.send(call, timeout=timeout), {call})"
        else:
            define = "async def" if wait else "def"
            result = f"{'await ' if wait else ''}self.send({call}, timeout=timeout)"
        text = f"{operation.summary.rstrip('.')}.\n\n{operation.description}".strip()
        return (
            f"    {define} {operation.name}(self, {self.parameters(operation, TIMEOUT)}) -> {answer}:\n"
            f"{docstring(text, ' ' * 8)}"
            f"        return {result}\n"
        )


def calls_module(contract: Contract) -> str:
    writer = _Writer(contract)
    body = "\n\n".join(writer.call(one) for one in contract.operations)
    helpers = [name for name in ("Call", "key", "path", "query") if re.search(rf"\b{name}\(", body)]
    own = f"from filmbuild_sdk.call import {', '.join(helpers)}\n"
    return f"{imports(body)}{own}\n\n{body}"


def methods_module(contract: Contract) -> str:
    writer = _Writer(contract)

    def whole(head: str, write: Callable[[Operation], str]) -> str:
        return head + "\n".join(write(one) for one in contract.operations)

    body = whole(
        CLASS_HEAD.format(
            name="Methods", text="One method for each call; `send` waits.", define="def"
        ),
        lambda one: writer.method(one, wait=False),
    ) + whole(
        CLASS_HEAD.format(
            name="AsyncMethods",
            text="One method for each call; `send` is awaited.",
            define="async def",
        ),
        lambda one: writer.method(one, wait=True),
    )
    return imports(body) + METHODS_HEAD + body


def _runtime(answer: str) -> str:
    return "type(None)" if answer == "None" else answer


def _path(operation: Operation) -> str:
    if not operation.in_path:
        return repr(operation.path)
    names = ", ".join(re.findall(r"{(\w+)}", operation.path))
    template = re.sub(r"{\w+}", "{}", operation.path)
    return f"path({template!r}, {names})"


def _passed(operation: Operation) -> str:
    positional = [one.name for one in operation.in_path] + ["request"] * bool(operation.body)
    positional += ["content"] * bool(operation.files)
    named = ["if_match"] * operation.matched + ["media_type"] * (len(operation.files) > 1)
    named += [one.name for one in operation.in_query] + ["idempotency_key"] * operation.keyed
    return ", ".join([*positional, *(f"{name}={name}" for name in named)])
