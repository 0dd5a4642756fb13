"""Tables of records, and the reading back of what was written."""

import csv
import io
from typing import Any

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from filmbuild.catalogue import wire
from filmbuild.catalogue.authored import field_changes, merge_patch
from filmbuild.catalogue.cells import (
    MOST_MEANINGS,
    CellError,
    columns_of,
    meaning,
    record_of,
    row_of,
)
from filmbuild.catalogue.tabular import TABLES, read_tables, write_table
from filmbuild.errors import InvalidInput
from filmbuild.pipeline.specification import Product, RateBook, System, TaxRule

DEMO: dict[str, Any] = msgspec.json.decode(wire.demo())
# what a table cannot say apart: no line breaks of its own, no half characters
TEXT = st.text(st.characters(codec="utf-8"), max_size=20)
JSON = st.recursive(
    st.none() | st.booleans() | st.integers(-(10**9), 10**9) | TEXT,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(TEXT, inner, max_size=3),
    max_leaves=8,
)


@pytest.mark.parametrize("kind", TABLES)
def test_the_demo_catalogue_is_read_back_exactly(kind: str) -> None:
    records = DEMO[kind]
    assert read_tables({kind: write_table(records)}).records[kind] == records


NASTY = st.sampled_from(
    ["=1+1", "'=1+1", "''-", "-5 degC", "+", "@x", "\t", "null", '"', '""', "[]", "{}", "true",
     "1", "1.50", "", " ", "a,b", 'a"b', "a\nb", "a\r\nb", "'", "'plain"]
)  # fmt: skip


@given(
    st.lists(
        st.fixed_dictionaries(
            {"id": NASTY | TEXT, "name": NASTY | TEXT, "description": NASTY | TEXT},
            optional={
                "profile_minimum": st.none() | st.integers(),
                "wet_slip_resistance": st.floats(allow_nan=False, allow_infinity=False),
                "preparation": st.lists(NASTY | TEXT, max_size=3),
                "layers": st.lists(
                    st.dictionaries(
                        st.sampled_from(["id", "product", "dry_film"]), NASTY | TEXT, max_size=3
                    ),
                    max_size=3,
                ),
                "repairs": st.just({}) | st.fixed_dictionaries({"crack_filler": NASTY}),
            },
        ),
        max_size=4,
    )
)
def test_whatever_is_written_is_read_back(records: list[dict[str, Any]]) -> None:
    assert read_tables({"systems": write_table(records)}).records["systems"] == records


@pytest.mark.parametrize(
    ("kind", "column", "means"),
    [
        (Product, "/id", "text"),
        (Product, "/parts/0/ratio_by_volume", "number"),
        (Product, "/parts/12/density", "text"),
        (Product, "/parts/0/density/value", "number"),
        (Product, "/parts/0/density/unit", "text"),
        (Product, "/parts/0/density/colour", None),
        (Product, "/parts", "container"),
        (Product, "/parts/name", None),
        (Product, "/parts/01/name", None),
        (Product, "/hazards/exotherm", "boolean"),
        (RateBook, "/productions/0/factors/hot", "number"),
        (RateBook, "/productions/0/factors/humid", None),
        (RateBook, "/classes/0/wage", "text"),
        (RateBook, "/equipment/0/phases", "number"),
        (TaxRule, "/effective_from", "text"),
        (TaxRule, "/id/0", None),
        (TaxRule, "id", None),
        (System, "", None),
    ],
)
def test_a_column_means_what_the_record_has_there(kind: Any, column: str, means: str) -> None:
    assert meaning(kind, column) == means


def test_columns_stand_in_a_readable_order() -> None:
    records = [{"b": [{"z": 1}] * 11, "name": "n"}, {"id": "i", "a": {}, "b": []}]
    columns = columns_of(records)
    assert columns[:4] == ("/id", "/name", "/a", "/b")
    assert columns[4:] == tuple(f"/b/{place}/z" for place in range(11))
    assert row_of(records[1], columns)[:4] == ["i", "", "{}", "[]"]


@pytest.mark.parametrize(
    ("columns", "cells", "code", "column"),
    [
        (["/preparation", "/preparation/0"], ["[]", "wash"], "columns-clash", "/preparation/0"),
        (["/preparation/0", "/preparation"], ["wash", "[]"], "columns-clash", "/preparation"),
        (["/preparation/0", "/preparation/2"], ["a", "b"], "list-gap", "/preparation/2"),
    ],
)
def test_cells_that_make_no_record_are_refused(
    columns: list[str], cells: list[str], code: str, column: str
) -> None:
    with pytest.raises(CellError) as caught:
        record_of(System, columns, cells)
    assert (caught.value.code, caught.value.column) == (code, column)


