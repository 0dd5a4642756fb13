"""Alternates: variants with floor, layers and terms of their own, and what each has over the first."""

import json
from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Any

import pytest
from demo import priced_demo
from offer_cases import STUDIO

from filmbuild.edge.decoding import decode
from filmbuild.errors import InvalidInput
from filmbuild.pipeline.comparison import comparison_document
from filmbuild.pipeline.estimate import estimate_document
from filmbuild.pipeline.requests import ComparisonRequest, EstimateRequest
from filmbuild.pipeline.results import (
    ComparisonDocument,
    VariantDifferences,
    VariantFigures,
    VariantOutcome,
)

HOURS = {
    "last_work": "last_work_hours",
    "foot_traffic_from": "foot_traffic_hours",
    "vehicle_traffic_from": "vehicle_traffic_hours",
    "full_cure_at": "full_cure_hours",
}
DAY = date(2026, 6, 15)
WAYS: dict[str, dict[str, Any]] = {
    "good": {"system": "harbour-thin-film"},
    "better": {"system": "harbour-high-build"},
    "best": {"system": "harbour-broadcast", "terms": {"margin_percent": "40"}},
    "thicker": {
        "system": "harbour-high-build",
        "layers": [{"layer": "body", "spread_rate": "70 ft2/gal", "passes": "split"}],
    },
    "two rooms": {"system": "harbour-thin-film", "areas": ["glaze-room", "throwing-room"]},
}


def compared(ways: dict[str, dict[str, Any]]) -> ComparisonDocument:
    variants = [{"label": label, **own} for label, own in ways.items()]
    asked = {"units": "us", "site": STUDIO["site"], "job": STUDIO["job"], "variants": variants}
    request = decode(ComparisonRequest, json.dumps(asked).encode())
    return comparison_document(request, priced_demo("USD", DAY))


@pytest.fixture(scope="module")
def found() -> dict[str, VariantOutcome]:
    return {one.label: one for one in compared(WAYS).variants}


def figures(outcome: VariantOutcome) -> VariantFigures:
    assert outcome.figures is not None, outcome.problem
    return outcome.figures


def differences(outcome: VariantOutcome) -> VariantDifferences:
    assert outcome.against_first is not None
    return outcome.against_first


@pytest.mark.parametrize("label", ["good", "best", "thicker"])
def test_terms_and_layers_of_a_variant_are_those_of_its_estimate(
    found: dict[str, VariantOutcome], label: str
) -> None:
    asked = {**STUDIO, "job": {**STUDIO["job"], **WAYS[label]}}
    alone = estimate_document(
        decode(EstimateRequest, json.dumps(asked).encode()), priced_demo("USD", DAY)
    )
    one = figures(found[label])
    assert (one.cost, one.net, one.total) == (
        alone.price.cost,
        alone.price.net,
        alone.price.total,
    )
    films = [coat.dry_film for coat in alone.materials.coats if coat.dry_film is not None]
    assert one.dry_film == pytest.approx(sum(films))


def test_a_variant_may_do_part_of_the_floor(found: dict[str, VariantOutcome]) -> None:
    whole, part = figures(found["good"]), figures(found["two rooms"])
    assert part.floor < whole.floor
    assert part.net.amount < whole.net.amount
    rooms = [area for area in STUDIO["site"]["areas"] if area["id"] in WAYS["two rooms"]["areas"]]
    assert len(rooms) == 2


def test_each_is_compared_with_the_first(found: dict[str, VariantOutcome]) -> None:
    first = figures(found["good"])
    assert found["good"].against_first is None
    for label in list(WAYS)[1:]:
        here, more = figures(found[label]), differences(found[label])
        assert more.total.amount == here.total.amount - first.total.amount
        assert more.net.amount == here.net.amount - first.net.amount
        later = (here.last_work - first.last_work) / timedelta(hours=1)
        assert more.last_work_hours == pytest.approx(later)
        opens = first.foot_traffic_from + timedelta(hours=more.foot_traffic_hours)
        assert abs(opens - here.foot_traffic_from) < timedelta(milliseconds=1)
        assert more.floor_share == pytest.approx(here.floor / first.floor)
        assert (more.coats, more.visits) == (here.coats - first.coats, here.visits - first.visits)
    better, thicker = (differences(found[name]).dry_film_share for name in ("better", "thicker"))
    assert better is not None
    assert thicker is not None
    assert thicker > better > 1
    assert differences(found["two rooms"]).total.amount < 0


def test_every_difference_follows_from_its_trace(found: dict[str, VariantOutcome]) -> None:
    for label in list(WAYS)[1:]:
        more = differences(found[label])
        assert more.trace.rule == "comparison.difference"
        for name, both in more.trace.inputs.items():
            here, other = both["here"], both["first"]
            if isinstance(here, datetime):
                figure = getattr(more, HOURS[name])
                assert figure == pytest.approx((here - other) / timedelta(hours=1))
            elif isinstance(here, float):
                assert getattr(more, f"{name}_share") == pytest.approx(here / other)
            elif isinstance(here, int):
                assert getattr(more, name) == here - other
            else:
                assert getattr(more, name).amount == here.amount - other.amount


def test_films_follow_from_their_trace(found: dict[str, VariantOutcome]) -> None:
    for one in found.values():
        trace = figures(one).traces["dry_film"]
        assert trace.rule == "comparison.dry-film"
        assert figures(one).dry_film == pytest.approx(sum(trace.inputs.values()))


def test_times_that_are_sooner_are_below_zero() -> None:
    """It begins three weeks sooner; holidays and weekends may take up to a week of that."""
    sooner = compared({"in July": {"start": "2026-07-06"}, "in June": {}})
    hours = differences(sooner.variants[1]).last_work_hours
    assert -21 * 24 <= hours < -14 * 24


def test_the_first_that_can_be_done_is_what_others_are_compared_with() -> None:
    damp = {"conditions": {"relative_humidity_percent": 97}}
    outcomes = compared({"damp": damp, "as asked": {}, "same again": {}}).variants
    assert [one.against_first is None for one in outcomes] == [True, True, False]
    same = differences(outcomes[2])
    assert same.total.amount == Decimal(0)
    assert (same.last_work_hours, same.floor_share, same.dry_film_share) == (0.0, 1.0, 1.0)


def test_terms_of_a_variant_that_cannot_hold_are_told_there() -> None:
    both = {"terms": {"markup_percent": "10", "margin_percent": "10"}}
    problem = compared({"as asked": {}, "both": both}).variants[1].problem
    assert problem is not None
    assert [one.pointer for one in problem.errors] == ["/variants/1/terms/margin_percent"]


def test_areas_of_a_variant_are_those_of_the_site_and_named_once() -> None:
    with pytest.raises(InvalidInput) as caught:
        compared({"some": {"areas": ["glaze-room", "attic", "glaze-room"]}})
    assert {fault.pointer: fault.code for fault in caught.value.faults} == {
        "/variants/0/areas/1": "unknown-area",
        "/variants/0/areas/2": "duplicate-area",
    }
