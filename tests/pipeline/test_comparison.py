"""The same job in several ways: each figure is that of the estimate, and no variant fails the rest."""

import json
from collections.abc import Iterator
from typing import Any

import pytest
from demo import priced_demo
from timeline_cases import PRICES, body, hall
from tracing import rules_named, unexplained

from filmbuild.edge.decoding import decode
from filmbuild.edge.encoding import encode
from filmbuild.errors import InvalidInput
from filmbuild.estimates.rulebook import rulebook
from filmbuild.pipeline.comparison import comparison_document
from filmbuild.pipeline.estimate import estimate_document
from filmbuild.pipeline.requests import ComparisonRequest, EstimateRequest
from filmbuild.pipeline.results import ComparisonDocument, VariantFigures
from filmbuild.pipeline.takeoff import take_off

SITE = hall("9 m")
SYSTEM = "harbour-high-build"
CREW = [{"labour_class": "finisher", "count": 4}]
WAYS: dict[str, dict[str, Any]] = {
    "as asked": {},
    "four finishers": {"crew": CREW},
    "thin film": {"system": "harbour-thin-film"},
    "in August": {"start": "2026-08-03"},
    "at weekends": {"calendar": {"working_days": ["sat", "sun"]}},
    "warmer": {"conditions": {"air_temperature": "80 degF", "surface_temperature": "80 degF"}},
}
EXPLAINED_ELSEWHERE = {
    "catalogue_revision": "says which catalogue was read",
    "priced_on": "says which prices were read",
    "variants[].figures.coats": "those that dry_film is the sum of, and those that state none",
    "variants[].figures.crew": "the people asked for",
    "variants[].figures.first_day": "the day of the first work",
    "variants[].figures.last_day": "the day of last_work, which has a trace",
}


def compared(ways: dict[str, dict[str, Any]], **job: Any) -> ComparisonDocument:
    variants = [{"label": label, **own} for label, own in ways.items()]
    asked = {**body(SITE, **{"system": SYSTEM, **job}), "variants": variants}
    request = decode(ComparisonRequest, json.dumps(asked).encode())
    return comparison_document(request, priced_demo("USD", PRICES))


@pytest.fixture(scope="module")
def found() -> ComparisonDocument:
    return compared(WAYS)


def figures(document: ComparisonDocument) -> Iterator[tuple[str, VariantFigures]]:
    for one in document.variants:
        assert one.figures is not None, one.problem
        yield one.label, one.figures


def test_each_variant_has_the_figures_of_its_own_estimate(found: ComparisonDocument) -> None:
    for label, one in figures(found):
        asked = body(SITE, **{"system": SYSTEM, **WAYS[label]})
        request = decode(EstimateRequest, json.dumps(asked).encode())
        alone = estimate_document(request, priced_demo("USD", PRICES))
        schedule, price = alone.schedule, alone.price
        assert (one.first_day, one.last_day) == (schedule.first_day, schedule.last_day)
        assert one.last_work == max(each.finish for each in schedule.activities)
        assert one.foot_traffic_from == schedule.foot_traffic_from
        assert (one.shifts, one.visits) == (schedule.shifts, schedule.visits)
        assert (one.productive, one.paid) == (schedule.productive, schedule.paid)
        assert (one.cost, one.net, one.total) == (price.cost, price.net, price.total)
        assert [each.packs for each in one.purchases] == [
            each.packs for each in alone.materials.purchases
        ]
        outcome = next(each for each in found.variants if each.label == label)
        assert {*found.notes, *outcome.notes} == set(alone.notes)
        assert {*found.cautions, *outcome.cautions} == set(alone.cautions)


def test_the_cheapest_and_the_earliest_are_named(found: ComparisonDocument) -> None:
    by_label = dict(figures(found))
    assert found.cheapest is not None
    assert found.earliest is not None
    assert found.first_open is not None
    totals = {label: one.total.amount for label, one in by_label.items()}
    assert totals[found.cheapest] == min(totals.values())
    assert by_label[found.earliest].last_work == min(one.last_work for one in by_label.values())
    opens = min(one.foot_traffic_from for one in by_label.values())
    assert by_label[found.first_open].foot_traffic_from == opens


