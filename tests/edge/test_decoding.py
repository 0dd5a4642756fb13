"""Bodies are read strictly, and everything wrong with one is told at once."""

import enum
import json
from contextlib import suppress
from datetime import date, datetime
from decimal import Decimal
from typing import Annotated, Literal
from uuid import UUID

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec import Meta

from filmbuild import quantities
from filmbuild.edge.decoding import MAXIMUM_BODY_BYTES, dec_hook, decode, fault_of
from filmbuild.edge.encoding import encode
from filmbuild.errors import (
    Fault,
    FilmbuildError,
    InvalidInput,
    MalformedJson,
    PayloadTooLarge,
    Refusal,
)
from filmbuild.money import Currency, Exact, Money, Percent
from filmbuild.quantities import Duration, Hours, PositiveLength, Temperature

quantities.warm()


class Input(msgspec.Struct, kw_only=True, forbid_unknown_fields=True):
    pass


class Square(Input, tag_field="kind", tag="square"):
    side: PositiveLength


class Path(Input, tag_field="kind", tag="path"):
    points: Annotated[tuple[tuple[float, float], ...], Meta(min_length=3, max_length=5)]


class Finish(enum.Enum):
    MATT = "matt"
    GLOSS = "gloss"


class Span(Input):
    """A span of days that runs forwards."""

    first: int
    last: int

    def __post_init__(self) -> None:
        if self.last < self.first:
            raise Refusal("backwards", "the last day must not be before the first")


class Order(Input):
    shape: Square | Path
    coats: Annotated[int, Meta(ge=1, le=9)] = 1
    share: Annotated[float, Meta(gt=0, lt=1)] = 0.5
    air: Temperature | None = Temperature(20.0)
    name: Annotated[str, Meta(min_length=1, max_length=5, pattern="^[a-z]+$")] = "a"
    mode: Literal["fast", "slow"] = "fast"
    level: Literal[1, 2] = 1
    finish: Finish = Finish.MATT
    wait: Duration = Duration(0.0)
    tries: Annotated[int, Meta(le=9)] | Literal["any"] = "any"
    tint: Percent = Percent("0")
    price: Money | None = None
    span: Span | None = None
    sizes: list[Hours] = []
    notes: dict[str, int] = {}
    day: date | None = None
    at: Annotated[datetime, Meta(tz=True)] | None = None
    key: UUID | None = None
    ready: bool = False


SHAPE = {"kind": "square", "side": "24 ft 6 in"}


def body(**fields: object) -> bytes:
    return json.dumps({"shape": SHAPE, **fields}).encode()


def faults(kind: type, text: bytes) -> list[tuple[str, str]]:
    with pytest.raises(InvalidInput) as caught:
        decode(kind, text)
    return [(fault.pointer, fault.code) for fault in caught.value.faults]


def test_a_good_body_is_read_into_si_and_decimals() -> None:
    text = body(
        price={"amount": "12.5", "currency": "USD"},
        air={"value": 212, "unit": "degF"},
        wait="PT1H",
        day="2026-05-01",
        key="12345678-1234-5678-1234-567812345678",
    )
    order = decode(Order, text)
    assert order == Order(
        shape=Square(side=PositiveLength(7.4676)),
        price=Money(Exact("12.50"), Currency("USD")),
        air=Temperature(100.0),
        wait=Duration(3600.0),
        day=date(2026, 5, 1),
        key=UUID("12345678-1234-5678-1234-567812345678"),
    )


def test_every_fault_is_reported_with_its_place() -> None:
    text = json.dumps(
        {
            "shape": {"kind": "path", "points": [[0, 0], [1, "1"], [2]]},
            "coats": 0,
            "share": 1,
            "air": "20",
            "name": "Ab1234",
            "mode": "slo",
            "level": True,
            "finish": "satin",
            "wait": "P1Y",
            "tries": 10,
            "tint": 5,
            "price": {"amount": "12.505", "currency": "USD"},
            "span": {"first": 2, "last": 1},
            "sizes": ["1 h", "1 kg", None],
            "notes": {"a/b": 1.5, "c": 2},
            "day": "2026-02-30",
            "at": "2026-05-01T08:00:00",
            "key": "k",
            "ready": 1,
            "coat": 2,
        }
    ).encode()
    assert faults(Order, text) == [
        ("/shape/points/1/1", "wrong-type"),
        ("/shape/points/2", "wrong-length"),
        ("/coats", "too-small"),
        ("/share", "too-large"),
        ("/air", "missing-unit"),
        ("/name", "too-long"),
        ("/name", "wrong-pattern"),
        ("/mode", "not-one-of"),
        ("/level", "not-one-of"),
        ("/finish", "not-one-of"),
        ("/wait", "not-a-duration"),
        ("/tries", "too-large"),
        ("/tint", "not-a-decimal-string"),
        ("/price", "too-precise"),
        ("/span", "backwards"),
        ("/sizes/1", "wrong-dimension"),
        ("/sizes/2", "not-a-quantity"),
        ("/notes/a~1b", "wrong-type"),
        ("/day", "invalid-value"),
        ("/at", "invalid-value"),
        ("/key", "invalid-value"),
        ("/ready", "wrong-type"),
        ("/coat", "unknown-field"),
    ]


