"""Laws of the whole pipeline, on the demo catalogue."""

import json
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from demo import priced_demo
from hypothesis import given, settings
from hypothesis import strategies as st

import filmbuild
from filmbuild.edge.decoding import decode
from filmbuild.edge.encoding import encode
from filmbuild.estimates.rulebook import rulebook
from filmbuild.pipeline.estimate import (
    estimate_document,
)
from filmbuild.pipeline.requests import (
    EstimateRequest,
)
from filmbuild.pipeline.results import EstimateDocument
from filmbuild.pipeline.specification import Catalogue

STUDIO = json.loads(Path(filmbuild.__file__).with_name("quickstart_request.json").read_bytes())
SYSTEMS = ("harbour-thin-film", "harbour-high-build", "harbour-decorative", "harbour-broadcast")
DAY = date(2026, 6, 15)


@cache
def catalogue() -> Catalogue:
    return priced_demo("USD", DAY)


def estimated(body: dict[str, Any]) -> EstimateDocument:
    return estimate_document(decode(EstimateRequest, json.dumps(body).encode()), catalogue())


def studio(system: str = "harbour-decorative", **changed: Any) -> dict[str, Any]:
    return {**STUDIO, "job": {**STUDIO["job"], "system": system}, **changed}


def room(length: float, width: float, system: str = "harbour-high-build") -> dict[str, Any]:
    outline = {"kind": "rectangle", "length": f"{length:.6f} m", "width": f"{width:.6f} m"}
    site = {"areas": [{"id": "room", "outline": outline, "base_walls": [{"height": "100 mm"}]}]}
    job = {
        "system": system,
        "start": "2026-06-15",
        "crew": [{"labour_class": "finisher", "count": 4}],
        "terms": {"margin_percent": "30", "tax_place": "Port Alder"},
    }
    return {"units": "si", "site": site, "job": job}


def rules_named(value: object) -> Iterator[str]:
    if isinstance(value, dict):
        if "rule" in value and ("inputs" in value or len(value) <= 2):
            yield value["rule"]
        for one in value.values():
            yield from rules_named(one)
    elif isinstance(value, list):
        for one in value:
            yield from rules_named(one)


@pytest.mark.parametrize("system", SYSTEMS)
def test_every_trace_leads_to_a_published_rule(system: str) -> None:
    named = set(rules_named(json.loads(encode(estimated(studio(system)), "us"))))
    assert len(named) > 20
    assert named <= set(rulebook())


def test_the_same_request_gets_the_same_bytes() -> None:
    assert encode(estimated(studio()), "us") == encode(estimated(studio()), "us")


def test_units_change_how_figures_are_written_and_nothing_else() -> None:
    document = estimated(studio())
    in_feet = json.loads(encode(document, "us"))
    in_metres = json.loads(encode(document, "si"))
    assert in_feet["price"]["total"] == in_metres["price"]["total"]
    floor = in_feet["takeoff"]["totals"]["floor"], in_metres["takeoff"]["totals"]["floor"]
    assert [one["unit"] for one in floor] == ["ft2", "m2"]
    # 1 ft = 0.3048 m exactly: NIST Special Publication 811, appendix B.
    assert floor[0]["value"] * 0.3048**2 == pytest.approx(floor[1]["value"], rel=1e-9)


def test_a_site_in_metres_is_the_same_site_in_feet() -> None:
    in_feet = room(1, 1)
    outline = in_feet["site"]["areas"][0]["outline"]
    outline["length"], outline["width"] = "24 ft 6 in", "18 ft"
    in_metres = room(24.5 * 0.3048, 18 * 0.3048)
    assert estimated(in_feet).price.total == estimated(in_metres).price.total


@given(order=st.permutations(range(3)))
@settings(max_examples=6, deadline=None)
def test_the_order_of_the_rooms_moves_no_total(order: list[int]) -> None:
    areas = STUDIO["site"]["areas"]
    plain = estimated(studio())
    turned = estimated(studio(site={**STUDIO["site"], "areas": [areas[one] for one in order]}))
    assert turned.price.total == plain.price.total
    assert turned.takeoff.totals == plain.takeoff.totals
    assert turned.schedule.last_day == plain.schedule.last_day


@given(
    length=st.floats(3, 25),
    width=st.floats(3, 12),
    growth=st.floats(0, 12),
    system=st.sampled_from(SYSTEMS),
)
@settings(max_examples=60, deadline=None)
def test_more_floor_never_takes_less(
    length: float, width: float, growth: float, system: str
) -> None:
    """The cost of dated labour may fall: more work can fill a day that is paid for at any rate."""
    small = estimated(room(length, width, system))
    large = estimated(room(length + growth, width, system))
    assert large.takeoff.totals.floor >= small.takeoff.totals.floor
    assert bought(large) >= bought(small)
    assert large.labour.productive >= small.labour.productive - 1e-6
    assert large.labour.paid >= small.labour.paid - 1e-6
    assert large.schedule.last_day >= small.schedule.last_day


def bought(document: EstimateDocument) -> Decimal:
    """What all materials and consumables cost."""
    materials = document.materials
    amounts = [one.cost for one in materials.purchases]
    amounts += [one.amount for one in materials.consumables]
    return sum((one.amount for one in amounts), Decimal(0))


@pytest.mark.parametrize("system", SYSTEMS)
def test_an_estimate_hangs_together(system: str) -> None:
    document = estimated(studio(system))
    for coat in document.materials.coats:
        assert sum(mix.volume for mix in coat.mixes) == pytest.approx(coat.ordered_volume)
        for mix in coat.mixes:
            assert mix.mixing_time + mix.placing_time <= mix.working_life + 1e-6
        parts = sum(part.volume for part in coat.parts)
        assert parts == pytest.approx(coat.ordered_volume, rel=1e-9)
    for purchase in document.materials.purchases:
        for part, needed in purchase.needed.items():
            assert purchase.bought[part] >= needed - 1e-8
    price = document.price
    assert price.direct_cost.amount == sum(line.amount.amount for line in price.lines)
    for line in price.lines:
        exact = (line.quantity * line.unit_cost.amount).quantize(Decimal("0.01"))
        assert abs(exact - line.amount.amount) <= Decimal("0.01"), line
    assert price.total.amount == price.net.amount + sum(tax.amount.amount for tax in price.taxes)
    days = [one.start.date() for one in document.schedule.activities]
    assert min(days) == document.schedule.first_day >= DAY
