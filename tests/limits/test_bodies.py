"""Bodies made to be slow to refuse."""

import json

import pytest

from filmbuild.edge.decoding import MOST_EXPLAINED_VALUES, decode
from filmbuild.errors import REPORTED_FAULTS, InvalidInput
from filmbuild.pipeline.requests import EstimateRequest

MOST_AREAS = 20_000


def refused(body: bytes) -> InvalidInput:
    with pytest.raises(InvalidInput) as raised:
        decode(EstimateRequest, body, max_bytes=8 << 20)
    return raised.value


def areas(count: int, one: str) -> bytes:
    return f'{{"site":{{"areas":[{",".join([one] * count)}]}}}}'.encode()


@pytest.mark.parametrize("one", ["1", "{}", "[]", '{"id":1}'])
def test_of_a_body_of_countless_values_only_the_first_fault_is_told(one: str) -> None:
    first, more = refused(areas(MOST_EXPLAINED_VALUES + 2, one)).faults
    assert first.pointer.startswith("/site/areas/0")
    assert more.code == "more-faults"
    assert str(MOST_EXPLAINED_VALUES) in more.detail


def test_what_is_beyond_the_longest_list_is_not_looked_at() -> None:
    faults = refused(areas(MOST_AREAS + 5, '{"id":"a","outline":null}')).faults
    assert {one.code for one in faults[:1]} == {"too-many-items"}
    assert not [one for one in faults if one.pointer.startswith(f"/site/areas/{MOST_AREAS}")]
    assert len(faults) == REPORTED_FAULTS + 1


def test_all_faults_of_a_usual_body_are_told() -> None:
    body = {"site": {"areas": [{"id": str(place), "outline": {}} for place in range(50)]}}
    told = {one.pointer for one in refused(json.dumps(body).encode()).faults}
    assert {f"/site/areas/{place}/outline/kind" for place in range(50)} <= told
