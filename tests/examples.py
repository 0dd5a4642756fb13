"""Sends the contract's examples to the application, and writes down what it answers.

`python tests/examples.py` records the answers anew; a test holds the records to the application.
"""

import re
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import httpx
import msgspec
import serving
from sqlalchemy import URL

import filmbuild
from filmbuild.app import contract_document
from filmbuild.db import migrate
from filmbuild.edge.examples import Example

FOLDER = Path(filmbuild.__file__).parent / "examples"
ESTIMATE = "createEstimate"
NEEDS_ESTIMATE = "getEstimate"
SELF_DESCRIBING = {"getContract", "getDocumentation", "getDocumentationStyle"}
LONGEST_SHOWN = 16_000
TEXTS = ("image/svg+xml", "text/calendar", "text/csv", "text/html", "text/plain")
"""Media types of answers that are shown as they are."""
_MOMENT = re.compile(rb'"created_at":"[^"]*"')
_IDENTITY = re.compile(rb"est_[0-9a-z]{26}")
_REQUEST = re.compile(rb'"request_id":"[^"]*"')


class Route(msgspec.Struct, frozen=True):
    method: str
    path: str


def routes(document: dict[str, Any]) -> dict[str, Route]:
    """Operation ids and where they are, those first that others need."""
    found = {
        operation["operationId"]: Route(method.upper(), path)
        for path, methods in document["paths"].items()
        for method, operation in methods.items()
    }
    return {ESTIMATE: found.pop(ESTIMATE), **found}


def read(operation: str) -> list[Example]:
    return msgspec.json.decode((FOLDER / f"{operation}.json").read_bytes(), type=list[Example])


def send(client: httpx.Client, route: Route, example: Example) -> httpx.Response:
    content = None
    headers = dict(example.headers)
    if example.body is not msgspec.UNSET:
        file = example.media_type != "application/json"
        content = example.body.encode() if file else msgspec.json.encode(example.body)
        headers["content-type"] = example.media_type
    path = route.path.format(**example.path)
    return client.request(
        route.method, path, params=example.query, content=content, headers=headers
    )


def exchanges(
    client: httpx.Client, document: dict[str, Any]
) -> Iterator[tuple[str, Example, httpx.Response]]:
    """Every example, sent. The stored estimate that is asked for is the one made first."""
    made = ""
    for operation, route in routes(document).items():
        for example in read(operation):
            asked = example
            if operation == NEEDS_ESTIMATE and example.status < 400:
                asked = msgspec.structs.replace(example, path={"estimate_id": made})
            response = send(client, route, asked)
            if operation == ESTIMATE and response.status_code == 201:
                made = response.json()["id"]
            yield operation, asked, response


def without_chance(content: bytes) -> bytes:
    """The same answer for every run: moments and ids are those of no run."""
    content = _MOMENT.sub(b'"created_at":"2026-09-01T12:00:00Z"', content)
    content = _REQUEST.sub(b'"request_id":"0f7d2c5e9a1b4c3d8e6f5a4b3c2d1e0f"', content)
    return _IDENTITY.sub(b"est_" + b"0" * 26, content)


def is_shown(response: httpx.Response) -> bool:
    kind = response.headers["content-type"].partition(";")[0]
    return kind.endswith("json") or kind in TEXTS


def shown(response: httpx.Response) -> tuple[Any, bool]:
    """The answer as the contract shows it, and whether that is less than the whole.

    Of an answer too long to read, each list keeps its first entry alone.
    """
    answer = msgspec.json.decode(without_chance(response.content))
    if len(response.content) <= LONGEST_SHOWN:
        return answer, False
    return _first_entries(answer), True


def shown_as(response: httpx.Response) -> tuple[str, Any, bool]:
    """The media type too; what is not JSON is shown whole."""
    kind = response.headers["content-type"].partition(";")[0]
    if kind in TEXTS:
        return kind, response.text, False
    return "application/json", *shown(response)


def _first_entries(value: Any) -> Any:
    if isinstance(value, dict):
        return {name: _first_entries(one) for name, one in value.items()}
    return [_first_entries(one) for one in value[:1]] if isinstance(value, list) else value


def record() -> None:
    recorded: dict[str, list[Example]] = {}
    with TemporaryDirectory() as folder:
        url = URL.create("sqlite+aiosqlite", database=f"{folder}/examples.sqlite3")
        migrate.upgrade(url)
        serving.load_demo(url)
        document = contract_document(serving.settings_for(url))
        with serving.client_of(url) as client:
            for operation, example, response in exchanges(client, document):
                if response.status_code != example.status:
                    raise SystemExit(f"{operation} {example.name}: {response.text}")
                recorded.setdefault(operation, []).append(_with_answer(example, response))
    for operation, examples in recorded.items():
        text = msgspec.json.format(msgspec.json.encode(examples), indent=1)
        (FOLDER / f"{operation}.json").write_bytes(text + b"\n")


def _with_answer(example: Example, response: httpx.Response) -> Example:
    kind, answer, abridged = "application/json", msgspec.UNSET, False
    if is_shown(response) and "openapi" not in response.url.path:
        kind, answer, abridged = shown_as(response)
    path = {
        name: without_chance(value.encode()).decode() if example.status < 400 else value
        for name, value in example.path.items()
    }
    return msgspec.structs.replace(
        example, answer=answer, answer_media_type=kind, abridged=abridged, path=path
    )


if __name__ == "__main__":
    record()
