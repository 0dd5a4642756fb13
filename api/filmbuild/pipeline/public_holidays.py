"""Public holidays by country and subdivision."""

from collections.abc import Iterable
from datetime import date
from functools import lru_cache

import holidays


class UnknownHolidaysError(ValueError):
    """No public holidays are known under this name; `field` is "country" or "subdivision"."""

    def __init__(self, field: str, value: str, accepted: tuple[str, ...]) -> None:
        super().__init__(
            f"{field} {value!r} is not known; accepted: {', '.join(accepted) or 'none'}"
        )
        self.field = field
        self.value = value
        self.accepted = accepted


def holiday_dates(country: str, subdivision: str | None, years: Iterable[int]) -> frozenset[date]:
    """Public holidays, observed days included, of an ISO 3166 country and subdivision.

    Raises UnknownHolidaysError.
    """
    return _holiday_dates(country, subdivision, tuple(sorted(set(years))))


@lru_cache(maxsize=256)
def _holiday_dates(
    country: str, subdivision: str | None, years: tuple[int, ...]
) -> frozenset[date]:
    supported = holidays.list_supported_countries()
    if country not in supported:
        raise UnknownHolidaysError("country", country, tuple(sorted(supported)))
    try:
        found = holidays.country_holidays(country, subdivision, years=years, expand=False)
    except NotImplementedError:
        accepted = tuple(supported[country])
        raise UnknownHolidaysError("subdivision", subdivision or "", accepted) from None
    return frozenset(found)