@pytest.mark.parametrize(
    ("shape", "expected"),
    [
        ({}, ("/shape/kind", "missing-field")),
        ({"kind": "circle"}, ("/shape/kind", "not-one-of")),
        ({"kind": ["square"]}, ("/shape/kind", "not-one-of")),
        ({"kind": "square"}, ("/shape/side", "missing-field")),
        ({"kind": "path", "points": [[0, 0]]}, ("/shape/points", "too-few-items")),
        ({"kind": "path", "points": [[0, 0]] * 6}, ("/shape/points", "too-many-items")),
        ({"kind": "path", "points": {}}, ("/shape/points", "wrong-type")),
        ("square", ("/shape", "wrong-type")),
        (None, ("/shape", "wrong-type")),
    ],
)
def test_tagged_shapes_are_explained_by_their_tag(shape: object, expected: tuple[str, str]) -> None:
    assert faults(Order, json.dumps({"shape": shape}).encode()) == [expected]


def test_a_missing_field_has_the_pointer_it_would_have() -> None:
    assert faults(Order, b"{}") == [("/shape", "missing-field")]
    assert faults(Order, b"[]") == [("", "wrong-type")]


def test_an_unknown_field_is_met_with_the_nearest_name() -> None:
    with pytest.raises(InvalidInput, match='did you mean "coats"'):
        decode(Order, body(coat=2))


@pytest.mark.parametrize(
    ("text", "place"),
    [
        (b"", "empty"),
        (b"   ", "byte 3"),
        (b"{", "byte 1"),
        (b'{"a":1}x', "byte 7"),
        ('{"é":nul}'.encode(), "byte 6"),
        (b'{"a":"\xff"}', "byte 6"),
        (b"\xff", "byte 0"),
        (b"\xef\xbb\xbf{}", "byte 0"),
        (b'{"coats":NaN}', "NaN"),
        (b'{"coats":-Infinity}', "-Infinity"),
        (b'{"a":"\\ud800"}', "byte 6"),
        (b'{"a":"\\udc00\\ud800"}', "byte 6"),
        (b'{"a":"\\ud800","b":"\\udc00"}', "byte 6"),
        (b"[1e400, '", "byte 8"),
        (b"[" * 100_000, "deep"),
        (b'{"a":' * 100_000, "deep"),
        (b"{'a':1}", "byte 1"),
        (b"[01]", "byte 2"),
        (b'["a\nb"]', "byte 3"),
    ],
)
def test_what_is_not_json_is_said_to_be_malformed(text: bytes, place: str) -> None:
    with pytest.raises(MalformedJson, match=place):
        decode(Order, text)


def test_a_whole_surrogate_pair_is_a_character() -> None:
    class Named(msgspec.Struct):
        name: str

    text = b'{"name":"\\ud83d\\ude00 \\\\ud800"}'
    assert decode(Named, text).name == "\N{GRINNING FACE} \\ud800"
    with pytest.raises(InvalidInput):
        decode(Order, text)


def test_a_body_over_the_limit_is_not_read() -> None:
    with pytest.raises(PayloadTooLarge):
        decode(Order, b"[" * (MAXIMUM_BODY_BYTES + 1))
    with pytest.raises(PayloadTooLarge):
        decode(Order, body(), max_bytes=10)


@pytest.mark.parametrize("number", ["1e400", "-1e400", "9" * 500, "9" * 5000])
def test_numbers_too_large_to_hold_are_not_finite(number: str) -> None:
    text = body(share="?", coats="?", notes={"n": "?"}).replace(b'"?"', number.encode())
    assert set(faults(Order, text)) == {
        ("/share", "not-finite"),
        ("/coats", "not-finite"),
        ("/notes/n", "not-finite"),
    }
    side = json.dumps({"shape": {"kind": "square", "side": {"value": 1, "unit": "m"}}})
    (fault,) = faults(Order, side.replace("1,", f"{number},").encode())
    assert fault in {("/shape/side", "not-finite"), ("/shape/side", "too-large")}


@pytest.mark.parametrize("number", ["5.0", "5e0", "0.5e1"])
def test_a_whole_number_with_a_point_is_an_integer_as_in_json_schema(number: str) -> None:
    text = body(coats="?", notes={"n": "?"}).replace(b'"?"', number.encode())
    order = decode(Order, text)
    assert (order.coats, type(order.coats), order.notes) == (5, int, {"n": 5})
    assert faults(Order, body(coats=5.5)) == [("/coats", "wrong-type")]


