"""The operations of an OpenAPI document, and which of its types are written and which are read."""

import re
from collections.abc import Iterator
from functools import cached_property
from typing import Any, NamedTuple

Json = dict[str, Any]
JSON = "application/json"
# where the operation's own id would read badly as a method
NAMES = {
    "calculateEstimate": "calculate",
    "compareEstimates": "compare",
    "getContract": "contract",
    "getHealth": "health",
    "getReadiness": "readiness",
}


# what a method's name ends in, where it asks for another media type than JSON
SUFFIXES = {
    "image/svg+xml": "_drawing",
    "text/calendar": "_calendar",
    "text/csv": "_table",
    "text/html": "_page",
    "text/plain": "_text",
}


class Parameter(NamedTuple):
    name: str
    schema: Json
    required: bool


class Operation(NamedTuple):
    """One operation as it answers in one media type, `accept`.

    `body` is the name of a component; `file` the media type of a body that is none.
    """

    id: str
    method: str
    path: str
    summary: str
    description: str
    in_path: tuple[Parameter, ...]
    in_query: tuple[Parameter, ...]
    keyed: bool
    body: str | None
    file: str | None
    answer: Json
    accept: str

    @property
    def name(self) -> str:
        """The method's name: the operation's id in the way of Python, without "compute"."""
        name = NAMES.get(self.id) or _snake(self.id).removeprefix("compute_")
        return name + SUFFIXES.get(self.accept, "")


class Contract:
    def __init__(self, document: Json) -> None:
        self.schemas: dict[str, Json] = document["components"]["schemas"]
        self.operations = tuple(
            _operation(method, path, one, media_type)
            for path, methods in document["paths"].items()
            for method, one in methods.items()
            if JSON in _success(one)["content"]
            for media_type in _success(one)["content"]
        )

    def item(self, operation: Operation) -> Json | None:
        """The schema of one item, where the operation answers with a page of a list."""
        properties = self.schemas.get(referred(operation.answer) or "", {}).get("properties", {})
        paged = any(one.name == "cursor" for one in operation.in_query)
        if not paged or not {"items", "next"} <= properties.keys():
            return None
        item: Json = properties["items"]["items"]
        return item

    @cached_property
    def written(self) -> set[str]:
        """Types that callers make themselves; not the answers that are handed back as they came."""
        answers = {name for one in self.operations if (name := referred(one.answer))}
        bodies = [one.body for one in self.operations if one.body]
        return set(self._reached(bodies, answers))

    @cached_property
    def used(self) -> tuple[str, ...]:
        """All types of bodies and answers, each after those that it is made of."""
        roots = [
            name for one in self.operations for name in (one.body, *references(one.answer)) if name
        ]
        return tuple(self._reached(sorted(roots), set()))

    @cached_property
    def tags(self) -> dict[str, tuple[str, str]]:
        """By type, the field and the word that tell it from the others of its union."""
        found = {}
        for union in _walk(self.schemas):
            mapping = union.get("discriminator", {}).get("mapping", {})
            for word, reference in mapping.items():
                field = union["discriminator"]["propertyName"]
                found[reference.rpartition("/")[2]] = (field, word)
        return found

    def _reached(self, roots: list[str], stops: set[str]) -> Iterator[str]:
        seen = set(stops)

        def visit(name: str) -> Iterator[str]:
            if name in seen:
                return
            seen.add(name)
            for other in references(self.schemas[name]):
                yield from visit(other)
            yield name

        for root in roots:
            yield from visit(root)


def referred(schema: Json) -> str | None:
    reference: str | None = schema.get("$ref")
    return reference.rpartition("/")[2] if reference else None


def references(schema: Json) -> list[str]:
    return [
        name
        for one in _walk(schema)
        if isinstance(one.get("$ref"), str) and (name := referred(one))
    ]


def _walk(schema: Any) -> Iterator[Json]:  # noqa: ANN401 - any JSON value
    if isinstance(schema, dict):
        yield schema
        for one in schema.values():
            yield from _walk(one)
    elif isinstance(schema, list):
        for one in schema:
            yield from _walk(one)


def _operation(method: str, path: str, one: Json, accept: str) -> Operation:
    parameters = one.get("parameters", [])
    bodies = one.get("requestBody", {}).get("content", {})
    body = bodies.get(JSON, {}).get("schema")
    answer = _success(one)["content"][accept]["schema"]
    return Operation(
        id=one["operationId"],
        method=method.upper(),
        path=path,
        summary=one["summary"] if accept == JSON else answer["title"],
        description=one.get("description", "") if accept == JSON else answer["description"],
        in_path=_parameters(parameters, "path"),
        in_query=_parameters(parameters, "query"),
        keyed=any(each["name"].lower() == "idempotency-key" for each in parameters),
        body=referred(body) if body else None,
        file=next(iter(bodies), None) if body is None else None,
        answer=answer,
        accept=accept,
    )


def _parameters(parameters: list[Json], where: str) -> tuple[Parameter, ...]:
    return tuple(
        Parameter(one["name"], one["schema"], one.get("required", False))
        for one in parameters
        if one["in"] == where
    )


def _success(operation: Json) -> Json:
    response: Json = next(
        one for status, one in sorted(operation["responses"].items()) if status.startswith("2")
    )
    return {"content": {}, **response}


def _snake(name: str) -> str:
    return re.sub(r"(?<=[a-z0-9])(?=[A-Z])", "_", name).lower()
