"""The takeoff as a table: a line for each area, and one for the whole site."""

from collections.abc import Iterator, Sequence
from functools import cache
from types import NoneType
from typing import get_args

import msgspec

from filmbuild.pipeline.csv_text import Cell, csv_text
from filmbuild.pipeline.results import AreaTakeoff, Takeoff, Totals
from filmbuild.quantities import Quantity, UnitSystem, to_unit

_WHOLE = "all areas"


class _Column(msgspec.Struct, frozen=True):
    """A field of an area's takeoff; `kind` is that of its quantity, where it is one."""

    field: str
    kind: type[Quantity] | None

    def title(self, system: UnitSystem) -> str:
        return (
            self.field
            if self.kind is None
            else f"{self.field} [{to_unit(self.kind(0.0), system)[1]}]"
        )


def takeoff_table(takeoff: Takeoff, units: UnitSystem) -> str:
    """Comma-separated values; the unit of each column stands in its title.

    Areas are in the site's order. In the last line what is not a sum is empty.
    """
    columns = _columns()
    header = [column.title(units) for column in columns]
    return csv_text(header, _rows(takeoff, columns, units))


def _rows(takeoff: Takeoff, columns: Sequence[_Column], units: UnitSystem) -> Iterator[list[Cell]]:
    for area in takeoff.areas:
        yield [_cell(getattr(area, column.field), units) for column in columns]
    totals = takeoff.totals
    sums = [
        _cell(getattr(totals, column.field), units)
        if column.field in Totals.__struct_fields__
        else None
        for column in columns
    ]
    yield [_WHOLE, *sums[1:]]


def _cell(value: object, units: UnitSystem) -> Cell:
    if isinstance(value, Quantity):
        return to_unit(value, units)[0]
    return value if isinstance(value, str | int) else None


@cache
def _columns() -> tuple[_Column, ...]:
    """The fields of an area that hold one word or number each."""
    found = []
    for field in msgspec.structs.fields(AreaTakeoff):
        kinds = [one for one in get_args(field.type) or (field.type,) if one is not NoneType]
        if len(kinds) == 1 and isinstance(kinds[0], type):
            if issubclass(kinds[0], Quantity):
                found.append(_Column(field.name, kinds[0]))
            elif issubclass(kinds[0], str | int):
                found.append(_Column(field.name, None))
    return tuple(found)
