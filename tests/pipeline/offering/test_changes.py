"""A change order: what was accepted and the change together are what is offered now."""

from decimal import Decimal

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from offer_cases import CRANE, GLAZE, adds_up, asked, estimated, payment, stages_add_up, summed

from filmbuild.errors import InvalidInput
from filmbuild.pipeline.offering import Presentation, change_between, make_offer, with_options
from filmbuild.pipeline.results import Offer, OfferTax

PLAN = (payment("now", "on_acceptance", "50"), payment("end", "on_completion"))


def offered(place: str = "Port Alder", discount: str = "2", bought: bool = False) -> Offer:
    terms = {"tax_place": place, "discounts": [{"reason": "Winter", "percent": discount}]}
    request = asked(GLAZE, terms=terms, subcontracts=[CRANE] if bought else [])
    return make_offer(estimated(request), request, Presentation())


def owed(taxes: tuple[OfferTax, ...]) -> dict[tuple[str, str], tuple[Decimal, Decimal]]:
    """By rule and category, what is not nothing."""
    found = {(tax.rule, tax.category): (tax.base.amount, tax.amount.amount) for tax in taxes}
    return {key: sums for key, sums in found.items() if any(sums)}


def together(accepted: Offer, change: Offer) -> dict[tuple[str, str], tuple[Decimal, Decimal]]:
    found = owed(accepted.taxes)
    for key, (base, amount) in owed(change.taxes).items():
        before = found.get(key, (Decimal(0), Decimal(0)))
        found[key] = (before[0] + base, before[1] + amount)
    return {key: sums for key, sums in found.items() if any(sums)}


def balances(accepted: Offer, now: Offer) -> Offer:
    change = change_between(accepted, now)
    assert summed(line.net.amount for line in change.lines) == change.net.amount
    assert accepted.net.amount + change.net.amount == now.net.amount
    assert accepted.total.amount + change.total.amount == now.total.amount
    assert together(accepted, change) == owed(now.taxes)
    for tax in change.taxes:
        base = summed(line.net.amount for line in change.lines if tax.rule in line.taxes)
        assert base == summed(one.base.amount for one in change.taxes if one.rule == tax.rule)
    return change


@pytest.mark.parametrize("place", ["Port Alder", "Eastwharf", "Velmara"])
def test_a_change_makes_up_the_difference(place: str) -> None:
    accepted = offered(place)
    now = with_options(offered(place, bought=True), ["glaze"])
    change = balances(accepted, now)
    assert {line.kind for line in change.lines} == {"change"}
    named = {line.id.removesuffix("/materials") for line in change.lines}
    assert named >= {"change:extra:crane", "change:option:glaze", "change:discount:1"}
    back = balances(now, accepted)
    assert back.total.amount == -change.total.amount


def test_what_is_the_same_is_no_change() -> None:
    accepted = offered()
    change = balances(accepted, accepted)
    assert change.lines == ()
    assert change.total.amount == 0


def test_a_buyer_who_turns_out_to_be_exempt_gets_the_tax_back() -> None:
    request = asked(terms={"tax_place": "Port Alder"})
    exempt = asked(terms={"tax_place": "Port Alder", "exemption": {"reason": "Public school"}})
    accepted, now = (make_offer(estimated(one), one, Presentation()) for one in (request, exempt))
    change = balances(accepted, now)
    assert change.net.amount == 0
    assert change.total.amount == -accepted.taxes[0].amount.amount


def test_a_line_that_falls_under_another_tax_is_taken_out_and_put_in() -> None:
    accepted, now = offered("Port Alder"), offered("Velmara")
    change = balances(accepted, now)
    out = [line for line in change.lines if line.taxes == ("port-alder-sales",)]
    put_in = [line for line in change.lines if line.taxes == ("velmara-vat",)]
    assert summed(line.net.amount for line in out) == -accepted.net.amount
    assert summed(line.net.amount for line in put_in) == now.net.amount


def test_a_change_can_be_paid_in_parts_of_its_own() -> None:
    accepted = offered()
    now = with_options(accepted, ["glaze"])
    change = change_between(accepted, now, PLAN)
    assert [one.id for one in change.payments] == ["now", "end"]
    adds_up(change)
    stages_add_up(change)


def test_a_change_is_in_the_currency_of_what_it_changes() -> None:
    accepted = offered()
    abroad = msgspec.structs.replace(accepted, currency="EUR")
    with pytest.raises(InvalidInput) as caught:
        change_between(accepted, abroad)
    (fault,) = caught.value.faults
    assert (fault.pointer, fault.code) == ("/currency", "other-currency")


@given(
    places=st.tuples(*[st.sampled_from(["Port Alder", "Eastwharf", "Velmara", "Northmoor"])] * 2),
    discounts=st.tuples(*[st.integers(0, 100).map(str)] * 2),
    bought=st.booleans(),
    chosen=st.booleans(),
)
@settings(max_examples=10, deadline=None)
def test_any_two_offers_and_the_change_balance(
    places: tuple[str, str], discounts: tuple[str, str], bought: bool, chosen: bool
) -> None:
    accepted = offered(places[0], discounts[0])
    now = offered(places[1], discounts[1], bought)
    balances(accepted, with_options(now, ["glaze"]) if chosen else now)
