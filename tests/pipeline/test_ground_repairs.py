"""What is filled is ground flush: a strip along cracks and joints, and spalls."""

from typing import Any

import msgspec
import pytest
from labour_cases import (
    BODY,
    HALL,
    HOUR,
    PRODUCTIONS,
    SYSTEM,
    Case,
    area_rate,
    length_rate,
    replaced,
)
from materials_cases import area, production, takeoff

from filmbuild.errors import InvalidInput
from filmbuild.pipeline.results import AreaTakeoff, Task
from filmbuild.pipeline.specification import Repairs
from filmbuild.pipeline.tasks_present import REPAIR_STRIP, repair_area, task_codes

MORTAR = msgspec.structs.replace(BODY, id="quay-mortar", role="patch_mortar")
JOINT = msgspec.structs.replace(BODY, id="quay-joint", role="joint_filler")
REPAIRS = Repairs(crack_filler="quay-filler", patch_mortar="quay-mortar", joint_filler="quay-joint")
GROUND = production("grind_repairs", driver="repair_area", area_rate=area_rate(2))
OTHERS = (
    production("patch_spalls", driver="spall_area", area_rate=area_rate(4)),
    production("fill_joints", driver="joint_length", length_rate=length_rate(4)),
)


def hall(*, ground: bool = True, **measured: float) -> Case:
    """The hall, whose cracks are 12 m long, with what else was measured."""
    floor = msgspec.structs.replace(HALL, **measured)
    changed = (GROUND, *OTHERS) if ground else OTHERS
    return Case(
        areas=(floor,),
        system=msgspec.structs.replace(SYSTEM, repairs=REPAIRS),
        products=(*Case().products, MORTAR, JOINT),
        productions=replaced(PRODUCTIONS, *changed),
    )


def ground(case: Case) -> Task:
    return next(one for one in case.labour().tasks if one.code == "grind_repairs")


@pytest.mark.parametrize(
    "measured",
    [
        {"crack_length": 2.0, "crack_volume": 1e-4},
        {"spall_area": 0.5, "spall_volume": 1e-3},
        {"joint_length": 3.0, "joint_volume": 1e-4},
    ],
)
def test_each_kind_of_filled_repair_is_ground(measured: dict[str, Any]) -> None:
    assert "grind_repairs" in task_codes(takeoff(area(**measured)), SYSTEM)
    assert "grind_repairs" not in task_codes(takeoff(area()), SYSTEM)


def test_the_ground_area_is_a_strip_along_runs_and_the_spalls() -> None:
    # A strip of 100 mm: common practice, no source. 0.1 (12 + 20) + 2 = 5.2 m2 at 2 m2/h.
    assert REPAIR_STRIP == 0.1
    case = hall(spall_area=2.0, spall_volume=0.02, joint_length=20.0, joint_volume=1e-3)
    task = ground(case)
    assert task.quantity == pytest.approx(5.2)
    assert task.duration == pytest.approx(2.6 * HOUR)
    measured: AreaTakeoff = case.areas[0]
    assert repair_area(measured) == pytest.approx(5.2)


def test_a_rate_that_does_not_see_all_repairs_is_refused() -> None:
    blind = hall(ground=False, spall_area=2.0, spall_volume=0.02)
    with pytest.raises(InvalidInput) as caught:
        blind.labour()
    (fault,) = caught.value.faults
    assert fault.code == "no-production"
    assert "spall_area" in fault.detail
    assert "repair_area" in fault.detail


def test_cracks_alone_may_be_ground_by_their_length() -> None:
    assert ground(Case()).quantity == pytest.approx(12.0)
