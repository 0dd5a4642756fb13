"""The units that are read and written, and their factors to SI.

Text from a caller is only ever looked up in the tables here; pint sees expressions made from them.
"""

from fractions import Fraction
from functools import cache, lru_cache
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    import pint


MOST_SPELLINGS = 1024
"""Of units that are remembered: those that are none are remembered too, and have no end."""
LARGEST_EXACT = 2**53  # whole numbers up to here are floats without rounding


class Unit(NamedTuple):
    """SI value = (value - origin) * over / under.

    The scale is kept as two whole numbers so that converting rounds once: 12 mil is 12 * 127 /
    5 000 000 m, which is the float nearest to 0.0003048.
    """

    label: str
    over: float
    under: float
    origin: float

    def to_si(self, value: float) -> float:
        return (value - self.origin) * self.over / self.under

    def from_si(self, value: float) -> float:
        return value * self.under / self.over + self.origin


# canonical spelling: (pint expression, other spellings, with "_" for a space)
_BASES: dict[str, tuple[str, str]] = {
    "km": ("kilometer", "kilometer kilometers kilometre kilometres"),
    "m": ("meter", "meter meters metre metres"),
    "cm": ("centimeter", "centimeter centimeters centimetre centimetres"),
    "mm": ("millimeter", "millimeter millimeters millimetre millimetres"),
    "um": ("micrometer", "µm μm micron microns micrometer micrometers micrometre micrometres"),
    "yd": ("yard", "yard yards"),
    "ft": ("foot", "foot feet lf ' \u2032"),
    "in": ("inch", 'inch inches " \u2033'),
    "mil": ("thou", "mils thou"),
    "m2": ("meter**2", "sqm sq_m square_meters square_metres"),
    "cm2": ("centimeter**2", ""),
    "mm2": ("millimeter**2", ""),
    "yd2": ("yard**2", "sqyd sq_yd sy square_yards square_yard"),
    "ft2": ("foot**2", "sqft sq_ft sf sq_feet square_feet square_foot square_ft"),
    "in2": ("inch**2", "sqin sq_in square_inches square_inch"),
    "m3": ("meter**3", "cu_m cubic_meters cubic_metres"),
    "L": ("liter", "l liter liters litre litres"),
    "mL": ("milliliter", "ml milliliter milliliters millilitre millilitres"),
    "cm3": ("centimeter**3", "cc"),
    "yd3": ("yard**3", "cuyd cu_yd cy cubic_yards cubic_yard"),
    "ft3": ("foot**3", "cuft cu_ft cf cubic_feet cubic_foot"),
    "in3": ("inch**3", "cuin cu_in cubic_inches cubic_inch"),
    "gal": ("gallon", "gallon gallons"),
    "qt": ("quart", "quart quarts"),
    "pt": ("pint", "pint pints"),
    "fl_oz": ("fluid_ounce", "floz fluid_oz fluid_ounce fluid_ounces"),
    "t": ("metric_ton", "tonne tonnes"),
    "kg": ("kilogram", "kilogram kilograms"),
    "g": ("gram", "gram grams"),
    "ug": ("microgram", "µg μg microgram micrograms"),
    "lb": ("pound", "lbs pound pounds"),
    "oz": ("ounce", "ounce ounces"),
    "degC": ("degree_Celsius", "°C C celsius"),
    "degF": ("degree_Fahrenheit", "°F F fahrenheit"),
    "K": ("kelvin", "kelvin kelvins"),
    "delta_degC": ("delta_degree_Celsius", "delta°C Δ°C ΔdegC"),
    "delta_degF": ("delta_degree_Fahrenheit", "delta°F Δ°F ΔdegF"),
    "d": ("day", "day days"),
    "h": ("hour", "hr hrs hour hours"),
    "min": ("minute", "mins minute minutes"),
    "s": ("second", "sec secs second seconds"),
    "W": ("watt", "watt watts"),
    "kW": ("kilowatt", "kilowatt kilowatts kw"),
    "ft3/min": ("foot**3/minute", "cfm"),
    "24h": ("(24*hour)", "24_h 24hr 24_hr 24_hours"),
    "1000ft2": ("(1000*foot**2)", "1000_ft2 1000sqft 1000sq_ft 1000_sq_ft 1000sf 1000_sf"),
}

