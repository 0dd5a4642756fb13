"""Keeps what an organisation says of itself."""

from collections.abc import Callable, Mapping
from datetime import UTC, datetime

import msgspec
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.db import Database
from filmbuild.edge.decoding import decode
from filmbuild.edge.encoding import encode
from filmbuild.edge.preconditions import check_match
from filmbuild.errors import Fault, Faults, InvalidInput, NotFound, PreconditionFailed
from filmbuild.organisations import store
from filmbuild.organisations.defaults import default_texts, fallbacks
from filmbuild.organisations.profile import (
    BankAccount,
    OrganisationProfile,
    OrganisationTexts,
    check_profile,
    check_texts,
)
from filmbuild.organisations.store import StoredProfile, StoredTexts
from filmbuild.organisations.wire import Organisation, TextsInUse


def utc_now() -> datetime:
    return datetime.now(UTC)


class Tagged(msgspec.Struct, frozen=True):
    """An answer, its ETag, and whether the record was made by the request."""

    content: bytes
    tag: str
    made: bool = False


class OrganisationService:
    def __init__(self, database: Database, clock: Callable[[], datetime] = utc_now) -> None:
        self._database = database
        self._clock = clock

    async def get(self, organisation: str) -> Tagged:
        """Raises NotFound until a profile has been given."""
        async with self._database.reader(organisation) as connection:
            found = await store.get_profile(connection, organisation)
        if found is None:
            raise NotFound("The organisation has not described itself yet; PUT its profile here.")
        return _profile_answer(found)

    async def put(
        self, organisation: str, profile: OrganisationProfile, headers: Mapping[str, str]
    ) -> Tagged:
        """Raises InvalidInput, PreconditionRequired and PreconditionFailed."""
        faults = Faults()
        check_profile(profile, faults)
        faults.raise_if_any()
        now = self._clock()
        async with self._database.writer(organisation) as connection:
            earlier = await store.get_profile(connection, organisation, lock=True)
            check_put(headers, None if earlier is None else _tag(earlier.version))
            stored = StoredProfile(
                version=1 if earlier is None else earlier.version + 1,
                created_at=now if earlier is None else earlier.created_at,
                updated_at=now,
                profile=encode(profile, "us").decode(),
            )
            await store.put_profile(connection, organisation, stored)
        answer = _profile_answer(stored)
        return msgspec.structs.replace(answer, made=earlier is None)

    async def get_texts(self, organisation: str, language: str) -> Tagged:
        """The organisation's own, else the service's. Raises NotFound where there are neither."""
        async with self._database.reader(organisation) as connection:
            found = await store.get_texts(connection, organisation, language)
        answer = _texts_answer(language, found.get(language))
        if answer is None:
            raise NotFound(
                f"No texts are kept in this language; PUT them here. {_known_languages()}"
            )
        return answer

    async def put_texts(
        self, organisation: str, language: str, texts: OrganisationTexts, headers: Mapping[str, str]
    ) -> Tagged:
        """Raises InvalidInput, PreconditionRequired and PreconditionFailed.

        Where the service's own words are in use, they may be named in If-Match, and need not be.
        """
        faults = Faults()
        check_texts(texts, faults)
        faults.raise_if_any()
        now = self._clock()
        async with self._database.writer(organisation) as connection:
            found = await store.get_texts(connection, organisation, language, lock=True)
            earlier = found.get(language)
            default = earlier is None and language in default_texts()
            if not (default and headers.get("if-match", "").strip() == _tag(0)):
                check_put(headers, None if earlier is None else _tag(earlier.version))
            stored = StoredTexts(
                language=language,
                version=1 if earlier is None else earlier.version + 1,
                created_at=now if earlier is None else earlier.created_at,
                updated_at=now,
                texts=encode(texts, "us").decode(),
            )
            await store.put_texts(connection, organisation, stored)
        content = _in_use(language, texts, own=True)
        return Tagged(content, _tag(stored.version), made=earlier is None)


def check_put(headers: Mapping[str, str], current: str | None) -> None:
    """The conditions of a PUT that may make its record; `current` is None where there is none.

    Raises PreconditionRequired and PreconditionFailed.
    """
    if current is not None:
        if headers.get("if-none-match", "").strip() == "*":
            raise PreconditionFailed("The record exists already; read it, and send If-Match.")
        check_match(headers, current)
    elif "if-match" in headers:
        raise PreconditionFailed("There is no such record to match; send it without If-Match.")


async def profile_of(connection: AsyncConnection, organisation: str) -> OrganisationProfile:
    """For the features above. Raises InvalidInput where the organisation has not described itself."""
    found = await store.get_profile(connection, organisation)
    if found is None:
        detail = "an offer needs its seller: PUT /v1/organisation first"
        fault = Fault("", "organisation-not-described", detail)
        raise InvalidInput("The organisation has not described itself.", (fault,))
    return decode(OrganisationProfile, found.profile.encode())


async def bank_of(connection: AsyncConnection, organisation: str) -> BankAccount | None:
    """For those who invoice."""
    found = await store.get_profile(connection, organisation)
    return decode(OrganisationProfile, found.profile.encode()).bank if found else None


async def texts_of(
    connection: AsyncConnection, organisation: str, language: str
) -> OrganisationTexts | None:
    """For the features above: the organisation's own before the service's, the region's before all.

    None where nobody has words in the language.
    """
    languages = fallbacks(language)
    found = await store.get_texts(connection, organisation, *languages)
    for one in languages:
        if one in found:
            return decode(OrganisationTexts, found[one].texts.encode())
    return next((default_texts()[one] for one in languages if one in default_texts()), None)


def _known_languages() -> str:
    return f"The service has its own words in {', '.join(sorted(default_texts()))}."


def _profile_answer(found: StoredProfile) -> Tagged:
    shown = Organisation(
        created_at=found.created_at,
        updated_at=found.updated_at,
        profile=decode(OrganisationProfile, found.profile.encode()),
    )
    return Tagged(encode(shown, "us"), _tag(found.version))


def _texts_answer(language: str, found: StoredTexts | None) -> Tagged | None:
    if found is not None:
        texts = decode(OrganisationTexts, found.texts.encode())
        return Tagged(_in_use(language, texts, own=True), _tag(found.version))
    if language in default_texts():
        return Tagged(_in_use(language, default_texts()[language], own=False), _tag(0))
    return None


def _in_use(language: str, texts: OrganisationTexts, *, own: bool) -> bytes:
    return encode(TextsInUse(language=language, own=own, texts=texts), "us")


def _tag(version: int) -> str:
    return f'"{version}"'
