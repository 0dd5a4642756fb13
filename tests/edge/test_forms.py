"""Forms of web pages, read as JSON."""

import json

import pytest

from filmbuild.edge.forms import json_of
from filmbuild.errors import InvalidInput, MalformedJson


@pytest.mark.parametrize(
    ("form", "read"),
    [
        (b"", {}),
        (b"name=Ada+Quill&reason=", {"name": "Ada Quill"}),
        (
            b"total.amount=12.50&total.currency=USD",
            {"total": {"amount": "12.50", "currency": "USD"}},
        ),
        (b"options%5B%5D=cove&options%5B%5D=lines", {"options": ["cove", "lines"]}),
        (b"name=%C3%89milie%22%2C%22x%22%3A%22", {"name": '\u00c9milie","x":"'}),
    ],
)
def test_fields_become_members(form: bytes, read: dict[str, object]) -> None:
    assert json.loads(json_of(form)) == read


@pytest.mark.parametrize("form", [b"name", b"name=\xff", b"name=%ff", b"a=1&" * 300 + b"a=1"])
def test_what_is_no_form_is_refused(form: bytes) -> None:
    with pytest.raises((MalformedJson, InvalidInput)):
        json_of(form)


@pytest.mark.parametrize(
    ("form", "pointer"),
    [
        (b"name=a&name=b", "/name"),
        (b"total=1&total.amount=2", "/total/amount"),
        (b"total.amount=2&total=1", "/total"),
        (b"options=a&options[]=b", "/options"),
    ],
)
def test_a_field_that_comes_twice_is_pointed_at(form: bytes, pointer: str) -> None:
    with pytest.raises(InvalidInput) as caught:
        json_of(form)
    assert [one.pointer for one in caught.value.faults] == [pointer]
