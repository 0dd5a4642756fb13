"""Server-sent events by WHATWG HTML, section 9.2.6, "Interpreting an event stream"."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from filmbuild_sdk.sse import Message, Parser


def read(*pieces: bytes) -> list[Message]:
    parser = Parser()
    return [message for piece in pieces for message in parser.feed(piece)]


# the examples of the section itself
STOCKS = b"data: YHOO\ndata: +2\ndata: 10\n\n"
COMMENTED = (
    b": test stream\n\ndata: first event\nid: 1\n\ndata:second event\nid\n\ndata:  third event\n\n"
)
EMPTY = b"data\n\ndata\ndata\n\ndata:"


def test_lines_of_data_are_joined() -> None:
    assert read(STOCKS) == [Message("message", "YHOO\n+2\n10", "")]


def test_comments_are_passed_over_and_an_empty_id_is_an_id() -> None:
    assert read(COMMENTED) == [
        Message("message", "first event", "1"),
        Message("message", "second event", ""),
        Message("message", " third event", ""),
    ]


def test_data_may_be_empty_and_what_was_cut_off_is_nothing() -> None:
    assert read(EMPTY) == [Message("message", "", ""), Message("message", "\n", "")]


def test_an_id_holds_until_another_comes() -> None:
    found = read(b"id: 7\nevent: end\ndata: a\n\ndata: b\n\nid: 8\n\ndata: c\n\n")
    assert found == [
        Message("end", "a", "7"),
        Message("message", "b", "7"),
        Message("message", "c", "8"),
    ]


def test_ids_with_nul_and_waits_that_are_no_number_are_passed_over() -> None:
    parser = Parser()
    assert list(parser.feed(b"id: 1\nid: \x002\nretry: 250\nretry: soon\ndata: a\n\n")) == [
        Message("message", "a", "1")
    ]
    assert parser.retry == 0.25


@pytest.mark.parametrize("end", [b"\n", b"\r", b"\r\n"])
def test_lines_end_in_any_of_three_ways_and_a_mark_begins_them(end: bytes) -> None:
    content = b"\xef\xbb\xbf" + COMMENTED.replace(b"\n", end) + b": the end" + end
    assert read(content) == read(COMMENTED)


@given(
    st.lists(st.sampled_from([b"data: \xc3\xa9", b"\r", b"\n", b"id: 3", b":", b"event: end"])),
    st.data(),
)
def test_it_does_not_matter_where_the_pieces_end(parts: list[bytes], data: st.DataObject) -> None:
    content = b"".join(parts) + b"\n"
    places = sorted(data.draw(st.lists(st.integers(0, len(content)))))
    bounds = [0, *places, len(content)]
    pieces = [content[first:last] for first, last in pairwise(bounds)]
    assert read(*pieces) == read(content)
