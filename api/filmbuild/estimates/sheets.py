"""The mixing sheet and the loading list as pages to print: A4 or US Letter, black on white."""

from base64 import b64encode
from collections.abc import Iterator, Mapping
from functools import cache
from hashlib import sha256
from typing import Any, Literal

import msgspec
from jinja2 import Environment, PackageLoader, StrictUndefined

from filmbuild.pipeline.results import (
    LoadingList,
    LoadingListDocument,
    LoadItem,
    LoadStage,
    Mix,
    MixingSheet,
    MixingSheetDocument,
    SheetCoat,
)
from filmbuild.pipeline.sheets.figures import minutes, shown
from filmbuild.quantities import Area, Duration, UnitSystem

Paper = Literal["a4", "letter"]
USUAL: Mapping[str, Paper] = {"us": "letter", "si": "a4"}
SIZES: Mapping[Paper, tuple[str, str, str]] = {
    "a4": ("A4", "210mm", "297mm"),
    "letter": ("letter", "8.5in", "11in"),
}
STAGES = {
    "safety": "Safety",
    "prepare": "Preparation",
    "repair": "Repairs",
    "mask": "Masking",
    "coat": "Coating",
    "finish": "Finishing",
}
KINDS = {
    "pack": "Packs",
    "machine": "Machines",
    "tool": "Tools",
    "protective_equipment": "Protective equipment",
    "consumable": "Consumables",
}
COME_BACK = frozenset(("machine", "tool"))


class Page(msgspec.Struct, frozen=True):
    """A page in HTML, and the policy that lets it use its own style sheet and nothing else."""

    content: str
    policy: str


def mixing_page(document: MixingSheetDocument, paper: Paper | None, units: UnitSystem) -> Page:
    sheet = document.sheet
    coats = [_coat(coat, sheet, units) for coat in sheet.coats]
    return _page(
        "mixing_sheet.html", "Mixing sheet", document, sheet, paper, wide=True, coats=coats
    )


def loading_page(document: LoadingListDocument, paper: Paper | None, units: UnitSystem) -> Page:
    loads = document.loading_list
    return _page(
        "loading_list.html",
        "Loading list",
        document,
        loads,
        paper,
        wide=False,
        stages=[_stage(one) for one in loads.stages],
        supply=list(_supply(loads, units)),
    )


@cache
def _templates() -> Environment:
    loader = PackageLoader("filmbuild", "estimates/templates")
    return Environment(autoescape=True, loader=loader, undefined=StrictUndefined)


def _page(
    template: str,
    title: str,
    document: MixingSheetDocument | LoadingListDocument,
    content: MixingSheet | LoadingList,
    paper: Paper | None,
    *,
    wide: bool,
    **more: object,
) -> Page:
    name, short, long = SIZES[paper or USUAL[document.units]]
    style = (
        _templates()
        .get_template("paper.css")
        .render(
            title=title, size=f"{name} landscape" if wide else name, width=long if wide else short
        )
    )
    text = (
        _templates()
        .get_template(template)
        .render(
            title=title,
            style=style,
            site=content.site,
            system=content.system,
            revision=document.catalogue_revision,
            priced_on=document.priced_on,
            cautions=document.cautions,
            notes=document.notes,
            **more,
        )
    )
    digest = b64encode(sha256(style.encode()).digest()).decode()
    return Page(text, f"default-src 'none'; style-src 'sha256-{digest}'")


def _coat(coat: SheetCoat, sheet: MixingSheet, units: UnitSystem) -> dict[str, Any]:
    return {
        "name": coat.name,
        "product": coat.product_name,
        "parts": coat.parts,
        "columns": len(coat.parts) + 11,
        "facts": list(_facts(coat, units)),
        "gangs": "; ".join(_gangs(coat)),
        "mixes": [_mix(mix, sheet, units) for mix in coat.mixes],
    }


