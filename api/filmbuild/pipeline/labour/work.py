"""The work of one job for one crew: over the whole floor, or in sections where that is too long."""

from collections.abc import Iterator, Mapping, Sequence

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.labour.conditions import ground_of
from filmbuild.pipeline.labour.efforts import Efforts
from filmbuild.pipeline.labour.fitting import placing_duration, smallest_for_coats
from filmbuild.pipeline.labour.sections import Divider, sections_of
from filmbuild.pipeline.labour.sequence import working_order
from filmbuild.pipeline.labour.tasks import PlannedOrder, plan_order
from filmbuild.pipeline.materials import driver_quantities
from filmbuild.pipeline.results import Coat, Section, Takeoff
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import Catalogue, Driver
from filmbuild.pipeline.trace import Note

_ROUNDING = 1 + 1e-9
_MOST_NAMED = 6


class Work(msgspec.Struct, frozen=True):
    """`planned` is over the whole floor; `drivers` are those of work outside any layer."""

    planned: PlannedOrder
    efforts: Efforts
    drivers: Mapping[Driver, float]
    coats: tuple[Coat, ...]
    selection: Selection
    crew: int

    def divider(self, takeoff: Takeoff) -> Divider:
        return Divider(
            self.planned,
            self.efforts,
            self.drivers,
            takeoff.totals,
            self.coats,
            self.selection,
            self.crew,
        )

    def fits(self, shift: float) -> bool:
        """Whether every coat of the whole floor is placed inside one shift [s]."""
        return all(
            placing_duration(one.placing, self.crew) <= shift * _ROUNDING
            for one in self.planned.coatings
        )


def planned_work(
    takeoff: Takeoff,
    coats: Sequence[Coat],
    selection: Selection,
    catalogue: Catalogue,
    faults: Faults,
) -> Work:
    book, crew = selection.rate_book, selection.workers
    surface = selection.conditions.surface_temperature
    ground = ground_of(takeoff.areas, book, surface)
    efforts = Efforts(takeoff.totals, selection, catalogue.products, ground, faults)
    drivers = driver_quantities(takeoff, coats, crew)
    order = working_order(takeoff, selection.system, faults)
    planned = plan_order(order, drivers, takeoff.totals, coats, efforts, crew)
    return Work(planned, efforts, drivers, tuple(coats), selection, crew)


def in_sections(
    work: Work, takeoff: Takeoff, shift: float, revision: int
) -> tuple[PlannedOrder, tuple[Section, ...]]:
    """The order as it is where every coat fits a shift [s], or no division would make it fit."""
    if work.fits(shift):
        return work.planned, ()
    divider = work.divider(takeoff)
    groups = divider.divide(takeoff.areas, shift)
    if groups is None or len(groups) == 1:
        return work.planned, ()
    sections = sections_of(groups, takeoff.areas, divider, shift, revision)
    return divider.sectioned(work.planned, groups), sections


def section_notes(
    work: Work, sections: Sequence[Section], coats: Sequence[Coat], shift: float
) -> Iterator[Note]:
    if not sections:
        return
    ends = _some([f"section {one.number} ends at {one.ends_at}" for one in sections[:-1]], "; ")
    yield Note(
        "floor-in-sections",
        f"{work.crew} people do not place every coat of the whole floor inside a shift of "
        f"{shift / 3600:g} h: each coat is placed in {len(sections)} sections, one after the other. "
        f"{ends}. {_instead(work, shift)}",
    )
    inside = [one.areas[0] for one in sections if one.shares[0] < 1]
    if inside:
        yield Note(
            "section-joints-to-be-found",
            f"Sections end inside {', '.join(dict.fromkeys(inside))}, which has joints enough to "
            "run across it, but the takeoff does not say where: equal parts are assumed. Choose "
            "joints that leave no part larger.",
        )
    yield from _cut_mixes(sections, coats)


def _instead(work: Work, shift: float) -> str:
    people = smallest_for_coats(work.planned.coatings, work.crew, shift)
    if people is None:
        return "No crew of this rate book places them all over the whole floor in a shift."
    return f"The smallest crew that does without sections is {people}."


def _cut_mixes(sections: Sequence[Section], coats: Sequence[Coat]) -> Iterator[Note]:
    """Mixes are sized for the whole floor: where a section ends in one, it is mixed as two."""
    whole = sum(one.floor for one in sections)
    for coat in coats:
        covered = sum(mix.covers for mix in coat.mixes)
        if coat.kind == "repair" or not covered:
            continue
        cut = []
        reached = 0.0
        ends = _ends(sections, whole)
        for mix in coat.mixes:
            start, reached = reached, reached + mix.covers / covered
            if any(start + 1e-9 < end < reached - 1e-9 for end in ends):
                cut.append(str(mix.number))
        if cut:
            yield Note(
                "mix-cut-by-section",
                f"{coat.name}: a section ends within mix {_some(cut, ', ')}: each is mixed as two, one "
                "on either day, in the same proportions.",
            )


def _some(words: Sequence[str], between: str) -> str:
    shown = between.join(words[:_MOST_NAMED])
    more = len(words) - _MOST_NAMED
    return f"{shown} and {more} more" if more > 0 else shown


def _ends(sections: Sequence[Section], whole: float) -> list[float]:
    found = []
    reached = 0.0
    for one in sections[:-1]:
        reached += one.floor / whole
        found.append(reached)
    return found
