"""The kinds of quantity. Each value is a float in SI, or in degrees Celsius for a temperature.

Calling a kind builds it from an SI float without checks; `parse` is what checks.
Arithmetic gives plain floats.
"""

from typing import ClassVar

import msgspec


class Measure(msgspec.Struct, frozen=True, kw_only=True):
    """How one kind is written and what is believed of it; the limits are in SI.

    `smallest` is the least value that is taken to be meant, apart from zero.
    """

    name: str
    dimension: str
    us: str
    si: str
    maximum: float
    smallest: float = 0.0
    minimum: float = 0.0
    positive: bool = False
    examples: tuple[str, ...]


class Quantity(float):
    """Base of all kinds."""

    __slots__ = ()
    measure: ClassVar[Measure]


class Length(Quantity):
    """[m] Sides of rooms, runs of edge and crack."""

    __slots__ = ()
    measure = Measure(
        name="length",
        dimension="length",
        us="ft",
        si="m",
        maximum=1e5,
        smallest=1e-6,
        examples=("24 ft 6 in", "7.5 m"),
    )


class Coordinate(Quantity):
    """[m] A place on the plan; may be negative."""

    __slots__ = ()
    measure = Measure(
        name="coordinate",
        dimension="length",
        us="ft",
        si="m",
        minimum=-1e6,
        maximum=1e6,
        examples=("-24 ft 6 in", "7.5 m"),
    )


class Dimension(Quantity):
    """[m] Widths of cracks, rises, radii."""

    __slots__ = ()
    measure = Measure(
        name="dimension",
        dimension="length",
        us="in",
        si="mm",
        maximum=1e3,
        smallest=1e-7,
        examples=("1/4 in", "6 mm"),
    )


class Thickness(Quantity):
    """[m] Films and surface texture."""

    __slots__ = ()
    measure = Measure(
        name="thickness",
        dimension="length",
        us="mil",
        si="um",
        maximum=1.0,
        smallest=1e-8,
        examples=("12 mil", "300 um"),
    )


class Area(Quantity):
    """[m2]."""

    __slots__ = ()
    measure = Measure(
        name="area",
        dimension="area",
        us="ft2",
        si="m2",
        maximum=1e9,
        smallest=1e-9,
        examples=("1200 ft2", "110 m2"),
    )


class Volume(Quantity):
    """[m3]."""

    __slots__ = ()
    measure = Measure(
        name="volume",
        dimension="volume",
        us="gal",
        si="L",
        maximum=1e6,
        smallest=1e-10,
        examples=("1.5 gal", "5 L"),
    )


class SmallVolume(Quantity):
    """[m3] What is written in fluid ounces or millilitres."""

    __slots__ = ()
    measure = Measure(
        name="volume",
        dimension="volume",
        us="fl_oz",
        si="mL",
        maximum=1e3,
        smallest=1e-10,
        examples=("12 fl oz", "350 mL"),
    )


class Mass(Quantity):
    """[kg]."""

    __slots__ = ()
    measure = Measure(
        name="mass",
        dimension="mass",
        us="lb",
        si="kg",
        maximum=1e9,
        smallest=1e-7,
        examples=("50 lb", "25 kg"),
    )


class Density(Quantity):
    """[kg/m3]."""

    __slots__ = ()
    measure = Measure(
        name="density",
        dimension="density",
        us="lb/gal",
        si="kg/L",
        maximum=30_000.0,
        smallest=1e-2,
        examples=("9.2 lb/gal", "1.1 kg/L"),
    )


class Temperature(Quantity):
    """[degC] A temperature on the scale, not a difference."""

    __slots__ = ()
    measure = Measure(
        name="temperature",
        dimension="temperature",
        us="degF",
        si="degC",
        minimum=-273.15,
        maximum=5_000.0,
        examples=("70 degF", "21 degC"),
    )


