"""Which stages a request bills."""

from collections.abc import Collection, Sequence

from filmbuild.errors import Conflict, Fault, Faults
from filmbuild.pipeline.results.offer import PaymentStage


def chosen_stages(
    stages: Sequence[PaymentStage], asked: Sequence[str], done: Collection[str]
) -> list[int]:
    """Places in the plan. `done` are the stages that are invoiced already.

    Raises InvalidInput for a stage that is not there or stands twice, and Conflict for one that is
    invoiced already, or where none are left.
    """
    places = {stage.id: place for place, stage in enumerate(stages)}
    if not asked:
        return [_next(stages, done)]
    faults = Faults()
    for index, name in enumerate(asked):
        if name not in places:
            detail = f"stages of this quotation: {', '.join(places)}"
            faults.add("unknown-stage", detail, "stages", index)
        elif name in asked[:index]:
            faults.add("duplicate", f"{name} stands in the list already", "stages", index)
    faults.raise_if_any()
    billed = Faults()
    for index, name in enumerate(asked):
        if name in done:
            billed.add("already-invoiced", f"{name} has been invoiced", "stages", index)
    billed.raise_if_any("A stage is invoiced once.", Conflict)
    return sorted(places[name] for name in asked)


def _next(stages: Sequence[PaymentStage], done: Collection[str]) -> int:
    for place, stage in enumerate(stages):
        if stage.id not in done:
            return place
    detail = "all stages of this quotation have been invoiced"
    raise Conflict("Nothing is left to be invoiced.", (Fault("", "nothing-left", detail),))
