"""Packs that cover every part, and what they cost."""

from decimal import Decimal

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from materials_cases import Case, area, case, kit, layer, pack, product, with_layers

from filmbuild.errors import InvalidInput
from filmbuild.pipeline import packs
from filmbuild.pipeline.results import Purchase
from filmbuild.pipeline.specification import PricedPack
from filmbuild.pipeline.trace import Note
from filmbuild.quantities import Mass, Volume

BODY = product()  # a : b = 2 : 1; the default floor takes 12.5 L


def buy(*packs: PricedPack, floor: float = 50.0) -> Purchase:
    (purchase,) = case(BODY, *packs, areas=[area(floor=floor)]).plan().purchases
    return purchase


def bought(purchase: Purchase) -> dict[str, int]:
    return {line.pack: line.count for line in purchase.packs}


def test_least_cost_set_of_kits() -> None:
    # by hand: 12.5 L as 10 + 3 costs 390, as 5 x 3 costs 475, as 2 x 10 costs 590
    purchase = buy(kit(BODY, 10.0, "295", "large"), kit(BODY, 3.0, "95", "small"))
    assert bought(purchase) == {"large": 1, "small": 1}
    assert purchase.cost.amount == Decimal("390.00")
    assert purchase.surplus["a"] == pytest.approx(0.5e-3 * 2 / 3)
    # 12.5 of 13 L are used
    assert purchase.used_share.amount == Decimal("375.00")


def test_parts_sold_apart_are_covered_part_by_part() -> None:
    # by hand: a 8.333 L in cans of 5 is two, b 4.167 L is one; a is used to 5/6 and b to 5/6
    a, b = (pack(BODY.id, f"{name}-can", "60", volumes={name: 5.0}) for name in ("a", "b"))
    purchase = buy(a, b)
    assert bought(purchase) == {"a-can": 2, "b-can": 1}
    assert purchase.used_share.amount == Decimal("150.00")


def test_a_spare_can_beside_a_kit_is_taken_where_it_is_cheaper() -> None:
    # by hand: one kit of 12 L lacks 0.333 L of a and 0.167 L of b; cans alone cost 14 x 30 = 420
    cans = [pack(BODY.id, f"{name}-litre", "30", volumes={name: 1.0}) for name in ("a", "b")]
    purchase = buy(kit(BODY, 12.0, "300", "kit"), *cans)
    assert bought(purchase) == {"kit": 1, "a-litre": 1, "b-litre": 1}
    assert purchase.cost.amount == Decimal("360.00")


def test_packs_sold_by_mass_are_counted_by_mass() -> None:
    # by hand: 8.333 L of a at 1.1 kg/L is 9.167 kg
    a = pack(BODY.id, "a-pail", "60", masses={"a": 9.0})
    b = pack(BODY.id, "b-can", "60", volumes={"b": 5.0})
    purchase = buy(a, b)
    assert bought(purchase) == {"a-pail": 2, "b-can": 1}
    assert isinstance(purchase.needed["a"], Mass)
    assert purchase.needed["a"] == pytest.approx(8.333333 * 1.1, rel=1e-6)
    assert isinstance(purchase.needed["b"], Volume)


def test_a_part_sold_both_ways_is_counted_by_volume() -> None:
    # by hand: 9.9 kg at 1.1 kg/L is 9 L, more than the 8.333 L needed, and dearer than 2 x 5 L
    a = pack(BODY.id, "a-pail", "90", masses={"a": 9.9})
    a_can = pack(BODY.id, "a-can", "40", volumes={"a": 5.0})
    b = pack(BODY.id, "b-can", "60", volumes={"b": 5.0})
    assert bought(buy(a, a_can, b)) == {"a-can": 2, "b-can": 1}


def test_prices_finer_than_a_cent_are_rounded_once_a_line() -> None:
    # by hand: 2 x 10.005 = 20.01, where rounding the price first would give 20.02
    purchase = buy(kit(BODY, 10.0, "10.005", "kit"))
    assert purchase.cost.amount == Decimal("20.01")


def test_layers_of_one_product_are_bought_together() -> None:
    # by hand: 12.5 L twice is 25 L: three packs of 10 L, not two for each layer
    job = with_layers(case(BODY, kit(BODY, 10.0, "300")), layer(BODY, "one"), layer(BODY, "two"))
    assert [line.count for line in job.plan().purchases[0].packs] == [3]


def refusal(job: Case) -> list[tuple[str, str, str]]:
    with pytest.raises(InvalidInput) as refused:
        job.plan()
    return [(one.pointer, one.code, one.detail) for one in refused.value.faults]


def test_a_layer_without_a_priced_pack_is_refused() -> None:
    job = msgspec.structs.replace(case(BODY), packs={})
    ((pointer, code, detail),) = refusal(job)
    assert (pointer, code) == ("/job/system", "no-pack")
    assert "layer body: product harbour-100 has no pack priced in USD on 2026-03-02" in detail


def test_a_part_that_no_pack_holds_is_refused() -> None:
    ((_, code, detail),) = refusal(case(BODY, pack(BODY.id, "a-can", "60", volumes={"a": 5.0})))
    assert code == "no-pack"
    assert "with b;" in detail


@settings(max_examples=50, deadline=None)
@given(
    st.floats(1.0, 300.0),
    st.lists(st.tuples(st.floats(1.0, 20.0), st.integers(1, 60_000)), min_size=1, max_size=3),
)
def test_bought_covers_needed_and_the_used_share_is_no_more_than_the_cost(
    floor: float, sizes: list[tuple[float, int]]
) -> None:
    packs = [
        kit(BODY, litres, str(Decimal(cents) / 100), f"kit-{n}")
        for n, (litres, cents) in enumerate(sizes)
    ]
    purchase = buy(*packs, floor=floor)
    for name, needed in purchase.needed.items():
        assert purchase.bought[name] >= needed * (1 - 1e-9)
        assert purchase.surplus[name] == pytest.approx(max(purchase.bought[name] - needed, 0.0))
    assert purchase.used_share.amount <= purchase.cost.amount
    assert purchase.cost.amount == sum(line.amount.amount for line in purchase.packs)


def test_a_purchase_says_whether_it_is_the_least(monkeypatch: pytest.MonkeyPatch) -> None:
    litres = (1.37, 2.11, 3.73, 5.03)
    kits = [kit(BODY, size, str(40 + round(39 * size)), f"kit-{size}") for size in litres]
    notes: list[Note] = []
    job = case(BODY, *kits)
    (least,) = job.plan(notes).purchases
    assert least.proven
    assert "purchase-not-proven" not in {note.code for note in notes}
    monkeypatch.setattr(packs, "MOST_LABELS", 0)
    (cut_off,) = job.plan(notes).purchases
    assert not cut_off.proven
    assert "purchase-not-proven" in {note.code for note in notes}
    assert all(cut_off.bought[name] >= need for name, need in cut_off.needed.items())
    assert cut_off.cost.amount >= least.cost.amount
