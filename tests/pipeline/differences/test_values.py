import copy
import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from filmbuild.pipeline.differences import value_differences

MOST = 10_000
JSON = st.recursive(
    st.none() | st.booleans() | st.integers(-3, 3) | st.text(max_size=2),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=2), inner),
    max_leaves=12,
)


@pytest.mark.parametrize(
    ("was", "now", "told"),
    [
        ({"a": 1}, {"a": 2}, [("/a", 1, 2)]),
        ({"a": 1, "b": 2}, {"b": 2}, [("/a", 1, None)]),
        ({}, {"a": None}, [("/a", None, None)]),
        ([1, 2], [1, 3, 4], [("/1", 2, 3), ("/2", None, 4)]),
        ({"a/b": {"~": 1}}, {"a/b": {"~": 2}}, [("/a~1b/~0", 1, 2)]),
        ({"a": [1]}, {"a": {"0": 1}}, [("/a", [1], {"0": 1})]),
        (1, True, [("", 1, True)]),
        (1, 1.0, [("", 1, 1.0)]),
    ],
)
def test_each_value_that_differs_is_pointed_at(
    was: Any, now: Any, told: list[tuple[str, Any, Any]]
) -> None:
    found = value_differences(was, now, MOST)
    assert [(one.pointer, one.was, one.now) for one in found] == told


@given(value=JSON)
def test_a_value_differs_from_itself_nowhere(value: Any) -> None:
    assert value_differences(value, copy.deepcopy(value), MOST) == ()


@given(was=JSON, now=JSON)
def test_the_other_way_about_they_are_the_same_places(was: Any, now: Any) -> None:
    forth, back = value_differences(was, now, MOST), value_differences(now, was, MOST)
    assert {(one.pointer, repr(one.was)) for one in forth} == {
        (one.pointer, repr(one.now)) for one in back
    }
    assert bool(forth) == (json.dumps(was, sort_keys=True) != json.dumps(now, sort_keys=True))


def test_no_more_are_told_than_asked_for() -> None:
    assert len(value_differences(list(range(50)), list(range(1, 51)), 7)) == 7
