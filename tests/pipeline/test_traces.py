"""Every figure of an answer can be followed: to a rule, to its inputs, and back to itself."""

import json
import math
from collections.abc import Iterator
from datetime import date, datetime
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import trace_arithmetic as arithmetic
import trace_arithmetic_price
import trace_arithmetic_work
from demo import priced_demo
from takeoff_cases import busy_site
from tracing import rules_named, unexplained

import filmbuild
from filmbuild.edge.decoding import decode
from filmbuild.edge.encoding import encode
from filmbuild.estimates.rulebook import rulebook
from filmbuild.pipeline.estimate import estimate_document
from filmbuild.pipeline.requests import EstimateRequest
from filmbuild.pipeline.results import EstimateDocument
from filmbuild.quantities import Duration

MILLISECOND = 1e-3
"""[s] How finely times are written."""
STUDIO = json.loads(Path(filmbuild.__file__).with_name("quickstart_request.json").read_bytes())
DOORWAYS = {
    "areas": [
        {
            "id": "lobby",
            "outline": {"kind": "rectangle", "length": "20 ft", "width": "12 ft"},
            "doorways": [
                {"side": 0, "offset": "3 ft", "width": "6 ft", "height": "8 ft", "coating": "stops"}
            ],
        }
    ],
    "substrate": {"profile": 3},
}
BAYS = [
    {"id": f"bay-{n}", "outline": {"kind": "rectangle", "length": "80 ft", "width": "60 ft"}}
    for n in range(3)
]
PATCHED = {
    "id": "pit",
    "outline": {"kind": "rectangle", "length": "20 ft", "width": "12 ft"},
    "coves": [{"radius": "1 in"}],
    "spalls": [{"area": "1 ft2", "depth": "1 in"}],
}
CASES: dict[str, dict[str, Any]] = {
    "thin film": {"system": "harbour-thin-film"},
    "high build": {"system": "harbour-high-build"},
    "decorative": {"system": "harbour-decorative"},
    "broadcast": {"system": "harbour-broadcast"},
    "every kind of work": {"system": "harbour-high-build", "site": busy_site()},
    "rooms with doorways": {"system": "harbour-high-build", "site": DOORWAYS},
    "sections": {"system": "harbour-high-build", "site": {**STUDIO["site"], "areas": BAYS}},
    "people available": {"available": [{"labour_class": "finisher", "count": 6}]},
    "used share": {"terms": {"materials": "used_share"}},
    "markup and tax on materials": {"terms": {"markup_percent": "25", "tax_place": "Northmoor"}},
    "two lifts": {"system": "harbour-double-broadcast", "site": {"areas": [PATCHED]}},
    "three parts": {"system": "harbour-filled"},
    "passes": {
        "system": "harbour-high-build",
        "layers": [{"layer": "body", "spread_rate": "16 ft2/gal", "passes": "split"}],
    },
    "from stock": {
        "terms": {"materials": "used_share"},
        "stock": [{"product": "harbour-20", "part": "resin", "volume": "1 gal", "lot": "L1"}],
    },
    "forecast": {
        "months": [{"month": 6, "air_temperature": "22 degC", "relative_humidity_percent": 40}]
    },
    "small job": {"terms": {"margin_percent": "32", "minimum_charge": "50000"}},
    "discounts, rounding and work bought in": {
        "terms": {
            "margin_percent": "32",
            "discounts": [
                {"reason": "Second floor this year", "percent": "2.5"},
                {"reason": "Paid for samples", "amount": "120"},
            ],
            "rounding": {"step": "25"},
        },
        "subcontracts": [
            {
                "id": "shot-blasting",
                "description": "Shot blasting of the ramp",
                "quantity": "3.5",
                "unit": "HUR",
                "unit_cost": "148.125",
            }
        ],
        "options": [{"id": "glaze", "label": "Glaze room too", "areas": ["glaze-room"]}],
    },
}
"""What is asked: the studio as it is, but for what is said here."""
CONDITIONAL = {
    "takeoff.collars": "every kind of work",
    "takeoff.cove-face": "every kind of work",
    "takeoff.cove-fillet": "every kind of work",
    "takeoff.cove-length": "every kind of work",
    "takeoff.crack-liquid": "every kind of work",
    "takeoff.crack-sand": "every kind of work",
    "takeoff.curbs": "every kind of work",
    "takeoff.drain-edge": "every kind of work",
    "takeoff.footprint": "every kind of work",
    "takeoff.pit-floor": "every kind of work",
    "takeoff.pit-sides": "every kind of work",
    "takeoff.sheeting": "every kind of work",
    "takeoff.slope": "every kind of work",
    "takeoff.step-sides": "every kind of work",
    "takeoff.strip-area": "every kind of work",
    "takeoff.strip-volume": "every kind of work",
    "takeoff.texture-sand-patch": "every kind of work",
    "takeoff.thresholds": "every kind of work",
    "takeoff.doorway-barrier": "rooms with doorways",
    "takeoff.doorways": "rooms with doorways",
    "takeoff.texture-assumed": "rooms with doorways",
    "labour.crew": "people available",
    "labour.sections": "sections",
    "schedule.abrasion": "sections",
    "materials.broadcast-to-refusal": "two lifts",
    "materials.grain-voids": "two lifts",
    "materials.void-mass": "two lifts",
    "materials.passes": "passes",
    "price.used-share": "used share",
    "price.markup": "markup and tax on materials",
    "price.materials-tax": "markup and tax on materials",
    "price.minimum-charge": "small job",
    "price.discount": "discounts, rounding and work bought in",
    "price.option": "discounts, rounding and work bought in",
    "price.rounding": "discounts, rounding and work bought in",
    "price.subcontract": "discounts, rounding and work bought in",
    "schedule.window": "forecast",
    "schedule.cure-through-weather": "forecast",
}
"""Rules that the studio's four systems do not call for, and the case that does."""
BESIDE_ESTIMATES = ("loading.", "comparison.")
"""Rules of other answers, which have tests of their own."""
ECHOED = {
    "catalogue_revision": "says which catalogue was read",
    "priced_on": "says which prices were read",
    "basis.": "the job as asked for, and what was assumed where it left a choice",
    "takeoff.areas[].substrate.": "the concrete as the site stated it",
    "takeoff.doorways[].sides[].": "where the site puts the doorway",
    "takeoff.doorways[].height": "as the site stated it",
    "takeoff.areas[].runs[].": "stretches without wall, as the site stated or the plan shows them",
}
ELSEWHERE = {
    "labour.visits": "an input of the trace of travel",
    "labour.crew": "the people of basis.crew together",
    "labour.activities[].duration": "the sum, or side by side the longest, of its traced tasks",
    "labour.activities[].section": "one of labour.sections, which have traces",
    "labour.activities[].dry_for": "stated by the production of its task",
    "schedule.first_day": "the day of the first of days, which have traces",
    "schedule.last_day": "the day of the last finish of activities, which have traces",
}
"""Figures that the trace of another record explains; tests below hold them to it."""
RECOMPUTED = arithmetic.CHECKS | trace_arithmetic_work.CHECKS | trace_arithmetic_price.CHECKS
NOT_RECOMPUTED = {
    "materials.coated-floor": "held to the totals of the takeoff below",
    "materials.coated-verticals": "held to the totals of the takeoff below",
    "materials.loss-stated": "held to the trace of the ordered volume",
    "materials.void-found": "held to the totals of the takeoff below",
    "materials.mix-placing-time": "needs the areas' figures, which the trace does not repeat",
}


