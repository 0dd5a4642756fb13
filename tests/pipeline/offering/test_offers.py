"""An offer shares the net price out to the last minor unit, however it is shown."""

from decimal import Decimal
from itertools import combinations
from typing import Any, Literal

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from offer_cases import (
    CRANE,
    DEPOSIT_AND_RETENTION,
    GLAZE,
    SKIRTING,
    adds_up,
    asked,
    estimated,
    summed,
)

from filmbuild.errors import InvalidInput
from filmbuild.pipeline.offering import Presentation, make_offer, with_options
from filmbuild.pipeline.results import Offer

Shown = Literal["lump_sum", "by_area", "by_work"]
WAYS: tuple[Shown, ...] = ("lump_sum", "by_area", "by_work")
TERMS: dict[str, Any] = {
    "discounts": [{"reason": "Second floor this year", "percent": "3"}],
    "rounding": {"step": "10"},
    "tax_place": "Port Alder",
}


def offered(
    *options: dict[str, Any], lines: Shown = "by_area", plan: Any = (), **job: Any
) -> Offer:
    request = asked(*options, **job)
    return make_offer(estimated(request), request, Presentation(lines=lines), plan)


@pytest.mark.parametrize("lines", WAYS)
@pytest.mark.parametrize("place", [None, "Port Alder", "Northmoor", "Eastwharf", "Velmara"])
def test_an_offer_adds_up_to_the_estimate(lines: Shown, place: str | None) -> None:
    request = asked(terms={**TERMS, "tax_place": place}, subcontracts=[CRANE])
    document = estimated(request)
    offer = make_offer(document, request, Presentation(lines=lines), DEPOSIT_AND_RETENTION)
    adds_up(offer)
    assert (offer.net, offer.total) == (document.price.net, document.price.total)
    assert [tax.base for tax in offer.taxes] == [tax.base for tax in document.price.taxes]
    assert [tax.amount for tax in offer.taxes] == [tax.amount for tax in document.price.taxes]
    assert len({line.id for line in offer.lines}) == len(offer.lines)


def test_what_is_bought_in_and_what_changes_the_price_have_lines_of_their_own() -> None:
    for lines in WAYS:
        offer = offered(lines=lines, terms=TERMS, subcontracts=[CRANE])
        beside = [(line.id, line.kind, line.unit) for line in offer.lines if line.kind != "work"]
        assert beside == [
            ("extra:crane", "extra", "HUR"),
            ("discount:1", "discount", "LS"),
            ("rounding", "rounding", "LS"),
        ]


def test_areas_bear_the_price_by_what_is_coated_of_them() -> None:
    request = asked()
    document = estimated(request)
    offer = make_offer(document, request, Presentation())
    areas = document.takeoff.areas
    coated = [area.floor + area.vertical for area in areas]
    assert [line.areas for line in offer.lines] == [(area.id,) for area in areas]
    for line, surface in zip(offer.lines, coated, strict=True):
        share = float(offer.net.amount) * surface / sum(coated)
        assert float(line.net.amount) == pytest.approx(share, abs=0.01)
        # one foot is 0.3048 m: NIST Special Publication 811, appendix B
        assert float(line.quantity) == pytest.approx(surface / 0.3048**2, abs=0.005)
        assert line.unit == "FTK"


def test_an_offer_in_metres_is_the_same_offer() -> None:
    request = asked()
    metric = msgspec.structs.replace(request, units="si")
    feet = make_offer(estimated(request), request, Presentation(lines="by_work"))
    metres = make_offer(estimated(metric), metric, Presentation(lines="by_work"))
    assert [line.net for line in feet.lines] == [line.net for line in metres.lines]
    assert {line.unit for line in feet.lines} == {"FTK", "FOT", "LS"}
    assert {line.unit for line in metres.lines} == {"MTK", "MTR", "LS"}


def test_works_bear_what_they_cost() -> None:
    request = asked()
    document = estimated(request)
    offer = make_offer(document, request, Presentation(lines="by_work"))
    nets = {line.id: line.net.amount for line in offer.lines}
    assert list(nets) == ["work:preparation", "work:repairs", "work:floor", "work:verticals"]
    shares = {one.work: one.by_terms.amount for one in document.price.shares}
    assert nets["work:repairs"] == shares["repairs"] + shares["joints"]
    assert nets["work:floor"] == shares["floor"]


def test_a_buyer_who_is_exempt_is_told_why() -> None:
    exemption = {"reason": "Public school", "certificate": "PS-1142"}
    offer = offered(terms={"tax_place": "Port Alder", "exemption": exemption})
    (tax,) = offer.taxes
    assert (tax.category, tax.amount.amount) == ("E", Decimal(0))
    assert tax.exemption_reason == "Public school (PS-1142)"
    assert offer.total == offer.net