# dimension: the units in which it is accepted, by canonical label
ACCEPTED: dict[str, tuple[str, ...]] = {
    "length": ("ft", "in", "yd", "mil", "m", "cm", "mm", "um", "km"),
    "area": ("ft2", "in2", "yd2", "m2", "cm2", "mm2"),
    "volume": ("gal", "qt", "pt", "fl_oz", "in3", "ft3", "yd3", "L", "mL", "cm3", "m3"),
    "mass": ("lb", "oz", "kg", "g", "t"),
    "density": ("lb/gal", "lb/ft3", "kg/L", "g/mL", "g/cm3", "kg/m3"),
    "temperature": ("degF", "degC", "K"),
    "temperature difference": ("delta_degF", "degF", "delta_degC", "degC", "K"),
    "spread rate": ("ft2/gal", "m2/L"),
    "mass per area": ("lb/ft2", "lb/yd2", "oz/ft2", "kg/m2", "g/m2"),
    "area rate": ("ft2/h", "ft2/min", "m2/h", "m2/min"),
    "length rate": ("ft/h", "ft/min", "m/h", "m/min"),
    "mass rate": ("lb/h", "lb/min", "kg/h", "kg/min"),
    "volume rate": ("gal/h", "gal/min", "L/h", "L/min"),
    "moisture emission": ("lb/1000ft2/24h", "ug/m2/s", "g/m2/24h"),
    "labour time": ("h", "min", "s"),
    "power": ("kW", "W"),
    "air flow": ("ft3/min", "m3/h", "L/s"),
}
COMPOUND = frozenset({"length", "volume", "mass", "labour time"})

_CANONICAL = {
    spelling: label
    for label, (_, spellings) in _BASES.items()
    for spelling in (label, *spellings.split())
}
_CANONICAL_LOWER = {
    spelling.lower(): label for spelling, label in _CANONICAL.items() if len(spelling) > 1
}
_REWRITE = str.maketrans({" ": "_", "^": None, ".": None, "²": "2", "³": "3"})


def _canonical_part(text: str) -> str:
    if text in _CANONICAL:
        return _CANONICAL[text]
    plain = text.translate(_REWRITE)
    return _CANONICAL.get(plain) or _CANONICAL_LOWER.get(plain.lower(), text)


def canonical(spelling: str) -> str:
    """The label of a spelling; a spelling that is not known is given back as it stands."""
    if "/" not in spelling:
        return _canonical_part(spelling)
    return "/".join(_canonical_part(part.strip()) for part in spelling.split("/"))


@cache
def _registry() -> "pint.UnitRegistry[Fraction]":
    import pint  # noqa: PLC0415 - half a second, paid when a quantity is first converted

    return pint.UnitRegistry(non_int_type=Fraction)


def _expression(label: str) -> str:
    return "/".join(_BASES[part][0] for part in label.split("/"))


@cache
def unit(dimension: str, label: str) -> Unit:
    """The factors of one of the `ACCEPTED` units."""
    registry = _registry()
    expression = _expression(label)
    origin = Fraction(0)
    if dimension == "temperature":
        origin = registry.Quantity(Fraction(0), "degree_Celsius").to(expression).magnitude
    if dimension.startswith("temperature"):
        expression = expression.replace("delta_", "").replace("degree", "delta_degree")
    one = registry.parse_expression(expression)
    over, under = one.to_base_units().magnitude.as_integer_ratio()
    if max(over, under) < LARGEST_EXACT:
        return Unit(label, float(over), float(under), float(origin))
    return Unit(label, over / under, 1.0, float(origin))


@lru_cache(maxsize=MOST_SPELLINGS)
def find(dimension: str, spelling: str) -> Unit | None:
    label = canonical(spelling)
    return unit(dimension, label) if label in ACCEPTED[dimension] else None


def dimension_of(spelling: str) -> str | None:
    """The first dimension in which a spelling is accepted, to explain a refusal."""
    label = canonical(spelling)
    return next((name for name, labels in ACCEPTED.items() if label in labels), None)


def warm() -> None:
    """Compute all factors now, so that the first request does not wait for them."""
    for dimension, labels in ACCEPTED.items():
        for label in labels:
            unit(dimension, label)
