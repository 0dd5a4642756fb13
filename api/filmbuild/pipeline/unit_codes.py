"""Units that lines are priced in, by their codes of UNECE Recommendation 20.

Names are those of the recommendation, revision 17; `X` begins codes of Recommendation 21 (packages).
"""

from types import MappingProxyType
from typing import NamedTuple


class UnitCode(NamedTuple):
    """`symbol` is what the unit is written as where the code itself would not be understood."""

    code: str
    name: str
    symbol: str


_UNITS = (
    UnitCode("MTK", "square metre", "m²"),
    UnitCode("FTK", "square foot", "ft²"),
    UnitCode("YDK", "square yard", "yd²"),
    UnitCode("MTR", "metre", "m"),
    UnitCode("FOT", "foot", "ft"),
    UnitCode("YRD", "yard", "yd"),
    UnitCode("INH", "inch", "in"),
    UnitCode("CMT", "centimetre", "cm"),
    UnitCode("MMT", "millimetre", "mm"),
    UnitCode("4H", "micrometre", "µm"),
    UnitCode("77", "milli-inch", "mil"),
    UnitCode("KMT", "kilometre", "km"),
    UnitCode("SMI", "mile (statute mile)", "mi"),
    UnitCode("LM", "linear metre", "lm"),
    UnitCode("LF", "linear foot", "lf"),
    UnitCode("MTQ", "cubic metre", "m³"),
    UnitCode("FTQ", "cubic foot", "ft³"),
    UnitCode("YDQ", "cubic yard", "yd³"),
    UnitCode("LTR", "litre", "L"),
    UnitCode("MLT", "millilitre", "mL"),
    UnitCode("GLL", "gallon (US)", "gal"),
    UnitCode("QTL", "liquid quart (US)", "qt"),
    UnitCode("PTL", "liquid pint (US)", "pt"),
    UnitCode("OZA", "fluid ounce (US)", "fl oz"),
    UnitCode("GLI", "gallon (UK)", "imp gal"),
    UnitCode("KGM", "kilogram", "kg"),
    UnitCode("GRM", "gram", "g"),
    UnitCode("TNE", "tonne (metric ton)", "t"),
    UnitCode("LBR", "pound", "lb"),
    UnitCode("ONZ", "ounce (avoirdupois)", "oz"),
    UnitCode("MIN", "minute", "min"),
    UnitCode("HUR", "hour", "h"),
    UnitCode("DAY", "day", "d"),
    UnitCode("WEE", "week", "wk"),
    UnitCode("MON", "month", "mo"),
    UnitCode("C62", "one", "1"),
    UnitCode("EA", "each", "ea"),
    UnitCode("H87", "piece", "pc"),
    UnitCode("PR", "pair", "pr"),
    UnitCode("SET", "set", "set"),
    UnitCode("KT", "kit", "kit"),
    UnitCode("LS", "lump sum", "lump sum"),
    UnitCode("E48", "service unit", "service"),
    UnitCode("P1", "percent", "%"),
    UnitCode("XBG", "bag", "bag"),
    UnitCode("XPA", "packet", "packet"),
    UnitCode("XBX", "box", "box"),
    UnitCode("XDR", "drum", "drum"),
    UnitCode("XPK", "package", "package"),
    UnitCode("XRO", "roll", "roll"),
    UnitCode("XCT", "carton", "carton"),
)
UNITS = MappingProxyType({unit.code: unit for unit in _UNITS})
LUMP_SUM = "LS"
