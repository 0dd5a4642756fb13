"""Stages of payment: they add up to the net, to each tax and to the total."""

from datetime import date, timedelta
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from offer_cases import (
    DEPOSIT_AND_RETENTION,
    adds_up,
    asked,
    estimated,
    offer_of,
    payment,
    stages_add_up,
)

from filmbuild.errors import Faults, InvalidInput
from filmbuild.pipeline.offering import PaymentTerm, Presentation, make_offer
from filmbuild.pipeline.offering.payments import Occasions, Part, parts_of, staged

END = date(2026, 7, 3)
THREE_VISITS = Occasions((date(2026, 6, 16), date(2026, 6, 24), END), END)


def parts(*plan: PaymentTerm, on: Occasions = THREE_VISITS) -> tuple[Part, ...]:
    return parts_of(plan, on, Faults().at("payments"))


def refused(*plan: PaymentTerm, on: Occasions = THREE_VISITS) -> dict[str, str]:
    with pytest.raises(InvalidInput) as caught:
        parts(*plan, on=on)
    return {fault.pointer: fault.code for fault in caught.value.faults}


def test_a_plan_follows_the_occasions_of_the_job() -> None:
    found = parts(*DEPOSIT_AND_RETENTION[::-1])
    assert [(one.id, one.visit, str(one.share_percent), one.expected_on) for one in found] == [
        ("deposit", None, "30", None),
        ("progress-1", 1, "13.333333", date(2026, 6, 16)),
        ("progress-2", 2, "13.333334", date(2026, 6, 24)),
        ("progress-3", 3, "13.333333", END),
        ("rest", None, "25", END),
        ("held", None, "5", END),
    ]


def test_thirds_of_a_price_that_does_not_divide() -> None:
    """1000.00 at 7.25 %: thirds so far are 333.33, 666.67, 1000; 24.17, 48.33, 72.50 of tax."""
    third = payment("visit", "per_visit")
    offer = staged(offer_of([("1000.00", ("tax",))], {"tax": "7.25"}), parts(third))
    nets = [str(one.net.amount) for one in offer.payments]
    assert nets == ["333.33", "333.34", "333.33"]
    taxes = [str(one.taxes[0].amount.amount) for one in offer.payments]
    assert taxes == ["24.17", "24.16", "24.17"]
    stages_add_up(offer)


def test_the_studio_is_paid_as_planned() -> None:
    request = asked(terms={"tax_place": "Velmara"})
    document = estimated(request)
    offer = make_offer(document, request, Presentation(), DEPOSIT_AND_RETENTION)
    adds_up(offer)
    visits = {day.visit for day in document.schedule.days}
    assert len(offer.payments) == 3 + len(visits)
    held = offer.payments[-1]
    assert held.expected_on == document.schedule.last_day
    assert held.due_days == 90
    exact = offer.net.amount * 5 / 100
    assert abs(held.net.amount - exact) <= Decimal("0.01")


def test_an_offer_without_a_plan_has_no_stages() -> None:
    assert parts() == ()
    assert staged(offer_of([("10", ())], {}), ()).payments == ()


@pytest.mark.parametrize(
    ("plan", "faults"),
    [
        (
            (payment("a", "on_acceptance", "60"), payment("b", "on_completion", "40.000001")),
            {"/payments/1/percent": "beyond-whole"},
        ),
        (
            (payment("a", "on_acceptance", "60"), payment("b", "on_completion", "30")),
            {"/payments": "short-of-whole"},
        ),
        (
            (payment("a", "on_acceptance"), payment("b", "on_completion")),
            {"/payments/1/percent": "second-rest"},
        ),
        (
            (payment("a", "on_acceptance", "100"), payment("b", "on_completion")),
            {"/payments": "nothing-left"},
        ),
        (
            (payment("a", "on_acceptance", "50"), payment("a", "on_completion", "50")),
            {"/payments/1/id": "duplicate-id"},
        ),
        (
            (
                payment("a", "on_acceptance", "120"),
                payment("a", "retention"),
                payment("c", "retention"),
            ),
            {
                "/payments/0/percent": "beyond-whole",
                "/payments/1/id": "duplicate-id",
                "/payments/2/percent": "second-rest",
            },
        ),
    ],
)
def test_plans_that_do_not_come_to_the_whole_are_refused(
    plan: tuple[PaymentTerm, ...], faults: dict[str, str]
) -> None:
    assert refused(*plan) == faults


def test_a_plan_by_visits_needs_visits() -> None:
    plan = (payment("a", "on_acceptance", "50"), payment("b", "per_visit"))
    assert refused(*plan, on=Occasions((), None)) == {"/payments/1/occasion": "visits-unknown"}


amounts = st.decimals("-50000", "900000", places=2).map(str)
falls_under = st.sampled_from([(), ("vat",), ("state", "county"), ("state",)])
plans = st.lists(st.integers(1, 30), min_size=1, max_size=3)


@given(
    nets=st.lists(st.tuples(amounts, falls_under), min_size=1, max_size=12),
    rates=st.tuples(*[st.decimals("0", "30", places=3).map(str)] * 3),
    shares=plans,
    visits=st.integers(1, 7),
    currency=st.sampled_from(["USD", "JPY", "KWD"]),
)
@settings(max_examples=200, deadline=None)
def test_stages_always_add_up(
    nets: list[Any], rates: tuple[str, str, str], shares: list[int], visits: int, currency: str
) -> None:
    offer = offer_of(nets, dict(zip(("vat", "state", "county"), rates, strict=True)), currency)
    plan = [payment("visits", "per_visit", str(shares[0])), payment("rest", "on_completion")]
    plan += [payment(f"held-{n}", "retention", str(share)) for n, share in enumerate(shares[1:])]
    days = tuple(END - timedelta(days=visits - n) for n in range(visits))
    found = staged(offer, parts(*plan, on=Occasions(days, END)))
    adds_up(found)
    assert len(found.payments) == visits + len(shares)
