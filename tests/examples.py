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
import new_databases
import serving
from sqlalchemy import URL

import filmbuild
from filmbuild.app import contract_document
from filmbuild.edge.examples import Example

FOLDER = Path(filmbuild.__file__).parent / "examples"
RECORDS = (
    "Product",
    "Pack",
    "System",
    "RateBook",
    "ConsumableRule",
    "Supplier",
    "TaxRule",
)
CATALOGUE_CHANGES = (
    *(f"create{one}" for one in RECORDS),
    *(f"put{one}" for one in RECORDS),
    *(f"patch{one}" for one in RECORDS),
    "retireSystem",
    "retireSupplier",
    "retirePack",
    *(f"retire{one}" for one in RECORDS if one not in {"System", "Supplier", "Pack"}),
)
"""Each shows records that it makes itself; what others name is retired after them."""
FIRST = (
    "createEstimate",
    "reviseEstimate",
    "putOrganisation",
    "createKey",
    "putQuoteForm",
    "createQuotation",
    "issueQuotation",
    "createRepricing",
    "stopRepricing",
)
"""Operations whose records others show or change, in the order in which they are sent."""
LAST: tuple[str, ...] = (
    "rotateKey",
    "revokeKey",
    "listKeys",
    "listAuditEntries",
    "acceptOffer",
    "createInvoice",
    "getInvoice",
    "getInvoiceLines",
    "listInvoices",
    "createChangeOrder",
    "withdrawQuotation",
    "renewQuotationLink",
    "reviseQuotation",
    "declineOffer",
    "updatePrices",
    "getPriceUpdate",
    "listPriceChanges",
    "listPriceUpdates",
    "undoPriceUpdate",
    "resumeRepricing",
    "createEnquiry",
    "listEnquiries",
    "getEnquiry",
    "changeEnquiry",
    "eraseEnquiry",
    *CATALOGUE_CHANGES,
    "createWebhookEndpoint",
    "testWebhookEndpoint",
    "getWebhookEndpoint",
    "listWebhookEndpoints",
    "getWebhookDelivery",
    "listWebhookDeliveries",
    "redeliverWebhook",
    "patchWebhookEndpoint",
    "rotateWebhookSecret",
    "deleteWebhookEndpoint",
)
"""Operations after which a record is no longer what others show."""
SELF_DESCRIBING = {"getContract", "getDocumentation", "getDocumentationStyle"}
MADE_BY_CHANCE = ("/v1/quote-form/challenge",)
"""Where every answer is another, and so worth no record."""
LONGEST_SHOWN = 16_000
TEXTS = ("image/svg+xml", "text/calendar", "text/csv", "text/html", "text/plain")
"""Media types of answers that are shown as they are."""
_MOMENT = re.compile(rb'"((?:[a-z]+_)*(?:at|until)|timestamp)":"[0-9]{4}-[0-9-]+T[^"]*"')
_IDENTITY = re.compile(r"\b([a-z]{2,4})_[0-9a-hjkmnp-tv-z]{26}\b")
_PLACEHOLDER = re.compile(r"\b([a-z]{2,4})_0{25}([0-9])\b")
_TOKEN = re.compile(r"(?<=/offers/)[A-Za-z0-9_.-]{40,}")
_SHOWN_PART = "token-of-the-link"
_DAY = re.compile(rb'"(issued_on|valid_until)":"[0-9]{4}-[^"]*"')
_DIGEST = re.compile(rb'"digest":"[0-9a-f]*"')
_SECRET = re.compile(rb"(secret-token:filmbuild_|filmbuild-public_)[A-Za-z0-9_-]{40,}")
_HINT = re.compile(rb'"hint":"[^"]*"')
_SIGNING_SECRET = re.compile(rb'"whsec_[A-Za-z0-9+/=]*"')
_REQUEST = re.compile(rb'"request_id":"[^"]*"')
_TAG_NOW = '"the-etag-as-it-is"'


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
    middle = [one for one in found if one not in {*FIRST, *LAST}]
    return {one: found[one] for one in (*FIRST, *middle, *LAST) if one in found}


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


