"""Queries on profiles and texts. All run in the caller's transaction."""

from datetime import datetime

import msgspec
from sqlalchemy import insert, select, update
from sqlalchemy.exc import IntegrityError
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.errors import PreconditionFailed
from filmbuild.organisations import tables

_PROFILE = tables.organisation
_TEXTS = tables.organisation_texts


class StoredProfile(msgspec.Struct, frozen=True, kw_only=True):
    """`profile` is JSON text. `version` is 1 when it is first given."""

    version: int
    created_at: datetime
    updated_at: datetime
    profile: str


class StoredTexts(msgspec.Struct, frozen=True, kw_only=True):
    """`texts` is JSON text."""

    language: str
    version: int
    created_at: datetime
    updated_at: datetime
    texts: str


async def get_profile(
    connection: AsyncConnection, organisation: str, *, lock: bool = False
) -> StoredProfile | None:
    query = select(*(_PROFILE.c[name] for name in StoredProfile.__struct_fields__)).where(
        _PROFILE.c.organisation_id == organisation
    )
    found = await connection.execute(query.with_for_update() if lock else query)
    row = found.mappings().first()
    return StoredProfile(**row) if row is not None else None


async def put_profile(
    connection: AsyncConnection, organisation: str, profile: StoredProfile
) -> None:
    """Raises PreconditionFailed where another request has just made it."""
    values = msgspec.structs.asdict(profile)
    if profile.version > 1:
        change = update(_PROFILE).where(_PROFILE.c.organisation_id == organisation)
        await connection.execute(change.values(**values))
        return
    try:
        await connection.execute(insert(_PROFILE).values(organisation_id=organisation, **values))
    except IntegrityError as error:
        raise PreconditionFailed(_JUST_MADE) from error


async def get_texts(
    connection: AsyncConnection, organisation: str, *languages: str, lock: bool = False
) -> dict[str, StoredTexts]:
    """By language, those of the asked that there are."""
    query = select(*(_TEXTS.c[name] for name in StoredTexts.__struct_fields__)).where(
        _TEXTS.c.organisation_id == organisation, _TEXTS.c.language.in_(languages)
    )
    found = await connection.execute(query.with_for_update() if lock else query)
    return {row["language"]: StoredTexts(**row) for row in found.mappings()}


async def put_texts(connection: AsyncConnection, organisation: str, texts: StoredTexts) -> None:
    """Raises PreconditionFailed where another request has just made them."""
    values = msgspec.structs.asdict(texts)
    if texts.version > 1:
        change = update(_TEXTS).where(
            _TEXTS.c.organisation_id == organisation, _TEXTS.c.language == texts.language
        )
        await connection.execute(change.values(**values))
        return
    try:
        await connection.execute(insert(_TEXTS).values(organisation_id=organisation, **values))
    except IntegrityError as error:
        raise PreconditionFailed(_JUST_MADE) from error


_JUST_MADE = "The record has just been made by another request; read it."
