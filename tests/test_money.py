"""Exact decimals and rounding, against published amounts."""

from decimal import Decimal

import msgspec
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from filmbuild.money import (
    Currency,
    Exact,
    Money,
    MoneyError,
    NonNegativeExact,
    Percent,
    PositiveExact,
    UnitPrice,
    allocate,
    converters,
    dec_hook,
    minor_units,
    parse_currency,
    parse_exact,
    round_money,
    rounded,
    tax_of,
)

USD = Currency("USD")
AMOUNTS = st.decimals(-(10**9), 10**9, places=6, allow_nan=False)
CENTS = st.decimals(-(10**7), 10**7, places=2, allow_nan=False)


@pytest.mark.parametrize(
    ("base", "rate", "tax"),
    [
        # CEN/TC 434 EN 16931 example 2 (ubl-tc434-example2): exact 365.125
        ("1460.50", "25", "365.13"),
        ("1.00", "15", "0.15"),
        # CEN/TC 434 EN 16931 example 1 (ubl-tc434-example1)
        ("183.23", "6", "10.99"),
        ("46.37", "21", "9.74"),
    ],
)
def test_tax_is_rounded_as_in_the_en_16931_examples(base: str, rate: str, tax: str) -> None:
    assert str(tax_of(Decimal(base), Decimal(rate), "EUR")) == tax


@pytest.mark.parametrize(
    ("amount", "cents"),
    [
        # Streamlined Sales and Use Tax Agreement section 324: up when the third decimal exceeds
        # four; from memory
        ("0.745", "0.75"),
        ("0.744999", "0.74"),
        # half up, computed; binary floats give 0.0 and 2.67 here
        ("0.005", "0.01"),
        ("2.675", "2.68"),
        # credits mirror charges: halves away from zero
        ("-2.675", "-2.68"),
        ("-0.004", "0.00"),
    ],
)
def test_halves_are_rounded_away_from_zero(amount: str, cents: str) -> None:
    assert str(round_money(Decimal(amount), "USD")) == cents


@pytest.mark.parametrize(
    ("code", "digits"),
    [
        # ISO 4217 list one
        *((code, 2) for code in ("USD", "EUR", "MGA")),
        *((code, 0) for code in ("JPY", "KRW", "CLP", "ISK", "VND")),
        *((code, 3) for code in ("BHD", "KWD", "OMR", "TND", "JOD")),
        *((code, 4) for code in ("CLF", "UYW")),
    ],
)
def test_minor_units_are_those_of_iso_4217(code: str, digits: int) -> None:
    assert minor_units(code) == digits


@pytest.mark.parametrize(
    ("cost", "percent", "price"),
    [("1250", "35", "1923.08"), ("1250", "20", "1562.50"), ("1250", "50", "2500.00")],
)
def test_a_price_at_a_margin_keeps_that_margin(cost: str, percent: str, price: str) -> None:
    # price = cost / (1 - margin)
    divided = Decimal(cost) / (1 - Decimal(percent) / 100)
    assert str(round_money(divided, "USD")) == price


@pytest.mark.parametrize("text", ["1234.50", "-0.5", "0", "123456789012.123456", "-1"])
def test_decimals_are_read_exactly(text: str) -> None:
    assert parse_exact(Exact, text) == Decimal(text)


@pytest.mark.parametrize(
    "value",
    [
        1,
        1.5,
        True,
        None,
        "",
        "1.",
        ".5",
        "+1",
        " 1",
        "1 ",
        "1\n",
        "1,5",
        "1_0",
        "1e3",
        "NaN",
        "Infinity",
        "-",
        "1.1234567",
        "1234567890123",
        "\u0661",
        [],
        {},
    ],
)
def test_anything_but_decimal_text_is_refused(value: object) -> None:
    with pytest.raises(MoneyError) as caught:
        parse_exact(Exact, value)
    assert caught.value.code == "not-a-decimal-string"


@pytest.mark.parametrize(
    ("kind", "text", "code"),
    [
        (NonNegativeExact, "-0.01", "negative"),
        (PositiveExact, "0.00", "not-positive"),
        (Percent, "-1", "negative"),
        (Percent, "1000.01", "too-large"),
    ],
)
def test_limits_of_decimals(kind: type[Exact], text: str, code: str) -> None:
    with pytest.raises(MoneyError) as caught:
        parse_exact(kind, text)
    assert caught.value.code == code


@pytest.mark.parametrize("code", ["usd", "US", "ABC", "XAU", "XXX", "", None, 1])
def test_only_currencies_that_can_be_paid_in(code: object) -> None:
    with pytest.raises(MoneyError) as caught:
        parse_currency(code)
    assert caught.value.code == "unknown-currency"


def _written(value: object) -> bytes:
    return msgspec.json.encode(value, enc_hook=lambda item: converters[type(item)](item))


@pytest.mark.parametrize(
    ("amount", "code", "text"),
    [
        ("1234.5", "USD", "1234.50"),
        ("1234", "JPY", "1234"),
        ("1.5", "KWD", "1.500"),
        ("-0", "USD", "0.00"),
        ("1E+3", "USD", "1000.00"),
    ],
)
def test_amounts_are_written_to_the_minor_unit(amount: str, code: str, text: str) -> None:
    body = f'{{"amount":"{text}","currency":"{code}"}}'.encode()
    assert _written(Money(Exact(amount), Currency(code))) == body
    assert _written(msgspec.json.decode(body, type=Money, dec_hook=dec_hook)) == body


def test_an_amount_finer_than_can_be_paid_is_refused_but_a_unit_price_is_not() -> None:
    with pytest.raises(MoneyError, match="JPY amounts have 0 decimals"):
        Money(Exact("12.5"), Currency("JPY"))
    body = b'{"amount":"0.012345","currency":"USD"}'
    assert _written(msgspec.json.decode(body, type=UnitPrice, dec_hook=dec_hook)) == body


@given(AMOUNTS)
def test_a_credit_is_the_mirror_image_of_its_charge(amount: Decimal) -> None:
    assert round_money(-amount, "USD") == -round_money(amount, "USD")
    assert abs(round_money(amount, "USD") - amount) <= Decimal("0.005")
    assert rounded(amount, USD).amount == round_money(amount, "USD")


@given(
    CENTS,
    st.lists(st.decimals(0, 10**6, places=3, allow_nan=False), min_size=1, max_size=12),
)
def test_shares_add_up_and_are_within_a_cent_of_fair(
    total: Decimal, weights: list[Decimal]
) -> None:
    assume(sum(weights) > 0)
    shares = allocate(total, weights, "USD")
    assert sum(shares) == total
    for share, weight in zip(shares, weights, strict=True):
        assert abs(share - total * weight / sum(weights)) < Decimal("0.010001")
    assert allocate(-total, weights, "USD") == tuple(-share for share in shares)


def test_equal_remainders_favour_the_earlier_share() -> None:
    third = Decimal(1)
    assert [str(share) for share in allocate(Decimal(100), [third] * 3, "USD")] == [
        "33.34",
        "33.33",
        "33.33",
    ]


@pytest.mark.parametrize("weights", [[], [Decimal(0)], [Decimal(2), Decimal(-1)]])
def test_shares_need_weights(weights: list[Decimal]) -> None:
    with pytest.raises(MoneyError):
        allocate(Decimal(1), weights, "USD")


def test_shares_need_a_total_that_can_be_paid() -> None:
    with pytest.raises(MoneyError, match="minor units"):
        allocate(Decimal("1.005"), [Decimal(1)], "USD")
