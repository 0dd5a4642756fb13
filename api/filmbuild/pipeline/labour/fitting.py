"""Whether each coat fits into a shift and each mix into its working life, and if not, what would."""

from collections.abc import Callable, Sequence

from filmbuild.errors import Faults
from filmbuild.pipeline.labour.efforts import Effort
from filmbuild.pipeline.labour.tasks import Planned, PlannedCoating
from filmbuild.pipeline.results import Coat, Mix
from filmbuild.pipeline.trace import Note

_ROUNDING = 1 + 1e-9
_WRITTEN = 3e-3
"""[s] Times of mixes that were handed in have been written to the millisecond."""
_SPLIT = (
    "divide the floor into more areas, or state joints that run across it, where a coat may end and "
    "go on another day"
)


def placing_duration(placing: Sequence[Planned], crew: int) -> float:
    """[s] The tasks of a coat follow one another."""
    return sum(one.effort.duration(crew) for one in placing)


def check_coats(
    coatings: Sequence[PlannedCoating], crew: int, shift: float, faults: Faults
) -> None:
    for one in coatings:
        if any(each.step.section is not None for each in one.placing):
            continue
        duration = sum(each.duration for each in one.placing)
        if duration > shift * _ROUNDING:
            _refuse_long(one, duration, crew, shift, faults)


def smallest_for_coats(coatings: Sequence[PlannedCoating], crew: int, shift: float) -> int | None:
    """The smallest crew above this one that places every coat of the whole floor in a shift [s]."""
    return smallest_crew(
        [each.effort for one in coatings for each in one.placing],
        crew,
        lambda people: all(
            placing_duration(one.placing, people) <= shift * _ROUNDING for one in coatings
        ),
    )


def _refuse_long(
    one: PlannedCoating, duration: float, crew: int, shift: float, faults: Faults
) -> None:
    placing = one.placing
    smallest = smallest_crew(
        [each.effort for each in placing],
        crew,
        lambda people: placing_duration(placing, people) <= shift * _ROUNDING,
    )
    remedy = (
        f"the smallest crew that places it in a shift is {smallest}"
        if smallest is not None
        else f"no crew of this rate book places it in a shift: {_SPLIT}"
    )
    faults.add(
        "coat-longer-than-shift",
        f"{one.coating.layer.name} takes {crew} people {duration / 3600:.2f} h and a shift has "
        f"{shift / 3600:g} h; a coat is placed without a break: {remedy}",
        "crew",
    )


def smallest_crew(efforts: Sequence[Effort], crew: int, works: Callable[[int], bool]) -> int | None:
    """Found by trying, up to where more people change nothing."""
    most = max(one.production.workers * one.production.gangs_maximum for one in efforts)
    return next((people for people in range(crew + 1, most + 1) if works(people)), None)


def check_mixes(
    coatings: Sequence[PlannedCoating],
    coats: Sequence[Coat],
    crew: int,
    faults: Faults,
    notes: list[Note],
) -> None:
    """The mixes were planned for a crew's placing time without set-up and factors.

    A slower crew is a fault; a factor that makes the work too slow for them is a note, as the mixes
    can be made smaller on the day.
    """
    by_layer = {coat.layer: coat for coat in coats}
    for one in coatings:
        coat = by_layer.get(one.coating.layer.id)
        if coat is None:
            continue
        planned = sum([mix.placing_time for mix in coat.mixes])
        efforts = [each.effort for each in one.placing if each.step.code != "broadcast"]
        if not planned or not efforts:
            continue
        if _outlives(coat.mixes, _placing_time(efforts, crew) / planned):
            _refuse_mixes(one, coat, planned, efforts, crew, faults)
            continue
        slowed = sum([each.plain_time(crew) * each.pace.factor for each in efforts])
        if _outlives(coat.mixes, slowed / planned):
            notes.append(
                Note(
                    "mixes-too-large-for-conditions",
                    f"{coat.name}: the mixes fill {_time_for(coat)} at the plain placing rates; "
                    f"this site slows the work {slowed / planned:.3g} times: mix less at a time.",
                )
            )


def _placing_time(efforts: Sequence[Effort], crew: int) -> float:
    return sum([each.plain_time(crew) for each in efforts])


def _time_for(coat: Coat) -> str:
    """What limits the time of a mix: it is the product only where the product says so."""
    trace = coat.traces.get("mixes")
    shift = trace is not None and trace.inputs.get("working_life_rule") == "shift"
    return "the shift" if shift else "their working life"


def _refuse_mixes(
    one: PlannedCoating,
    coat: Coat,
    planned: float,
    efforts: Sequence[Effort],
    crew: int,
    faults: Faults,
) -> None:
    smallest = smallest_crew(
        efforts,
        crew,
        lambda people: not _outlives(coat.mixes, _placing_time(efforts, people) / planned),
    )
    remedy = (
        f"the smallest crew that places them in time is {smallest}"
        if smallest is not None
        else "compute the materials again for this crew"
    )
    slower = _placing_time(efforts, crew) / planned
    faults.add(
        "mix-outlives-working-life",
        f"{one.coating.layer.name}: its mixes were planned for a crew that places them "
        f"{slower:.3g} times as fast as {crew} people do, who would not be done within "
        f"{_time_for(coat)}; {remedy}",
        "crew",
    )


def _outlives(mixes: Sequence[Mix], slower: float) -> bool:
    if slower <= _ROUNDING:
        return False
    return any(
        mix.placing_time * slower + mix.mixing_time > mix.working_life * _ROUNDING + _WRITTEN
        for mix in mixes
    )
