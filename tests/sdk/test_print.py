"""What is no text comes as bytes."""

import pytest

from filmbuild_sdk.call import Call
from filmbuild_sdk.errors import DecodeError

PDF = "application/pdf"


def test_print_is_answered_as_the_bytes_that_came() -> None:
    call = Call("GET", "/v1/papers", bytes, accept=PDF)
    assert call.headers["accept"] == f"{PDF}, application/problem+json"
    content = b"%PDF-1.7\n\xff\xfe\x00"
    assert call.read(200, {"content-type": PDF}, content) == content


def test_text_must_be_text() -> None:
    call = Call("GET", "/v1/papers", str, accept="text/html")
    assert call.read(200, {}, "Wän".encode()) == "Wän"
    with pytest.raises(DecodeError):
        call.read(200, {}, b"\xff")
