"""Builds the OpenAPI 3.1 document from the operations, so that the two cannot differ."""

import json
from collections.abc import Iterable, Iterator, Sequence
from http import HTTPStatus
from typing import Any

import msgspec

from filmbuild.edge.examples import Example, examples_of
from filmbuild.edge.operations import AnyOperation, Failure, Stream
from filmbuild.edge.problems import MEDIA_TYPE, Problem
from filmbuild.edge.schema import schemas

Json = dict[str, Any]

_FAILURES: dict[Failure, tuple[int, str, str]] = {
    "malformed": (400, "Malformed", "The body is not JSON text, or the request cannot be read."),
    "unauthorized": (401, "Unauthorized", "No key came with the request, or none that is good."),
    "forbidden": (403, "Forbidden", "The key does not allow this."),
    "too-many": (429, "TooMany", "The caller's allowance is used up; Retry-After says until when."),
    "missing": (404, "Missing", "There is no such record."),
    "not-acceptable": (406, "NotAcceptable", "The answer has no representation in Accept."),
    "conflict": (409, "Conflict", "Another request is changing the same thing just now."),
    "precondition-failed": (
        412,
        "PreconditionFailed",
        "The record has changed since the version that If-Match names.",
    ),
    "precondition-required": (
        428,
        "PreconditionRequired",
        "If-Match is needed, with the ETag that the record was read with.",
    ),
    "too-large": (413, "TooLarge", "The body is longer than the service reads."),
    "not-json": (415, "NotJson", "The body is not of a media type that is read here."),
    "invalid": (
        422,
        "Invalid",
        "The request breaks the contract, or nothing satisfies it; `errors` lists every fault.",
    ),
    "failed": (500, "Failed", "The service failed; nothing was stored."),
    "unavailable": (503, "Unavailable", "The service cannot answer now."),
}
_ALWAYS: tuple[Failure, ...] = ("not-acceptable", "invalid", "too-many", "failed")
_WITH_KEY: tuple[Failure, ...] = ("unauthorized", "forbidden", "unavailable")
_WITH_BODY: tuple[Failure, ...] = ("malformed", "too-large", "not-json")
_WITH_FILE: tuple[Failure, ...] = ("too-large", "not-json")
_REQUEST_ID: Json = {
    "description": "The request's id: the caller's own X-Request-Id, or a new one.",
    "schema": {"type": "string"},
}

_ALLOWANCE: Json = {
    "Retry-After": {
        "description": "The whole seconds after which there is room for the request.",
        "schema": {"type": "integer", "minimum": 1},
    },
    "RateLimit": {
        "description": "Experimental, by draft-ietf-httpapi-ratelimit-headers-11: for each "
        "allowance, the cost that is left (`r`) and the seconds for which it must do (`t`). A read "
        "costs 1; what an operation costs is its `x-cost`. Not sent where limits are off.",
        "schema": {"type": "string"},
        "example": '"key";r=2995;t=1',
    },
    "RateLimit-Policy": {
        "description": "Experimental, as RateLimit: for each allowance, the cost that may be used "
        "at once (`q`) and the seconds in which as much comes back (`w`).",
        "schema": {"type": "string"},
        "example": '"key";q=3000;w=15',
    },
}
_TOLD_TO_KEYS = ("RateLimit", "RateLimit-Policy")

_KEY: Json = {
    "type": "http",
    "scheme": "bearer",
    "description": "A secret key (`secret-token:...`, RFC 8959) of an organisation, or, where an "
    "operation allows it, the publishable key of its web page.",
}
_VARY = "`Accept`: the answer has several representations, and that header chooses."


_SIGNED = {
    "webhook-id": "The message's id, the same each time that it is sent.",
    "webhook-timestamp": "When it was sent, in seconds since 1970.",
    "webhook-signature": "One signature or more with spaces between them, each `v1,` and the "
    "base64 text of the HMAC-SHA-256 of id, timestamp and body with dots between them.",
}


class Webhook(msgspec.Struct, frozen=True, kw_only=True):
    """A message that the service sends of itself; `body` is its struct."""

    name: str
    tag: str
    summary: str
    description: str
    body: type[msgspec.Struct]


def document(
    operations: Sequence[AnyOperation],
    info: Json,
    tags: Sequence[tuple[str, str]],
    webhooks: Sequence[Webhook] = (),
) -> Json:
    """The whole contract. Paths and components are in alphabetical order."""
    tops, components = _schemas(operations, webhooks)
    paths: dict[str, Json] = {}
    for operation in sorted(operations, key=lambda one: (one.path, one.method)):
        path = paths.setdefault(operation.path, {})
        path[operation.method.lower()] = _operation(operation, tops)
    return {
        "openapi": "3.1.0",
        "info": info,
        "servers": [{"url": "/"}],
        "tags": [{"name": name, "description": text} for name, text in tags],
        "paths": paths,
        "webhooks": {one.name: {"post": _webhook(one, tops)} for one in webhooks},
        "components": {
            "headers": {"X-Request-Id": _REQUEST_ID, **_ALLOWANCE},
            "responses": _problems(),
            "schemas": components,
            "securitySchemes": {"key": _KEY},
        },
    }


