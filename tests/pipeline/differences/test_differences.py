"""Differences of two estimates: what they add up to, and which cause each part has."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from revision_cases import KIT, asked, demo_catalogue, estimated, of_length

from filmbuild.edge.decoding import decode
from filmbuild.edge.encoding import encode
from filmbuild.errors import InvalidInput
from filmbuild.money import Currency, NonNegativeExact, Percent
from filmbuild.pipeline.differences import (
    EstimateDifferences,
    LineDifference,
    TermDifference,
    differences_between,
)
from filmbuild.pipeline.results import EstimateDocument
from filmbuild.pipeline.specification import Catalogue


def repriced(catalogue: Catalogue, factor: str) -> Catalogue:
    """Every pack at another price."""
    packs = {
        product: tuple(
            msgspec.structs.replace(
                one, price=NonNegativeExact(round(one.price * Decimal(factor), 2))
            )
            for one in packs
        )
        for product, packs in catalogue.packs.items()
    }
    return msgspec.structs.replace(catalogue, packs=packs, revision=2)


def with_wage(catalogue: Catalogue, wage: str) -> Catalogue:
    book = catalogue.rate_books["main-usd"]
    classes = tuple(
        msgspec.structs.replace(one, wage=NonNegativeExact(wage)) if one.id == "finisher" else one
        for one in book.classes
    )
    changed = msgspec.structs.replace(book, classes=classes)
    return msgspec.structs.replace(catalogue, rate_books={**catalogue.rate_books, book.id: changed})


def with_tax(catalogue: Catalogue, rate: str) -> Catalogue:
    taxes = tuple(
        msgspec.structs.replace(one, rate_percent=Percent(rate)) for one in catalogue.taxes
    )
    return msgspec.structs.replace(catalogue, taxes=taxes)


def with_consumable(catalogue: Catalogue, name: str, **changes: Any) -> Catalogue:
    rules = tuple(
        msgspec.structs.replace(one, **changes) if one.id == name else one
        for one in catalogue.consumables
    )
    return msgspec.structs.replace(catalogue, consumables=rules)


def line(found: EstimateDifferences, item: str) -> LineDifference:
    (one,) = [one for one in found.lines if one.item == item]
    return one


def term(found: EstimateDifferences, name: str) -> TermDifference:
    (one,) = [one for one in found.terms if one.term == name]
    return one


def causes(one: LineDifference | TermDifference) -> dict[str, str]:
    return {part.cause: str(part.amount.amount) for part in one.parts}


def check_sums(found: EstimateDifferences, was: EstimateDocument, now: EstimateDocument) -> None:
    every: list[LineDifference | TermDifference] = [*found.lines, *found.terms]
    difference = now.price.total.amount - was.price.total.amount
    assert found.total.amount == difference
    assert sum(one.amount.amount for one in every) == difference
    for one in every:
        assert sum(part.amount.amount for part in one.parts) == one.amount.amount, one
    assert sum(one.amount for one in found.by_cause.values()) == difference


@dataclass(frozen=True)
class Case:
    """An estimate that is like no other: length, terms, price and wage are all drawn."""

    feet: int
    terms: dict[str, str]
    price: str
    wage: str

    def document(self) -> EstimateDocument:
        catalogue = with_wage(repriced(demo_catalogue(), self.price), self.wage)
        return estimated(of_length(self.feet, **self.terms), catalogue)


GAINS = st.sampled_from(
    [
        {"margin_percent": "20"},
        {"margin_percent": "33.33"},
        {"margin_percent": None, "markup_percent": "25"},
        {"margin_percent": None, "markup_percent": "66.67"},
        {"margin_percent": "20", "minimum_charge": "25000"},
        {"margin_percent": "20", "minimum_charge": "31000.50"},
        {"margin_percent": None},
    ]
)
SHARES = st.fixed_dictionaries(
    {
        "overhead_percent": st.sampled_from(["0", "12", "13.7"]),
        "contingency_percent": st.sampled_from(["0", "5", "7.25"]),
        "materials": st.sampled_from(["packs_bought", "used_share"]),
        "tax_place": st.sampled_from([None, "Port Alder", "Northmoor"]),
    }
)
CASES = st.builds(
    lambda feet, shares, gain, price, wage: Case(feet, shares | gain, price, wage),
    st.integers(15, 60),
    SHARES,
    GAINS,
    st.sampled_from(["0.913", "1", "1.045"]),
    st.sampled_from(["34.00", "35.37"]),
)


@given(first=CASES, second=CASES)
@settings(max_examples=60)
def test_differences_add_up_and_turn_around(first: Case, second: Case) -> None:
    was, now = first.document(), second.document()
    forth, back = differences_between(was, now), differences_between(now, was)
    check_sums(forth, was, now)
    check_sums(back, now, was)

    def amounts(found: EstimateDifferences) -> dict[object, Decimal]:
        by_name: dict[object, Decimal] = {
            (one.group, one.item, one.description): one.amount.amount for one in found.lines
        }
        by_name |= {(one.term, one.item): one.amount.amount for one in found.terms}
        return by_name

    assert amounts(back) == {name: -amount for name, amount in amounts(forth).items()}


@given(case=CASES)
@settings(max_examples=20)
def test_an_estimate_differs_from_itself_in_nothing(case: Case) -> None:
    document = case.document()
    found = differences_between(document, document)
    assert (found.lines, found.terms, found.sums, found.days, found.basis) == ((), (), (), (), ())
    assert found.total.amount == 0
    assert not found.by_cause


def test_a_document_that_was_written_and_read_differs_in_nothing() -> None:
    """The inputs of its traces are text by then."""
    document = estimated(asked(tax_place="Northmoor"))
    read = decode(EstimateDocument, encode(document, "us"), max_bytes=1 << 24)
    other = estimated(of_length(40, margin_percent="30", tax_place="Northmoor"))
    assert differences_between(document, read).lines == ()
    assert differences_between(document, other) == differences_between(read, other)


def test_more_of_a_pack_is_of_quantity_and_a_dearer_one_of_price() -> None:
    """One kit at 236.00, then two at 250.00: 236.00 for one more, and 14.00 for each of the two."""
    dearer = Decimal("250.00") / Decimal("236.00")
    was = estimated(asked())
    now = estimated(of_length(30), repriced(demo_catalogue(), str(dearer)))
    found = line(differences_between(was, now), KIT)
    assert found.was is not None
    assert found.now is not None
    assert [str(one.quantity) for one in (found.was, found.now)] == ["1", "2"]
    assert causes(found) == {"quantity": "236.00", "price": "28.00"}


def test_a_wage_is_a_rate() -> None:
    """The finisher's hours cost 35.00 instead of 34.00, each with a burden of 32.5 %."""
    was = estimated(asked())
    now = estimated(asked(), with_wage(demo_catalogue(), "35.00"))
    found = differences_between(was, now)
    hours = next(one.quantity for one in was.price.lines if one.item == "finisher")
    raised = hours * Decimal("1.325")
    assert set(causes(line(found, "finisher"))) == {"rate"}
    assert abs(line(found, "finisher").amount.amount - raised) <= Decimal("0.01")
    assert set(found.by_cause) == {"rate", "base"}