def test_materials_that_are_taxed_apart_are_lines_of_their_own() -> None:
    offer = offered(terms={**TERMS, "tax_place": "Eastwharf"})
    apart = [line for line in offer.lines if line.id.endswith("/materials")]
    assert len(apart) * 2 == len(offer.lines)
    assert {line.taxes for line in apart} == {("eastwharf-materials",)}
    assert {line.taxes for line in offer.lines if line not in apart} == {()}


def test_options_are_beside_the_offer_until_they_are_chosen() -> None:
    offer = offered(GLAZE, SKIRTING, terms=TERMS, plan=DEPOSIT_AND_RETENTION)
    adds_up(offer)
    assert [one.id for one in offer.options] == ["glaze", "skirting"]
    for one in offer.options:
        assert summed(line.net.amount for line in one.lines) == one.net.amount
    glaze, skirting = offer.options
    assert (glaze.lines[0].areas, glaze.lines[0].unit) == (("glaze-room",), "FTK")
    assert (skirting.lines[0].quantity, skirting.lines[0].unit) == (Decimal(12), "MTR")


@pytest.mark.parametrize("place", ["Port Alder", "Eastwharf"])
def test_an_option_adds_its_price_whatever_is_chosen_with_it(place: str) -> None:
    terms = {**TERMS, "tax_place": place}
    offer = offered(GLAZE, SKIRTING, terms=terms, plan=DEPOSIT_AND_RETENTION)
    prices = {one.id: one.net.amount for one in offer.options}
    for count in range(len(prices) + 1):
        for chosen in combinations(prices, count):
            taken = with_options(offer, chosen)
            adds_up(taken)
            assert taken.net.amount == offer.net.amount + summed(prices[one] for one in chosen)
            assert [one.id for one in taken.options] == [one for one in prices if one not in chosen]
            shares = [(one.id, one.share_percent, one.expected_on) for one in taken.payments]
            assert shares == [
                (one.id, one.share_percent, one.expected_on) for one in offer.payments
            ]
    one_by_one = with_options(with_options(offer, ["skirting"]), ["glaze"])
    both = with_options(offer, ["glaze", "skirting"])
    assert (one_by_one.net, one_by_one.taxes) == (both.net, both.taxes)
    assert with_options(offer, ["skirting", "glaze"]) == both


def test_one_option_alone_comes_to_the_price_of_the_job_with_it() -> None:
    offer = offered(GLAZE, terms=TERMS)
    whole = offered(terms=TERMS)
    assert with_options(offer, ["glaze"]).net == whole.net
    assert with_options(offer, ["glaze"]).total == whole.total


def test_options_that_are_not_there_or_chosen_twice_are_refused() -> None:
    offer = offered(GLAZE, SKIRTING)
    with pytest.raises(InvalidInput) as caught:
        with_options(offer, ["glaze", "nothing", "glaze"])
    assert {fault.pointer: fault.code for fault in caught.value.faults} == {
        "/options/1": "unknown-option",
        "/options/2": "duplicate",
    }


def test_a_record_of_an_earlier_version_can_be_offered() -> None:
    """Without shares, what is bought in cannot be told apart: one line, and the same sums."""
    request = asked(terms={"tax_place": "Port Alder"})
    document = estimated(request)
    older = msgspec.structs.replace(
        document.price, by_terms=None, adjustments=(), shares=(), materials_net=None
    )
    before = msgspec.structs.replace(document, price=older)
    for lines in WAYS:
        offer = make_offer(before, request, Presentation(lines=lines))
        adds_up(offer)
        assert offer.total == document.price.total


@given(
    margin=st.decimals("0", "60", places=2),
    discount=st.integers(0, 90),
    step=st.sampled_from(["0.01", "0.05", "1", "25"]),
    lines=st.sampled_from(WAYS),
    place=st.sampled_from(["Port Alder", "Eastwharf", "Velmara"]),
    chosen=st.sets(st.sampled_from(["glaze", "skirting"])),
)
@settings(max_examples=12, deadline=None)
def test_any_offer_adds_up(
    margin: Decimal, discount: int, step: str, lines: Shown, place: str, chosen: set[str]
) -> None:
    terms = {
        "margin_percent": str(margin),
        "discounts": [{"reason": "Winter", "percent": str(discount)}],
        "rounding": {"step": step, "mode": "up"},
        "tax_place": place,
    }
    offer = offered(GLAZE, SKIRTING, lines=lines, terms=terms, plan=DEPOSIT_AND_RETENTION)
    adds_up(offer)
    adds_up(with_options(offer, sorted(chosen)))
