"""Totals of published examples, and laws of a tax that is taken on sums."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from offer_cases import adds_up, offer_of, summed

from filmbuild.money import round_money


def test_totals_of_two_rates() -> None:
    """CEN EN 16931 artefacts, example ubl-tc434-example1: 183.23 at 6 %, 46.37 at 21 %."""
    offer = offer_of([("183.23", ("low",)), ("46.37", ("high",))], {"low": "6", "high": "21"})
    assert [str(tax.amount.amount) for tax in offer.taxes] == ["10.99", "9.74"]
    assert (str(offer.net.amount), str(offer.total.amount)) == ("229.60", "250.33")


def test_totals_with_an_allowance_a_charge_and_a_line_that_is_exempt() -> None:
    """CEN EN 16931 artefacts, example ubl-tc434-example2: 1436.50 net, 365.28 of tax, 1801.78.

    Lines, allowance of 100 and charge of 100 are lines of an offer alike; the split into 1460.50
    at 25 %, 1.00 at 15 % and -25.00 exempt is the example's own.
    """
    nets = [
        ("1460.50", ("standard",)),
        ("-100.00", ("standard",)),
        ("100.00", ("standard",)),
        ("1.00", ("reduced",)),
        ("-25.00", ("exempt",)),
    ]
    offer = offer_of(nets, {"standard": "25", "reduced": "15", "exempt": "0"})
    assert [str(tax.amount.amount) for tax in offer.taxes] == ["365.13", "0.15", "0.00"]
    assert (str(offer.net.amount), str(offer.total.amount)) == ("1436.50", "1801.78")


def test_charges_and_their_credits_come_to_nothing() -> None:
    """CEN EN 16931 artefacts, CII-BR-CO-10-RoundingIssue: sums of floats may not."""
    nets = [(net, ("vat",)) for net in ("720.81", "0.01", "-720.81", "-0.01")]
    offer = offer_of(nets, {"vat": "19"})
    assert offer.net.amount == offer.total.amount == offer.taxes[0].amount.amount == 0


@pytest.mark.parametrize(
    ("exact", "paid"),
    # half up: Streamlined Sales and Use Tax Agreement, section 324 (from memory)
    [("0.745", "0.75"), ("0.005", "0.01"), ("2.675", "2.68"), ("-0.745", "-0.75")],
)
def test_halves_go_up_and_a_credit_mirrors_its_charge(exact: str, paid: str) -> None:
    assert str(round_money(Decimal(exact), "USD")) == paid
    (tax,) = offer_of([(str(Decimal(exact) * 100), ("tax",))], {"tax": "1"}).taxes
    assert str(tax.amount.amount) == paid


@given(
    nets=st.lists(st.decimals("0.02", "90000", places=2), min_size=1, max_size=20),
    split=st.integers(0, 19),
    share=st.decimals("0", "1", places=3),
    rate=st.decimals("0", "30", places=3),
    currency=st.sampled_from(["USD", "KWD"]),
)
@settings(max_examples=150, deadline=None)
def test_splitting_a_line_changes_no_tax(
    nets: list[Decimal], split: int, share: Decimal, rate: Decimal, currency: str
) -> None:
    """And a tax taken line by line may be half a minor unit off for each of them, on its sum not."""
    whole = offer_of([(str(net), ("tax",)) for net in nets], {"tax": str(rate)}, currency)
    place = split % len(nets)
    part = round_money(nets[place] * share, currency)
    parts = [*nets[:place], Decimal(part), nets[place] - part, *nets[place + 1 :]]
    cut = offer_of([(str(net), ("tax",)) for net in parts], {"tax": str(rate)}, currency)
    assert (cut.net, cut.taxes, cut.total) == (whole.net, whole.taxes, whole.total)
    adds_up(cut)
    exact = summed(nets) * rate / 100
    step = Decimal("0.005") if currency == "USD" else Decimal("0.0005")
    assert abs(whole.taxes[0].amount.amount - exact) <= step
