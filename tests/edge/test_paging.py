"""Walking a list by its cursors."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from filmbuild.edge import paging
from filmbuild.edge.paging import PageQuery
from filmbuild.errors import InvalidInput


class Filtered(PageQuery, frozen=True):
    colour: str | None = None


def walk(keys: list[str], limit: int) -> list[tuple[str, ...]]:
    pages = []
    query = PageQuery(limit=limit)
    while True:
        page, following = paging.cut(keys, lambda key: key, query, "/v1/things")
        pages.append(page)
        if following is None:
            return pages
        query = PageQuery(limit=limit, cursor=following)


@given(st.sets(st.text(min_size=1, max_size=8)), st.integers(1, 100))
def test_every_record_comes_once_and_in_order(keys: set[str], limit: int) -> None:
    pages = walk(sorted(keys), limit)
    assert [key for page in pages for key in page] == sorted(keys)
    assert all(len(page) == limit for page in pages[:-1])


def test_a_record_that_goes_missing_between_pages_moves_no_other() -> None:
    page, following = paging.cut("abcd", str, PageQuery(limit=2), "/v1/things")
    assert page == ("a", "b")
    rest, _ = paging.cut("acd", str, PageQuery(limit=2, cursor=following), "/v1/things")
    assert rest == ("c", "d")


@pytest.mark.parametrize("text", ["AAAA", "W10", "a", "eyJhIjoxfQ", "_" * 500])
def test_what_is_no_cursor_is_refused(text: str) -> None:
    with pytest.raises(InvalidInput) as refusal:
        paging.after(PageQuery(cursor=text), "/v1/things")
    assert refusal.value.faults[0].pointer == "/cursor"


FORGED = ("garbage", "2026-01-01T00:00:00 a", "9" * 30, "0001-01-01T00:00:00+23:59 a", "a\0b", "")


@pytest.mark.parametrize("key", [*FORGED, "2026-01-01T00:00:00Z a\0"])
def test_a_cursor_that_somebody_else_made_is_refused(key: str) -> None:
    """Of a list in order of moments, or of numbers."""
    query = PageQuery(cursor=paging.cursor(PageQuery(), "/v1/things", key))
    with pytest.raises(InvalidInput, match="query"):
        paging.after_moment(query, "/v1/things", lambda moment, name: (moment, name))
    with pytest.raises(InvalidInput, match="query"):
        paging.after_number(query, "/v1/things")


def test_a_cursor_holds_for_its_own_list_and_filters_only() -> None:
    red = Filtered(limit=1, colour="red")
    _, following = paging.cut("ab", str, red, "/v1/things")
    for query, path in (
        (Filtered(limit=1, colour="blue", cursor=following), "/v1/things"),
        (Filtered(limit=1, colour="red", cursor=following), "/v1/others"),
    ):
        with pytest.raises(InvalidInput):
            paging.after(query, path)
    assert paging.after(Filtered(limit=5, colour="red", cursor=following), "/v1/things") == "a"


def test_the_link_leads_on_with_the_same_filters() -> None:
    red = Filtered(limit=3, colour="red")
    assert paging.link(red, "/v1/things", "xyz") == (
        ("link", '</v1/things?colour=red&limit=3&cursor=xyz>; rel="next"'),
    )
    assert paging.link(red, "/v1/things", None) == ()
