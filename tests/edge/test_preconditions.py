"""Conditions on the version of a record (RFC 9110 section 13.1, RFC 6585 section 3)."""

import re

import pytest

from filmbuild.edge.preconditions import IF_MATCH, check_match, tag_of, unchanged
from filmbuild.errors import PreconditionFailed, PreconditionRequired

NOW = tag_of(b"now")
BEFORE = tag_of(b"before")


def test_tags_differ_where_bytes_differ() -> None:
    assert re.fullmatch(r'"[0-9a-f]{32}"', NOW)
    assert tag_of(b"now") == NOW != BEFORE


@pytest.mark.parametrize("given", [NOW, "*", f"{BEFORE}, {NOW}", f" {NOW} "])
def test_a_tag_that_holds_lets_the_change_through(given: str) -> None:
    check_match({"if-match": given}, NOW)
    assert re.fullmatch(IF_MATCH.pattern, given.strip())


@pytest.mark.parametrize("given", [BEFORE, f"W/{NOW}", ""])
def test_another_tag_or_a_weak_one_stops_it(given: str) -> None:
    with pytest.raises(PreconditionFailed):
        check_match({"if-match": given}, NOW)


def test_a_change_without_a_condition_is_refused() -> None:
    with pytest.raises(PreconditionRequired):
        check_match({}, NOW)


@pytest.mark.parametrize(
    ("given", "same"), [(NOW, True), (f"W/{NOW}", True), ("*", True), (BEFORE, False), ("", False)]
)
def test_what_is_known_already_need_not_be_sent(given: str, same: bool) -> None:
    assert unchanged({"if-none-match": given}, NOW) is same
