"""Prices what visitors ask for, and keeps their enquiries."""

import re
from collections.abc import Mapping
from datetime import date, datetime
from typing import TypeVar

import msgspec
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild import idempotency
from filmbuild.accounts import audit
from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.db import Database
from filmbuild.edge import paging
from filmbuild.edge.decoding import decode
from filmbuild.edge.operations import Caller
from filmbuild.edge.preconditions import check_match
from filmbuild.enquiries import pricing, proof, store, words
from filmbuild.enquiries.answers import enquiry_answer, receipt, tag
from filmbuild.enquiries.asking import EnquiryRequest, FloorQuestion, Person
from filmbuild.enquiries.floors import check_question
from filmbuild.enquiries.form import consent_version, in_language
from filmbuild.enquiries.forms import FormService, KeptForm
from filmbuild.enquiries.pricing import Clock, PricedFloor
from filmbuild.enquiries.proof import Used
from filmbuild.enquiries.store import Position, StoredEnquiry
from filmbuild.enquiries.wire import (
    EnquiriesQuery,
    Enquiry,
    EnquiryPage,
    EnquiryReceipt,
    EnquiryState,
    GivenConsent,
    QuotedRange,
)
from filmbuild.enquiries.words import Told
from filmbuild.errors import Fault, Faults, Infeasible, InvalidInput, NotFound, Refusal
from filmbuild.estimates.records import revision_of
from filmbuild.estimates.store import EstimateHead, insert_estimate, new_estimate_id
from filmbuild.estimates.telling import event_of
from filmbuild.idempotency import KeptAnswer, RequestKey
from filmbuild.webhooks import outbox
from filmbuild.webhooks.events import EnquiryEventData, Event

CREATED = 201
T = TypeVar("T")
_EMAIL = re.compile(r"[^@\s]+@[^@\s.]+(\.[^@\s.]+)+")


class _Asked(msgspec.Struct):
    """A body, of which the question is kept as it came."""

    question: msgspec.Raw


_ASKED = msgspec.json.Decoder(_Asked)


class EnquiryService:
    def __init__(
        self, database: Database, snapshots: CatalogueSnapshots, forms: FormService, clock: Clock
    ) -> None:
        self._database = database
        self._snapshots = snapshots
        self._forms = forms
        self._clock = clock

    async def price(self, organisation: str, content: bytes, accepted: str) -> QuotedRange:
        """Raises InvalidInput, and Infeasible where only the contractor can tell."""
        language = words.language_of(content, accepted)
        question = _read(FloorQuestion, content, language)
        form = (await self._forms.find(organisation)).settings
        today = pricing.today_of(form, self._clock())
        faults = Faults()
        check_question(question, form, today, faults, language)
        words.raise_if_any(faults, language)
        try:
            found = await pricing.price(self._snapshots, organisation, form, question, today)
        except (InvalidInput, Infeasible):
            # what the pipeline says names products and costs
            told = words.OWN["not-priceable"][language]
            raise Infeasible(told, (Fault("", "not-priceable", told),)) from None
        return pricing.quoted(found, in_language(form.words, language))

    async def create(
        self, caller: Caller, content: bytes, accepted: str, key: RequestKey | None
    ) -> EnquiryReceipt:
        """Raises InvalidInput, IdempotencyKeyReused, and Conflict while its first is not done."""
        if key is not None and (earlier := await self._earlier(key)):
            return earlier
        language = words.language_of(content, accepted)
        request = _read(EnquiryRequest, content, language)
        form = await self._forms.find(caller.organisation)
        now = self._clock()
        today = pricing.today_of(form.settings, now)
        used = _check(request, form, today, language)
        name = store.new_enquiry_id()
        priced = await self._priced(caller.organisation, form, request.question, today, name)
        enquiry = _stored(name, request, content, form, priced, now, language)
        async with self._database.writer(caller.organisation) as connection:
            if key is not None:
                if known := await idempotency.find(connection, key, now):
                    return await _repeat(connection, key.organisation, known)
                kept = KeptAnswer(status=CREATED, resource=name)
                await idempotency.keep(connection, key, kept, now)
            if used is not None and not await store.use_proof(
                connection, caller.organisation, used, now
            ):
                raise _refused("used-proof", "proof", language)
            enquiry = await _keep_estimate(connection, caller, enquiry, priced, now)
            await store.insert_enquiry(connection, caller.organisation, enquiry)
            await outbox.write(connection, caller.organisation, _received(enquiry))
        return receipt(enquiry)

    async def get(self, organisation: str, name: str) -> StoredEnquiry:
        """Raises NotFound."""
        async with self._database.reader(organisation) as connection:
            found = await store.get_enquiry(connection, organisation, name)
        return _known(found)

    async def find(self, organisation: str, query: EnquiriesQuery, path: str) -> EnquiryPage:
        after = paging.after_moment(query, path, Position)
        async with self._database.reader(organisation) as connection:
            found, more = await store.page_of_enquiries(
                connection, organisation, after, query.limit, query.state
            )
        last = f"{found[-1].created_at.isoformat()} {found[-1].id}" if more else None
        items: tuple[Enquiry, ...] = tuple(enquiry_answer(one) for one in found)
        return EnquiryPage(
            items=items, next=None if last is None else paging.cursor(query, path, last)
        )

    async def set_state(
        self, organisation: str, name: str, state: EnquiryState, headers: Mapping[str, str]
    ) -> StoredEnquiry:
        """Raises NotFound, PreconditionRequired and PreconditionFailed."""
        async with self._database.writer(organisation) as connection:
            found = _known(await store.get_enquiry(connection, organisation, name, lock=True))
            check_match(headers, tag(found))
            return await self._change(connection, organisation, found, state=state)

    async def erase(self, caller: Caller, name: str) -> None:
        """What tells who asked; repeating it changes nothing. Raises NotFound."""
        organisation = caller.organisation
        async with self._database.writer(organisation) as connection:
            found = _known(await store.get_enquiry(connection, organisation, name, lock=True))
            if found.person is not None:
                await self._change(connection, organisation, found, person=None)
                await audit.write(
                    connection,
                    organisation,
                    at=self._clock(),
                    actor=caller.actor,
                    action="enquiry.erased",
                    subject=name,
                    detail={},
                )

    async def _change(
        self,
        connection: AsyncConnection,
        organisation: str,
        found: StoredEnquiry,
        **values: str | None,
    ) -> StoredEnquiry:
        changed = {**values, "version": found.version + 1, "updated_at": self._clock()}
        await store.change_enquiry(connection, organisation, found.id, changed)
        return msgspec.structs.replace(found, **changed)

    async def _priced(
        self, organisation: str, form: KeptForm, question: FloorQuestion, today: date, name: str
    ) -> PricedFloor | None:
        """None where the contractor has to look at the floor: an enquiry is never lost by that."""
        try:
            return await pricing.price(
                self._snapshots, organisation, form.settings, question, today, name
            )
        except (InvalidInput, Infeasible):
            return None

    async def _earlier(self, key: RequestKey) -> EnquiryReceipt | None:
        async with self._database.reader(key.organisation) as connection:
            known = await idempotency.find(connection, key, self._clock())
            if known is None:
                return None
            return await _repeat(connection, key.organisation, known)


