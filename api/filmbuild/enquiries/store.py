"""Queries on quote forms, proofs and enquiries. All run in the caller's transaction."""

from datetime import datetime
from typing import Any

import msgspec
from sqlalchemy import ColumnElement, and_, delete, insert, or_, select, update
from sqlalchemy.exc import IntegrityError
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.db.identities import new_identity
from filmbuild.enquiries import tables
from filmbuild.enquiries.proof import Used
from filmbuild.errors import PreconditionFailed
from filmbuild.money import Exact

_FORM = tables.quote_form
_PROOF = tables.used_proof
_ENQUIRY = tables.enquiry


class StoredForm(msgspec.Struct, frozen=True, kw_only=True):
    """`form` is JSON text. `version` is 1 when it is first given."""

    version: int
    created_at: datetime
    updated_at: datetime
    form: str
    secret: str


class StoredEnquiry(msgspec.Struct, frozen=True, kw_only=True):
    """`question`, `person` and `consent` are JSON text."""

    id: str
    created_at: datetime
    updated_at: datetime
    version: int
    state: str
    language: str
    units: str
    question: str
    person: str | None
    consent: str
    estimate_id: str | None
    currency: str | None
    lowest: Exact | None
    highest: Exact | None
    tax_included: bool | None


class Position(msgspec.Struct, frozen=True):
    """The last that was given: older ones follow."""

    created_at: datetime
    id: str


def new_enquiry_id() -> str:
    return new_identity("enq")


async def get_form(
    connection: AsyncConnection, organisation: str, *, lock: bool = False
) -> StoredForm | None:
    query = select(*(_FORM.c[name] for name in StoredForm.__struct_fields__)).where(
        _FORM.c.organisation_id == organisation
    )
    found = await connection.execute(query.with_for_update() if lock else query)
    row = found.mappings().first()
    return StoredForm(**row) if row is not None else None


async def put_form(connection: AsyncConnection, organisation: str, form: StoredForm) -> None:
    """Raises PreconditionFailed where another request has just made it."""
    values = msgspec.structs.asdict(form)
    if form.version > 1:
        change = update(_FORM).where(_FORM.c.organisation_id == organisation)
        await connection.execute(change.values(**values))
        return
    try:
        await connection.execute(insert(_FORM).values(organisation_id=organisation, **values))
    except IntegrityError as error:
        detail = "The record has just been made by another request; read it."
        raise PreconditionFailed(detail) from error


async def use_proof(
    connection: AsyncConnection, organisation: str, used: Used, now: datetime
) -> bool:
    """Whether it had not been used before. Those that have ended are forgotten."""
    ended = and_(_PROOF.c.organisation_id == organisation, _PROOF.c.expires_at < now)
    await connection.execute(delete(_PROOF).where(ended))
    row = {
        "organisation_id": organisation,
        "nonce": used.nonce,
        "expires_at": used.expires_at,
    }
    try:
        async with connection.begin_nested():
            await connection.execute(insert(_PROOF), row)
    except IntegrityError:
        return False
    return True


async def insert_enquiry(
    connection: AsyncConnection, organisation: str, enquiry: StoredEnquiry
) -> None:
    row = {"organisation_id": organisation, **msgspec.structs.asdict(enquiry)}
    await connection.execute(insert(_ENQUIRY), row)


async def get_enquiry(
    connection: AsyncConnection, organisation: str, name: str, *, lock: bool = False
) -> StoredEnquiry | None:
    query = _enquiries().where(_is(organisation, name))
    found = await connection.execute(query.with_for_update() if lock else query)
    row = found.mappings().first()
    return StoredEnquiry(**row) if row is not None else None


async def change_enquiry(
    connection: AsyncConnection, organisation: str, name: str, values: dict[str, Any]
) -> None:
    await connection.execute(update(_ENQUIRY).where(_is(organisation, name)).values(**values))


async def page_of_enquiries(
    connection: AsyncConnection,
    organisation: str,
    after: Position | None,
    limit: int,
    state: str | None,
) -> tuple[tuple[StoredEnquiry, ...], bool]:
    """Newest first; and whether more follow."""
    created = _ENQUIRY.c.created_at
    query = (
        _enquiries()
        .where(_ENQUIRY.c.organisation_id == organisation)
        .order_by(created.desc(), _ENQUIRY.c.id.desc())
        .limit(limit + 1)
    )
    if state is not None:
        query = query.where(_ENQUIRY.c.state == state)
    if after is not None:
        same = and_(created == after.created_at, _ENQUIRY.c.id < after.id)
        query = query.where(or_(created < after.created_at, same))
    rows = (await connection.execute(query)).mappings()
    found = tuple(StoredEnquiry(**row) for row in rows)
    return found[:limit], len(found) > limit


def _enquiries() -> Any:  # noqa: ANN401 - the library has no name for a choice of so many columns
    return select(*(_ENQUIRY.c[name] for name in StoredEnquiry.__struct_fields__))


def _is(organisation: str, name: str) -> ColumnElement[bool]:
    return and_(_ENQUIRY.c.organisation_id == organisation, _ENQUIRY.c.id == name)
