"""How long a mix can be worked: by the surface temperature, and by how much of it there is."""

import math

import msgspec
from msgspec.structs import force_setattr

from filmbuild.errors import Faults
from filmbuild.pipeline.cure import Arrhenius, Halving, OutsideRule, TimePoint, time_at
from filmbuild.pipeline.job import WorkCalendar
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import OutsideTable, Product
from filmbuild.pipeline.specification import TimePoint as StatedTime
from filmbuild.quantities import Duration, Temperature, Volume

ACTIVATION_ENERGY = 50_000.0
"""[J/mol] Where a product names the Arrhenius rule without a value: it about halves times per 10 K
at room temperature."""
LIFE_EXPONENT = 0.15
"""How fast a larger mass sets, where a product states none: ten times the mass has three tenths
less time (common practice, no source)."""
_MOST_POWER = 500.0
"""Beyond e to this no mix is that large, and numbers end."""
_MINUTES_PER_DAY = 24 * 60


class Life(msgspec.Struct, frozen=True):
    """How long a mix can be worked [s], from when its parts meet, and by which rule.

    `tabled` holds in a mix of `reference` [m3]; without one, in any. A mix of another volume has
    `tabled x (reference / volume) ** exponent`, between `shortest` and `longest`: shares of it, and
    no longer than the shift. Up to a volume `even` all have the longest.
    """

    tabled: float
    rule: str
    temperature: float
    shift: float
    reference: float | None = None
    exponent: float = 0.0
    shortest_share: float = 1.0
    longest_share: float = 1.0
    longest: float = 0.0
    shortest: float = 0.0
    even: float = math.inf

    def __post_init__(self) -> None:
        longest = min(self.shift, self.tabled * self.longest_share)
        force_setattr(self, "longest", longest)
        force_setattr(self, "shortest", min(longest, self.tabled * self.shortest_share))
        force_setattr(self, "even", self._even())

    def _even(self) -> float:
        falls = self.exponent > 0 and self.longest > self.shortest
        return self.largest(self.longest) if falls else math.inf

    @property
    def by_size(self) -> bool:
        return self.even < math.inf

    def of(self, volume: float) -> float:
        """[s] Of a mix of a volume [m3]; never longer of a larger one."""
        if volume <= self.even or self.reference is None:
            return self.longest
        own = self.tabled * math.pow(self.reference / volume, self.exponent)
        return min(self.longest, max(self.shortest, own))

    def largest(self, duration: float) -> float:
        """[m3] The largest mix that can be worked so long [s]: the inverse of `of`."""
        if duration <= self.shortest:
            return math.inf
        if duration > self.longest or self.reference is None:
            return 0.0
        power = math.log(self.tabled / duration) / self.exponent
        return self.reference * math.exp(power) if power < _MOST_POWER else math.inf

    def rule_of(self, volume: float) -> str:
        """What the life of a mix comes from: the shift where that is the shorter."""
        return "shift" if self.of(volume) >= self.shift else self.rule

    def inputs(self) -> dict[str, object]:
        found: dict[str, object] = {
            "working_life": Duration(self.tabled),
            "working_life_rule": self.rule,
            "temperature": Temperature(self.temperature),
            "shift": Duration(self.shift),
        }
        if self.reference is not None:
            found |= {
                "reference_volume": Volume(self.reference),
                "exponent": self.exponent,
                "shortest_share": self.shortest_share,
                "longest_share": self.longest_share,
            }
        return found


def working_life(
    product: Product,
    thinner: float,
    selection: Selection,
    calendar: WorkCalendar,
    faults: Faults,
) -> Life | None:
    """Of a product's mixes at the surface temperature: no longer than the shift.

    A product of several parts without a stated working life is a fault: its mixes cannot be
    planned.
    """
    shift, temperature = _shift(calendar), selection.conditions.surface_temperature
    if not product.working_life:
        if len(product.parts) == 1:
            return Life(shift, "shift", temperature, shift)
        detail = f"product {product.id} has {len(product.parts)} parts and needs a working life"
        faults.add("no-working-life", detail, "system")
        return None
    tabled, rule = time_of(product.working_life, product, temperature)
    sample = product.working_life_sample
    if sample is None:
        return Life(tabled, rule, temperature, shift)
    return Life(
        tabled,
        rule,
        temperature,
        shift,
        reference_volume(product) * (1 + thinner),
        LIFE_EXPONENT if sample.exponent is None else sample.exponent,
        sample.shortest_share,
        sample.longest_share,
    )


def reference_volume(product: Product) -> float:
    """[m3] of product, unthinned, that its working life was measured in."""
    sample = product.working_life_sample
    if sample is None:
        return 0.0
    if sample.volume is not None:
        return sample.volume
    return (sample.mass or 0.0) / product.mixed_density


def time_of(
    points: tuple[StatedTime, ...], product: Product, temperature: float
) -> tuple[float, str]:
    """[s] What a product's table says of a temperature [degC], and by which rule."""
    stated = [TimePoint(one.temperature, one.duration) for one in points]
    found = time_at(stated, temperature, _outside(product.outside_table))
    return found.duration, found.rule


def _outside(table: OutsideTable) -> OutsideRule:
    if table.rule == "arrhenius":
        return Arrhenius(table.activation_energy_joule_per_mole or ACTIVATION_ENERGY)
    return Halving()


def _shift(calendar: WorkCalendar) -> float:
    minutes = _minutes(calendar.shift_end) - _minutes(calendar.shift_start)
    return 60.0 * (minutes if minutes > 0 else minutes + _MINUTES_PER_DAY)


def _minutes(clock: str) -> int:
    return 60 * int(clock[:2]) + int(clock[3:])