class Made:
    """The ids and the token that were answered last, which stand for the examples' placeholders.

    The last digit of a placeholder counts back: 0 is the record of its kind that was answered last,
    1 the one before.
    """

    def __init__(self) -> None:
        self._ids: dict[str, list[str]] = {}
        self._token = ""

    def see(self, response: httpx.Response) -> None:
        kind = response.headers.get("content-type", "")
        if not response.is_success or not kind.startswith("application/json"):
            return
        answer = response.json()
        record = answer.get("key", answer) if isinstance(answer, dict) else {}
        identity = record.get("id", "") if isinstance(record, dict) else ""
        if isinstance(identity, str) and (found := _IDENTITY.fullmatch(identity)):
            known = self._ids.setdefault(found[1], [])
            known[:] = [*(one for one in known if one != identity), identity]
        for token in _TOKEN.findall(response.text):
            self._token = token

    def put_in(self, value: Any) -> Any:
        if isinstance(value, str):
            text = _PLACEHOLDER.sub(self._known, value)
            return text.replace(_SHOWN_PART, self._token) if self._token else text
        if isinstance(value, dict):
            return {name: self.put_in(one) for name, one in value.items()}
        return [self.put_in(one) for one in value] if isinstance(value, list) else value

    def _known(self, placeholder: re.Match[str]) -> str:
        known, back = self._ids.get(placeholder[1], []), int(placeholder[2])
        return known[-1 - back] if back < len(known) else placeholder[0]


def exchanges(
    client: httpx.Client, document: dict[str, Any]
) -> Iterator[tuple[str, Example, httpx.Response]]:
    """Every example, sent. Ids of zeros stand for the record of their kind that was made last.

    If-Match of `_TAG_NOW` is the tag with which the same path answers to GET.
    """
    made = Made()
    for operation, route in routes(document).items():
        for example in read(operation):
            asked = msgspec.structs.replace(
                example,
                path=made.put_in(example.path),
                query=made.put_in(example.query),
                headers=made.put_in(example.headers),
                body=made.put_in(example.body),
            )
            if example.headers.get("if-match") == _TAG_NOW:
                tag = client.get(route.path.format(**asked.path)).headers["etag"]
                asked = msgspec.structs.replace(asked, headers=asked.headers | {"if-match": tag})
            response = send(client, route, asked)
            made.see(response)
            yield operation, example, response


def without_chance(content: bytes) -> bytes:
    """The same answer for every run: moments, days, ids and tokens are those of no run."""
    content = _DAY.sub(rb'"\1":"2026-09-01"', content)
    content = _SECRET.sub(rb"\1shown-this-once", content)
    content = _HINT.sub(b'"hint":"s-once"', content)
    content = _DIGEST.sub(b'"digest":"0123456789abcdef0123456789abcdef"', content)
    content = _MOMENT.sub(rb'"\1":"2026-09-01T12:00:00Z"', content)
    content = _SIGNING_SECRET.sub(b'"whsec_the-secret-told-this-once"', content)
    content = _REQUEST.sub(b'"request_id":"0f7d2c5e9a1b4c3d8e6f5a4b3c2d1e0f"', content)
    text = _IDENTITY.sub(lambda one: f"{one[1]}_{'0' * 26}", content.decode())
    return _TOKEN.sub(_SHOWN_PART, text).encode()


def is_shown(response: httpx.Response) -> bool:
    if response.url.path in MADE_BY_CHANCE:
        return False
    kind = response.headers.get("content-type", "").partition(";")[0]
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
    kind = response.headers.get("content-type", "").partition(";")[0]
    if kind in TEXTS:
        return kind, without_chance(response.content).decode(), False
    return "application/json", *shown(response)


def _first_entries(value: Any) -> Any:
    if isinstance(value, dict):
        return {name: _first_entries(one) for name, one in value.items()}
    return [_first_entries(one) for one in value[:1]] if isinstance(value, list) else value


def record() -> None:
    recorded: dict[str, list[Example]] = {}
    with TemporaryDirectory() as folder:
        url = URL.create("sqlite+aiosqlite", database=f"{folder}/examples.sqlite3")
        new_databases.make(url)
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
    if is_shown(response) and not response.url.path.startswith(("/v1/openapi", "/v1/docs")):
        kind, answer, abridged = shown_as(response)
    return msgspec.structs.replace(
        example, answer=answer, answer_media_type=kind, abridged=abridged
    )


if __name__ == "__main__":
    record()