def _facts(coat: SheetCoat, units: UnitSystem) -> Iterator[str]:
    if len(coat.ratio) > 1:
        ratio = " : ".join(f"{one:g}" for one in coat.ratio)
        yield f"{' : '.join(coat.parts)} = {ratio} by volume"
    if coat.wet_film is not None:
        yield f"{shown(coat.wet_film, units)} wet over {shown(coat.floor, units)} of floor"
    if coat.vertical > 0:
        yield f"{shown(coat.vertical, units)} of verticals"
    yield f"{shown(coat.ordered_volume, units)} in {len(coat.mixes)} {'mix' if len(coat.mixes) == 1 else 'mixes'}"


def _gangs(coat: SheetCoat) -> Iterator[str]:
    for one in coat.placers:
        people = ", ".join(f"{count} {name}" for name, count in one.people.items())
        yield f"gang {one.gang}, {_plain(one.task)}: {people}"


def _mix(mix: Mix, sheet: MixingSheet, units: UnitSystem) -> dict[str, Any]:
    measured = "measured"
    if mix.container is not None:
        measured += f" in {shown(mix.container, units)}"
    return {
        "number": mix.number,
        "source": f"whole kit {mix.whole_kit}" if mix.whole_kit else measured,
        "parts": [
            {"volume": shown(part.volume, units), "mass": shown(part.mass, units)}
            for part in mix.parts
        ],
        "volume": shown(mix.volume, units),
        "stir": minutes(mix.mixing_time),
        "starts_at": minutes(mix.starts_at),
        "down_within": minutes(Duration(mix.down_by - mix.starts_at)),
        "wet_edge_by": minutes(mix.wet_edge_by),
        "covers": shown(Area(mix.covers), units) if mix.covers else "",
        "gangs": _numbers(mix.placed_by),
        "areas": ", ".join(sheet.areas.get(one, one) for one in mix.areas),
    }


def _numbers(gangs: tuple[int, ...]) -> str:
    if not gangs:
        return ""
    return f"gang{'s' * (len(gangs) > 1)} {', '.join(str(one) for one in gangs)}"


def _stage(stage: LoadStage) -> dict[str, Any]:
    kinds: dict[str, list[dict[str, Any]]] = {kind: [] for kind in KINDS}
    for one in stage.items:
        kinds.setdefault(one.kind, []).append(_item(one))
    return {
        "title": STAGES.get(stage.stage, stage.stage),
        "kinds": [
            {"title": KINDS.get(kind, kind), "rows": items}
            for kind, items in kinds.items()
            if items
        ],
    }


def _item(one: LoadItem) -> dict[str, Any]:
    days = "" if one.days is None else f"{one.days} machine {'day' if one.days == 1 else 'days'}"
    return {
        "count": one.count,
        "unit": one.unit,
        "name": one.name,
        "days": days,
        "used_for": ", ".join(one.used_for),
        "comes_back": one.kind in COME_BACK,
    }


def _plain(name: str) -> str:
    return name.replace("_", " ")


def _supply(loads: LoadingList, units: UnitSystem) -> Iterator[dict[str, str]]:
    if loads.power is not None:
        circuits = "; ".join(
            f"{one.circuits} at {one.volts} V, {one.phases}-phase, for {shown(one.power, units)}"
            for one in loads.power.circuits
        )
        yield {
            "title": "Power at its peak",
            "detail": f"{shown(loads.power.power, units)} ({_plain(loads.power.activity)})",
        }
        yield {"title": "Circuits", "detail": circuits}
        if loads.power.unstated:
            detail = f"not stated for {', '.join(loads.power.unstated)}"
            yield {"title": "Not in the sum", "detail": detail}
    if loads.extraction is not None:
        one = loads.extraction
        detail = f"{shown(one.needed, units)} needed, {shown(one.drawn, units)} by the extractors"
        if one.lacking > 0:
            detail += f": {shown(one.lacking, units)} are lacking"
        yield {
            "title": "Dust extraction at its peak",
            "detail": f"{detail} ({_plain(one.activity)})",
        }
