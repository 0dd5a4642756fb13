"""What is in store is used before anything is bought; breaks, surplus and several jobs."""

from datetime import date, timedelta
from decimal import Decimal

import msgspec
import pytest
from materials_cases import LITRE, Case, area, case, kit, product

from filmbuild.errors import InvalidInput
from filmbuild.money import NonNegativeExact
from filmbuild.pipeline.job import StockLot
from filmbuild.pipeline.materials.together import buy_together
from filmbuild.pipeline.results import Purchase
from filmbuild.pipeline.specification import PriceBreak, Product
from filmbuild.quantities import PositiveDuration, PositiveMass, PositiveVolume

DAY = date(2026, 3, 2)  # of the prices
BODY = product(shelf_life=PositiveDuration(365 * 86_400.0))  # a : b = 2 : 1; the floor takes 12.5 L


def kits(lot: str, count: int = 1, expires: date | None = None) -> StockLot:
    return StockLot(product=BODY.id, pack="kit-3", count=count, lot=lot, expires=expires)


def of_part(part: str, litres: float, lot: str) -> StockLot:
    volume = PositiveVolume(litres * LITRE)
    return StockLot(product=BODY.id, part=part, volume=volume, lot=lot)


def job(*stock: StockLot, of: Product = BODY) -> Case:
    packs = (kit(of, 3.0, "95", "kit-3"), kit(of, 10.0, "295", "kit-10"))
    return msgspec.structs.replace(case(of, *packs), stock=stock)


def buy(*stock: StockLot, of: Product = BODY) -> Purchase:
    (purchase,) = job(*stock, of=of).plan().purchases
    return purchase


def bought(purchase: Purchase) -> dict[str, int]:
    return {line.pack: line.count for line in purchase.packs}


def faults(*stock: StockLot) -> set[tuple[str, str]]:
    with pytest.raises(InvalidInput) as raised:
        job(*stock).plan()
    return {(fault.pointer, fault.code) for fault in raised.value.faults}


def test_what_is_in_store_is_not_bought() -> None:
    # by hand: 12.5 L less 3 L in store are 9.5 L: one kit of 10 L, with 0.5 L left over
    purchase = buy(kits("L1"))
    assert bought(purchase) == {"kit-10": 1}
    assert purchase.from_stock["a"] == pytest.approx(2 * LITRE)
    assert purchase.surplus["a"] == pytest.approx(0.5 * LITRE * 2 / 3)
    # 9.5 of 10 L at 295
    assert purchase.used_share.amount == Decimal("280.25")
    assert purchase.surplus_value is not None
    assert purchase.surplus_value.amount == Decimal("14.75")


def test_enough_in_store_means_that_nothing_is_bought() -> None:
    purchase = buy(kits("L1", 5))
    assert purchase.packs == ()
    assert purchase.cost.amount == 0
    assert purchase.runner_up is None
    # no more is taken than is needed
    assert purchase.from_stock == purchase.needed


def test_one_part_in_store_leaves_the_other_to_be_bought() -> None:
    # by hand: b is 4.167 L of which 4 L are there; a of 8.333 L still takes 10 + 3
    assert bought(buy(of_part("b", 4.0, "L1"))) == {"kit-10": 1, "kit-3": 1}


def test_what_goes_off_first_is_taken_first() -> None:
    late, soon = kits("late", 4, DAY + timedelta(90)), kits("soon", 4, DAY)
    purchase = buy(late, soon)
    taken = [(one.lot, one.part) for one in purchase.stock]
    assert taken == [("soon", "a"), ("soon", "b"), ("late", "a"), ("late", "b")]
    assert purchase.stock[0].amount == pytest.approx(8 * LITRE)
    assert purchase.stock[2].amount == pytest.approx((12.5 * 2 / 3 - 8) * LITRE)


def test_stock_past_its_date_is_refused_where_it_stands() -> None:
    past = kits("L2", 1, DAY - timedelta(1))
    assert faults(kits("L1"), past) == {("/job/stock/1/expires", "stock-past-date")}


def test_every_fault_of_the_stock_is_told_at_once() -> None:
    found = faults(
        StockLot(product="none"),
        StockLot(product=BODY.id),
        StockLot(product=BODY.id, pack="none", count=1),
        StockLot(product=BODY.id, pack="kit-3"),
        StockLot(product=BODY.id, part="none", mass=PositiveMass(1.0)),
        StockLot(product=BODY.id, part="a"),
    )
    assert found == {
        ("/job/stock/0/product", "unknown-product"),
        ("/job/stock/1/pack", "exactly-one"),
        ("/job/stock/2/pack", "unknown-pack"),
        ("/job/stock/3/count", "exactly-one"),
        ("/job/stock/4/part", "unknown-part"),
        ("/job/stock/5/volume", "exactly-one"),
    }


def test_a_coat_of_one_lot_is_not_mixed_from_two() -> None:
    one_lot = msgspec.structs.replace(BODY, one_lot=True)
    # by hand: 12 L of L1 are not enough, and neither are 3 L of L2: all is bought
    apart = buy(kits("L1", 4), kits("L2"), of=one_lot)
    assert bought(apart) == {"kit-10": 1, "kit-3": 1}
    assert apart.stock == ()
    # 15 L of L1 are
    alone = buy(kits("L2"), kits("L1", 5), of=one_lot)
    assert alone.packs == ()
    assert {one.lot for one in alone.stock} == {"L1"}


def test_a_break_is_charged_for_every_pack_of_its_kind() -> None:
    # by hand: from 4 on 70 each: five of 3 L cost 350, less than the 390 of 10 + 3
    small = kit(BODY, 3.0, "95", "kit-3")
    amount = NonNegativeExact("70")
    small = msgspec.structs.replace(small, breaks=(PriceBreak(from_packs=4, amount=amount),))
    (purchase,) = case(BODY, small, kit(BODY, 10.0, "295", "kit-10")).plan().purchases
    assert bought(purchase) == {"kit-3": 5}
    assert purchase.packs[0].unit_price.amount == 70
    assert purchase.cost.amount == 350
    # then come one of 10 L and one of 3 L
    assert purchase.runner_up is not None
    assert {line.pack: line.count for line in purchase.runner_up.packs} == {
        "kit-10": 1,
        "kit-3": 1,
    }
    assert purchase.runner_up.dearer_by.amount == 40


def test_the_surplus_keeps_for_the_shelf_life() -> None:
    assert buy().surplus_keeps_until == DAY + timedelta(365)
    assert case(product()).plan().purchases[0].surplus_keeps_until is None


def test_several_jobs_buy_together_and_bear_their_shares() -> None:
    # by hand: 12.5 L and 6.5 L apart cost 390 and 285 (3 x 3 L); 19 L together are 10 L and
    # 3 x 3 L (580), of which the first job bears 12.5 / 19
    packs = (kit(BODY, 3.0, "95", "kit-3"), kit(BODY, 10.0, "295", "kit-10"))
    jobs = {
        name: case(BODY, *packs, areas=[area(floor=floor)])
        for name, floor in (("hall", 50.0), ("store", 26.0))
    }
    found = buy_together(
        {name: one.plan() for name, one in jobs.items()}, jobs["hall"].catalogue(), {}
    )
    assert bought(found.purchases[0]) == {"kit-10": 1, "kit-3": 3}
    assert (found.cost_apart.amount, found.cost.amount) == (Decimal(675), Decimal(580))
    assert found.saving.amount == 95
    assert [one.cost.amount for one in found.jobs] == [Decimal("381.58"), Decimal("198.42")]
    assert [one.cost_apart.amount for one in found.jobs] == [Decimal(390), Decimal(285)]
