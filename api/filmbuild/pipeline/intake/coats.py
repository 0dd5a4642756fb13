"""Whether the coats that were handed in hang together, and fit the takeoff beside them."""

from math import fsum

from filmbuild.pipeline.intake.marks import MILLISECOND, RELATIVE, Marks, close
from filmbuild.pipeline.results import Coat, Mix, PartAmount, Takeoff
from filmbuild.quantities import Area, Duration, Volume

REPAIR = "repair"
_MIXES = "the mixes of a coat make up its ordered volume"


_OF_FLOORS = (
    "floor",
    "vertical",
    "film_volume",
    "texture_volume",
    "absorption_volume",
    "grain_volume",
)


def check_coats(coats: tuple[Coat, ...], takeoff: Takeoff, marks: Marks) -> None:
    """`marks` stands at the list of coats."""
    if not coats:
        marks.add("empty", "materials have one coat at least")
    marks.unique((coat.layer for coat in coats), field="layer")
    areas = {area.id for area in takeoff.areas}
    for index, coat in enumerate(coats):
        at = marks.at(index)
        if coat.kind == REPAIR:
            _check_repair(coat, at)
        else:
            _check_layer(coat, takeoff, at)
        _check_volumes(coat, at)
        _check_mixes(coat, areas, at)


def _check_layer(coat: Coat, takeoff: Takeoff, marks: Marks) -> None:
    totals = takeoff.totals
    marks.same(coat.floor, totals.floor, "parts-mismatch", "a coat covers all the floor", "floor")
    if coat.vertical:
        rule = "a coat on verticals covers all of them"
        marks.same(coat.vertical, totals.vertical, "parts-mismatch", rule, "vertical")
    if coat.wet_film is None or not coat.wet_film > 0:
        marks.add("not-positive", "a coat has a wet film of more than zero", "wet_film")
    else:
        if coat.spread_rate is not None:
            rule = "the spread rate is one over the wet film"
            spread = 1 / coat.wet_film
            marks.same(coat.spread_rate, spread, "parts-mismatch", rule, "spread_rate")
        least = coat.floor * coat.wet_film
        if not coat.vertical or coat.film_volume < least:
            rule = "the film is the floor times the wet film"
            marks.same(coat.film_volume, least, "parts-mismatch", rule, "film_volume")
    net = coat.film_volume + coat.texture_volume + coat.absorption_volume + coat.grain_volume
    rule = "film, texture, absorption and the voids among grains make up the net volume"
    marks.same(coat.net_volume, net, "parts-mismatch", rule, "net_volume")


def _check_repair(coat: Coat, marks: Marks) -> None:
    for field in _OF_FLOORS:
        if getattr(coat, field):
            marks.add("parts-mismatch", "a repair fills a void and covers no floor: zero", field)


def _check_volumes(coat: Coat, marks: Marks) -> None:
    if not coat.net_volume > 0:
        marks.add("not-positive", "a coat takes more than nothing", "net_volume")
    if not 0 <= coat.loss_fraction < 1:
        marks.add("out-of-range", "a loss is from 0 to less than 1", "loss_fraction")
        return
    ordered = coat.net_volume / (1 - coat.loss_fraction) + coat.residue + coat.soak
    rule = "ordered = net / (1 - loss) + residue + soak"
    marks.same(coat.ordered_volume, ordered, "parts-mismatch", rule, "ordered_volume")
    if not coat.parts:
        marks.add("empty", "a coat has one part at least", "parts")
    marks.unique((part.part for part in coat.parts), "parts", field="part")
    rule = "the parts are no more than what they are parts of"
    if _volume(coat.parts) > coat.ordered_volume * (1 + RELATIVE):
        marks.add("parts-mismatch", rule, "parts")


def _check_mixes(coat: Coat, areas: set[str], marks: Marks) -> None:
    mixes = coat.mixes
    if not mixes:
        marks.add("empty", "a coat is mixed at least once", "mixes")
        return
    total = Volume(fsum(mix.volume for mix in mixes))
    if not close(coat.ordered_volume, total):
        detail = f"{_MIXES}: {marks.shown(Volume, coat.ordered_volume)}, and not "
        marks.add("mixes-mismatch", detail + marks.shown(Volume, total), "mixes")
    if coat.kind != REPAIR:
        covered = Area(fsum(mix.covers for mix in mixes))
        whole = coat.floor + coat.vertical
        if not close(covered, whole):
            detail = f"the mixes of a coat cover {marks.shown(Area, whole)}, and not "
            marks.add("mixes-mismatch", detail + marks.shown(Area, covered), "mixes")
    _check_times(mixes, marks)
    share = _volume(coat.parts) / coat.ordered_volume if coat.ordered_volume else 0.0
    for index, mix in enumerate(mixes):
        if mix.number != index + 1:
            detail = f"mixes are numbered from 1 in placing order: {index + 1}"
            marks.add("mix-number", detail, "mixes", index, "number")
        _check_mix(mix, share, index, areas, marks)


def _check_times(mixes: tuple[Mix, ...], marks: Marks) -> None:
    """By the timer: each is placed as soon as it is mixed, and when the one before it is down."""
    ended = 0.0
    for index, mix in enumerate(mixes):
        down_by = mix.starts_at + mix.working_life
        margin = 2 * MILLISECOND + RELATIVE * down_by
        if abs(mix.down_by - down_by) > margin:
            detail = (
                "a mix is down before its working life ends: by "
                f"{marks.shown(Duration, down_by)}, and not {marks.shown(Duration, mix.down_by)}"
            )
            marks.add("parts-mismatch", detail, "mixes", index, "down_by")
        ready = mix.starts_at + mix.mixing_time
        if ready < ended - 2 * margin:
            detail = (
                f"the mix before it is down after {marks.shown(Duration, ended)}, and this one is "
                f"ready after {marks.shown(Duration, ready)}: begin it later"
            )
            marks.add("mixes-overlap", detail, "mixes", index, "starts_at")
        ended = ready + mix.placing_time


def _check_mix(mix: Mix, share: float, index: int, areas: set[str], marks: Marks) -> None:
    if not mix.volume > 0:
        marks.add("not-positive", "a mix is more than nothing", "mixes", index, "volume")
    if not mix.working_life > 0:
        detail = "a mix can be worked for more than no time"
        marks.add("not-positive", detail, "mixes", index, "working_life")
    elif mix.mixing_time + mix.placing_time > mix.working_life * (1 + RELATIVE) + 2 * MILLISECOND:
        kind = Duration
        detail = (
            f"it can be worked for {marks.shown(kind, mix.working_life)}, and to mix and place "
        )
        takes = mix.mixing_time + mix.placing_time
        detail += f"it takes {marks.shown(kind, takes)}"
        marks.add("outlives-working-life", detail, "mixes", index, "placing_time")
    made = Volume(_volume(mix.parts))
    if not close(made, mix.volume * share, mix.volume):
        detail = f"the parts of this mix are {marks.shown(Volume, mix.volume * share)} together"
        marks.add("parts-mismatch", detail, "mixes", index, "parts")
    if not areas.issuperset(mix.areas):
        for place, name in enumerate(mix.areas):
            if name not in areas:
                detail = f"the takeoff beside it has no area {name}"
                marks.add("unknown-area", detail, "mixes", index, "areas", place)


def _volume(parts: tuple[PartAmount, ...]) -> float:
    return sum([part.volume for part in parts])
