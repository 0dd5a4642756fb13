"""A job of one kit of resin, priced: 50 m2 of floor, with as much or little beside it as is asked.

All figures are made up.
"""

import json
from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from filmbuild.edge.decoding import decode
from filmbuild.errors import Faults, InvalidInput
from filmbuild.money import Currency, NonNegativeExact, UnitPrice, rounded
from filmbuild.pipeline.job import Job, Subcontract, Terms
from filmbuild.pipeline.price import price_job
from filmbuild.pipeline.results import (
    ConsumableLine,
    CrewCosts,
    EquipmentCost,
    LabourCost,
    Materials,
    PackLine,
    Price,
    Purchase,
    Takeoff,
)
from filmbuild.pipeline.site import Site
from filmbuild.pipeline.specification import Catalogue, Pack, PricedPack, Product, TaxRule
from filmbuild.pipeline.takeoff import take_off
from filmbuild.pipeline.trace import Note, Trace
from filmbuild.quantities import Hours

DAY = date(2026, 6, 15)
MADE_UP = Trace("made-up")
RESIN = {
    "id": "resin",
    "name": "Resin",
    "supplier": "Demo supplier",
    "role": "body_coat",
    "parts": [
        {"name": "a", "ratio_by_volume": 2, "density": "1.1 kg/L"},
        {"name": "b", "ratio_by_volume": 1, "density": "1 kg/L"},
    ],
    "working_life": [{"temperature": "20 degC", "duration": "PT30M"}],
}
KIT = {
    "id": "kit",
    "product": "resin",
    "name": "Kit",
    "contents": [{"part": "a", "volume": "2 L"}, {"part": "b", "volume": "1 L"}],
}


def takeoff() -> Takeoff:
    room = {"id": "room", "outline": {"kind": "rectangle", "length": "10 m", "width": "5 m"}}
    return take_off(decode(Site, json.dumps({"areas": [room]}).encode()), Faults())


def price_of(amount: str, currency: str) -> UnitPrice:
    return UnitPrice(NonNegativeExact(amount), Currency(currency))


def materials(cost: str, currency: str, used: str | None = None) -> Materials:
    money = rounded(Decimal(cost), Currency(currency))
    pack = PackLine(
        pack="kit", name="Kit", count=1, unit_price=price_of(cost, currency), amount=money
    )
    purchase = Purchase(
        product="resin",
        name="Resin",
        needed={},
        bought={},
        surplus={},
        packs=(pack,),
        cost=money,
        used_share=rounded(Decimal(used or cost), Currency(currency)),
        proven=True,
        trace=MADE_UP,
    )
    return Materials(system="plain", coats=(), aggregates=(), purchases=(purchase,), consumables=())


def crew_costs(
    currency: str, *, hours: str = "0", rate: str = "0", days: int = 0, travel: str = "0"
) -> CrewCosts:
    amount = rounded(Decimal(hours) * Decimal(rate), Currency(currency))
    worker = LabourCost(
        labour_class="finisher",
        name="Finisher",
        paid=Hours(float(hours) * 3600),
        overtime=False,
        rate_per_hour=price_of(rate, currency),
        amount=amount,
        trace=MADE_UP,
    )
    grinder = EquipmentCost(
        equipment="grinder",
        name="Grinder",
        used=Hours(3600),
        days=days,
        day_rate=price_of("90", currency),
        amount=rounded(Decimal(90 * days), Currency(currency)),
        trace=MADE_UP,
    )
    rollers = ConsumableLine(
        id="roller",
        name="Roller",
        kind="consumable",
        stage="coat",
        count=2,
        unit="each",
        unit_price=price_of("4.125", currency),
        amount=rounded(Decimal("8.25"), Currency(currency)),
        trace=MADE_UP,
    )
    return CrewCosts(
        labour=(worker,) if amount.amount else (),
        equipment=(grinder,) if days else (),
        travel=rounded(Decimal(travel), Currency(currency)),
        consumables=(rollers,) if days else (),
        productive=Hours(0.0),
        paid=Hours(0.0),
        shifts=1,
        visits=1,
        traces={"travel": Trace("labour.travel")},
    )


def tax(base: str, rate: str, **rest: Any) -> TaxRule:
    body = {
        "id": f"tax-{base}-{rate}",
        "name": "Tax",
        "place": "Port Alder",
        "category": "standard",
        "base": base,
        "rate_percent": rate,
        "effective_from": "2026-01-01",
        **rest,
    }
    return decode(TaxRule, json.dumps(body).encode())


def priced(
    cost: str,
    *taxes: TaxRule,
    currency: str = "USD",
    notes: list[Note] | None = None,
    used: str | None = None,
    work: CrewCosts | None = None,
    subcontracts: list[dict[str, Any]] | None = None,
    **terms: Any,
) -> Price:
    pack = decode(Pack, json.dumps(KIT).encode())
    kit = PricedPack(pack=pack, price=Decimal(cost), effective_from=DAY)
    catalogue = Catalogue(
        revision=7,
        currency=Currency(currency),
        priced_on=DAY,
        products={"resin": decode(Product, json.dumps(RESIN).encode())},
        packs={"resin": (kit,)},
        systems={},
        rate_books={},
        consumables=(),
        taxes=taxes,
    )
    if taxes:
        terms.setdefault("tax_place", "Port Alder")
    job = Job(
        system="plain",
        currency=Currency(currency),
        subcontracts=decode(tuple[Subcontract, ...], json.dumps(subcontracts or []).encode()),
        terms=decode(Terms, json.dumps(terms).encode()),
    )
    return price_job(
        takeoff(),
        materials(cost, currency, used),
        work or crew_costs(currency),
        job,
        catalogue,
        Faults().at("job"),
        [] if notes is None else notes,
    )


def refused(*taxes: TaxRule, cost: str = "100", **terms: Any) -> dict[str, str]:
    """The codes of what is wrong, by pointer."""
    with pytest.raises(InvalidInput) as caught:
        priced(cost, *taxes, **terms)
    return {fault.pointer: fault.code for fault in caught.value.faults}