def test_spreadsheets_write_true_in_capitals_and_blank_rows() -> None:
    text = b"/id,/hazards/exotherm\r\n,\r\na,TRUE\r\nb,maybe\r\n"
    read = read_tables({"products": text})
    assert read.records["products"] == [
        {"id": "a", "hazards": {"exotherm": True}},
        {"id": "b", "hazards": {"exotherm": "maybe"}},
    ]
    assert read.rows["products"] == [3, 4]


def test_all_faults_of_all_tables_are_told() -> None:
    with pytest.raises(InvalidInput) as caught:
        read_tables({"packs": b"/x\r\n", "taxes": b"/id,/name\r\n1,2,3\r\n1,2,3,4\r\n"})
    assert [one.pointer for one in caught.value.faults] == [
        "/packs.csv/1/~1x",
        "/taxes.csv/2",
        "/taxes.csv/3",
    ]


def test_the_table_is_one_that_others_read() -> None:
    rows = list(csv.reader(io.StringIO(write_table(DEMO["taxes"]).decode(), newline="")))
    assert [row[0] for row in rows] == ["/id", *(one["id"] for one in DEMO["taxes"])]


RFC_7396 = [
    ({"a": "b"}, {"a": "c"}, {"a": "c"}),
    ({"a": "b"}, {"b": "c"}, {"a": "b", "b": "c"}),
    ({"a": "b"}, {"a": None}, {}),
    ({"a": "b", "b": "c"}, {"a": None}, {"b": "c"}),
    ({"a": ["b"]}, {"a": "c"}, {"a": "c"}),
    ({"a": "c"}, {"a": ["b"]}, {"a": ["b"]}),
    ({"a": {"b": "c"}}, {"a": {"b": "d", "c": None}}, {"a": {"b": "d"}}),
    ({"a": [{"b": "c"}]}, {"a": [1]}, {"a": [1]}),
    (["a", "b"], ["c", "d"], ["c", "d"]),
    ({"a": "b"}, ["c"], ["c"]),
    ({"a": "foo"}, None, None),
    ({"a": "foo"}, "bar", "bar"),
    ({"e": None}, {"a": 1}, {"e": None, "a": 1}),
    ([1, 2], {"a": "b", "c": None}, {"a": "b"}),
    ({}, {"a": {"bb": {"ccc": None}}}, {"a": {"bb": {}}}),
]
"""RFC 7396 appendix A: the original, the patch and the result of each of its test cases."""


@pytest.mark.parametrize(("target", "patch", "result"), RFC_7396)
def test_a_merge_patch_is_that_of_the_standard(target: Any, patch: Any, result: Any) -> None:
    assert merge_patch(target, patch) == result


@given(JSON, JSON)
def test_the_changes_of_fields_say_the_whole_difference(was: Any, now: Any) -> None:
    """Made one after another, from the last place of a list on where it shrinks, they give `now`."""
    before, after = msgspec.json.encode(was).decode(), msgspec.json.encode(now).decode()
    holder: Any = {"": was}
    changes = field_changes(before, after)
    for change in [one for one in changes if one.now is not msgspec.UNSET]:
        _set(holder, change.pointer, change.now)
    for change in [one for one in changes if one.now is msgspec.UNSET][::-1]:
        _set(holder, change.pointer, msgspec.UNSET)
    assert wire.canonical(holder[""]) == wire.canonical(now)
    assert (changes == ()) == (was == now and before == after)


def _set(holder: Any, pointer: str, value: Any) -> None:
    tokens = [one.replace("~1", "/").replace("~0", "~") for one in pointer.split("/")]
    *steps, last = tokens
    place = holder
    for step in steps:
        place = place[int(step)] if isinstance(place, list) else place[step]
    if value is msgspec.UNSET:
        del place[int(last) if isinstance(place, list) else last]
    elif isinstance(place, list) and int(last) == len(place):
        place.append(value)
    else:
        place[int(last) if isinstance(place, list) else last] = value


def test_names_of_columns_that_somebody_makes_up_are_not_kept_for_good() -> None:
    for number in range(MOST_MEANINGS + 100):
        meaning(Product, f"/made-up-{number}")
    assert meaning.cache_info().currsize <= MOST_MEANINGS
