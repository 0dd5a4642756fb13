"""Links for customers: what is signed, and that nothing else is taken for it."""

import re
import string
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sqlalchemy import select

from filmbuild.db import EVERYONE, Database
from filmbuild.errors import NotFound
from filmbuild.quotations import tokens
from filmbuild.quotations.tables import link_secret
from filmbuild.quotations.tokens import OfferLink, check_signature, claimed, sign

LINK = OfferLink("default", "quo_" + "0" * 26, "a-nonce", "0123abcd")
SECRET = "a secret of the organisation"  # noqa: S105 - of these tests alone
TOKEN = sign(SECRET, LINK)
ALPHABET = string.ascii_letters + string.digits + "-_."


def is_good(token: str, secret: str | None = SECRET) -> bool:
    try:
        check_signature(secret, token, claimed(token))
    except NotFound:
        return False
    return True


def test_a_token_says_what_it_is_about_and_fits_a_path() -> None:
    assert claimed(TOKEN) == LINK
    assert is_good(TOKEN)
    assert re.fullmatch(r"[A-Za-z0-9_.-]{40,600}", TOKEN)


@given(st.integers(0, len(TOKEN) - 1), st.sampled_from(ALPHABET))
def test_a_token_with_one_letter_changed_is_refused(place: int, letter: str) -> None:
    altered = TOKEN[:place] + letter + TOKEN[place + 1 :]
    assert is_good(altered) == (altered == TOKEN)


@given(st.integers(0, len(TOKEN)))
def test_a_token_that_was_cut_or_lengthened_is_refused(length: int) -> None:
    assert is_good(TOKEN[:length]) == (length == len(TOKEN))
    assert not is_good(TOKEN + "A" * (length + 1))


@given(st.text(ALPHABET, max_size=300))
def test_anything_else_is_refused_and_breaks_nothing(token: str) -> None:
    assert not is_good(token)


def test_a_token_of_another_secret_or_of_none_is_refused() -> None:
    assert not is_good(TOKEN, "another secret")
    assert not is_good(TOKEN, None)


@pytest.mark.parametrize("organisation", ["*", "a\0b", "", "A", "a" * 64, "a\n"])
def test_what_is_no_organisation_is_not_looked_for(organisation: str) -> None:
    """It would open a block of the service itself, or one that the database refuses."""
    forged = OfferLink(organisation, LINK.quotation, LINK.nonce, LINK.digest)
    with pytest.raises(NotFound):
        claimed(sign(SECRET, forged))


def test_a_token_is_good_for_its_purpose_alone() -> None:
    other = sign(SECRET, LINK, "another purpose")
    assert claimed(other) == LINK
    assert not is_good(other)
    check_signature(SECRET, other, LINK, "another purpose")


@pytest.mark.parametrize(
    "other",
    [
        OfferLink("another", LINK.quotation, LINK.nonce, LINK.digest),
        OfferLink(LINK.organisation, "quo_" + "1" * 26, LINK.nonce, LINK.digest),
        OfferLink(LINK.organisation, LINK.quotation, "b-nonce", LINK.digest),
        OfferLink(LINK.organisation, LINK.quotation, LINK.nonce, "4567cdef"),
    ],
)
def test_the_signature_of_one_link_does_not_fit_another(other: OfferLink) -> None:
    payload = sign(SECRET, other).partition(".")[0]
    assert not is_good(f"{payload}.{TOKEN.partition('.')[2]}")


async def test_an_organisation_has_one_secret_of_its_own(database: Database) -> None:
    now = datetime(2026, 9, 1, tzinfo=UTC)
    async with database.writer(EVERYONE) as connection:
        made = [await tokens.make_secret(connection, name, now) for name in ("a", "b", "a")]
    assert made[0] == made[2] != made[1]
    assert min(map(len, made)) >= 40
    async with database.reader(EVERYONE) as connection:
        assert await tokens.find_secret(connection, "a") == made[0]
        assert await tokens.find_secret(connection, "c") is None
        assert len((await connection.execute(select(link_secret))).all()) == 2
