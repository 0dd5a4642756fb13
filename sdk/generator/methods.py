"""The modules of the calls and of the clients' methods: a function for every operation."""

import re

from generator.contract import JSON, Contract, Operation, Parameter, referred
from generator.models import docstring, imports
from generator.types import Types

TIMEOUT = "timeout: Timeout = UNCHANGED"
BINARY = frozenset({"application/pdf", "application/zip"})
PROGRESS = "progress: Progress | None = None"
FUTURE = "from __future__ import annotations\n\n"
METHODS_HEAD = """
from filmbuild_sdk.call import UNCHANGED, Timeout
from filmbuild_sdk.sending import AsyncSender, Sender
"""
FOLLOWING = "last_event_id: str | None = None"
CLASS_HEAD = '''
class {name}({base}):
    """The calls about {tag}."""

'''


class _Writer:
    def __init__(self, contract: Contract) -> None:
        self._contract = contract
        self._types = Types(contract)

    def answer(self, operation: Operation) -> str:
        if operation.answer is None:
            return "None"
        if operation.accept in BINARY:
            return "bytes"
        if operation.accept != JSON and "contentMediaType" not in operation.answer:
            return "str"
        name = referred(operation.answer)
        return f"models.{name}" if name else self._types.of(operation.answer, written=False)

    def parameters(self, operation: Operation, *more: str) -> str:
        """As they are declared: the path's, the body, and by name the query's and `more`."""
        first = [f"{one.name}: str" for one in operation.in_path]
        if operation.body:
            also = " | Upload" if operation.from_file else ""
            first.append(f"request: models.{operation.body}{also}")
        if operation.plain:
            first.append("request: dict[str, Any]")
        if operation.files:
            first.append("content: Upload")
        named = ["if_match: str"] if operation.matched else []
        if operation.making:
            named = ["if_match: str | None = None"]
        if len(operation.files) > 1:
            words = ", ".join(map(repr, operation.files))
            named.append(f"media_type: Choice[Literal[{words}]] = {operation.files[0]!r}")
        named += [self._parameter(one) for one in operation.in_query]
        if operation.keyed:
            named.append("idempotency_key: str | None = None")
        if operation.events:
            named.append(FOLLOWING)
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
        if operation.body or operation.plain:
            arguments.append("body=request")
        if operation.media_type != JSON:
            arguments.append(f"media_type={operation.media_type!r}")
        if operation.files:
            kind = "media_type" if len(operation.files) > 1 else repr(operation.files[0])
            arguments += ["body=content", f"media_type={kind}"]
        if operation.accept != JSON:
            arguments.append(f"accept={operation.accept!r}")
        arguments += _told_by_headers(operation)
        return (
            f"def {operation.name}({self.parameters(operation)}) -> Call[{answer}]:\n"
            f"{docstring(operation.summary.rstrip('.') + '.')}"
            f"    return Call({', '.join(arguments)})\n"
        )

    def method(self, operation: Operation, *, wait: bool) -> str:
        define, answer, result = self._sending(operation, wait=wait)
        more = [PROGRESS, TIMEOUT] if operation.sends_file else [TIMEOUT]
        text = f"{operation.summary.rstrip('.')}.\n\n{operation.description}".strip()
        return (
            f"    {define} {operation.name}(self, {self.parameters(operation, *more)}) -> {answer}:\n"
            f"{docstring(text, ' ' * 8)}"
            f"        return {result}\n"
        )

    def _sending(self, operation: Operation, *, wait: bool) -> tuple[str, str, str]:
        """How the method is defined, what it answers, and what it returns."""
        item = self._contract.item(operation)
        call = f"calls.{operation.name}({_passed(operation)})"
        answer = self.answer(operation)
        if operation.events:
            kind = f"{'Async' if wait else ''}{operation.id[0].upper()}{operation.id[1:]}"
            return "def", kind, f"{kind}(self, {call}, timeout=timeout)"
        if item is not None:
            pages = "AsyncPages" if wait else "Pages"
            answer = f"{pages}[{answer}, models.{referred(item)}]"
            return "def", answer, f"{pages}(lambda call: self.send(call, timeout=timeout), {call})"
        progress = "progress=progress, " if operation.sends_file else ""
        result = f"self.send({call}, {progress}timeout=timeout)"
        return ("async def", answer, f"await {result}") if wait else ("def", answer, result)


