"""The operations of an OpenAPI document, and which of its types are written and which are read."""

import re
from collections.abc import Iterator
from functools import cached_property
from typing import Any, NamedTuple

Json = dict[str, Any]
JSON = "application/json"
EVENTS = "text/event-stream"
# where types stand that operations of several modules share: what callers write, what the stages
# answer, what else is answered, and what the records of several kinds have in common
INPUTS, RESULTS, COMMON, RECORDS = "inputs", "results", "common", "records"
STAGES = "stages"
# groups of so many operations that each has a module for every kind of record
BY_KIND = "catalogue"
# bodies that come from files as a rule: they are taken as such too
FROM_FILES = frozenset({"importCatalogue"})
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
    "application/ld+json": "_linked_data",
    "application/pdf": "_print",
    "application/xml": "_xml",
    "application/zip": "_archive",
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
    """One operation as it answers in one media type, `accept`; `alone` where that is the only one.

    `body` is the name of a component, or `plain` where it is any JSON object, sent as `media_type`;
    `files` are the media types of a body
    that is none. `computing` ones store nothing, though they are posted. `matched` ones need the tag of the version that they change, but those that
    are `making` make what is not there yet without one. `answer` is None
    where success has no content.
    """

    id: str
    tag: str
    method: str
    path: str
    summary: str
    description: str
    in_path: tuple[Parameter, ...]
    in_query: tuple[Parameter, ...]
    keyed: bool
    computing: bool
    matched: bool
    making: bool
    body: str | None
    plain: bool
    from_file: bool
    media_type: str
    files: tuple[str, ...]
    answer: Json | None
    accept: str
    alone: bool

    @property
    def name(self) -> str:
        """The method's name: the operation's id in the way of Python, without "compute"."""
        name = NAMES.get(self.id) or _snake(self.id).removeprefix("compute_")
        return name if self.alone else name + SUFFIXES[self.accept]

    @property
    def group(self) -> str:
        """The name of its module."""
        group = self.path.split("/")[2] if self.tag == BY_KIND else self.tag
        return group.replace("-", "_")

    @property
    def events(self) -> bool:
        """It answers with what happens, for as long as that goes on."""
        return self.accept == EVENTS

    @property
    def sends_file(self) -> bool:
        return bool(self.files) or self.from_file


class Contract:
    def __init__(self, document: Json) -> None:
        self.schemas: dict[str, Json] = document["components"]["schemas"]
        self.operations = tuple(
            _operation(method, path, one, media_type)
            for path, methods in document["paths"].items()
            for method, one in methods.items()
            for media_type in _media_types(one)
        )

    def item(self, operation: Operation) -> Json | None:
        """The schema of one item, where the operation answers with a page of a list."""
        name = referred(operation.answer) if operation.answer else None
        properties = self.schemas.get(name or "", {}).get("properties", {})
        paged = any(one.name == "cursor" for one in operation.in_query)
        if not paged or not {"items", "next"} <= properties.keys():
            return None
        item: Json = properties["items"]["items"]
        return item

    @cached_property
    def written(self) -> set[str]:
        """Types that callers make themselves; not the answers that are handed back as they came."""
        answers = {name for one in self.operations if (name := referred(one.answer or {}))}
        bodies = [one.body for one in self.operations if one.body]
        return set(self._reached(bodies, answers))

    @cached_property
    def used(self) -> tuple[str, ...]:
        """All types of bodies and answers, each after those that it is made of."""
        roots = [
            name
            for one in self.operations
            for name in (one.body, *references(one.answer or {}))
            if name
        ]
        return tuple(self._reached(sorted(roots), set()))

    @cached_property
    def groups(self) -> dict[str, tuple[Operation, ...]]:
        """The operations by the name of their module."""
        found: dict[str, list[Operation]] = {}
        for one in self.operations:
            found.setdefault(one.group, []).append(one)
        return {name: tuple(found[name]) for name in sorted(found)}

    @cached_property
    def places(self) -> dict[str, str]:
        """The module of each type: that of its operations, or a common one where they are of several.

        What a common type is made of is used wherever it is itself, so that modules do not import
        each other in a circle: `common` takes from `records`, they from `results`, and these from
        `inputs`.
        """
        users: dict[str, set[str]] = {}
        for group, operations in self.groups.items():
            roots = [
                name
                for one in operations
                for name in (one.body, *references(one.answer or {}))
                if name
            ]
            for name in self._reached(roots, set()):
                users.setdefault(name, set()).add(group)
        return {name: self._place(name, groups) for name, groups in users.items()}

    def _place(self, name: str, groups: set[str]) -> str:
        if len(groups) == 1:
            return min(groups)
        if groups <= self._kinds:
            own = groups - {BY_KIND}
            return min(own) if len(own) == 1 else RECORDS
        if name in self.written:
            return INPUTS
        return RESULTS if STAGES in groups else COMMON

    @cached_property
    def _kinds(self) -> set[str]:
        return {one.group for one in self.operations if one.tag == BY_KIND}

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


def _is_json(kind: str, schema: Json) -> bool:
    return (kind == JSON or kind.endswith("+json")) and "contentMediaType" not in schema


def _media_types(one: Json) -> list[str]:
    """What the operation is asked for: JSON and its other forms, or what else it has."""
    content = _success(one)["content"]
    return list(content) or [JSON]


def _operation(method: str, path: str, one: Json, accept: str) -> Operation:
    parameters = one.get("parameters", [])
    bodies: Json = one.get("requestBody", {}).get("content", {})
    described = next(
        (kind for kind, each in bodies.items() if _is_json(kind, each["schema"])), None
    )
    answer = _success(one)["content"].get(accept, {}).get("schema")
    alone = accept == JSON or len(_success(one)["content"]) == 1
    titled = one
    if answer is not None and not alone and "title" in answer:
        titled = {**answer, "summary": answer["title"]}
    headers = {each["name"].lower() for each in parameters if each["in"] == "header"}
    return Operation(
        id=one["operationId"],
        tag=one["tags"][0],
        method=method.upper(),
        path=path,
        summary=titled["summary"],
        description=titled.get("description", ""),
        in_path=_parameters(parameters, "path"),
        in_query=_parameters(parameters, "query"),
        keyed="idempotency-key" in headers,
        computing=method.upper() == "POST" and _only_reads(one),
        matched="if-match" in headers,
        making={"if-match", "if-none-match"} <= headers,
        body=referred(bodies[described]["schema"]) if described else None,
        plain=described is not None and referred(bodies[described]["schema"]) is None,
        from_file=one["operationId"] in FROM_FILES,
        media_type=described or JSON,
        files=() if described else tuple(bodies),
        answer=answer,
        accept=accept,
        alone=alone,
    )


def _only_reads(one: Json) -> bool:
    """A key need not be allowed to write for it."""
    scopes = [scope for each in one.get("security", ()) for scope in each.get("key", ())]
    return bool(scopes) and all(scope.endswith(":read") for scope in scopes)


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
