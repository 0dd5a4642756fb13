"""A job pack as words and figures in the crew's language."""

from collections.abc import Iterator, Mapping
from typing import cast

import msgspec

from filmbuild.pipeline.results import LoadItem, LoadStage, Mix, Placer, SheetCoat
from filmbuild.pipeline.sheets.figures import minutes
from filmbuild.quantities import Area, Duration, UnitSystem
from filmbuild.quotations.documents.figures import figure
from filmbuild.quotations.documents.job_pack import CrewActivity, CrewDay, JobPack
from filmbuild.quotations.documents.job_pack_shown import (
    ActivityShown,
    CoatShown,
    DayShown,
    LoadKind,
    LoadShown,
    LoadStageShown,
    MixShown,
    OpenShown,
    PackShown,
    PartShown,
)
from filmbuild.quotations.documents.offer_view import PAPERS
from filmbuild.quotations.documents.shown import CautionShown, Fact
from filmbuild.quotations.documents.writer import Writer, writer_of

KINDS = ("pack", "machine", "tool", "protective_equipment", "consumable")
COME_BACK = frozenset(("machine", "tool"))


class _Names(msgspec.Struct, frozen=True, kw_only=True):
    """By id."""

    areas: Mapping[str, str]
    packs: Mapping[str, str]


def pack_shown(pack: JobPack, language: str) -> PackShown:
    writer = writer_of(language, pack.time_zone)
    label = writer.language
    units = cast("UnitSystem", pack.units)
    places = _Names(areas=pack.areas, packs=_packs(pack))
    return PackShown(
        language=writer.tag,
        title=f"{label['job_pack']}: {pack.site}",
        heading=pack.site,
        facts=tuple(_facts(pack, writer)),
        cautions=tuple(
            CautionShown(
                title=label.said(one.title),
                detail=label.said(one.detail),
                source=one.source,
                applies_to="",
            )
            for one in pack.cautions
        ),
        days=tuple(_day(one, writer) for one in pack.days),
        openings=tuple(_openings(pack, writer)),
        stages=tuple(_stage(one, writer) for one in pack.loading_list.stages),
        supply=tuple(_supply(pack, writer, units)),
        coats=tuple(_coat(one, places, writer, units) for one in pack.mixing_sheet.coats),
        notes=tuple(label.said(one.detail) for one in pack.notes),
        figures=(
            figure(pack.drawing, "plan-", label["drawing"], writer),
            figure(pack.chart, "days-", label["chart"], writer),
        ),
        labels=dict(label.labels),
        paper=PAPERS[pack.units],
    )


def _packs(pack: JobPack) -> dict[str, str]:
    loads = (item for stage in pack.loading_list.stages for item in stage.items)
    return {one.id: one.name for one in loads if one.kind == "pack"}


def _facts(pack: JobPack, writer: Writer) -> Iterator[Fact]:
    label = writer.language
    yield Fact(label=label["system"], value=pack.system)
    yield Fact(label=label["first_day"], value=writer.weekday(pack.first_day))
    yield Fact(label=label["last_day"], value=writer.weekday(pack.last_day))
    yield Fact(label=label["time_zone"], value=pack.time_zone)
    if pack.reference:
        yield Fact(label=label["job_reference"], value=pack.reference)


def _day(day: CrewDay, writer: Writer) -> DayShown:
    label = writer.language
    people = label.counted("people", day.people) if day.people else ""
    return DayShown(
        title=label["day_of"].format(day=writer.weekday(day.date), visit=day.visit),
        people=people,
        activities=tuple(_activity(one, writer) for one in day.activities),
    )


def _activity(one: CrewActivity, writer: Writer) -> ActivityShown:
    name = writer.language.said(one.name)
    if one.goes_on:
        name = f"{name} ({writer.language['goes_on']})"
    return ActivityShown(
        when=f"{writer.clock(one.start)} \u2013 {writer.clock(one.finish)}",
        name=name,
        why=writer.language.said(one.why),
    )


def _openings(pack: JobPack, writer: Writer) -> Iterator[OpenShown]:
    for one in pack.openings.areas:
        yield OpenShown(
            area=pack.areas.get(one.area, one.area),
            foot=writer.opening(one.foot_traffic),
            vehicles=writer.opening(one.vehicle_traffic),
            cured=writer.opening(one.full_cure),
        )


def _stage(stage: LoadStage, writer: Writer) -> LoadStageShown:
    label = writer.language
    kinds: dict[str, list[LoadShown]] = {kind: [] for kind in KINDS}
    for one in stage.items:
        kinds.setdefault(one.kind, []).append(_item(one, writer))
    return LoadStageShown(
        title=label.labels.get(f"stage_{stage.stage}", stage.stage),
        kinds=tuple(
            LoadKind(title=label.labels.get(f"kind_{kind}", kind), rows=tuple(rows))
            for kind, rows in kinds.items()
            if rows
        ),
    )