def _read(kind: type[T], content: bytes, language: Told) -> T:
    try:
        return decode(kind, content)
    except InvalidInput as error:
        raise words.translated(error, language) from error


def _check(request: EnquiryRequest, form: KeptForm, today: date, language: Told) -> Used | None:
    """The proof, where one is asked for. Raises InvalidInput with all that is wrong."""
    faults = Faults()
    check_question(request.question, form.settings, today, faults.at("question"), language)
    if not request.email and not request.telephone:
        words.add(faults, language, "contact-missing", "email")
    elif request.email and _EMAIL.fullmatch(request.email) is None:
        words.add(faults, language, "invalid-email", "email")
    if not request.consent.accepted:
        words.add(faults, language, "consent-needed", "consent", "accepted")
    elif request.consent.version != consent_version(in_language(form.settings.words, language)):
        words.add(faults, language, "consent-changed", "consent", "version")
    used = None
    if form.settings.proof != "none":
        try:
            used = proof.check(form.secret, request.proof)
        except Refusal as refusal:
            words.add(faults, language, refusal.code, "proof")
    words.raise_if_any(faults, language)
    return used


def _refused(code: str, place: str, language: Told) -> InvalidInput:
    fault = Fault(f"/{place}", code, words.OWN[code][language])
    return InvalidInput(words.NOT_VALID[language], (fault,))


def _stored(
    name: str,
    request: EnquiryRequest,
    content: bytes,
    form: KeptForm,
    priced: PricedFloor | None,
    now: datetime,
    language: Told,
) -> StoredEnquiry:
    said = in_language(form.settings.words, language)
    consent = GivenConsent(
        version=request.consent.version, text=said.consent, privacy=said.privacy, given_at=now
    )
    person = Person(
        name=request.name,
        email=request.email,
        telephone=request.telephone,
        place=request.place,
        message=request.message,
    )
    price = None if priced is None else priced.price
    return StoredEnquiry(
        id=name,
        created_at=now,
        updated_at=now,
        version=1,
        state="new",
        language=said.language,
        units=form.settings.units,
        question=bytes(_ASKED.decode(content).question).decode(),
        person=msgspec.json.encode(person).decode(),
        consent=msgspec.json.encode(consent).decode(),
        estimate_id=None,
        currency=price.lowest.currency if price else None,
        lowest=price.lowest.amount if price else None,
        highest=price.highest.amount if price else None,
        tax_included=price.tax_included if price else None,
    )


async def _keep_estimate(
    connection: AsyncConnection,
    caller: Caller,
    enquiry: StoredEnquiry,
    priced: PricedFloor | None,
    now: datetime,
) -> StoredEnquiry:
    """Which names its estimate, where there is one."""
    if priced is None:
        return enquiry
    made = priced.made
    head = EstimateHead(
        id=new_estimate_id(), created_at=now, site_name=made.site_name, reference=made.reference
    )
    first = revision_of(made, number=1, now=now, actor=caller.actor)
    await insert_estimate(connection, caller.organisation, head, first)
    await outbox.write(connection, caller.organisation, event_of("created", head.id, first))
    return msgspec.structs.replace(enquiry, estimate_id=head.id)


def _received(enquiry: StoredEnquiry) -> Event:
    data = EnquiryEventData(id=enquiry.id, estimate=enquiry.estimate_id)
    return Event(type="enquiry.received", subject=enquiry.id, data=data, at=enquiry.created_at)


async def _repeat(
    connection: AsyncConnection, organisation: str, known: KeptAnswer
) -> EnquiryReceipt:
    found = await store.get_enquiry(connection, organisation, known.resource)
    if found is None:
        raise RuntimeError(f"the key of enquiry {known.resource} outlived it")
    return receipt(found)


def _known(found: StoredEnquiry | None) -> StoredEnquiry:
    if found is None:
        raise NotFound("No enquiry has this id.")
    return found
