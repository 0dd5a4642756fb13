"""Figures as they are read off a sheet of paper."""

from filmbuild.quantities import Duration, Quantity, SmallVolume, UnitSystem, Volume, format_text

_MEASURED_SMALL = 1e-3
"""[m3] Less than a litre is measured with a cup: in fluid ounces or millilitres."""


def shown(quantity: Quantity | None, system: UnitSystem) -> str:
    """Rounded to about four digits; nothing for what is not there."""
    if quantity is None:
        return ""
    if isinstance(quantity, Volume) and quantity < _MEASURED_SMALL:
        quantity = SmallVolume(quantity)
    return format_text(quantity, system).replace("fl_oz", "fl oz")


def minutes(time: Duration | None) -> str:
    """Whole minutes and, of a few, tenths: rounded down, since it is a limit."""
    if time is None:
        return ""
    tenths = int(time / 6.0 + 1e-9)
    return f"{tenths / 10:g}" if tenths < 100 else f"{tenths // 10}"  # noqa: PLR2004 - ten minutes
