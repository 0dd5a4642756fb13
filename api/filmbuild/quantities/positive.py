"""The same kinds where zero makes no sense, and the list of all kinds."""

import msgspec

from filmbuild.quantities.kinds import (
    AirFlow,
    Area,
    AreaRate,
    Density,
    Dimension,
    Duration,
    Hours,
    Length,
    LengthRate,
    Mass,
    MassPerArea,
    MassRate,
    Measure,
    Power,
    Quantity,
    SmallVolume,
    SpreadRate,
    Thickness,
    Volume,
    VolumeRate,
)


def _positive(measure: Measure) -> Measure:
    return msgspec.structs.replace(measure, positive=True)


class PositiveLength(Length):
    """[m]."""

    __slots__ = ()
    measure = _positive(Length.measure)


class PositiveDimension(Dimension):
    """[m]."""

    __slots__ = ()
    measure = _positive(Dimension.measure)


class PositiveHeight(Dimension):
    """[m] Heights, depths and diameters of what stands on a floor or is sunk into it."""

    __slots__ = ()
    measure = msgspec.structs.replace(_positive(Dimension.measure), maximum=30.0)


class PositiveSection(Dimension):
    """[m] Widths and depths of cracks, joints, patches and coves."""

    __slots__ = ()
    measure = msgspec.structs.replace(_positive(Dimension.measure), maximum=2.0)


class PositiveThickness(Thickness):
    """[m]."""

    __slots__ = ()
    measure = _positive(Thickness.measure)


class PositiveArea(Area):
    """[m2]."""

    __slots__ = ()
    measure = _positive(Area.measure)


class PositiveVolume(Volume):
    """[m3]."""

    __slots__ = ()
    measure = _positive(Volume.measure)


class PositiveSmallVolume(SmallVolume):
    """[m3] What a measuring cylinder holds."""

    __slots__ = ()
    measure = msgspec.structs.replace(_positive(SmallVolume.measure), maximum=0.02)


class PositiveMass(Mass):
    """[kg]."""

    __slots__ = ()
    measure = _positive(Mass.measure)


class PositiveDensity(Density):
    """[kg/m3]."""

    __slots__ = ()
    measure = _positive(Density.measure)


class PositiveSpreadRate(SpreadRate):
    """[m2/m3]."""

    __slots__ = ()
    measure = _positive(SpreadRate.measure)


class PositiveMassPerArea(MassPerArea):
    """[kg/m2]."""

    __slots__ = ()
    measure = _positive(MassPerArea.measure)


class PositiveAreaRate(AreaRate):
    """[m2/s]."""

    __slots__ = ()
    measure = _positive(AreaRate.measure)


class PositiveLengthRate(LengthRate):
    """[m/s]."""

    __slots__ = ()
    measure = _positive(LengthRate.measure)


class PositiveMassRate(MassRate):
    """[kg/s]."""

    __slots__ = ()
    measure = _positive(MassRate.measure)


class PositiveVolumeRate(VolumeRate):
    """[m3/s]."""

    __slots__ = ()
    measure = _positive(VolumeRate.measure)


class PositivePower(Power):
    """[W]."""

    __slots__ = ()
    measure = _positive(Power.measure)


class PositiveAirFlow(AirFlow):
    """[m3/s]."""

    __slots__ = ()
    measure = _positive(AirFlow.measure)


class PositiveHours(Hours):
    """[s] Labour."""

    __slots__ = ()
    measure = _positive(Hours.measure)


class PositiveDuration(Duration):
    """[s] Elapsed time."""

    __slots__ = ()
    measure = _positive(Duration.measure)


def all_kinds(base: type[Quantity] = Quantity) -> tuple[type[Quantity], ...]:
    found: list[type[Quantity]] = []
    for kind in base.__subclasses__():
        found += (kind, *all_kinds(kind))
    return tuple(found)
