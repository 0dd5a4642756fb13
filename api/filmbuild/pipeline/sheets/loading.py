"""All that goes on the van, grouped by the stage of the job that needs it first."""

from collections.abc import Iterable, Iterator, Mapping
from typing import get_args

from filmbuild.pipeline.results import (
    Coat,
    ConsumableLine,
    Labour,
    LoadingList,
    LoadItem,
    LoadStage,
    Materials,
    Takeoff,
    Task,
)
from filmbuild.pipeline.sheets.power import gangs_of, site_extraction, site_power
from filmbuild.pipeline.specification import Catalogue, RateBook, Stage

STAGE_OF: Mapping[str, Stage] = {
    "set_up": "prepare",
    "protect": "mask",
    "strip_coating": "prepare",
    "machine_grind": "prepare",
    "hand_grind": "prepare",
    "vacuum": "prepare",
    "wash": "prepare",
    "chase_cracks": "repair",
    "fill_cracks": "repair",
    "patch_spalls": "repair",
    "fill_joints": "repair",
    "grind_repairs": "repair",
    "form_cove": "repair",
    "mask": "mask",
    "place_vertical": "coat",
    "place_cut_in": "coat",
    "place_field": "coat",
    "broadcast": "coat",
    "sweep_broadcast": "coat",
    "abrade": "coat",
    "solvent_wipe": "coat",
    "pull_tape": "finish",
    "demobilise": "finish",
}
ORDER: tuple[Stage, ...] = ("safety", "prepare", "repair", "mask", "coat", "finish")
"""In which stages stand on the list: what everybody wears comes first."""


def loading_list(
    takeoff: Takeoff, materials: Materials, labour: Labour, catalogue: Catalogue, book: RateBook
) -> LoadingList:
    found: dict[str, list[LoadItem]] = {stage: [] for stage in (*ORDER, *get_args(Stage))}
    for stage, item in _items(materials, labour):
        found[stage].append(item)
    stages = [LoadStage(stage=stage, items=tuple(items)) for stage, items in found.items() if items]
    return LoadingList(
        site=takeoff.site,
        system=catalogue.systems[materials.system].name,
        stages=tuple(stages),
        power=site_power(labour, book, catalogue.revision),
        extraction=site_extraction(labour, book, catalogue.revision),
    )


def _items(materials: Materials, labour: Labour) -> Iterator[tuple[str, LoadItem]]:
    yield from _packs(materials)
    yield from _machines(labour)
    yield from _consumables((*materials.consumables, *labour.consumables))


def _packs(materials: Materials) -> Iterator[tuple[str, LoadItem]]:
    """A product that serves several stages is loaded for the first of them."""
    uses: dict[str, list[str]] = {}
    stages: dict[str, str] = {}
    for coat in materials.coats:
        uses.setdefault(coat.product, []).append(coat.name)
        stages.setdefault(coat.product, _stage_of_coat(coat))
    named = {coat.layer: coat.name for coat in materials.coats}
    for one in materials.aggregates:
        uses.setdefault(one.product, []).append(named.get(one.layer, one.layer))
        stages.setdefault(one.product, STAGE_OF.get(one.layer, "coat"))
    for purchase in materials.purchases:
        for pack in purchase.packs:
            yield (
                stages.get(purchase.product, "coat"),
                LoadItem(
                    kind="pack",
                    id=pack.pack,
                    name=pack.name,
                    count=pack.count,
                    unit="pack",
                    used_for=tuple(uses.get(purchase.product, ())),
                ),
            )


def _stage_of_coat(coat: Coat) -> Stage:
    return "repair" if coat.kind == "repair" else "coat"


def _machines(labour: Labour) -> Iterator[tuple[str, LoadItem]]:
    tasks: dict[str, list[Task]] = {}
    for task in labour.tasks:
        for name in task.equipment:
            tasks.setdefault(name, []).append(task)
    for cost in labour.equipment:
        served = tasks.get(cost.equipment, [])
        stages = {STAGE_OF.get(task.code, "prepare") for task in served}
        yield (
            min(stages, key=ORDER.index, default="prepare"),
            LoadItem(
                kind="machine",
                id=cost.equipment,
                name=cost.name,
                count=gangs_of(served),
                unit="machine",
                days=cost.days,
                used_for=tuple(dict.fromkeys(_plainly(task) for task in served)),
            ),
        )


def _plainly(task: Task) -> str:
    """Without the layer that its name ends in."""
    return task.name if task.layer is None else task.name.partition(", ")[0]


def _consumables(lines: Iterable[ConsumableLine]) -> Iterator[tuple[str, LoadItem]]:
    for line in lines:
        yield (
            line.stage,
            LoadItem(kind=line.kind, id=line.id, name=line.name, count=line.count, unit=line.unit),
        )
