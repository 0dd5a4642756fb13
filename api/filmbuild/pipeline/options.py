"""Work that a customer may have done as well: what each option adds to the job without any."""

from collections.abc import Callable, Collection, Iterable, Sequence
from decimal import Decimal

import msgspec

from filmbuild.errors import Fault, Faults, FilmbuildError
from filmbuild.money import Money, rounded
from filmbuild.pipeline.requests import EstimateRequest, OptionalWork
from filmbuild.pipeline.results import EstimateDocument, OptionPrice, Price, Takeoff
from filmbuild.pipeline.scope import Part, part_of
from filmbuild.pipeline.trace import Note, Trace
from filmbuild.quantities import Area

Estimated = Callable[[EstimateRequest], EstimateDocument]
"""The whole pipeline over a request without options."""
_FIGURES = ("cost", "net", "materials_net", "total")


def check_options(request: EstimateRequest, faults: Faults) -> None:
    """`faults` is rooted at the options."""
    ids: set[str] = set()
    areas: dict[str, str] = {}
    extras = {one.id for one in request.job.subcontracts}
    on_site = {area.id for area in request.site.areas}
    for index, option in enumerate(request.options):
        here = faults.at(index)
        if option.id in ids:
            here.add("duplicate-id", "another option has this id: give each its own", "id")
        ids.add(option.id)
        if bool(option.areas) == bool(option.extras):
            here.add("exactly-one", "give exactly one of areas and extras", "areas")
        _check_areas(option, on_site, areas, here)
        for number, extra in enumerate(option.extras):
            if extra.id in extras:
                detail = "a subcontract or another extra has this id: give each its own"
                here.add("duplicate-id", detail, "extras", number, "id")
            extras.add(extra.id)
    if on_site and on_site <= areas.keys():
        faults.add("nothing-left", "every area is optional: leave one to the job itself")


def _check_areas(
    option: OptionalWork, on_site: Collection[str], taken: dict[str, str], faults: Faults
) -> None:
    for number, name in enumerate(option.areas):
        if name not in on_site:
            detail = "the site has no area of this id"
            faults.add("unknown-area", detail, "areas", number)
        elif name in taken:
            detail = f"this area is in option {taken[name]} already"
            faults.add("duplicate-area", detail, "areas", number)
        taken.setdefault(name, option.id)


def with_chosen(
    request: EstimateRequest, chosen: Collection[str], whole: Takeoff
) -> tuple[EstimateRequest, Part]:
    """The job with those options and no others; `whole` is the takeoff of all areas of its site."""
    left_out = {name for one in request.options if one.id not in chosen for name in one.areas}
    part = part_of(request.site, left_out, whole)
    extras = [extra for one in request.options if one.id in chosen for extra in one.extras]
    job = request.job
    if extras:
        job = msgspec.structs.replace(job, subcontracts=(*job.subcontracts, *extras))
    return msgspec.structs.replace(request, site=part.site, job=job, options=()), part


def with_option_prices(
    request: EstimateRequest, whole: Takeoff, estimated: Estimated
) -> EstimateDocument:
    """The estimate of the job without options, and the price of each of these.

    Raises what the job without options is refused for; or else all that the options are, each
    with the pointer of its option.
    """
    asked, part = with_chosen(request, (), whole)
    try:
        base = estimated(asked)
    except FilmbuildError as error:
        raise _pointed(error, part) from error
    found: list[OptionPrice] = []
    faults = Faults()
    kind: type[FilmbuildError] | None = None
    for index, option in enumerate(request.options):
        asked, part = with_chosen(request, (option.id,), whole)
        try:
            found.append(_option(option, base, estimated(asked), whole))
        except FilmbuildError as error:
            kind = kind or type(error)
            _tell(option, index, _pointed(error, part).faults, faults)
    if kind is not None:
        faults.raise_if_any("An option cannot be done as it was asked for.", kind)
    return msgspec.structs.replace(base, options=tuple(found))


def _pointed(error: FilmbuildError, part: Part) -> FilmbuildError:
    return type(error)(error.detail, tuple(part.pointed(fault) for fault in error.faults))


def _tell(option: OptionalWork, index: int, found: Iterable[Fault], faults: Faults) -> None:
    """What only this option brings about is told of it; the site keeps its own places."""
    for fault in found:
        where = f" ({fault.pointer})" if fault.pointer else ""
        faults.add(fault.code, f"with option {option.id}{where}: {fault.detail}", "options", index)


def _option(
    option: OptionalWork, base: EstimateDocument, document: EstimateDocument, whole: Takeoff
) -> OptionPrice:
    without, with_it = base.price, document.price
    added = set(option.areas)
    surfaces = [one.floor + one.vertical for one in whole.areas if one.id in added]
    both = {name: (_figure(with_it, name), _figure(without, name)) for name in _FIGURES}
    inputs = {name: {"with_option": one, "without": other} for name, (one, other) in both.items()}
    return OptionPrice(
        id=option.id,
        label=option.label,
        description=option.description,
        areas=option.areas,
        surface=Area(sum(surfaces)),
        last_day=document.schedule.last_day,
        notes=_only(document.notes, base.notes),
        trace=Trace("price.option", inputs),
        **{name: _less(one, other) for name, (one, other) in both.items()},
    )


def _figure(price: Price, name: str) -> Money:
    found: Money = getattr(price, name)
    return found


def _less(one: Money, other: Money) -> Money:
    return rounded(Decimal(one.amount) - other.amount, one.currency)


def _only(notes: Sequence[Note], known: Sequence[Note]) -> tuple[Note, ...]:
    before = set(known)
    return tuple(note for note in notes if note not in before)
