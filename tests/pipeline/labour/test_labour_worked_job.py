"""One small job, worked by hand: the hall of `labour_cases`.

Two people, so that a task of one person has two gangs where it may and one where it may not.
    set up          1.0 h, two people                            =  1.0 h crew   2.0 h labour
    machine grind   0.5 + 90/30, one gang                        =  3.5          3.5
    hand grind      10/(5 x 2), two gangs                        =  1.0          2.0
    vacuum          100/(100 x 2)                                =  0.5          1.0
    chase cracks    12/12                                        =  1.0          1.0
    fill cracks     12/24                                        =  0.5          0.5
    grind repairs   12/24                                        =  0.5          0.5
    mask            40/(40 x 2)                                  =  0.5          1.0
    each coat       20/20 by one, then 100/50 by two             =  3.0          5.0
    abrade          100/50                                       =  2.0          2.0
    pull tape       40/80                                        =  0.5          0.5
    demobilise      1.0 h, two people                            =  1.0          2.0
    all, two coats                                               = 18.0 h       26.0 h
Paid: 2 x (18 + 0.5 of travel) = 37 h at 20 x 1.25 = 25 an hour = 925.00; 18 h are 3 shifts of 8.
Equipment: grinder 3.5 h, a day at 100; extractor as long, at least 3 days at 50 = 150; hand
grinder 1 + 1 + 0.5 = 2.5 h, a day for each of two gangs at 30 = 60.
"""

from decimal import Decimal

import pytest
from labour_cases import HOUR, REVISION, Case
from materials_cases import USD

from filmbuild.money import NonNegativeExact
from filmbuild.pipeline.results import Labour
from filmbuild.pipeline.rules.labour import RULES
from filmbuild.pipeline.specification import ConsumableRule

CREW_HOURS = {
    "set_up": (1.0, 2.0),
    "machine_grind": (3.5, 3.5),
    "hand_grind": (1.0, 2.0),
    "vacuum": (0.5, 1.0),
    "chase_cracks": (1.0, 1.0),
    "fill_cracks": (0.5, 0.5),
    "grind_repairs": (0.5, 0.5),
    "mask": (0.5, 1.0),
    "place_cut_in:body": (1.0, 1.0),
    "place_field:body": (2.0, 4.0),
    "abrade:top": (2.0, 2.0),
    "place_cut_in:top": (1.0, 1.0),
    "place_field:top": (2.0, 4.0),
    "pull_tape": (0.5, 0.5),
    "demobilise": (1.0, 2.0),
}


@pytest.fixture(scope="module")
def labour() -> Labour:
    bags = ConsumableRule(
        id="bags",
        name="Bags",
        kind="consumable",
        stage="prepare",
        driver="shift",
        per_count=1.0,
        quantity=2.0,
        unit_price=NonNegativeExact("3"),
        currency=USD,
    )
    return Case(consumables=(bags,)).labour()


def test_tasks_come_in_working_order_with_these_hours(labour: Labour) -> None:
    assert [task.id for task in labour.tasks] == list(CREW_HOURS)
    for task in labour.tasks:
        duration, people = CREW_HOURS[task.id]
        assert task.duration / HOUR == pytest.approx(duration), task.id
        assert task.labour / HOUR == pytest.approx(people), task.id
    assert labour.productive / HOUR == pytest.approx(26.0)


def test_the_whole_crew_is_paid_for_as_long_as_it_works_and_travels(labour: Labour) -> None:
    (line,) = labour.labour
    assert line.paid / HOUR == pytest.approx(37.0)
    assert line.rate_per_hour.amount == Decimal(25)
    assert line.amount.amount == Decimal("925.00")
    assert (labour.shifts, labour.travel.amount) == (3, Decimal("80.00"))


def test_machines_are_charged_by_days_and_gangs(labour: Labour) -> None:
    found = {one.equipment: (one.days, one.amount.amount) for one in labour.equipment}
    assert found == {
        "grinder": (1, Decimal(100)),
        "extractor": (3, Decimal(150)),
        "hand-grinder": (2, Decimal(60)),
    }
    used = [one.used / HOUR for one in labour.equipment]
    assert used == pytest.approx([3.5, 3.5, 2.5])


def test_consumables_of_the_shifts(labour: Labour) -> None:
    assert [(one.count, one.amount.amount) for one in labour.consumables] == [(6, Decimal(18))]


def test_a_coat_is_one_activity_in_one_shift(labour: Labour) -> None:
    coats = [one for one in labour.activities if one.one_shift]
    assert [(one.id, one.layer) for one in coats] == [("coat:body", "body"), ("coat:top", "top")]
    assert [one.duration / HOUR for one in coats] == pytest.approx([3.0, 3.0])


def test_what_is_worked_on_waits_for_its_cure_and_masking_does_not(labour: Labour) -> None:
    found = {one.id: (one.after, one.waits_for_cure) for one in labour.activities}
    assert found["grind_repairs"] == (("fill_cracks",), True)
    assert found["mask"] == (("grind_repairs",), False)
    assert found["coat:body"] == (("mask",), True)
    assert found["abrade:top"] == (("coat:body",), True)
    assert found["coat:top"] == (("abrade:top",), True)
    assert found["pull_tape"] == (("coat:top",), False)


def test_every_figure_names_a_published_rule_and_the_revision(labour: Labour) -> None:
    traces = [one.trace for one in labour.tasks]
    traces += [one.trace for one in labour.labour]
    traces += [one.trace for one in labour.equipment]
    traces += [one.cure.trace for one in labour.activities if one.cure is not None]
    assert {trace.rule for trace in traces} < {rule.id for rule in RULES}
    assert {trace.catalogue_revision for trace in traces} == {REVISION}
