"""How long a product takes, after placing, to be recoated, walked on, driven on and cured."""

from functools import lru_cache

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.cure import Arrhenius, CureTime, Halving, OutsideRule, TimePoint, time_at
from filmbuild.pipeline.materials.life import ACTIVATION_ENERGY
from filmbuild.pipeline.results import CureTimes
from filmbuild.pipeline.specification import OutsideTable, Product, RecoatPoint
from filmbuild.pipeline.specification import TimePoint as StatedTime
from filmbuild.pipeline.trace import Note, Trace
from filmbuild.pipeline.workdays import to_millisecond
from filmbuild.quantities import Duration, Temperature

LONGEST_CURE = 3_653 * 86_400.0
"""[s] What has not cured in ten years never does, as far as a plan is concerned."""


class _Stages(msgspec.Struct, frozen=True):
    recoat_minimum: CureTime
    recoat_maximum: CureTime | None
    foot_traffic: CureTime
    vehicle_traffic: CureTime
    full_cure: CureTime


class Curing:
    """The cure times of one job's products at its surface temperature [degC]."""

    def __init__(
        self, surface: Temperature, revision: int, faults: Faults, notes: list[Note]
    ) -> None:
        self._surface = surface
        self._revision = revision
        self._faults = faults
        self._notes = notes
        self._found: dict[str, CureTimes | None] = {}
        self._slow: list[str] = []

    def of(self, product: Product) -> CureTimes | None:
        """None with the reason among the faults; each product is worked out once."""
        if product.id not in self._found:
            self._found[product.id] = self._times(product)
        return self._found[product.id]

    def _times(self, product: Product) -> CureTimes | None:
        stages, missing = _stages(
            product.recoat,
            product.foot_traffic,
            product.vehicle_traffic,
            product.full_cure,
            product.outside_table,
            float(self._surface),
        )
        if stages is None:
            self._faults.add(
                "no-cure-times",
                f"product {product.id} states no full cure: the plan cannot say when it is ready",
                "system",
            )
            return None
        if missing:
            self._note_missing(product, missing)
        given = {name: getattr(stages, name) for name in _Stages.__struct_fields__}
        rules = {name: time.rule for name, time in given.items() if time is not None}
        if any(not time.duration <= LONGEST_CURE for time in given.values() if time is not None):
            self._slow.append(product.id)
            return None
        outside = [name for name, rule in rules.items() if rule in ("arrhenius", "halving")]
        if outside:
            self._note_outside(product, outside, rules[outside[0]])
        maximum = stages.recoat_maximum
        return CureTimes(
            recoat_after=_written(stages.recoat_minimum),
            recoat_before=None if maximum is None else _written(maximum),
            foot_traffic=_written(stages.foot_traffic),
            vehicle_traffic=_written(stages.vehicle_traffic),
            full_cure=_written(stages.full_cure),
            how=", ".join(dict.fromkeys(rules.values())),
            trace=Trace(
                "labour.cure-times",
                {
                    "product": product.id,
                    "surface_temperature": self._surface,
                    "rules": rules,
                    "stated": {
                        name: _shown(time) for name, time in given.items() if time is not None
                    },
                    **_outside_inputs(product.outside_table, outside),
                },
                self._revision,
            ),
        )

    def refuse_slow(self) -> None:
        """Adds a fault for each product that the surface is too cold for."""
        for product in self._slow:
            self._faults.add(
                "cures-too-slowly",
                f"at {self._surface:g} degC {product} takes more than ten years to cure: a warmer "
                "surface, or a product for the cold, is needed",
                "conditions",
                "surface_temperature",
            )

    def _note_outside(self, product: Product, names: list[str], rule: str) -> None:
        self._notes.append(
            Note(
                "cure-outside-table",
                f"{self._surface:g} degC lies outside what {product.id} states for "
                f"{', '.join(name.replace('_', ' ') for name in names)}: taken from the nearest "
                f"stated time by the product's rule ({rule}).",
            )
        )

    def _note_missing(self, product: Product, names: tuple[str, ...]) -> None:
        self._notes.append(
            Note(
                "cure-time-not-stated",
                f"{product.id} states no time for {', '.join(names)}: the next later stage that it "
                "states is taken instead.",
            )
        )


def _written(time: CureTime) -> Duration:
    """To the millisecond, as it is written: the plan is then the same from what was written."""
    return Duration(to_millisecond(time.duration))


def _shown(time: CureTime) -> dict[str, object]:
    """The stated points that a time was worked out from."""
    return {
        "temperatures": [Temperature(point.temperature) for point in time.stated],
        "times": [Duration(point.duration) for point in time.stated],
    }


def _outside_inputs(table: OutsideTable, outside: list[str]) -> dict[str, object]:
    rule = _outside(table)
    if not outside or not isinstance(rule, Arrhenius):
        return {}
    return {"activation_energy_joule_per_mole": rule.activation_energy}


@lru_cache(maxsize=1_024)
def _stages(
    recoat: tuple[RecoatPoint, ...],
    foot: tuple[StatedTime, ...],
    vehicle: tuple[StatedTime, ...],
    full: tuple[StatedTime, ...],
    table: OutsideTable,
    surface: float,
) -> tuple[_Stages | None, tuple[str, ...]]:
    """With what is not stated: it is taken from the next later stage that is, never sooner.

    None without a full cure.
    """
    outside = _outside(table)
    minima = [TimePoint(one.temperature, one.minimum) for one in recoat]
    maxima = [TimePoint(one.temperature, one.maximum) for one in recoat if one.maximum is not None]
    recoat_minimum, recoat_maximum, foot_traffic, vehicle_traffic, full_cure = (
        time_at(points, surface, outside) if points else None
        for points in (minima, maxima, _points(foot), _points(vehicle), _points(full))
    )
    stated = {
        "recoat": recoat_minimum,
        "foot traffic": foot_traffic,
        "vehicle traffic": vehicle_traffic,
    }
    missing = tuple(name for name, time in stated.items() if time is None)
    if full_cure is None:
        return None, missing
    vehicle_traffic = vehicle_traffic or full_cure
    foot_traffic = foot_traffic or vehicle_traffic
    minimum = recoat_minimum or foot_traffic
    return _Stages(minimum, recoat_maximum, foot_traffic, vehicle_traffic, full_cure), missing


def _points(times: tuple[StatedTime, ...]) -> list[TimePoint]:
    return [TimePoint(one.temperature, one.duration) for one in times]


def _outside(table: OutsideTable) -> OutsideRule:
    if table.rule != "arrhenius":
        return Halving()
    return Arrhenius(table.activation_energy_joule_per_mole or ACTIVATION_ENERGY)
