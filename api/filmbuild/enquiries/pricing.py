"""What a floor comes to: the real pipeline, under the form's own terms."""

from collections.abc import Callable
from datetime import date, datetime
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import msgspec

from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.edge.decoding import decode
from filmbuild.enquiries.asking import FloorQuestion
from filmbuild.enquiries.floors import estimate_request, finish_of, sample_question
from filmbuild.enquiries.form import FormWords, QuoteFormSettings
from filmbuild.enquiries.ranges import range_of
from filmbuild.enquiries.wire import PriceRange, QuotedRange
from filmbuild.errors import Faults, FilmbuildError, Infeasible, InvalidInput
from filmbuild.estimates.assemble import catalogue_for
from filmbuild.estimates.records import Computed, computed
from filmbuild.estimates.stages import run
from filmbuild.pipeline.requests import EstimateRequest
from filmbuild.pipeline.results import EstimateDocument

Clock = Callable[[], datetime]


class PricedFloor(msgspec.Struct, frozen=True):
    made: Computed
    price: PriceRange


def today_of(form: QuoteFormSettings, now: datetime) -> date:
    """By the clock of where the contractor works."""
    try:
        return now.astimezone(ZoneInfo(form.job.calendar.time_zone)).date()
    except (ZoneInfoNotFoundError, ValueError):
        return now.date()


async def price(
    snapshots: CatalogueSnapshots,
    organisation: str,
    form: QuoteFormSettings,
    question: FloorQuestion,
    today: date,
    reference: str | None = None,
) -> PricedFloor:
    """The question was checked. Raises InvalidInput and Infeasible, which tell of costs."""
    finish = finish_of(form, question.finish)
    if finish is None:
        raise RuntimeError("a question about a finish that is not offered was not checked")
    content = estimate_request(question, form, finish, today, reference)
    request = decode(EstimateRequest, content)
    catalogue = await catalogue_for(
        snapshots, organisation, request.job, request.catalogue_revision
    )
    made = await run(content, lambda: computed(request, content, catalogue))
    return PricedFloor(made, _range(made.document, form))


async def check_finishes(
    snapshots: CatalogueSnapshots, organisation: str, form: QuoteFormSettings, today: date
) -> None:
    """That each finish can be priced for a plain room. Raises InvalidInput."""
    faults = Faults()
    for place, finish in enumerate(form.finishes):
        try:
            await price(snapshots, organisation, form, sample_question(finish.id), today)
        except (InvalidInput, Infeasible) as error:
            _add_settled(error, place, faults)
    faults.raise_if_any()


def _add_settled(error: FilmbuildError, place: int, faults: Faults) -> None:
    """What is wrong with the terms is so for every finish, and told once."""
    known = {(one.pointer, one.code) for one in faults.found}
    for one in error.faults:
        of_job = one.pointer.startswith("/job/") and one.pointer != "/job/system"
        pointer = one.pointer if of_job else f"/finishes/{place}/system"
        if (pointer, one.code) not in known:
            faults.append(msgspec.structs.replace(one, pointer=pointer))
    if not error.faults:
        faults.add(error.code, error.detail, "finishes", place, "system")


def _range(document: EstimateDocument, form: QuoteFormSettings) -> PriceRange:
    told = document.price.total if form.tax_shown else document.price.net
    lowest, highest = range_of(told, form.range)
    return PriceRange(lowest=lowest, highest=highest, tax_included=form.tax_shown)


def quoted(found: PricedFloor, words: FormWords) -> QuotedRange:
    schedule = found.made.document.schedule
    return QuotedRange(
        price=found.price,
        includes=words.includes,
        minimum_note=words.minimum_note,
        working_days=len(schedule.days),
        days=(schedule.last_day - schedule.first_day).days + 1,
    )
