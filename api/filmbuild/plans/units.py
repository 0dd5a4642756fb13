"""The units that a drawing's $INSUNITS names, exactly."""

from fractions import Fraction
from typing import NamedTuple, cast

from filmbuild.errors import Refusal
from filmbuild.pipeline.site import CoordinateUnit

_INCH = Fraction(254, 10_000)
_KNOWN: dict[int, tuple[str, Fraction]] = {
    1: ("in", _INCH),
    2: ("ft", 12 * _INCH),
    4: ("mm", Fraction(1, 1000)),
    5: ("cm", Fraction(1, 100)),
    6: ("m", Fraction(1)),
    7: ("km", Fraction(1000)),
    9: ("mil", _INCH / 1000),
    10: ("yd", 36 * _INCH),
    14: ("dm", Fraction(1, 10)),
    15: ("dam", Fraction(10)),
    16: ("hm", Fraction(100)),
    21: ("US survey ft", Fraction(1200, 3937)),
    22: ("US survey in", Fraction(100, 3937)),
    23: ("US survey yd", Fraction(3600, 3937)),
}
_WRITTEN = ("m", "cm", "mm", "ft", "in", "yd")


class Scale(NamedTuple):
    """The unit outlines are written in, how many of it one of the drawing's is, the file's own."""

    unit: CoordinateUnit
    factor: Fraction
    stated: str | None


def scale_of(code: int, given: CoordinateUnit | None) -> Scale:
    """Raises Refusal where the unit is not known, or is contradicted."""
    if code and code not in _KNOWN:
        if given is None:
            raise Refusal("unknown-unit", f"$INSUNITS {code} is no unit of buildings; give `unit`")
        return Scale(given, Fraction(1), None)
    if not code:
        if given is None:
            raise Refusal("missing-unit", "the drawing states no unit ($INSUNITS 0): give `unit`")
        return Scale(given, Fraction(1), None)
    name, metres = _KNOWN[code]
    if given is not None and given != name:
        detail = f"the drawing's own unit is {name} ($INSUNITS {code}); leave `unit` out"
        raise Refusal("unit-contradicts-drawing", detail)
    if name in _WRITTEN:
        return Scale(cast("CoordinateUnit", name), Fraction(1), name)
    return Scale("m", metres, name)