def _item(one: LoadItem, writer: Writer) -> LoadShown:
    label = writer.language
    count = writer.number(one.count)
    if one.unit != "each":
        count = f"{count} {label.said(one.unit)}"
    return LoadShown(
        count=count,
        name=one.name,
        days="" if one.days is None else label.counted("machine_days", one.days),
        used_for=", ".join(label.said(use) for use in one.used_for),
        comes_back=one.kind in COME_BACK,
    )


def _supply(pack: JobPack, writer: Writer, units: UnitSystem) -> Iterator[Fact]:
    label, names = (
        writer.language,
        {one.id: one.name for day in pack.days for one in day.activities},
    )
    power, extraction = pack.loading_list.power, pack.loading_list.extraction
    if power is not None:
        at = label.said(names.get(power.activity, power.activity))
        yield Fact(label=label["power_peak"], value=f"{writer.quantity(power.power, units)} ({at})")
        for one in power.circuits:
            yield Fact(
                label=label["circuits"],
                value=label["circuits_of"].format(
                    count=one.circuits,
                    volts=one.volts,
                    phases=one.phases,
                    power=writer.quantity(one.power, units),
                ),
            )
        if power.unstated:
            detail = label["power_unstated"].format(names=", ".join(power.unstated))
            yield Fact(label=label["not_in_sum"], value=detail)
    if extraction is not None:
        at = label.said(names.get(extraction.activity, extraction.activity))
        detail = label["extraction_of"].format(
            needed=writer.quantity(extraction.needed, units),
            drawn=writer.quantity(extraction.drawn, units),
        )
        if extraction.lacking > 0:
            lacking = writer.quantity(extraction.lacking, units)
            detail = f"{detail}: {label['extraction_lacking'].format(lacking=lacking)}"
        yield Fact(label=label["extraction_peak"], value=f"{detail} ({at})")


def _coat(coat: SheetCoat, names: _Names, writer: Writer, units: UnitSystem) -> CoatShown:
    label = writer.language
    return CoatShown(
        name=label.said(coat.name),
        product=coat.product_name,
        facts=tuple(_coat_facts(coat, writer, units)),
        gangs=tuple(_gang(one, writer) for one in coat.placers),
        parts=tuple(label.said(one) for one in coat.parts),
        mixes=tuple(_mix(mix, names, writer, units) for mix in coat.mixes),
    )


def _coat_facts(coat: SheetCoat, writer: Writer, units: UnitSystem) -> Iterator[str]:
    label = writer.language
    if len(coat.ratio) > 1:
        ratio = " : ".join(writer.number(one) for one in coat.ratio)
        parts = " : ".join(label.said(one) for one in coat.parts)
        yield label["by_volume"].format(parts=parts, ratio=ratio)
    if coat.wet_film is not None:
        film, area = writer.quantity(coat.wet_film, units), writer.quantity(coat.floor, units)
        yield label["wet_over"].format(film=film, area=area)
    if coat.vertical > 0:
        yield label["of_verticals"].format(area=writer.quantity(coat.vertical, units))
    volume = writer.quantity(coat.ordered_volume, units)
    count = len(coat.mixes)
    key = "volume_in_one" if count == 1 else "volume_in_several"
    yield label[key].format(volume=volume, count=count)


def _gang(one: Placer, writer: Writer) -> str:
    people = ", ".join(
        f"{count} {writer.language.said(name)}" for name, count in one.people.items()
    )
    task = writer.language.said(one.task.replace("_", " "))
    return writer.language["gang"].format(number=one.gang, task=task, people=people)


def _mix(mix: Mix, names: _Names, writer: Writer, units: UnitSystem) -> MixShown:
    label = writer.language
    if mix.whole_kit:
        source = label["whole_kit"].format(kit=names.packs.get(mix.whole_kit, mix.whole_kit))
    elif mix.container is not None:
        source = label["measured_in"].format(container=writer.quantity(mix.container, units))
    else:
        source = label["measured"]
    where = ", ".join(names.areas.get(one, one) for one in mix.areas)
    if mix.placed_by:
        gangs = ", ".join(str(one) for one in mix.placed_by)
        where = f"{where} ({label['gangs'].format(numbers=gangs)})"
    return MixShown(
        number=str(mix.number),
        source=source,
        parts=tuple(
            PartShown(
                volume=writer.quantity(part.volume, units), mass=writer.quantity(part.mass, units)
            )
            for part in mix.parts
        ),
        volume=writer.quantity(mix.volume, units),
        stir=_minutes(mix.mixing_time, writer),
        starts_at=_minutes(mix.starts_at, writer),
        down_within=_minutes(Duration(mix.down_by - mix.starts_at), writer),
        next_by=_minutes(mix.wet_edge_by, writer),
        covers=writer.quantity(Area(mix.covers), units) if mix.covers else "",
        where=where,
    )


def _minutes(time: Duration | None, writer: Writer) -> str:
    """Rounded down, since it is a limit."""
    text = minutes(time)
    return writer.number(float(text), 1) if text else ""
