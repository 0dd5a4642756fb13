"""Orders in the answers: terms that bite, traced and charged."""

import json
from decimal import Decimal
from pathlib import Path

import pytest
import trace_arithmetic
from handing_on import catalogue
from msgspec.structs import replace

import filmbuild
from filmbuild.edge.decoding import decode
from filmbuild.money import NonNegativeExact
from filmbuild.pipeline import pack_frontier
from filmbuild.pipeline.estimate import estimate_document
from filmbuild.pipeline.requests import EstimateRequest
from filmbuild.pipeline.results import EstimateDocument
from filmbuild.pipeline.specification import FreightBand, FreightBeyond, Supplier
from filmbuild.quantities import PositiveMass

STUDIO = json.loads(Path(filmbuild.__file__).with_name("quickstart_request.json").read_bytes())


def estimated(supplier: Supplier | None) -> EstimateDocument:
    terms = {} if supplier is None else {supplier.name: supplier}
    request = decode(EstimateRequest, json.dumps(STUDIO).encode())
    return estimate_document(request, replace(catalogue(), suppliers=terms))


def demo_terms(**changed: object) -> Supplier:
    (supplier,) = catalogue().suppliers.values()
    return replace(supplier, **changed)


def one_band(up_to: float, price: str) -> tuple[FreightBand, ...]:
    return (FreightBand(up_to=PositiveMass(up_to), price=NonNegativeExact(price)),)


BEYOND = FreightBeyond(each=PositiveMass(30.0), price=NonNegativeExact("7.5"))
TERMS: dict[str, dict[str, object]] = {
    "as the demo has them": {},
    "beyond the last band": {"freight": one_band(50.0, "40"), "freight_beyond": BEYOND},
    "short of the minimum": {"minimum_order": NonNegativeExact("9999.5")},
    "free": {"freight": (), "freight_beyond": None},
}


@pytest.mark.parametrize("case", TERMS)
def test_an_order_follows_from_its_trace_and_is_charged(case: str) -> None:
    found = estimated(demo_terms(**TERMS[case]))
    (order,) = found.materials.orders
    check = trace_arithmetic.CHECKS[order.trace.rule]
    for figure, expected in check(order.trace.inputs, order, ""):
        assert float(figure) == pytest.approx(float(expected))
    assert order.products == tuple(one.product for one in found.materials.purchases if one.packs)
    lines = [one.amount.amount for one in found.price.lines if one.group == "freight"]
    assert sum(lines, Decimal(0)) == order.freight.amount + order.short_of_minimum.amount
    assert (order.short_of_minimum.amount > 0) == (case == "short of the minimum")
    assert ("further" in order.trace.inputs) == (case == "beyond the last band")


def test_a_supplier_without_terms_is_not_charged_for() -> None:
    found = estimated(None)
    assert found.materials.orders == ()
    assert not [one for one in found.price.lines if one.group == "freight"]


def test_an_order_that_may_not_be_the_least_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    just_over = estimated(demo_terms()).materials.orders[0].gross_mass - 1.0
    supplier = demo_terms(
        freight=one_band(just_over, "10"),
        freight_beyond=replace(BEYOND, price=NonNegativeExact("900")),
    )
    monkeypatch.setattr(pack_frontier, "MOST_VISITS", 0)
    found = estimated(supplier)
    (order,) = found.materials.orders
    assert not order.proven
    assert order.cost_at_least is not None
    assert order.cost_at_least.amount < order.cost.amount
    assert "purchase-not-proven" in {one.code for one in found.notes}
    monkeypatch.undo()
    searched = estimated(supplier).materials.orders[0]
    assert searched.proven
    assert searched.cost.amount <= order.cost.amount