@cache
def estimated(case: str) -> EstimateDocument:
    change = CASES[case]
    named = change.keys() & {"system", "months", "layers", "stock", "subcontracts"}
    job = {**STUDIO["job"], **{name: change[name] for name in named}}
    if "available" in change:
        job = {**job, "crew": [], "available": change["available"]}
    if "terms" in change:
        job["terms"] = change["terms"]
    body = {**STUDIO, "site": change.get("site", STUDIO["site"]), "job": job}
    body["options"] = change.get("options", [])
    request = decode(EstimateRequest, json.dumps(body).encode())
    return estimate_document(request, priced_demo("USD", date(2026, 6, 15)))


@cache
def written(case: str) -> Any:
    return json.loads(encode(estimated(case), "us"))


def excused(path: str) -> str | None:
    """The entry of the tables that the path falls under: itself, or what it lies inside."""
    for table in (ECHOED, ELSEWHERE):
        for entry in table:
            if path == entry or (entry.endswith(".") and path.startswith(entry)):
                return entry
    return None


def test_the_walk_finds_what_has_no_trace() -> None:
    length = {"value": 2.5, "unit": "m"}
    answer = {
        "bare": [{"run": length, "days": 3, "name": "wall"}],
        "known": {"run": length, "parts": [{"run": length}], "trace": {"rule": "made-up"}},
        "some": {
            "run": length,
            "pay": {"amount": "1.00", "currency": "USD"},
            "traces": {"run": {}},
        },
        "times": {"start": "2026-06-15T08:00:00Z", "lasts": "PT2H", "day": "2026-06-15"},
    }
    assert list(unexplained(answer)) == [
        "bare[].run",
        "bare[].days",
        "some.pay",
        "times.start",
        "times.lasts",
        "times.day",
    ]


