"""What the details of one area add up to, while they are being measured."""

from collections.abc import Sequence
from typing import Any

import msgspec

from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Area, Length, Volume


class Rim(msgspec.Struct, frozen=True, gc=False):
    """Things of one shape that stand on a floor: what a band round each of them covers."""

    perimeter: float
    corners: float
    count: int

    def band(self, width: float) -> float:
        """[m2] All round, corners mitred: `perimeter x w + corners x w2`, 4 square, pi round."""
        return self.count * width * (self.perimeter + self.corners * width)


class Found(msgspec.Struct):
    """`amounts` and `traces` are by field of the area's takeoff; `tape` by what is taped [m].

    `running` [m] is by what is linear work. `net` [m2] is the outline less its islands, `uncoated` what of it the coating leaves out;
    `rims` stand in the open floor.
    """

    net: float
    amounts: dict[str, Any] = {}
    traces: dict[str, Trace] = {}
    tape: dict[str, Length] = {}
    running: dict[str, Length] = {}
    rims: list[Rim] = []
    uncoated: float = 0.0

    def area(self, field: str, value: float, trace: Trace) -> None:
        if value:
            self.amounts[field] = Area(value)
            self.traces[field] = trace

    def length(self, field: str, value: float, trace: Trace) -> None:
        if value:
            self.amounts[field] = Length(value)
            self.traces[field] = trace

    def volume(self, field: str, value: float, trace: Trace) -> None:
        if value:
            self.amounts[field] = Volume(value)
            self.traces[field] = trace

    def along(self, what: str, length: float) -> None:
        if length:
            self.tape[what] = Length(self.tape.get(what, 0.0) + length)

    def runs_on(self, what: str, length: float) -> None:
        if length:
            self.running[what] = Length(length)

    def sum_of(self, fields: Sequence[str]) -> dict[str, float]:
        """Those of the fields that were found."""
        amounts = self.amounts
        return {field: amounts[field] for field in fields if field in amounts}
