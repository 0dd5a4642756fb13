"""What alternates are said to have over one another."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from filmbuild.money import Currency, Exact, Money
from filmbuild.pipeline.results import Offer
from filmbuild.quotations.gains import Compared, gains_of

DAY = date(2026, 9, 1)
OPEN = datetime(2026, 9, 8, 12, tzinfo=UTC)


def way(
    total: str = "1000.00", film: float = 0.001, later: int = 0, currency: str = "USD"
) -> Compared:
    money = Money(Exact(Decimal(total)), Currency(currency))
    return Compared(
        offer=Offer(
            currency=currency,
            lines=(),
            net=money,
            taxes=(),
            total=money,
            per_square_metre=None,
            per_square_foot=None,
            per_running_metre=None,
            per_running_foot=None,
        ),
        film=film,
        last_day=DAY + timedelta(days=later),
        foot_traffic_from=OPEN + timedelta(days=later),
        vehicle_traffic_from=OPEN + timedelta(days=later),
    )


def test_each_is_best_at_something() -> None:
    ways = [way("1250.50", later=3), way("2000.00", film=0.002), way("3000.00", later=1)]
    cheap, thick, other = gains_of(ways, "en", "si")
    assert cheap == ("$749.50 less than any other offer here.",)
    assert thick == (
        "The thickest film: 1 mm more than any other offer here.",
        "Done 1 day sooner than any other offer here.",
        "Open to foot traffic 1 day sooner than any other offer here.",
        "Open to vehicles 1 day sooner than any other offer here.",
    )
    assert other == ()


@pytest.mark.parametrize(
    ("language", "amount"),
    [("en", "\u20ac12,345.50"), ("es", "12.345,50\u00a0\u20ac"), ("es-MX", "12,345.50")],
)
def test_amounts_are_written_as_the_language_writes_them(language: str, amount: str) -> None:
    ways = [way("1000.00", currency="EUR"), way("13345.50", currency="EUR")]
    assert amount in gains_of(ways, language, "si")[0][0]


@pytest.mark.parametrize(("units", "said"), [("us", "20 mil more"), ("si", "0.51 mm more")])
def test_films_are_in_the_units_of_the_offer(units: Literal["us", "si"], said: str) -> None:
    # 1 mil = 25.4 um exactly (NIST SP 811 appendix B.8)
    ways = [way(film=20 * 25.4e-6 + 1e-3), way(film=1e-3)]
    assert said in gains_of(ways, "en", units)[0][0]


def test_nothing_is_said_in_words_that_there_are_not() -> None:
    assert gains_of([way(), way("1.00")], "fi", "si") == [(), ()]
    assert gains_of([way()], "en", "si") == [()]


@given(
    st.lists(
        st.tuples(st.integers(1, 9), st.integers(0, 9), st.integers(0, 9)), min_size=2, max_size=6
    )
)
def test_no_two_claim_the_same(figures: list[tuple[int, int, int]]) -> None:
    ways = [way(f"{total}00.00", film / 1e3, later) for total, film, later in figures]
    found = gains_of(ways, "en", "si")
    said = [one for each in found for one in each]
    for beginning in ("$", "The thickest", "Done", "Open to foot", "Open to vehicles"):
        assert sum(one.startswith(beginning) for one in said) <= 1
    ranked = sorted(total for total, _, _ in figures)
    told = [one for one, each in zip(figures, found, strict=True) if any("less" in g for g in each)]
    assert [one[0] for one in told] == (ranked[:1] if ranked[0] < ranked[1] else [])