@pytest.mark.parametrize("case", CASES)
def test_every_figure_is_explained(case: str) -> None:
    assert {path for path in unexplained(written(case)) if excused(path) is None} == set()


def test_no_excuse_is_left_over() -> None:
    paths = {path for case in CASES for path in unexplained(written(case))}
    assert {excused(path) for path in paths} == {*ECHOED, *ELSEWHERE}


@pytest.mark.parametrize("case", CASES)
def test_every_rule_named_is_published(case: str) -> None:
    assert set(rules_named(written(case))) <= set(rulebook())


def test_every_published_rule_is_named_by_an_answer() -> None:
    of_systems = {rule for case in list(CASES)[:4] for rule in rules_named(written(case))}
    beside = {rule for rule in rulebook() if rule.startswith(BESIDE_ESTIMATES)}
    assert set(rulebook()) - of_systems - beside == set(CONDITIONAL)
    for rule, case in CONDITIONAL.items():
        assert rule in set(rules_named(written(case))), rule


def test_every_equation_is_written_anew_or_excused() -> None:
    with_equation = {
        rule.id
        for rule in rulebook().values()
        if rule.equation is not None and not rule.id.startswith(("takeoff.", *BESIDE_ESTIMATES))
    }
    # those of the takeoff are worked again in takeoff/test_detail_traces.py
    assert with_equation == {*RECOMPUTED, *NOT_RECOMPUTED}


@pytest.mark.parametrize("case", CASES)
def test_each_figure_follows_from_the_inputs_of_its_trace(case: str) -> None:
    recomputed = set()
    wrong = []
    for record, field, trace in arithmetic.traced(estimated(case)):
        check = RECOMPUTED.get(trace.rule)
        if check is not None:
            recomputed.add(trace.rule)
            pairs = check(trace.inputs, record, field)
            wrong += [(trace.rule, field, *pair) for pair in pairs if not alike(*pair)]
    assert wrong == []
    assert len(recomputed) > 30


def alike(figure: Any, expected: Any) -> bool:
    """Money and counts are exact, times to the millisecond, other quantities to rounding."""
    if isinstance(figure, datetime):
        return bool(abs((figure - expected).total_seconds()) <= 2 * MILLISECOND)
    if isinstance(figure, Duration):
        return bool(abs(figure - expected) <= MILLISECOND)
    if isinstance(figure, float):
        return math.isclose(figure, expected, rel_tol=1e-9, abs_tol=1e-12)
    return bool(figure == expected)


@pytest.mark.parametrize("case", CASES)
def test_what_other_traces_explain_agrees_with_them(case: str) -> None:
    document = estimated(case)
    labour, schedule = document.labour, document.schedule
    tasks: dict[str, float] = {}
    for task in labour.tasks:
        known = tasks.get(task.activity, 0.0)
        both = max(known, task.duration) if task.beside else known + task.duration
        tasks[task.activity] = both
    for one in labour.activities:
        assert one.duration == pytest.approx(tasks[one.id])
    assert labour.crew == sum(one.count for one in document.basis.crew)
    assert labour.visits == labour.traces["travel"].inputs["visits"]
    assert schedule.first_day == schedule.days[0].date
    assert schedule.last_day == max(one.finish for one in schedule.activities).date()
    totals = document.takeoff.totals
    for name in totals.__struct_fields__:
        if name != "traces":
            parts = [getattr(area, name) for area in document.takeoff.areas]
            assert getattr(totals, name) == pytest.approx(sum(parts)), name
    for area in document.takeoff.areas:
        joined = [one.length for one in area.runs if one.kind == "joined"]
        assert area.joined_length == pytest.approx(sum(joined))
    for coat in document.materials.coats:
        if coat.kind != "repair":
            assert coat.floor == totals.floor
            assert coat.vertical in (totals.vertical, 0.0)
        else:
            assert coat.void_volume == pytest.approx(getattr(totals, VOIDS[coat.layer]))


VOIDS = {
    "fill_cracks": "crack_volume",
    "patch_spalls": "spall_volume",
    "fill_joints": "joint_volume",
    "form_cove": "cove_volume",
}


def lines(case: str) -> Iterator[tuple[str, Decimal, Decimal, Decimal]]:
    for one in written(case)["price"]["lines"]:
        quantity, each = Decimal(one["quantity"]), Decimal(one["unit_cost"]["amount"])
        yield one["description"], quantity, each, Decimal(one["amount"]["amount"])


@pytest.mark.parametrize("case", CASES)
def test_the_lines_can_be_worked_from_what_is_written(case: str) -> None:
    """Peppol BIS Billing 3.0: the net amount of a line is quantity times price, rounded once."""
    for description, quantity, each, amount in lines(case):
        assert arithmetic.money(quantity * each) == amount, description
