"""Bad files: one problem that says what is wrong with every row, and nothing written."""

import json
from collections.abc import Iterator
from typing import Any

import pytest
from price_update_cases import (
    CSV,
    DAY,
    JSON,
    KIT,
    NDJSON,
    PAIL,
    UPDATES,
    amount,
    as_ndjson,
    faults,
    newest,
    send,
)
from serving import Client, NewDatabase, serving

OTHER = "harbour-90-1gal"


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving(new_sqlite) as client:
        yield client
        assert newest(client) == 1, "something was written"
        assert client.get(UPDATES).json()["items"] == []


def test_every_row_is_reported_at_once_by_its_line(client: Client) -> None:
    table = (
        "pack,amount,currency,tier,effective_from,breaks\n"
        f"{KIT},-1.00,USD,,{DAY},\n"
        f"no-such-pack,x,USD,,{DAY},\n"
        f"{KIT},NaN,USD,,{DAY},\n"
        f"{KIT},1.005,USD,,{DAY},\n"
        f"{KIT},1.5,JPY,,{DAY},\n"
        f"{KIT},1.00,XYZ,a b,2027-02-30,\n"
        f"{PAIL},2.00,USD,,{DAY},\n"
        f'"{PAIL}",3.00,USD,,{DAY},\n'
        f"{KIT},4.00\n"
        f"{KIT},5.00,USD,,{DAY},4:4.00 3:3.00\n"
        f"{KIT},5.00,USD,,{DAY},2:6.00\n"
        f"{KIT},5.00,USD,,{DAY},two:4.00\n"
        f"{KIT},1e3,USD,,{DAY},\n"
        f"{KIT},,USD,,{DAY},\n"
    )
    answered = send(client, table)
    assert answered.status_code == 422
    assert faults(answered) == {
        ("/lines/2/amount", "negative"),
        ("/lines/3/pack", "unknown-pack"),
        ("/lines/3/amount", "not-an-amount"),
        ("/lines/4/amount", "not-an-amount"),
        ("/lines/5/amount", "too-precise"),
        ("/lines/6/amount", "too-precise"),
        ("/lines/7/currency", "unknown-currency"),
        ("/lines/7/tier", "invalid-tier"),
        ("/lines/7/effective_from", "not-a-day"),
        ("/lines/9/pack", "duplicate"),
        ("/lines/10", "wrong-cells"),
        ("/lines/11/breaks", "invalid-breaks"),
        ("/lines/12/breaks", "invalid-breaks"),
        ("/lines/13/breaks", "invalid-breaks"),
        ("/lines/14/amount", "not-an-amount"),
        ("/lines/15/amount", "missing-amount"),
    }
    assert answered.json()["detail"].startswith("13 of 14 rows have faults, 16 in all")


def test_a_line_is_counted_as_an_editor_does(client: Client) -> None:
    table = f'pack,amount\r\n\r\n"{KIT}\r\n",1.00\r\nwrong,1.00\r\n'
    assert faults(send(client, table)) == {
        ("/lines/3/pack", "unknown-pack"),
        ("/lines/5/pack", "unknown-pack"),
    }


@pytest.mark.parametrize(
    ("content", "expected"),
    [
        (b"", {("/lines/1", "not-csv")}),
        (b"pack,amount\n", {("", "no-rows")}),
        (b"pack\n", {("/lines/1/amount", "missing-column")}),
        (b"pack,amount,Price\n", {("/lines/1/Price", "unknown-column")}),
        (b"pack,amount,pack\n", {("/lines/1/pack", "duplicate")}),
        (b'pack,amount\n"open,1\n', {("/lines/2", "not-csv")}),
        (b"pack,amount\n\xff,1\n", {("/lines/1", "not-csv")}),
        (b"pack,amount\n" + b"x" * 200_000 + b",1\n", {("/lines/2", "not-csv")}),
    ],
)
def test_what_is_no_table_is_one_problem(
    client: Client, content: bytes, expected: set[tuple[str, str]]
) -> None:
    answered = send(client, content)
    assert answered.status_code == 422, answered.text
    assert {(pointer, code) for pointer, code in faults(answered)} == expected


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b'[{"pack": "a", "amount": "1.00"}',
        b'[{"pack": "a", "amount": "1.',
        b'[{"pack": "a", "amount": "1.00"},]',
        b'[{"pack": "a", "amount": "1.00"} {}]',
        b'[{"pack": "a", "amount": "1.00"}] []',
        b'[{"pack": "\xff"}]',
        b"[" * 100_000,
        b'[{"pack": "' + b"a" * 100_000 + b'"}]',
    ],
)
def test_what_is_no_json_is_one_problem(client: Client, content: bytes) -> None:
    answered = send(client, content, JSON)
    assert answered.status_code == 400, answered.text
    assert answered.json()["type"] == "/problems/malformed-json"


@pytest.mark.parametrize("content", [b"null", b"{}", b" 12", b'"["'])
def test_rows_come_in_an_array(client: Client, content: bytes) -> None:
    answered = send(client, content, JSON)
    assert answered.status_code == 422
    assert faults(answered) == {("", "not-an-array")}


