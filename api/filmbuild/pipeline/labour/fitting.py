"""Whether each coat fits into a shift and each mix into its working life, and if not, what would."""

from collections.abc import Callable, Sequence

from filmbuild.errors import Faults
from filmbuild.pipeline.labour.efforts import Effort
from filmbuild.pipeline.labour.tasks import Planned, PlannedCoating
from filmbuild.pipeline.results import Coat, Mix
from filmbuild.pipeline.trace import Note

_ROUNDING = 1 + 1e-9
_SPLIT = "divide the floor into sections, each an estimate of its own: coats are not split here"


def placing_duration(placing: Sequence[Planned], crew: int) -> float:
    """[s] The tasks of a coat follow one another."""
    return sum(one.effort.duration(crew) for one in placing)


def check_coats(
    coatings: Sequence[PlannedCoating], crew: int, shift: float, faults: Faults
) -> None:
    for one in coatings:
        duration = sum(each.duration for each in one.placing)
        if duration > shift * _ROUNDING:
            _refuse_long(one, duration, crew, shift, faults)


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
    """The mixes were planned for the placing pace of a number of gangs, without factors.

    Fewer gangs may be too slow for them, which is a fault; a factor that makes them too slow is a
    note, as the mixes can be made smaller on the day.
    """
    by_layer = {coat.layer: coat for coat in coats}
    for one in coatings:
        coat = by_layer.get(one.coating.layer.id)
        field = next((each for each in one.placing if each.step.code == "place_field"), None)
        if coat is None or field is None or not coat.mixes:
            continue
        effort = field.effort
        planned_for = coat.traces["mixes"].inputs.get("gangs") if "mixes" in coat.traces else None
        gangs = planned_for if isinstance(planned_for, int) else field.gangs
        if _outlives(coat.mixes, gangs / field.gangs):
            _refuse_mixes(one, coat, gangs, crew, effort, faults)
        elif _outlives(coat.mixes, gangs / field.gangs * effort.pace.factor):
            notes.append(
                Note(
                    "mixes-too-large-for-conditions",
                    f"{coat.name}: the mixes fill their working life at the plain placing rate; "
                    f"with the factor {effort.pace.factor:g} of this site mix less at a time.",
                )
            )


def _refuse_mixes(
    one: PlannedCoating, coat: Coat, gangs: int, crew: int, effort: Effort, faults: Faults
) -> None:
    smallest = smallest_crew(
        [effort], crew, lambda people: not _outlives(coat.mixes, gangs / effort.gangs(people))
    )
    remedy = (
        f"the smallest crew that places them in time is {smallest}"
        if smallest is not None
        else "compute the materials again for this crew"
    )
    faults.add(
        "mix-outlives-working-life",
        f"{one.coating.layer.name}: its mixes were planned for {gangs} gangs and a crew of {crew} "
        f"makes {effort.gangs(crew)}: they would set before they are placed; {remedy}",
        "crew",
    )


def _outlives(mixes: Sequence[Mix], slower: float) -> bool:
    if slower <= 1:
        return False
    return any(
        mix.placing_time * slower + mix.mixing_time > mix.working_life * _ROUNDING for mix in mixes
    )
