"""Faults carry RFC 6901 pointers, and all of them are raised at once."""

import pickle

import pytest

from filmbuild.errors import REPORTED_FAULTS, Fault, Faults, Infeasible, InvalidInput, pointer


@pytest.mark.parametrize(
    ("tokens", "text"),
    [
        # RFC 6901 section 5, the examples of that section's document
        ((), ""),
        (("foo",), "/foo"),
        (("foo", 0), "/foo/0"),
        (("",), "/"),
        (("a/b",), "/a~1b"),
        (("c%d",), "/c%d"),
        (("m~n",), "/m~0n"),
    ],
)
def test_pointers_are_written_as_rfc_6901_does(tokens: tuple[str | int, ...], text: str) -> None:
    assert pointer(tokens) == text


def test_views_share_one_collector_and_keep_the_order_found() -> None:
    faults = Faults()
    area = faults.at("areas", 3)
    area.add("not-positive", "more than zero", "length")
    faults.add("missing-field", "required", "name")
    area.at("steps").add("too-many", "fewer", 0)
    assert len(faults) == len(area) == 3
    with pytest.raises(InvalidInput) as caught:
        area.raise_if_any()
    assert [fault.pointer for fault in caught.value.faults] == [
        "/areas/3/length",
        "/name",
        "/areas/3/steps/0",
    ]


def test_no_faults_raise_nothing() -> None:
    faults = Faults()
    assert not faults
    faults.raise_if_any()


def test_beyond_the_cap_faults_are_counted_not_kept() -> None:
    faults = Faults()
    for place in range(REPORTED_FAULTS + 7):
        faults.add("wrong", "detail", place)
    assert len(faults.found) == REPORTED_FAULTS + 1
    assert faults.found[-1].code == "more-faults"
    assert "7 more" in faults.found[-1].detail


def test_the_error_can_be_raised_as_another_kind() -> None:
    faults = Faults()
    faults.add("no-crew", "no crew is large enough")
    with pytest.raises(Infeasible, match="no crew is large enough"):
        faults.raise_if_any("Nothing fits.", Infeasible)


def test_errors_survive_a_process_boundary() -> None:
    error = InvalidInput("The request is not valid.", (Fault("/a", "code", "detail"),))
    copy = pickle.loads(pickle.dumps(error))  # noqa: S301 - the bytes were made in this line
    assert (type(copy), copy.detail, copy.faults) == (InvalidInput, error.detail, error.faults)