def test_of_equals_the_first_is_named() -> None:
    found = compared({"this": {}, "that": {}})
    assert (found.cheapest, found.earliest, found.first_open) == ("this", "this", "this")


def test_the_site_is_measured_once(monkeypatch: pytest.MonkeyPatch) -> None:
    measured = []

    def counted(*arguments: Any) -> Any:
        measured.append(arguments)
        return take_off(*arguments)

    monkeypatch.setattr("filmbuild.pipeline.estimate.take_off", counted)
    compared(WAYS)
    assert len(measured) == 1


def test_what_cannot_be_done_says_why_and_leaves_the_others_alone() -> None:
    damp = {"relative_humidity_percent": 97}
    found = compared(
        {
            "damp": {"conditions": damp},
            "as asked": {},
            "nobody": {"crew": [{"labour_class": "nobody", "count": 1}]},
            "unknown": {"system": "no-such-system"},
        }
    )
    damp_one, asked, nobody, unknown = found.variants
    assert asked.figures is not None
    assert asked.problem is None
    assert (found.cheapest, found.earliest) == ("as asked", "as asked")
    for one in (damp_one, nobody, unknown):
        assert one.figures is None
        assert one.problem is not None
    problem = damp_one.problem
    assert problem is not None
    assert problem.code == "infeasible"
    assert {one.code for one in problem.errors} == {"climate-gate-closed"}
    assert all(one.pointer.startswith("/variants/0/conditions/") for one in problem.errors)
    assert nobody.problem is not None
    assert [one.pointer for one in nobody.problem.errors] == ["/variants/2/crew/0/labour_class"]
    assert unknown.problem is not None
    assert [one.pointer for one in unknown.problem.errors] == ["/variants/3/system"]


def test_what_is_wrong_with_the_job_points_to_the_job() -> None:
    found = compared({"as asked": {}, "thin film": {"system": "harbour-thin-film"}}, rate_book="x")
    assert found.cheapest is None
    assert found.earliest is None
    for one in found.variants:
        assert one.problem is not None
        assert [each.pointer for each in one.problem.errors] == ["/job/rate_book"]


def test_a_crew_and_the_people_available_stand_in_for_one_another() -> None:
    ways: dict[str, dict[str, Any]] = {"crew": {"crew": CREW}, "available": {"available": CREW}}
    for job in ({"crew": CREW, "available": []}, {"crew": [], "available": CREW}):
        found = dict(figures(compared(ways, **job)))
        assert found["crew"].crew == 4
        assert 1 <= found["available"].crew <= 4


def test_labels_tell_variants_apart() -> None:
    asked = {**body(SITE), "variants": [{"label": "this"}, {"label": "that"}, {"label": "this"}]}
    request = decode(ComparisonRequest, json.dumps(asked).encode())
    with pytest.raises(InvalidInput) as caught:
        comparison_document(request, priced_demo("USD", PRICES))
    (fault,) = caught.value.faults
    assert (fault.pointer, fault.code) == ("/variants/2/label", "duplicate-label")


@pytest.mark.parametrize("count", [0, 21])
def test_there_are_from_one_to_twenty_variants(count: int) -> None:
    variants = [{"label": str(number)} for number in range(count)]
    with pytest.raises(InvalidInput) as caught:
        decode(ComparisonRequest, json.dumps({**body(SITE), "variants": variants}).encode())
    assert [one.pointer for one in caught.value.faults] == ["/variants"]


def test_a_site_that_cannot_be_measured_is_refused_as_a_whole() -> None:
    cut = {"kind": "rectangle", "length": "9 m", "width": "9 m"}
    areas = [{"id": "hall", "outline": cut}, {"id": "hall", "outline": cut}]
    asked = {**body({"areas": areas}), "variants": [{"label": "this"}]}
    request = decode(ComparisonRequest, json.dumps(asked).encode())
    with pytest.raises(InvalidInput) as caught:
        comparison_document(request, priced_demo("USD", PRICES))
    assert all(one.pointer.startswith("/site/") for one in caught.value.faults)


def test_every_figure_is_explained_by_a_published_rule(found: ComparisonDocument) -> None:
    written = json.loads(encode(found, "us"))
    assert set(unexplained(written)) == set(EXPLAINED_ELSEWHERE)
    assert set(rules_named(written)) <= set(rulebook())
