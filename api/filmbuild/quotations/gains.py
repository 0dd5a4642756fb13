"""What each way to do the work has over the others, in sentences."""

from collections.abc import Callable, Sequence
from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal
from functools import cache
from typing import Literal

import msgspec
from babel import Locale, UnknownLocaleError
from babel.numbers import format_decimal

from filmbuild.pipeline.results import Offer
from filmbuild.quotations.money_text import money_text

_HUNDREDTHS_OF_A_MILLIMETRE = 1e5
_METRES_OF_A_MIL = 25.4e-6
_HALF_A_DAY = timedelta(hours=12)
_WORDS: dict[str, dict[str, str]] = {
    "en": {
        "price": "{amount} less than any other offer here.",
        "thickness": "The thickest film: {amount} more than any other offer here.",
        "done": "Done {days} sooner than any other offer here.",
        "foot": "Open to foot traffic {days} sooner than any other offer here.",
        "vehicles": "Open to vehicles {days} sooner than any other offer here.",
        "day": "1 day",
        "days": "{count} days",
    },
    "es": {
        "price": "{amount} menos que cualquier otra oferta de estas.",
        "thickness": "La pel\u00edcula m\u00e1s gruesa: {amount} m\u00e1s que cualquier otra oferta de estas.",
        "done": "Terminada {days} antes que cualquier otra oferta de estas.",
        "foot": "Transitable a pie {days} antes que cualquier otra oferta de estas.",
        "vehicles": "Transitable con veh\u00edculos {days} antes que cualquier otra oferta de estas.",
        "day": "1 d\u00eda",
        "days": "{count} d\u00edas",
    },
}


class Compared(msgspec.Struct, frozen=True, kw_only=True):
    """What alternates are compared by; `film` is the dry film on the floor [m]."""

    offer: Offer
    film: float
    last_day: date
    foot_traffic_from: datetime
    vehicle_traffic_from: datetime


def gains_of(
    alternates: Sequence[Compared], language: str, units: Literal["us", "si"]
) -> list[tuple[str, ...]]:
    """For each of them; none where there is one alone, or no words in the language."""
    words = _WORDS.get(language.partition("-")[0])
    if words is None or len(alternates) == 1:
        return [()] * len(alternates)
    locale = locale_of(language)
    found = []
    for place, one in enumerate(alternates):
        others = [each for at, each in enumerate(alternates) if at != place]
        found.append(tuple(_gains(one, others, words, locale, units)))
    return found


@cache
def locale_of(language: str) -> Locale:
    """The nearest that numbers can be written in."""
    for name in (language.replace("-", "_"), language.partition("-")[0]):
        try:
            return Locale.parse(name)
        except UnknownLocaleError:
            continue
    return Locale("en")


def _gains(
    one: Compared, others: Sequence[Compared], words: dict[str, str], locale: Locale, units: str
) -> list[str]:
    said = []
    less = min(each.offer.total.amount for each in others) - one.offer.total.amount
    if less > 0:
        amount = money_text(less, one.offer.currency, locale)
        said.append(words["price"].format(amount=amount))
    more = one.film - max(each.film for each in others)
    if (film := _film(more, locale, units)) is not None:
        said.append(words["thickness"].format(amount=film))
    for name, of in _MOMENTS.items():
        days = _days(min(of(each) for each in others) - of(one))
        if days == 1:
            said.append(words[name].format(days=words["day"]))
        elif days > 1:
            said.append(words[name].format(days=words["days"].format(count=days)))
    return said


_MOMENTS: dict[str, Callable[[Compared], datetime]] = {
    "done": lambda one: datetime.combine(one.last_day, time(tzinfo=UTC)),
    "foot": lambda one: one.foot_traffic_from,
    "vehicles": lambda one: one.vehicle_traffic_from,
}


def _days(sooner: timedelta) -> int:
    """Whole days, half of one counting as one."""
    return (sooner + _HALF_A_DAY).days


def _film(more: float, locale: Locale, units: str) -> str | None:
    """None where it is too little to be measured."""
    if units == "us":
        mils = round(more / _METRES_OF_A_MIL)
        return f"{format_decimal(mils, locale=locale)} mil" if mils >= 1 else None
    hundredths = round(more * _HUNDREDTHS_OF_A_MILLIMETRE)
    if hundredths < 1:
        return None
    return f"{format_decimal(Decimal(hundredths) / 100, locale=locale)} mm"