@pytest.mark.parametrize(
    ("text", "pointers"),
    [
        (b'{"shape":{"kind":"square","side":"1 m"},"coats":1,"coats":2}', ["/coats"]),
        (b'{"shape":{"kind":"square","side":"1 m","side" : "2 m"}}', ["/shape/side"]),
        (
            b'{"shape":{"kind":"square","side":{"value":1,"value":2,"unit":"m"}},"name":"a"}',
            ["/shape/side/value"],
        ),
        (b'{"shape":{"kind":"square","side":"1 m"},"notes":{"a":1,"\\u0061":2}}', ["/notes/a"]),
        (
            b'{"shape":{"kind":"square","side":"1 m"},"notes":{"\\u0022:":1,"b":1,"b":1}}',
            ["/notes/b"],
        ),
    ],
)
def test_a_name_that_stands_twice_is_refused(text: bytes, pointers: list[str]) -> None:
    assert faults(Order, text) == [(pointer, "duplicate-field") for pointer in pointers]


def test_an_escaped_quotation_mark_is_no_repeated_name() -> None:
    text = body(notes={'":': 1, '\\":"': 2})
    assert decode(Order, text).notes == {'":': 1, '\\":"': 2}
    escaped = text.replace(b'\\":', b"\\u0022:")
    assert decode(Order, escaped) == decode(Order, text)


def test_many_faults_are_capped_and_quick() -> None:
    text = json.dumps({f"coats{place}": 1 for place in range(40_000)}).encode()
    with pytest.raises(InvalidInput) as caught:
        decode(Order, text)
    assert len(caught.value.faults) == 201
    assert "39801 more" in caught.value.faults[-1].detail


def test_a_message_of_msgspec_becomes_a_fault() -> None:
    error = msgspec.ValidationError("Expected `int`, got `str` - at `$.areas[3].name`")
    assert fault_of(error) == Fault("/areas/3/name", "invalid-value", "Expected `int`, got `str`")


JSON = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=5), inner),
    max_leaves=6,
)
VALUES: dict[str, list[object]] = {
    "shape": [SHAPE, {"kind": "path", "points": [[0, 0], [1, 0], [1, 1]]}, {"kind": "square"}],
    "coats": [1, 9, 9.0, 10, 1.5, 10**30],
    "share": [0.5, 0, 1, 10**30],
    "air": [None, "20 degC", {"value": 20, "unit": "K"}, "20"],
    "name": ["a", "", "abcdef", "A"],
    "mode": ["fast", "slow", ""],
    "level": [1, 2.0, 3, True],
    "finish": ["matt", "satin"],
    "tries": [3, 3.0, "any", "some", 10],
    "wait": ["PT1H", "1 h"],
    "tint": ["1.5", 1.5, "-1"],
    "price": [None, {"amount": "1.50", "currency": "USD"}, {"amount": "1.505", "currency": "USD"}],
    "span": [{"first": 1, "last": 2}, {"first": 2, "last": 1}, {"first": 1.0, "last": 1}, {}],
    "sizes": [[], ["1 h", "30 min"], ["x"]],
    "notes": [{"a": 1}, {"a": 1.0}, {"a": "1"}],
    "day": ["2026-05-01", "2026-13-01", 5],
    "at": ["2026-05-01T08:00:00Z", "2026-05-01T08:00:00", "now"],
    "key": ["12345678-1234-5678-1234-567812345678", "k"],
    "ready": [True, "true"],
    "extra": [1],
}
ORDERS = st.fixed_dictionaries(
    {}, optional={name: st.sampled_from(values) | JSON for name, values in VALUES.items()}
)


@given(st.binary(max_size=60))
def test_no_bytes_do_more_than_be_refused(text: bytes) -> None:
    with suppress(FilmbuildError):
        decode(Order, text)


@given(ORDERS, st.booleans())
def test_the_slow_path_leaves_nothing_for_msgspec_to_find(
    fields: dict[str, object], shaped: bool
) -> None:
    text = json.dumps({"shape": SHAPE, **fields} if shaped else fields).encode()
    try:
        order = decode(Order, text)
    except InvalidInput as error:
        found = {fault.detail for fault in error.faults if fault.code == "invalid-value"}
        unexplained = [detail for detail in found if not detail.startswith("accepted:")]
        assert unexplained == []
        with pytest.raises(msgspec.ValidationError):
            msgspec.json.decode(text, type=Order, dec_hook=dec_hook)
    else:
        whole = json.dumps(json.loads(text, parse_float=lambda digits: _whole(float(digits))))
        assert order == msgspec.json.decode(whole, type=Order, dec_hook=dec_hook)


def _whole(number: float) -> float | int:
    return int(number) if number.is_integer() else number


class Answer(msgspec.Struct, frozen=True, kw_only=True):
    side: PositiveLength
    air: Temperature
    wait: Duration
    price: Money


@given(
    st.floats(1e-3, 9e4),
    st.floats(-200, 2000),
    st.integers(0, 10**9),
    st.decimals(-(10**9), 10**9, places=2),
)
def test_both_unit_systems_tell_the_same(
    side: float, air: float, wait: int, price: Decimal
) -> None:
    answer = Answer(
        side=PositiveLength(side),
        air=Temperature(air),
        wait=Duration(wait),
        price=Money(Exact(price), Currency("USD")),
    )
    for system in ("us", "si"):
        read = decode(Answer, encode(answer, system))
        assert read.side == pytest.approx(side, rel=1e-9)
        assert read.air == pytest.approx(air, abs=1e-8)
        assert (read.wait, read.price) == (answer.wait, answer.price)