ROWS: list[tuple[Any, set[tuple[str, str]]]] = [
    ({"pack": KIT, "amount": 1.5}, {("/0/amount", "not-text")}),
    ({"pack": KIT}, {("/0/amount", "missing-field")}),
    ({"pack": KIT, "amount": "1", "colour": "x"}, {("/0/colour", "unknown-field")}),
    ({"pack": None, "amount": "1"}, {("/0/pack", "not-text")}),
    ({"pack": "\ud800", "amount": "1"}, {("/0/pack", "unknown-pack")}),
    (
        {"pack": KIT, "amount": "1", "breaks": [{"from_packs": 2}]},
        {("/0/breaks", "invalid-breaks")},
    ),
    ([], {("/0", "not-an-object")}),
    (None, {("/0", "not-an-object")}),
]


@pytest.mark.parametrize(("row", "expected"), ROWS)
def test_rows_of_json_are_pointed_at(
    client: Client, row: Any, expected: set[tuple[str, str]]
) -> None:
    answered = send(client, json.dumps([row]), JSON)
    assert answered.status_code == 422, answered.text
    assert faults(answered) == expected
    answered = send(client, "\n" + json.dumps(row) + "\n", NDJSON)
    assert faults(answered) == {(one.replace("/0", "/lines/2"), code) for one, code in expected}


def test_a_name_may_stand_once_in_a_row(client: Client) -> None:
    row = f'{{"pack": "{KIT}", "amount": "1.00", "amount": "2.00"}}'
    assert faults(send(client, f"[{row}]", JSON)) == {("/0", "duplicate")}


def test_lines_that_are_no_json_are_reported_beside_the_others(client: Client) -> None:
    content = b'{"pack": \n' + as_ndjson({"pack": "x", "amount": "1.00"}) + b"x" * 50_000 + b"\n"
    assert faults(send(client, content, NDJSON)) == {
        ("/lines/1", "malformed-json"),
        ("/lines/2/pack", "unknown-pack"),
        ("/lines/3", "row-too-long"),
    }


def test_of_many_faults_some_are_shown_and_all_counted(client: Client) -> None:
    table = "pack,amount\n" + "wrong,1.00\n" * 5_000
    answered = send(client, table).json()
    assert answered["detail"].startswith("5000 of 5000 rows have faults, 5000 in all")
    assert len(answered["errors"]) == 201
    assert answered["errors"][-1]["code"] == "more-faults"


def test_a_change_beyond_the_limit_is_refused(client: Client) -> None:
    # 189.90 x 1.1 = 208.89
    answered = send(client, f"pack,amount\n{KIT},208.90\n", limit_percent="10")
    assert faults(answered) == {("/lines/2/amount", "out-of-bounds")}
    checked = send(client, f"pack,amount\n{KIT},208.89\n", limit_percent="10", check_only="true")
    assert checked.json()["counts"]["changed"] == 1


def test_a_currency_must_be_named(client: Client) -> None:
    answered = client.post(UPDATES, content=f"pack,amount\n{KIT},1.00\n", headers=CSV)
    assert faults(answered) == {("/lines/2/currency", "missing-currency")}


def test_too_many_rows_or_bytes_are_too_large(client: Client) -> None:
    rows = f"pack,amount\n{KIT},1.00\n" + "\n".join(["wrong,1"] * 200_001)
    assert send(client, rows).status_code == 413
    assert send(client, b"pack,amount\n" + b" " * (64 << 20)).status_code == 413


def test_another_encoding_or_format_is_refused(client: Client) -> None:
    for kind in ("text/csv; charset=iso-8859-1", "text/plain"):
        assert send(client, "pack,amount\n", {"content-type": kind}).status_code == 415


def test_a_check_writes_nothing_and_tells_all(client: Client) -> None:
    table = (
        f"pack,amount,tier\n{KIT},200.00,\n{KIT},180.00,trade\nwrong,1.00,\n"
        f"{OTHER},{amount(client, OTHER)},\n=x(),1.00,\n"
    )
    answered = send(client, table, check_only="true", note="spring")
    assert answered.status_code == 200
    checked = answered.json()
    assert (checked["id"], checked["revision"], checked["based_on"]) == (None, None, 1)
    expected = {"rows": 5, "changed": 1, "new": 1, "unchanged": 1, "unknown": 2}
    assert checked["counts"] | expected == checked["counts"]
    changed, new, wrong, *_ = checked["differences"]
    assert (changed["line"], changed["outcome"]) == (2, "changed")
    assert (changed["was"], changed["now"], changed["percent"]) == ("189.90", "200.00", "5.32")
    assert (new["outcome"], new["was"], new["percent"]) == ("new", None, None)
    assert (wrong["line"], wrong["fault"]["code"]) == (4, "unknown-pack")
    lines = send(client, table, {**CSV, "accept": "text/csv"}, check_only="true").text.split("\r\n")
    assert len(lines) == 1 + 4 + 1
    assert lines[0].startswith("line,outcome,pack,")
    assert lines[1] == f"2,changed,{KIT},USD,,{DAY},189.90,2026-07-01,,200.00,,5.32,,,"
    assert lines[4].startswith("6,unknown,'=x()"), "a spreadsheet would compute it"


def test_a_check_of_a_file_without_rows_to_change_is_whole(client: Client) -> None:
    checked = send(client, "pack,amount\nwrong,1.00\n", check_only="true").json()
    assert len(checked["differences"]) == 1
