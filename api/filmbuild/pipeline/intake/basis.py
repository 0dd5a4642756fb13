"""Whether the job is still the one that the document handed in was computed for."""

from collections.abc import Callable, Sequence
from datetime import date
from math import isclose

import msgspec

from filmbuild.errors import Faults, Token
from filmbuild.pipeline.job import CrewMember, Job, LayerChange, StockLot
from filmbuild.pipeline.results import Basis
from filmbuild.pipeline.selection import Selection
from filmbuild.quantities import Temperature, UnitSystem, to_unit

_SAME_FILM = 1e-6  # relative: films are written to fewer digits than they are computed with
_SAME_DEGREE = 1e-6  # K: temperatures are written to a billionth of a degree


def basis_of(job: Job, selection: Selection) -> Basis:
    """The job with what was assumed for it."""
    return Basis(
        system=selection.system.id,
        rate_book=selection.rate_book.id,
        currency=job.currency,
        conditions=selection.conditions,
        crew=tuple(
            CrewMember(labour_class=labour_class.id, count=count)
            for labour_class, count in selection.crew
        ),
        calendar=job.calendar,
        start=job.start,
        layers=job.layers,
        stock=job.stock,
        price_tier=job.price_tier,
    )


class _Fact(msgspec.Struct, frozen=True):
    """Something of a job that figures depend on; `where` leads to it in the job."""

    where: tuple[str, ...]
    name: str
    same: Callable[[Basis, Basis], bool]
    shown: Callable[[Basis, UnitSystem], str]


def _plain(field: str, name: str) -> _Fact:
    return _Fact(
        (field,),
        name,
        lambda one, other: getattr(one, field) == getattr(other, field),
        lambda basis, _units: str(getattr(basis, field)),
    )


def _degrees(basis: Basis, units: UnitSystem) -> str:
    value, unit = to_unit(Temperature(basis.conditions.surface_temperature), units)
    return f"{value:.6g} {unit}"


def _surface_alike(one: Basis, other: Basis) -> bool:
    first, second = one.conditions.surface_temperature, other.conditions.surface_temperature
    return abs(first - second) <= _SAME_DEGREE


def _layers_alike(one: Basis, other: Basis) -> bool:
    return _all_alike(one.layers, other.layers)


def _all_alike(
    ones: Sequence[LayerChange | StockLot], others: Sequence[LayerChange | StockLot]
) -> bool:
    """In this order, field by field."""
    return len(ones) == len(others) and all(
        _alike(getattr(first, field), getattr(second, field))
        for first, second in zip(ones, others, strict=True)
        for field in first.__struct_fields__
    )


def _alike(one: object, other: object) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        return isclose(one, other, rel_tol=_SAME_FILM)
    return one == other


def _changed(basis: Basis, units: UnitSystem) -> str:
    described = []
    for change in basis.layers:
        for field in ("dry_film", "wet_film", "spread_rate", "vertical"):
            film = getattr(change, field)
            if film is not None:
                value, unit = to_unit(film, units)
                described.append(f"{change.layer} {field} {value:.6g} {unit} ({change.passes})")
    return ", ".join(described) or "as the system states them"


def _in_store(basis: Basis, units: UnitSystem) -> str:
    described = []
    for lot in basis.stock:
        held = lot.volume if lot.volume is not None else lot.mass
        if held is None:
            amount = f"{lot.count} x {lot.pack}"
        else:
            value, unit = to_unit(held, units)
            amount = f"{value:.6g} {unit} of {lot.part}"
        dated = [lot.lot, lot.expires and lot.expires.isoformat()]
        said = ", ".join(one for one in dated if one)
        described.append(f"{lot.product} {amount}" + (f" ({said})" if said else ""))
    return ", ".join(described) or "nothing"


def people(basis: Basis) -> int:
    return sum(member.count for member in basis.crew)


def _by_class(basis: Basis) -> dict[str, int]:
    heads: dict[str, int] = {}
    for member in basis.crew:
        heads[member.labour_class] = heads.get(member.labour_class, 0) + member.count
    return heads


def _crew(basis: Basis, _units: UnitSystem) -> str:
    return ", ".join(f"{count} x {name}" for name, count in _by_class(basis).items())


def _stretches(basis: Basis) -> list[int]:
    """[min] Ends of work and of breaks from the shift's start: when it starts moves no figure."""
    calendar = basis.calendar
    clocks = [clock for one in calendar.breaks for clock in (one.start, one.end)]
    start, *others = map(_minutes, (calendar.shift_start, *clocks, calendar.shift_end))
    return [one - start for one in others]


def _minutes(clock: str) -> int:
    return 60 * int(clock[:2]) + int(clock[3:])


def _hours(basis: Basis, _units: UnitSystem) -> str:
    calendar = basis.calendar
    breaks = ", ".join(f"{one.start} to {one.end}" for one in calendar.breaks)
    pauses = f" with breaks from {breaks}" if breaks else ""
    return f"from {calendar.shift_start} to {calendar.shift_end}{pauses}"


_SURFACE = _Fact(
    ("conditions", "surface_temperature"),
    "a surface temperature of",
    _surface_alike,
    _degrees,
)
_PEOPLE = _Fact(
    ("crew",),
    "this number of people:",
    lambda one, other: people(one) == people(other),
    lambda basis, _units: str(people(basis)),
)
_CREW = _Fact(("crew",), "a crew of", lambda one, other: _by_class(one) == _by_class(other), _crew)
_LAYERS = _Fact(("layers",), "layers", _layers_alike, _changed)
_SHIFT = _Fact(
    ("calendar",), "a shift", lambda one, other: _stretches(one) == _stretches(other), _hours
)
_STOCK = _Fact(
    ("stock",), "in store", lambda one, other: _all_alike(one.stock, other.stock), _in_store
)
_ALWAYS = (
    _plain("system", "system"),
    _plain("rate_book", "rate book"),
    _plain("currency", "currency"),
    _plain("price_tier", "price tier"),
    _SURFACE,
    _SHIFT,
    _LAYERS,
    _STOCK,
)
MATERIALS = (*_ALWAYS, _PEOPLE)
LABOUR = (*_ALWAYS, _CREW)
"""What the figures of each stage, and of those before it, depend on; other facts may change."""


def check_basis(
    computed_for: Basis,
    asked: Basis,
    facts: tuple[_Fact, ...],
    job: Job,
    units: UnitSystem,
    faults: Faults,
) -> None:
    """`asked` is what the job asks for, at which `faults` is rooted."""
    for fact in facts:
        if not fact.same(computed_for, asked):
            before, now = fact.shown(computed_for, units), fact.shown(asked, units)
            field, *_ = fact.where
            where = fact.where if getattr(job, field) is not None else (field,)
            _refuse(faults, f"{fact.name} {before}", now, where)


def check_prices(computed_on: date | None, asked: date, faults: Faults) -> None:
    """`faults` is rooted at the job."""
    if computed_on != asked:
        _refuse(faults, f"prices of {computed_on}", str(asked), ("priced_on",))


def _refuse(faults: Faults, before: str, now: str, where: tuple[Token, ...]) -> None:
    faults.add(
        "basis-mismatch",
        f"the document handed in was computed for {before}; this job has {now}: give the job as it "
        "was, or compute the document again from the site",
        *where,
    )