def _problems() -> Json:
    problems = {name: _problem(text) for _, name, text in sorted(_FAILURES.values())}
    problems["TooMany"]["headers"] |= _headers(_ALLOWANCE)
    return problems


def _headers(names: Iterable[str]) -> Json:
    return {name: {"$ref": f"#/components/headers/{name}"} for name in names}


def text_of(document: Json) -> bytes:
    """The same document is always the same text."""
    return json.dumps(document, indent=1, sort_keys=True, ensure_ascii=False).encode() + b"\n"


def _schemas(
    operations: Sequence[AnyOperation], webhooks: Sequence[Webhook]
) -> tuple[dict[Any, Json], Json]:
    """Answers may grow, so what only answers refer to does not refuse further fields."""
    bodies = [one.body for one in operations if one.body not in (None, bytes, Stream)]
    bodies += [kind for one in operations for kind in one.body_types.values()]
    answers = [one.answer for one in operations if one.answer is not None]
    answers += [one.body for one in webhooks]
    parameters = [one.type for each in operations for one in msgspec.structs.fields(each.query)]
    kinds = list(dict.fromkeys([*bodies, *answers, *parameters, Problem]))
    tops, components = schemas(kinds)
    asked = schemas(dict.fromkeys([*bodies, *parameters]))[1]
    for name, component in components.items():
        if name not in asked:
            component.pop("additionalProperties", None)
    return dict(zip(kinds, tops, strict=True)), components


def _webhook(webhook: Webhook, tops: dict[Any, Json]) -> Json:
    return {
        "tags": [webhook.tag],
        "summary": webhook.summary,
        "description": webhook.description,
        "parameters": [
            {
                "name": name,
                "in": "header",
                "required": True,
                "description": text,
                "schema": {"type": "string"},
            }
            for name, text in _SIGNED.items()
        ],
        "requestBody": {
            "required": True,
            "content": {"application/json": {"schema": tops[webhook.body]}},
        },
        "responses": {
            "2XX": {"description": "It was received."},
            "410": {"description": "Nobody is here any more: send nothing further."},
            "default": {"description": "It is sent again later."},
        },
        "security": [],
    }


def _operation(operation: AnyOperation, tops: dict[Any, Json]) -> Json:
    examples = examples_of(operation.id)
    described: Json = {
        "operationId": operation.id,
        "tags": [operation.tag],
        "summary": operation.summary,
        "description": operation.description,
        "responses": _responses(operation, tops, examples),
        "security": [] if operation.public else [{"key": [operation.scope]}],
    }
    if operation.cost != 1:
        described["x-cost"] = operation.cost
    if operation.publishable:
        described["x-publishable"] = True
    if parameters := list(_parameters(operation, tops, examples)):
        described["parameters"] = parameters
    if operation.body in (bytes, Stream):
        described["requestBody"] = {"required": True, "content": _files(operation, tops)}
    elif operation.body is not None:
        shown = {
            one.name: {"summary": one.summary, "value": one.body}
            for one in examples
            if one.status < HTTPStatus.BAD_REQUEST and one.answer_media_type == "application/json"
        }
        media: Json = {"schema": tops[operation.body]}
        if shown:
            media["examples"] = shown
        content = dict.fromkeys(operation.body_media_types, media)
        described["requestBody"] = {"required": True, "content": content}
    return described


def _files(operation: AnyOperation, tops: dict[Any, Json]) -> Json:
    """Bytes are no JSON type: by OpenAPI 3.1 their media type alone says what they are."""
    content: Json = {}
    for kind in operation.body_media_types:
        shown = {
            one.name: {"summary": one.summary, "value": one.body}
            for one in examples_of(operation.id)
            if one.status < HTTPStatus.BAD_REQUEST
            and (one.media_type == kind or kind not in operation.body_types)
        }
        struct = operation.body_types.get(kind)
        schema = {"contentMediaType": kind} if struct is None else tops[struct]
        content[kind] = {"schema": schema, **({"examples": shown} if shown else {})}
    return content


