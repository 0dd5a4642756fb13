"""The smallest crew of the people available that does the job as well as all of them would."""

from collections.abc import Callable

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.job import Job
from filmbuild.pipeline.labour.shift import shift_length
from filmbuild.pipeline.labour.work import in_sections, planned_work
from filmbuild.pipeline.results import Takeoff
from filmbuild.pipeline.selection import Selection, with_crew
from filmbuild.pipeline.specification import Catalogue
from filmbuild.pipeline.trace import Note, Trace
from filmbuild.quantities import Duration

Mixes = Callable[[Selection], bool]
"""Whether a crew places every mix in time."""


def choose_crew(
    takeoff: Takeoff, job: Job, selection: Selection, catalogue: Catalogue, mixes: Mixes
) -> Selection:
    """The fewest sections first, then the fewest people, in the order in which they are listed.

    `selection` has all the people who are available as its crew, and comes back so where none of
    them is enough: the stages then say what is.
    """
    shift = shift_length(job.calendar, Faults())
    if shift is None:
        return selection
    whole = selection.workers

    def sections(people: int) -> int | None:
        return _sections(takeoff, with_crew(selection, people), catalogue, shift)

    best = sections(whole)
    if best is None:
        return selection
    enough = _first(range(1, whole + 1), lambda people: sections(people) == best)
    if not mixes(selection):
        return selection
    smallest = _first(range(enough, whole + 1), lambda people: mixes(with_crew(selection, people)))
    chosen = with_crew(selection, smallest)
    note = _said(chosen, selection, best, sections, mixes)
    fewer = smallest - 1
    trace = Trace(
        "labour.crew",
        {
            "available": {one.id: count for one, count in selection.crew},
            "sections_with_all": best,
            "shift": Duration(shift),
            "fewer": fewer,
            "sections_with_fewer": sections(fewer) if fewer else None,
        },
        catalogue.revision,
    )
    return msgspec.structs.replace(chosen, notes=(*chosen.notes, note), choice=trace)


def _sections(
    takeoff: Takeoff, selection: Selection, catalogue: Catalogue, shift: float
) -> int | None:
    """How many; None where the crew is too small for a task, or the floor is not divided so."""
    faults, crew = Faults(), selection.workers
    work = planned_work(takeoff, (), selection, catalogue, faults)
    if len(faults) or any(one.effort.production.workers > crew for one in work.planned.all()):
        return None
    if work.fits(shift):
        return 1
    _, found = in_sections(work, takeoff, shift, catalogue.revision)
    return len(found) or None


def _first(numbers: range, works: Callable[[int], bool]) -> int:
    """The first that works, where all after it do as well, and the last one does."""
    low, high = numbers[0], numbers[-1]
    while low < high:
        middle = (low + high) // 2
        if works(middle):
            high = middle
        else:
            low = middle + 1
    return low


def _said(
    chosen: Selection,
    available: Selection,
    sections: int,
    needed: Callable[[int], int | None],
    mixes: Mixes,
) -> Note:
    people = ", ".join(f"{count} x {one.name}" for one, count in chosen.crew)
    over = "the whole floor at once" if sections == 1 else f"the floor in {sections} sections"
    words = (
        f"Of {available.workers} people available {chosen.workers} are taken ({people}): the "
        f"smallest crew that places every mix in time and each coat inside a shift, {over}."
    )
    if chosen.workers > 1:
        fewer = chosen.workers - 1
        words += f" {_why_not(fewer, needed(fewer), sections, mixes, available)}"
    return Note("crew-chosen", words)


def _why_not(
    people: int, needed: int | None, sections: int, mixes: Mixes, available: Selection
) -> str:
    if needed is None:
        return f"{people} would be too few for a task, or for a coat in a shift."
    if needed != sections:
        return f"{people} would place it in {needed} sections."
    if not mixes(with_crew(available, people)):
        return f"{people} would not place the mixes in time."
    return ""