def test_another_rule_for_a_consumable_is_told_from_more_work() -> None:
    changed = with_consumable(demo_catalogue(), "repair-pail", minimum=9)
    by_rule = differences_between(estimated(asked()), estimated(asked(), changed))
    assert set(causes(line(by_rule, "repair-pail"))) == {"rule"}
    by_work = differences_between(estimated(asked()), estimated(of_length(30)))
    assert set(causes(line(by_work, "repair-pail"))) == {"quantity"}
    dearer = with_consumable(demo_catalogue(), "repair-pail", unit_price=NonNegativeExact("4.10"))
    by_price = differences_between(estimated(asked()), estimated(asked(), dearer))
    assert set(causes(line(by_price, "repair-pail"))) == {"price"}


def test_another_way_to_charge_materials_is_another_rule() -> None:
    was = estimated(asked(tax_place="Northmoor"))
    now = estimated(asked(tax_place="Northmoor", materials="used_share"))
    found = differences_between(was, now)
    check_sums(found, was, now)
    assert line(found, KIT).now is None
    assert causes(line(found, "northmoor-use")).keys() == {"base"}


def test_a_share_of_a_larger_sum_is_told_from_a_larger_share() -> None:
    """Overhead of 12 % of 3966.27 is 475.95, of 13 % of 4241.70 it is 551.42.

    By hand 33.05 and 42.42, of which the second is 1 % of 4241.70.
    """
    was, now = estimated(asked()), estimated(of_length(30, overhead_percent="13"))
    assert (str(was.price.direct_cost.amount), str(now.price.direct_cost.amount)) == (
        "3966.27",
        "4241.70",
    )
    assert causes(term(differences_between(was, now), "overhead")) == {
        "base": "33.05",
        "rate": "42.42",
    }


