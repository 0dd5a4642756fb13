"""Which catalogue records a job runs on, and what was assumed where the job left a choice open."""

from collections.abc import Collection, Iterable, Sequence

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.job import Conditions, ForecastStep, Job
from filmbuild.pipeline.layering import Pass, laid
from filmbuild.pipeline.specification import (
    Catalogue,
    LabourClass,
    Production,
    ProductRole,
    RateBook,
    System,
    TaskCode,
)
from filmbuild.pipeline.trace import Note, Trace
from filmbuild.quantities import Temperature

ASSUMED_CREW = 2
"""People taken when a job names no crew: one mixes, one places (common practice, no source)."""


class Selection(msgspec.Struct, frozen=True, kw_only=True):
    """The records of one job. `crew` pairs each labour class with its head count.

    `system` is as the job lays it: with the films that the job states, and a layer for each pass
    of those that are split. `passes` says by such a layer which pass it is.

    `productions` are those that any work may take, and `of_coats` those that are restricted to
    some coats, by task, the most specific first. `choice` says how the crew was chosen of the
    people available.
    """

    system: System
    rate_book: RateBook
    productions: dict[TaskCode, Production]
    of_coats: dict[TaskCode, tuple[Production, ...]] = {}
    crew: tuple[tuple[LabourClass, int], ...]
    workers: int
    conditions: Conditions
    notes: tuple[Note, ...]
    choice: Trace | None = None
    passes: dict[str, Pass] = {}

    def production_for(
        self, task: TaskCode, layer: str | None = None, role: ProductRole | None = None
    ) -> Production | None:
        """The most specific production for work on a layer, whose product has a role."""
        if layer in self.passes:
            layer = self.passes[layer].layer
        for one in self.of_coats.get(task, ()):
            if (not one.layers or layer in one.layers) and (not one.roles or role in one.roles):
                return one
        return self.productions.get(task)


def select(job: Job, catalogue: Catalogue, faults: Faults) -> Selection:
    """Resolve the job's names; `faults` is rooted at the job.

    Raises InvalidInput where it finds any fault, with those that were found before.
    """
    before = len(faults)
    system = catalogue.systems.get(job.system)
    if system is None:
        faults.add("unknown-system", _accepted("system", catalogue.systems), "system")
    rate_book = _rate_book(job, catalogue, faults)
    notes: list[Note] = []
    crew = _crew(job, rate_book, faults, notes) if rate_book else ()
    if len(faults) > before:
        faults.raise_if_any()
    if system is None or rate_book is None:
        msg = "a selection without faults has a system and a rate book"
        raise AssertionError(msg)
    system, passes = laid(system, job.layers, catalogue.products, faults)
    if len(faults) > before:
        faults.raise_if_any()
    conditions = job.conditions
    if conditions is None and job.forecast:
        conditions = mean_conditions(job.forecast)
        notes.append(
            Note(
                "conditions-of-forecast",
                "No conditions were given: mixes, pace of work and the cure after the forecast are "
                f"those of its mean, air {conditions.air_temperature:.1f} and surface "
                f"{conditions.surface_temperature:.1f} degC at "
                f"{conditions.relative_humidity_percent:.0f} % relative humidity.",
            )
        )
    if conditions is None:
        conditions = Conditions()
        notes.append(
            Note(
                "conditions-assumed",
                "No conditions were given: air and surface at 20 degC and 50 % relative humidity "
                "are assumed. Working life, cure and the climate gate depend on them.",
            )
        )
    return Selection(
        system=system,
        rate_book=rate_book,
        productions={
            one.task: one for one in rate_book.productions if not (one.roles or one.layers)
        },
        of_coats=restricted(rate_book.productions),
        crew=crew,
        workers=sum(count for _, count in crew),
        conditions=conditions,
        notes=tuple(notes),
        passes=passes,
    )


def with_crew(selection: Selection, people: int) -> Selection:
    """The same records with the first so many people of the crew."""
    crew, left = [], people
    for labour_class, count in selection.crew:
        if left > 0:
            crew.append((labour_class, min(count, left)))
        left -= count
    return msgspec.structs.replace(selection, crew=tuple(crew), workers=people)


def mean_conditions(forecast: Sequence[ForecastStep]) -> Conditions:
    """To a tenth of a degree, so that they are the same from what was written."""
    air = [one.air_temperature for one in forecast]
    surface = [
        one.air_temperature if one.surface_temperature is None else one.surface_temperature
        for one in forecast
    ]
    humidity = [one.relative_humidity_percent for one in forecast]
    count = len(forecast)
    return Conditions(
        air_temperature=Temperature(round(sum(air) / count, 1)),
        surface_temperature=Temperature(round(sum(surface) / count, 1)),
        relative_humidity_percent=round(sum(humidity) / count),
    )


def restricted(productions: Iterable[Production]) -> dict[TaskCode, tuple[Production, ...]]:
    """What is restricted to layers or roles, by task, the most specific first."""
    found: dict[TaskCode, list[Production]] = {}
    for one in productions:
        if one.roles or one.layers:
            found.setdefault(one.task, []).append(one)
    return {task: tuple(sorted(some, key=_breadth)) for task, some in found.items()}


def _breadth(production: Production) -> tuple[bool, bool]:
    return (not production.layers, not production.roles)


def _rate_book(job: Job, catalogue: Catalogue, faults: Faults) -> RateBook | None:
    if job.rate_book is None:
        fitting = [one for one in catalogue.rate_books.values() if one.currency == job.currency]
        if len(fitting) == 1:
            return fitting[0]
        names = [one.id for one in fitting]
        detail = _accepted(f"rate book in {job.currency}", names)
        faults.add("missing-field", detail, "rate_book")
        return None
    rate_book = catalogue.rate_books.get(job.rate_book)
    if rate_book is None:
        faults.add("unknown-rate-book", _accepted("rate book", catalogue.rate_books), "rate_book")
    elif rate_book.currency != job.currency:
        faults.add(
            "currency-mismatch",
            f"rate book {rate_book.id} is in {rate_book.currency}; the job asks for {job.currency}",
            "currency",
        )
    return rate_book


def _crew(
    job: Job, rate_book: RateBook, faults: Faults, notes: list[Note]
) -> tuple[tuple[LabourClass, int], ...]:
    if job.crew and job.available:
        detail = "give the crew, or the people available, of whom the smallest crew is taken"
        faults.add("exactly-one", detail, "available")
    members, field = (job.available, "available") if job.available else (job.crew, "crew")
    if not members:
        first = rate_book.classes[0]
        notes.append(
            Note("crew-assumed", f"No crew was given: {ASSUMED_CREW} x {first.name} are assumed.")
        )
        return ((first, ASSUMED_CREW),)
    classes = {one.id: one for one in rate_book.classes}
    crew = []
    for index, member in enumerate(members):
        labour_class = classes.get(member.labour_class)
        if labour_class is None:
            detail = _accepted("labour class", classes)
            faults.add("unknown-labour-class", detail, field, index, "labour_class")
        else:
            crew.append((labour_class, member.count))
    return tuple(crew)


def _accepted(what: str, known: Collection[str]) -> str:
    names = sorted(known)
    shown = ", ".join(names[:20]) + (", ..." if len(names) > 20 else "")  # noqa: PLR2004 - a line's worth
    return f"name a {what} of the catalogue: {shown}" if names else f"the catalogue has no {what}"
