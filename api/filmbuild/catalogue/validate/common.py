"""Checks that records of several kinds share."""

from collections.abc import Callable, Hashable, Iterable
from typing import TypeVar

from filmbuild.errors import Faults

T = TypeVar("T")


def check_unique(
    records: Iterable[T], key: Callable[[T], Hashable], faults: Faults, *member: str
) -> None:
    """`member` is the one that repeats, for the pointer."""
    first: dict[Hashable, int] = {}
    for index, record in enumerate(records):
        before = first.setdefault(key(record), index)
        if before != index:
            faults.add(
                "duplicate", f"the same as at index {before}; each may stand once", index, *member
            )


def check_order(
    record: object, lower: str, upper: str, faults: Faults, code: str = "range-reversed"
) -> None:
    """Where both members are given, the lower must not exceed the upper."""
    least, most = getattr(record, lower), getattr(record, upper)
    if least is not None and most is not None and least > most:
        faults.add(code, f"must be no more than {upper}", lower)


def check_exactly_one(record: object, members: tuple[str, ...], faults: Faults) -> str | None:
    """The member that is given, or None where none or several are."""
    given = [name for name in members if getattr(record, name) is not None]
    if len(given) == 1:
        return given[0]
    found = " and ".join(given) if given else "none"
    faults.add(
        "exactly-one", f"give exactly one of {', '.join(members)}; {found} given", *given[1:2]
    )
    return None