def test_a_margin_is_a_share_of_the_price() -> None:
    """By algebra: at 20 % the gain is a quarter of the cost, at 25 % a third."""
    was, now = estimated(asked()), estimated(of_length(30, margin_percent="25"))
    cost = [one.price.cost.amount for one in (was, now)]
    parts = causes(term(differences_between(was, now), "gain"))
    assert Decimal(parts["base"]) == round((cost[1] - cost[0]) / 4, 2)
    assert abs(Decimal(parts["rate"]) - (cost[1] / 3 - cost[1] / 4)) <= Decimal("0.01")


def test_a_minimum_charge_takes_up_what_the_terms_move() -> None:
    was = estimated(asked(minimum_charge="9000"))
    now = estimated(of_length(30, minimum_charge="9500"))
    found = differences_between(was, now)
    assert was.price.by_terms is not None
    assert now.price.by_terms is not None
    moved = now.price.by_terms.amount - was.price.by_terms.amount
    assert causes(term(found, "minimum")) == {"base": str(-moved), "rate": "500.00"}
    assert str(found.total.amount) == "500.00"
    held = differences_between(estimated(asked()), was)
    assert causes(term(held, "minimum")).keys() == {"rule"}


@pytest.mark.parametrize(("place", "item"), [("Port Alder", None), ("Northmoor", "northmoor-use")])
def test_another_tax_rate_is_another_rule(place: str, item: str | None) -> None:
    was = estimated(asked(tax_place=place))
    now = estimated(asked(tax_place=place), with_tax(demo_catalogue(), "9"))
    found = differences_between(was, now)
    check_sums(found, was, now)
    one = term(found, "tax") if item is None else line(found, item)
    assert causes(one).keys() == {"rule"}
    longer = differences_between(was, estimated(of_length(30, tax_place=place)))
    one = term(longer, "tax") if item is None else line(longer, item)
    assert causes(one).keys() == {"base"}


def test_dates_and_what_was_computed_on_are_told() -> None:
    catalogue = msgspec.structs.replace(demo_catalogue(), revision=7, priced_on=date(2026, 9, 9))
    later = asked()
    later["job"]["start"] = "2026-09-09"
    found = differences_between(estimated(asked()), estimated(later, catalogue))
    first = next(one for one in found.days if one.name == "first_day")
    assert (first.was, first.now, first.days) == (date(2026, 9, 8), date(2026, 9, 9), 1)
    assert {one.name: (one.was, one.now) for one in found.basis} == {
        "catalogue_revision": ("1", "7"),
        "priced_on": ("2026-09-07", "2026-09-09"),
    }


def test_amounts_in_different_currencies_are_not_subtracted() -> None:
    dollars = estimated(asked())
    euros = msgspec.structs.replace(
        dollars, price=msgspec.structs.replace(dollars.price, currency=Currency("EUR"))
    )
    with pytest.raises(InvalidInput) as refused:
        differences_between(dollars, euros)
    assert [one.code for one in refused.value.faults] == ["different-currencies"]