def _parameters(
    operation: AnyOperation, tops: dict[Any, Json], examples: Iterable[Example]
) -> Iterator[Json]:
    shown = next((one for one in examples if one.status < HTTPStatus.BAD_REQUEST), None)
    for parameter in operation.path_parameters:
        described: Json = {
            "name": parameter.name,
            "in": "path",
            "required": True,
            "description": parameter.description,
            "schema": {"type": "string", "pattern": parameter.pattern},
        }
        if shown is not None:
            described["example"] = shown.path[parameter.name]
        yield described
    for field in msgspec.structs.fields(operation.query):
        schema = dict(_without_null(tops[field.type]))
        described = {"name": field.encode_name, "in": "query", "required": field.required}
        if "description" in schema:
            described["description"] = schema.pop("description")
        if field.default not in (None, msgspec.NODEFAULT):
            schema["default"] = field.default
        yield {**described, "schema": schema}
    for header in operation.headers:
        yield {
            "name": header.name,
            "in": "header",
            "required": False,
            "description": header.description,
            "schema": {"type": "string", "pattern": f"^{header.pattern}$"},
            "example": header.example,
        }


def _without_null(schema: Json) -> Json:
    """A parameter is left out rather than null."""
    choices = [one for one in schema.get("anyOf", ()) if one != {"type": "null"}]
    return choices[0] if len(choices) == 1 else schema


def _responses(operation: AnyOperation, tops: dict[Any, Json], examples: Iterable[Example]) -> Json:
    headers = _headers(("X-Request-Id", *(() if operation.public else _TOLD_TO_KEYS)))
    for name, description in operation.answer_headers.items():
        headers[name] = {"description": description, "schema": {"type": "string"}}
    by_status, others = _answers(examples)
    success: Json = {"description": operation.summary, "headers": headers}
    if operation.answer is not None:
        media: Json = {"schema": tops[operation.answer]}
        if operation.status in by_status:
            media["examples"] = by_status[operation.status]
        success["content"] = {operation.media_type: media}
        success["content"] |= _representations(operation, others)
    if operation.representations:
        headers["Vary"] = {"description": _VARY, "schema": {"type": "string"}}
    always = _ALWAYS if operation.public else (*_ALWAYS, *_WITH_KEY)
    if operation.body is not None:
        always += _WITH_FILE if operation.body in (bytes, Stream) else _WITH_BODY
    responses: Json = {
        str(int(one)): success for one in (operation.status, *operation.other_statuses)
    }
    if HTTPStatus.NO_CONTENT in operation.other_statuses:
        without = {"description": "There is nothing more to tell.", "headers": headers}
        responses[str(HTTPStatus.NO_CONTENT.value)] = without
    if HTTPStatus.NOT_MODIFIED in operation.other_statuses:
        told = {"description": "What If-None-Match names is still good.", "headers": headers}
        responses[str(HTTPStatus.NOT_MODIFIED.value)] = told
    for status, name, text in sorted(_FAILURES[one] for one in {*always, *operation.failures}):
        if status in by_status:
            responses[str(status)] = _problem(text, by_status[status])
        else:
            responses[str(status)] = {"$ref": f"#/components/responses/{name}"}
    return responses


def _answers(examples: Iterable[Example]) -> tuple[dict[int, Json], dict[str, Json]]:
    """JSON by status, and other representations by media type."""
    by_status: dict[int, Json] = {}
    others: dict[str, Json] = {}
    for one in examples:
        if one.answer is msgspec.UNSET:
            continue
        abridged = " (of each list, the first entry alone)" if one.abridged else ""
        shown = {"summary": one.summary + abridged, "value": one.answer}
        if one.answer_media_type == "application/json":
            by_status.setdefault(one.status, {})[one.name] = shown
        else:
            others.setdefault(one.answer_media_type, {})[one.name] = shown
    return by_status, others


def _representations(operation: AnyOperation, shown: dict[str, Json]) -> Json:
    content: Json = {}
    for one in operation.representations:
        kind = one.media_type.partition(";")[0]
        words = {"title": one.summary, "description": one.description}
        content[kind] = {"schema": {**_form_of(kind), **words}}
        if kind in shown:
            content[kind]["examples"] = shown[kind]
    return content


def _form_of(media_type: str) -> Json:
    """Bytes are no JSON type: by OpenAPI 3.1 their media type alone says what they are."""
    if media_type.endswith("json"):
        return {"type": "object"}
    is_text = media_type.startswith("text/") or media_type.endswith("xml")
    return {"type": "string"} if is_text else {"contentMediaType": media_type}


def _problem(text: str, shown: Json | None = None) -> Json:
    media: Json = {"schema": {"$ref": "#/components/schemas/Problem"}}
    if shown:
        media["examples"] = shown
    return {
        "description": text,
        "headers": _headers(("X-Request-Id",)),
        "content": {MEDIA_TYPE: media},
    }