class TemperatureDifference(Quantity):
    """[K] May be negative."""

    __slots__ = ()
    measure = Measure(
        name="temperature difference",
        dimension="temperature difference",
        us="delta_degF",
        si="delta_degC",
        minimum=-5_000.0,
        maximum=5_000.0,
        examples=("5 delta_degF", "3 K"),
    )


class SpreadRate(Quantity):
    """[m2/m3] Area covered by a volume of liquid."""

    __slots__ = ()
    measure = Measure(
        name="spread rate",
        dimension="spread rate",
        us="ft2/gal",
        si="m2/L",
        maximum=1e8,
        smallest=1e-3,
        examples=("160 ft2/gal", "4 m2/L"),
    )


class MassPerArea(Quantity):
    """[kg/m2]."""

    __slots__ = ()
    measure = Measure(
        name="mass per area",
        dimension="mass per area",
        us="lb/ft2",
        si="kg/m2",
        maximum=1e4,
        smallest=1e-8,
        examples=("0.5 lb/ft2", "2.5 kg/m2"),
    )


class AreaRate(Quantity):
    """[m2/s]."""

    __slots__ = ()
    measure = Measure(
        name="area rate",
        dimension="area rate",
        us="ft2/h",
        si="m2/h",
        maximum=1e3,
        smallest=1e-10,
        examples=("400 ft2/h", "37 m2/h"),
    )


class LengthRate(Quantity):
    """[m/s]."""

    __slots__ = ()
    measure = Measure(
        name="length rate",
        dimension="length rate",
        us="ft/h",
        si="m/h",
        maximum=1e3,
        smallest=1e-9,
        examples=("120 ft/h", "36 m/h"),
    )


class MassRate(Quantity):
    """[kg/s]."""

    __slots__ = ()
    measure = Measure(
        name="mass rate",
        dimension="mass rate",
        us="lb/h",
        si="kg/h",
        maximum=1e5,
        smallest=1e-9,
        examples=("600 lb/h", "270 kg/h"),
    )


class VolumeRate(Quantity):
    """[m3/s]."""

    __slots__ = ()
    measure = Measure(
        name="volume rate",
        dimension="volume rate",
        us="gal/h",
        si="L/h",
        maximum=1e3,
        smallest=1e-12,
        examples=("5 gal/h", "19 L/h"),
    )


class MoistureEmission(Quantity):
    """[kg/(m2 s)] Water vapour given off by a slab."""

    __slots__ = ()
    measure = Measure(
        name="moisture emission",
        dimension="moisture emission",
        us="lb/1000ft2/24h",
        si="ug/m2/s",
        maximum=1e-3,
        smallest=1e-14,
        examples=("3 lb/1000ft2/24h", "170 ug/m2/s"),
    )


class Power(Quantity):
    """[W] What a machine draws."""

    __slots__ = ()
    measure = Measure(
        name="power",
        dimension="power",
        us="kW",
        si="kW",
        maximum=1e6,
        smallest=1e-3,
        examples=("2.2 kW", "1500 W"),
    )


class AirFlow(Quantity):
    """[m3/s]."""

    __slots__ = ()
    measure = Measure(
        name="air flow",
        dimension="air flow",
        us="ft3/min",
        si="m3/h",
        maximum=100.0,
        smallest=1e-7,
        examples=("125 ft3/min", "210 m3/h"),
    )


class Hours(Quantity):
    """[s] Labour, in crew or worker hours; written in hours."""

    __slots__ = ()
    measure = Measure(
        name="labour time",
        dimension="labour time",
        us="h",
        si="h",
        maximum=3.6e10,
        smallest=1e-3,
        examples=("6.5 h", "90 min"),
    )


class Duration(Quantity):
    """[s] Elapsed time; written as ISO 8601, to the millisecond."""

    __slots__ = ()
    measure = Measure(
        name="duration",
        dimension="duration",
        us="",
        si="",
        maximum=3.2e9,
        smallest=1e-3,
        examples=("PT4H30M", "P7D"),
    )