def calls_modules(contract: Contract) -> dict[str, str]:
    writer = _Writer(contract)
    return {name: _calls(writer, group) for name, group in contract.groups.items()}


def _calls(writer: _Writer, group: tuple[Operation, ...]) -> str:
    body = "\n\n".join(writer.call(one) for one in group)
    helpers = [name for name in ("Call", "key", "path", "query") if re.search(rf"\b{name}\(", body)]
    own = f"from filmbuild_sdk.call import {', '.join(helpers)}\n"
    return f"{FUTURE}{imports(body)}{own}\n\n{body}"


def methods_modules(contract: Contract) -> dict[str, str]:
    writer = _Writer(contract)
    return {name: _methods(writer, name, group) for name, group in contract.groups.items()}


def _methods(writer: _Writer, name: str, group: tuple[Operation, ...]) -> str:
    classes = (
        CLASS_HEAD.format(
            name=class_name(name, wait=wait), base=_base(wait=wait), tag=name.replace("_", " ")
        )
        + "\n".join(writer.method(one, wait=wait) for one in group)
        for wait in (False, True)
    )
    body = "\n".join(classes)
    pages = [one for one in ("AsyncPages", "Pages") if re.search(rf"\b{one}\(", body)]
    own = f"from filmbuild_sdk.paging import {', '.join(pages)}\n" if pages else ""
    followed = [one for one in _followed(group) if re.search(rf"\b{one}\(", body)]
    if followed:
        own += f"from filmbuild_sdk.following import {', '.join(followed)}\n"
    return FUTURE + imports(body) + METHODS_HEAD + own + body


def all_methods(contract: Contract) -> str:
    """The module of the two classes that have every method."""
    lines = [FUTURE]
    for name in contract.groups:
        both = ", ".join(class_name(name, wait=wait) for wait in (False, True))
        lines.append(f"from filmbuild_sdk.methods.{name} import {both}\n")
    for wait, text in ((False, "`send` waits"), (True, "`send` is awaited")):
        bases = ", ".join(class_name(name, wait=wait) for name in contract.groups)
        name = "AsyncMethods" if wait else "Methods"
        lines.append(f'class {name}({bases}):\n    """One method for each call; {text}."""\n\n')
    return "\n".join(lines)


def class_name(group: str, *, wait: bool) -> str:
    return ("Async" if wait else "") + group.title().replace("_", "") + "Methods"


def _followed(group: tuple[Operation, ...]) -> list[str]:
    names = [one.id[0].upper() + one.id[1:] for one in group if one.events]
    return [prefix + name for name in names for prefix in ("", "Async")]


def _base(*, wait: bool) -> str:
    return "AsyncSender" if wait else "Sender"


def _runtime(answer: str) -> str:
    return "type(None)" if answer == "None" else answer


def _told_by_headers(operation: Operation) -> list[str]:
    """Whether it may be sent twice, and on which condition."""
    told = (
        (operation.computing, "computing=True"),
        (operation.matched, "if_match=if_match"),
        (operation.making, "making=if_match is None"),
        (operation.keyed, "idempotency_key=key(idempotency_key)"),
        (operation.events, "last_event_id=last_event_id"),
    )
    return [argument for holds, argument in told if holds]


def _path(operation: Operation) -> str:
    if not operation.in_path:
        return repr(operation.path)
    names = ", ".join(re.findall(r"{(\w+)}", operation.path))
    template = re.sub(r"{\w+}", "{}", operation.path)
    return f"path({template!r}, {names})"


def _passed(operation: Operation) -> str:
    positional = [one.name for one in operation.in_path] + ["request"] * bool(
        operation.body or operation.plain
    )
    positional += ["content"] * bool(operation.files)
    named = ["if_match"] * operation.matched + ["media_type"] * (len(operation.files) > 1)
    named += [one.name for one in operation.in_query] + ["idempotency_key"] * operation.keyed
    named += ["last_event_id"] * operation.events
    return ", ".join([*positional, *(f"{name}={name}" for name in named)])
