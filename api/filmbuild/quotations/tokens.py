"""Links for customers: signed tokens, each for one purpose and one content of one quotation."""

import base64
import hmac
import secrets
from datetime import datetime
from hashlib import sha256
from typing import Annotated

import msgspec
from itsdangerous import Signer
from msgspec import Meta
from sqlalchemy import insert, select
from sqlalchemy.exc import IntegrityError
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.db.identities import ORGANISATION
from filmbuild.errors import NotFound
from filmbuild.quotations.tables import link_secret

OFFER_LINK = "filmbuild: a customer's link to an offer"
_BYTES = 32


class OfferLink(msgspec.Struct, frozen=True, array_like=True):
    """What a token is about. The nonce is that of the issue, so that a new one ends the old link."""

    # who makes one up must not say EVERYONE, nor what the database does not take
    organisation: Annotated[str, Meta(pattern=f"^{ORGANISATION}$(?!\\n)")]
    quotation: str
    nonce: str
    digest: str


def new_nonce() -> str:
    return secrets.token_urlsafe(12)


def digest_of(content: str) -> str:
    """128 bits, which is enough to tell contents apart and keeps links short."""
    return sha256(content.encode()).hexdigest()[:32]


def sign(secret: str, link: OfferLink, purpose: str = OFFER_LINK) -> str:
    """Letters, digits, "-" and "_", and one point before the signature."""
    payload = base64.urlsafe_b64encode(msgspec.json.encode(link)).rstrip(b"=")
    signer = Signer(secret, salt=purpose, key_derivation="hmac", digest_method=sha256)
    return signer.sign(payload).decode()


def claimed(token: str) -> OfferLink:
    """What the token says of itself, which proves nothing yet. Raises NotFound."""
    payload = token.partition(".")[0]
    try:
        text = base64.urlsafe_b64decode(payload + "=" * (-len(payload) % 4))
        return msgspec.json.decode(text, type=OfferLink)
    except (ValueError, msgspec.DecodeError):
        raise no_such_link() from None


def check_signature(
    secret: str | None, token: str, link: OfferLink, purpose: str = OFFER_LINK
) -> None:
    """Raises NotFound.

    The whole text is compared: the last letter of a signature has bits that decode to nothing, and
    a link is good as it was given alone.
    """
    if secret is None or not hmac.compare_digest(sign(secret, link, purpose), token):
        raise no_such_link()


def no_such_link() -> NotFound:
    """The same for every way of having no right to an offer: what was wrong helps only forgers."""
    return NotFound("No offer has this link.")


async def find_secret(connection: AsyncConnection, organisation: str) -> str | None:
    query = select(link_secret.c.secret).where(link_secret.c.organisation_id == organisation)
    return (await connection.execute(query)).scalar_one_or_none()


async def make_secret(connection: AsyncConnection, organisation: str, now: datetime) -> str:
    """The organisation's secret, made where there is none."""
    known = await find_secret(connection, organisation)
    if known is not None:
        return known
    made = secrets.token_urlsafe(_BYTES)
    row = {"organisation_id": organisation, "secret": made, "created_at": now}
    try:
        async with connection.begin_nested():
            await connection.execute(insert(link_secret), row)
    except IntegrityError:
        # another transaction has made it in the meantime
        known = await find_secret(connection, organisation)
        if known is None:
            raise
        return known
    return made
