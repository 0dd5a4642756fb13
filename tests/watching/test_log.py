"""The log's lines: how they are made and written, and what becomes of them where they cannot be."""

import logging
import os
import threading
from datetime import UTC, datetime
from pathlib import Path

import pytest
from logged import Kept, logged, logging_to
from new_databases import NewDatabase
from sqlalchemy.exc import IntegrityError

from filmbuild.watching.lines import MOST_WAITING, Lines, to_descriptor
from filmbuild.watching.request_lines import RequestLine, address_class, as_text, product


def test_what_cannot_be_written_is_dropped_and_the_next_is_written() -> None:
    written: list[bytes] = []
    room = threading.Event()

    def write(text: bytes) -> None:
        if not room.is_set():
            room.set()
            raise OSError(28, "No space left on device")
        written.append(text)

    lines = Lines(write)
    lines.add(b"first\n")
    assert room.wait(10)
    lines.add(b"second\n")
    lines.close()
    assert written == [b"second\n"]
    assert lines.dropped == 1


def test_a_writer_that_hangs_keeps_nobody_waiting() -> None:
    hanging = threading.Event()

    def hang(_text: bytes) -> None:
        hanging.wait(60)

    lines = Lines(hang)
    for _ in range(2 * MOST_WAITING + 10):
        lines.add(b"line\n")
    assert lines.dropped > 0
    hanging.set()
    lines.close()


def test_a_closed_output_is_found_before_its_number_is_another_file(tmp_path: Path) -> None:
    with (tmp_path / "closed").open("wb") as file:
        number = os.dup(file.fileno())
    write = to_descriptor(number)
    os.close(number)
    with (tmp_path / "database").open("wb") as other:
        assert other.fileno()
        write(b"line\n")
    assert (tmp_path / "database").read_bytes() == b""
    assert (tmp_path / "closed").read_bytes() == b"line\n"
    with pytest.raises(OSError, match="Bad file descriptor"):
        to_descriptor(number)


@pytest.mark.parametrize(
    ("agent", "told"),
    [
        (b"filmbuild-sdk/0.1.0 (linux; Jane's laptop)", "filmbuild-sdk/0.1.0"),
        (b"Mozilla/5.0 (X11; Linux x86_64) Gecko/20100101", "Mozilla/5.0"),
        (b"jane@customer.example", None),
        (b"", None),
        (b"curl", "curl"),
    ],
)
def test_of_a_program_its_first_product_is_told(agent: bytes, told: str | None) -> None:
    assert product(agent) == told


@pytest.mark.parametrize(
    ("address", "told"),
    [
        ("127.0.0.1", "loopback"),
        ("::1", "loopback"),
        ("10.1.2.3", "private"),
        ("fd00::1", "private"),
        ("8.8.8.8", "public"),
        ("testclient", "none"),
    ],
)
def test_of_an_address_its_class_is_told(address: str, told: str) -> None:
    """RFC 1918, RFC 4193 and RFC 4291 name the ranges."""
    assert address_class(address) == told


def test_messages_of_errors_are_not_told() -> None:
    kept = Kept()
    logger = logging.getLogger("filmbuild.tests")
    with logging_to(kept):
        original = ValueError("DETAIL: Key (name)=(Marigold Sample) already exists")
        failed = IntegrityError("INSERT", {"name": "Marigold Sample"}, original)
        logger.warning("it waits: %s", failed)
        logger.warning("%s", KeyError("Marigold Sample"))
        logging.getLogger("some.library").warning("not sent: %s", "Marigold Sample")
        logging.getLogger("some.library").warning("not sent\nMarigold Sample")
    assert "Marigold" not in kept.text
    assert [one["event"] for one in kept.lines] == [
        "it waits: IntegrityError (ValueError)",
        "KeyError",
        "not sent: %s",
        "not sent",
    ]


def test_where_it_is_to_be_quiet_only_failures_are_told(new_sqlite: NewDatabase) -> None:
    kept = Kept()
    with new_sqlite(False) as url, logged(url, kept, quiet=True) as client:
        assert client.get("/v1/health").status_code == 200
        assert client.get("/v1/products").status_code == 503
    assert [one["status"] for one in kept.requests()] == [503]


def test_for_people_a_request_is_told_in_words() -> None:
    line = RequestLine(
        time=datetime(2026, 3, 4, 5, 6, 7, tzinfo=UTC),
        level="info",
        request_id="one",
        method="GET",
        path="/v1/offers/{token}",
        operation="getOffer",
        status=200,
        duration_ms=12.345,
        bytes_in=0,
        bytes_out=99,
        organisation=None,
        actor=None,
        address="public",
        agent=None,
    )
    told = "05:06:07 info    GET /v1/offers/{token} 200 12.3 ms, 0 B in, 99 B out, request one\n"
    assert as_text(line) == told.encode()
