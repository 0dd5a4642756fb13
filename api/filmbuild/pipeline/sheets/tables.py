"""The same sheets as comma-separated values: a line for each mix, and for each thing to load."""

from collections.abc import Iterator

from filmbuild.pipeline.csv_text import Cell, csv_text
from filmbuild.pipeline.results import LoadingList, Mix, MixingSheet, SheetCoat
from filmbuild.quantities import Area, Mass, UnitSystem, Volume, to_unit

MINUTE = 60.0


def mixing_table(sheet: MixingSheet, units: UnitSystem) -> str:
    """Units stand in the titles; times are minutes, those of the clock from the coat's start."""
    parts = max([len(coat.parts) for coat in sheet.coats], default=0)
    volume, mass, area = (to_unit(kind(0.0), units)[1] for kind in (Volume, Mass, Area))
    header = [
        "layer",
        "coat",
        "product",
        "mix",
        "whole_kit",
        f"volume [{volume}]",
        *(
            title
            for number in range(1, parts + 1)
            for title in (
                f"part_{number}",
                f"part_{number}_volume [{volume}]",
                f"part_{number}_mass [{mass}]",
            )
        ),
        "mixing_time [min]",
        "starts_at [min]",
        "working_life [min]",
        "placing_time [min]",
        "down_by [min]",
        "wet_edge_by [min]",
        f"covers [{area}]",
        "areas",
    ]
    return csv_text(header, _mixes(sheet, parts, units))


def _mixes(sheet: MixingSheet, parts: int, units: UnitSystem) -> Iterator[list[Cell]]:
    for coat in sheet.coats:
        for mix in coat.mixes:
            yield [
                coat.layer,
                coat.name,
                coat.product,
                *_mix(coat, mix, parts, units),
                "; ".join(sheet.areas.get(one, one) for one in mix.areas),
            ]


def _mix(coat: SheetCoat, mix: Mix, parts: int, units: UnitSystem) -> list[Cell]:
    cells: list[Cell] = [mix.number, mix.whole_kit, to_unit(mix.volume, units)[0]]
    for part in mix.parts:
        cells += [part.part, to_unit(part.volume, units)[0], to_unit(part.mass, units)[0]]
    cells += [None] * 3 * (parts - len(mix.parts))
    times = (
        mix.mixing_time,
        mix.starts_at,
        mix.working_life,
        mix.placing_time,
        mix.down_by,
        mix.wet_edge_by,
    )
    cells += [None if one is None else round(one / MINUTE, 2) for one in times]
    covers = None if coat.kind == "repair" and not mix.covers else to_unit(mix.covers, units)[0]
    return [*cells, covers]


def loading_table(loads: LoadingList) -> str:
    header = ["stage", "kind", "id", "name", "count", "unit", "machine_days", "used_for"]
    return csv_text(header, _items(loads))


def _items(loads: LoadingList) -> Iterator[list[Cell]]:
    for stage in loads.stages:
        for one in stage.items:
            used = "; ".join(one.used_for)
            yield [
                stage.stage,
                one.kind,
                one.id,
                one.name,
                one.count,
                one.unit,
                one.days,
                used,
            ]
