"""Computed estimates as they are stored, and stored ones as they were computed."""

from datetime import date, datetime

import msgspec

from filmbuild.edge.decoding import dec_hook, decode
from filmbuild.edge.encoding import encode
from filmbuild.errors import Conflict
from filmbuild.estimates.store import EstimateHead, RevisionSummary, StoredEstimate, StoredRevision
from filmbuild.estimates.texts import packed, unpacked
from filmbuild.money import Exact
from filmbuild.pipeline.estimate import estimate_document
from filmbuild.pipeline.requests import EstimateRequest
from filmbuild.pipeline.results import EstimateDocument
from filmbuild.pipeline.specification import Catalogue

_DOCUMENT = msgspec.json.Decoder(EstimateDocument, dec_hook=dec_hook)


class Computed(msgspec.Struct, frozen=True, kw_only=True):
    """An estimate that has been computed; `request` and `result` are its texts."""

    document: EstimateDocument
    site_name: str
    reference: str | None
    request: bytes
    result: bytes
    packed_request: bytes
    packed_result: bytes


class LoadedRevision(msgspec.Struct, frozen=True, kw_only=True):
    """A stored revision, read back: encoding `document` in its units gives `result` again.

    `head` is the estimate as it is now, `stored` what lists show of the revision; `request` and
    `document` are what `request_text` and `result_text` say.
    """

    head: EstimateHead
    stored: RevisionSummary
    request: EstimateRequest
    document: EstimateDocument
    request_text: bytes
    result_text: bytes


def computed(request: EstimateRequest, content: bytes, catalogue: Catalogue) -> Computed:
    """`content` is the request's own text: only that finds the same figures to the last digit.

    Raises InvalidInput and Infeasible.
    """
    document = estimate_document(request, catalogue)
    asked = msgspec.json.format(content, indent=-1)
    result = encode(document, request.units)
    return Computed(
        document=document,
        site_name=request.site.name,
        reference=request.reference,
        request=asked,
        result=result,
        packed_request=packed(asked),
        packed_result=packed(result),
    )


def revision_of(
    made: Computed,
    *,
    number: int,
    now: datetime,
    actor: str,
    cause: str | None = None,
    cause_id: str | None = None,
) -> StoredRevision:
    document = made.document
    catalogue_revision, priced_on = computed_on(document)
    return StoredRevision(
        revision=number,
        created_at=now,
        actor=actor,
        cause=cause,
        cause_id=cause_id,
        catalogue_revision=catalogue_revision,
        priced_on=priced_on,
        engine_version=document.engine_version,
        system_id=document.basis.system,
        currency=document.price.currency,
        net=Exact(document.price.net.amount),
        total=Exact(document.price.total.amount),
        margin_percent=Exact(document.price.margin_percent),
        request=made.packed_request,
        result=made.packed_result,
    )


def computed_on(document: EstimateDocument) -> tuple[int, date]:
    """The catalogue's revision and the day of its prices."""
    if document.catalogue_revision is None or document.priced_on is None:
        raise RuntimeError("an estimate is computed on a revision of the catalogue")
    return document.catalogue_revision, document.priced_on


def request_of(text: bytes) -> EstimateRequest:
    """Raises InvalidInput where this version no longer takes what was asked then."""
    return decode(EstimateRequest, text, max_bytes=len(text))


def document_of(text: bytes) -> EstimateDocument:
    """Raises Conflict where a document of an earlier version can no longer be read."""
    try:
        return _DOCUMENT.decode(text)
    except msgspec.ValidationError as error:
        detail = f"The stored document is of a form that this version no longer reads: {error}."
        raise Conflict(detail) from error


def loaded(found: StoredEstimate) -> LoadedRevision:
    """Raises InvalidInput and Conflict where this version no longer reads what is stored."""
    stored = found.revision
    asked, result = unpacked(stored.request), unpacked(stored.result)
    return LoadedRevision(
        head=found.head,
        stored=stored,
        request=request_of(asked),
        document=document_of(result),
        request_text=asked,
        result_text=result,
    )


def asked_anew(text: bytes, catalogue_revision: int, priced_on: date) -> bytes:
    """The same request, naming what it is computed on, so that it gets the same answer again."""
    request = msgspec.json.decode(text)
    request["catalogue_revision"] = catalogue_revision
    request["job"]["priced_on"] = priced_on
    return msgspec.json.encode(request)
