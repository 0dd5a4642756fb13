"""Keeps the settings of the quote form, and tells pages what they need of them."""

from collections.abc import Mapping

import msgspec

from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.db import Database
from filmbuild.edge.decoding import decode
from filmbuild.edge.encoding import encode
from filmbuild.edge.preconditions import check_match
from filmbuild.enquiries import pricing, proof, store
from filmbuild.enquiries.asking import MOST_CORNERS, MOST_ROOMS
from filmbuild.enquiries.floors import FARTHEST, LONGEST_SIDE, SHORTEST_SIDE
from filmbuild.enquiries.form import (
    FormWords,
    QuoteFormSettings,
    check_form,
    consent_version,
    in_language,
    languages,
)
from filmbuild.enquiries.pricing import Clock
from filmbuild.enquiries.store import StoredForm
from filmbuild.enquiries.wire import (
    Challenge,
    KeptQuoteForm,
    OfferedConsent,
    OfferedFinish,
    QuestionLimits,
    QuoteForm,
)
from filmbuild.errors import Faults, NotFound, PreconditionFailed
from filmbuild.quantities import Length


class KeptForm(msgspec.Struct, frozen=True):
    """The settings as they are used."""

    settings: QuoteFormSettings
    secret: str


class Tagged(msgspec.Struct, frozen=True):
    """An answer, its ETag, and whether the record was made by the request."""

    content: bytes
    tag: str
    made: bool = False


class FormService:
    def __init__(self, database: Database, snapshots: CatalogueSnapshots, clock: Clock) -> None:
        self._database = database
        self._snapshots = snapshots
        self._clock = clock

    async def find(self, organisation: str) -> KeptForm:
        """Raises NotFound."""
        found = await self._stored(organisation)
        return KeptForm(_settings(found), found.secret)

    async def get_settings(self, organisation: str) -> Tagged:
        """Raises NotFound."""
        found = await self._stored(organisation)
        return Tagged(_kept(found), _tag(found))

    async def put_settings(
        self, organisation: str, form: QuoteFormSettings, headers: Mapping[str, str]
    ) -> Tagged:
        """Raises InvalidInput, PreconditionRequired, PreconditionFailed and Unavailable."""
        faults = Faults()
        check_form(form, faults)
        faults.raise_if_any()
        now = self._clock()
        today = pricing.today_of(form, now)
        await pricing.check_finishes(self._snapshots, organisation, form, today)
        async with self._database.writer(organisation) as connection:
            earlier = await store.get_form(connection, organisation, lock=True)
            if earlier is not None:
                check_match(headers, _tag(earlier))
            elif "if-match" in headers:
                detail = "There is no such record to match; send it without If-Match."
                raise PreconditionFailed(detail)
            kept = StoredForm(
                version=1 if earlier is None else earlier.version + 1,
                created_at=now if earlier is None else earlier.created_at,
                updated_at=now,
                form=encode(form, "si").decode(),
                secret=proof.new_secret() if earlier is None else earlier.secret,
            )
            await store.put_form(connection, organisation, kept)
        return Tagged(_kept(kept), _tag(kept), made=earlier is None)

    async def show(self, organisation: str, language: str | None) -> QuoteForm:
        """In the form's first language where it has no words in the one asked for."""
        form = (await self.find(organisation)).settings
        return shown(form, language)

    async def challenge(self, organisation: str) -> Challenge:
        found = await self.find(organisation)
        return proof.new_challenge(found.secret, found.settings.proof, self._clock())

    async def _stored(self, organisation: str) -> StoredForm:
        async with self._database.reader(organisation) as connection:
            found = await store.get_form(connection, organisation)
        if found is None:
            raise NotFound("The organisation has no quote form; PUT it to /v1/quote-form.")
        return found


def shown(form: QuoteFormSettings, language: str | None) -> QuoteForm:
    words = in_language(form.words, language or "")
    limits = QuestionLimits(
        rooms=MOST_ROOMS,
        corners=MOST_CORNERS,
        shortest_side=Length(SHORTEST_SIDE),
        longest_side=Length(LONGEST_SIDE),
        days_ahead=FARTHEST.days,
    )
    return QuoteForm(
        language=words.language,
        languages=languages(form),
        title=words.title,
        finishes=_finishes(form, words.language),
        units=form.units,
        currency=form.job.currency,
        tax_included=form.tax_shown,
        includes=words.includes,
        minimum_note=words.minimum_note,
        consent=_consent(words),
        limits=limits,
        proof_attempts=proof.attempts(form.proof),
    )


def _finishes(form: QuoteFormSettings, language: str) -> tuple[OfferedFinish, ...]:
    told = ((one, in_language(one.words, language)) for one in form.finishes)
    return tuple(
        OfferedFinish(id=one.id, name=words.name, description=words.description, swatch=one.swatch)
        for one, words in told
    )


def _consent(words: FormWords) -> OfferedConsent:
    return OfferedConsent(version=consent_version(words), text=words.consent, privacy=words.privacy)


def _settings(found: StoredForm) -> QuoteFormSettings:
    content = found.form.encode()
    return decode(QuoteFormSettings, content, max_bytes=len(content))


def _kept(found: StoredForm) -> bytes:
    form = _settings(found)
    kept = KeptQuoteForm(created_at=found.created_at, updated_at=found.updated_at, settings=form)
    return encode(kept, form.units)


def _tag(found: StoredForm) -> str:
    return f'"{found.version}"'
