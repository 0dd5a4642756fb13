"""Numbers, money, dates and quantities in the reader's language."""

import re
from collections.abc import Mapping
from datetime import date, datetime, timedelta, tzinfo
from decimal import ROUND_HALF_UP, Decimal
from functools import cache
from zoneinfo import ZoneInfo

import msgspec
from babel import Locale, UnknownLocaleError
from babel.dates import format_date, format_datetime, format_time
from babel.numbers import format_decimal

from filmbuild.money import Money, minor_units
from filmbuild.quantities import Length, Quantity, SmallVolume, UnitSystem, Volume, to_unit
from filmbuild.quotations.documents.languages import Language, language_of
from filmbuild.quotations.money_text import money_text

UNITS: Mapping[str, str] = {
    "MTR": "m",
    "FOT": "ft",
    "YRD": "yd",
    "MTK": "m²",
    "FTK": "ft²",
    "YDK": "yd²",
    "MTQ": "m³",
    "FTQ": "ft³",
    "YDQ": "yd³",
    "LTR": "L",
    "GLL": "gal",
    "KGM": "kg",
    "TNE": "t",
    "LBR": "lb",
    "HUR": "h",
    "DAY": "d",
}
"""Signs for codes of UNECE Recommendation 20 that need no words."""
WORDS: Mapping[str, str] = {
    "LS": "unit_lump_sum",
    "EA": "unit_each",
    "C62": "unit_each",
    "WEE": "unit_week",
}
"""Labels for the others; a code that is neither stands as it is."""
LUMP_SUM = "LS"
_MINUTE = timedelta(minutes=1)
_RAISED: Mapping[str, str] = {"2": "²", "3": "³"}
_MEASURED_SMALL = 1e-3
"""[m3] Less than a litre is measured with a cup: in fluid ounces or millilitres."""


class Writer(msgspec.Struct, frozen=True):
    """`locale` has the ways of writing of the region where the tag names one."""

    language: Language
    locale: Locale
    zone: tzinfo

    @property
    def tag(self) -> str:
        """That of the documents themselves: texts that others wrote may be in another."""
        return str(self.locale).replace("_", "-")

    def money(self, money: Money) -> str:
        """To the minor unit of ISO 4217, which is not always what the locale data would show."""
        return money_text(money.amount, money.currency, self.locale)

    def unit_price(self, net: Money, quantity: Decimal) -> str:
        """Said to be about so much where the quantity does not come to the net by it."""
        digits = minor_units(net.currency)
        step = Decimal(1).scaleb(-digits)
        price = (net.amount / quantity).quantize(step, rounding=ROUND_HALF_UP)
        text = money_text(price, net.currency, self.locale)
        if price * quantity == net.amount:
            return text
        return self.language["about"].format(amount=text)

    def number(self, value: Decimal | float, decimals: int = 3) -> str:
        pattern = "#,##0" + ("." + "#" * decimals if decimals else "")
        return format_decimal(value, format=pattern, locale=self.locale)

    def percent(self, value: Decimal) -> str:
        return f"{format_decimal(value, format='#,##0.######', locale=self.locale)}\u00a0%"

    def unit(self, code: str) -> str:
        if code in WORDS:
            return self.language[WORDS[code]]
        return UNITS.get(code, code)

    def quantity(self, quantity: Quantity | None, system: UnitSystem) -> str:
        """Rounded to about four digits; nothing for what is not there."""
        if quantity is None:
            return ""
        if isinstance(quantity, Volume) and quantity < _MEASURED_SMALL:
            quantity = SmallVolume(quantity)
        value, label = to_unit(quantity, system)
        size = abs(value)
        decimals = 1 if size >= 100 else 2 if size >= 1 else 4  # noqa: PLR2004 - about four digits
        if isinstance(quantity, Length):
            decimals = min(decimals, 2)
        return f"{self.number(value, decimals)}\u00a0{_sign(label)}"

    def day(self, day: date) -> str:
        return format_date(day, format="long", locale=self.locale)

    def weekday(self, day: date) -> str:
        return format_date(day, format="full", locale=self.locale)

    def moment(self, moment: datetime) -> str:
        """By the clock of the site."""
        local = moment.astimezone(self.zone)
        return format_datetime(local, format="medium", locale=self.locale).replace(
            "\u202f", "\u00a0"
        )

    def to_the_minute(self, moment: datetime) -> str:
        return self._day_and_time(moment.astimezone(self.zone))

    def opening(self, moment: datetime) -> str:
        """By the clock that the moment itself has, which is the site's; never too early."""
        whole = moment.replace(second=0, microsecond=0)
        return self._day_and_time(whole if whole == moment else whole + _MINUTE)

    def clock(self, moment: datetime) -> str:
        return self._time(moment.astimezone(self.zone))

    def _day_and_time(self, local: datetime) -> str:
        day = format_date(local.date(), format="full", locale=self.locale)
        return f"{day}, {self._time(local)}"

    def _time(self, local: datetime) -> str:
        text = format_time(local.timetz(), format="short", locale=self.locale)
        return text.replace("\u202f", "\u00a0")


def _sign(unit: str) -> str:
    """As it is written by hand: with raised powers."""
    plain = unit.replace("_", " ").removeprefix("delta ")
    return re.sub(r"(?<=[a-z])[23]", lambda power: _RAISED[power[0]], plain)


def writer_of(tag: str, time_zone: str) -> Writer:
    language = language_of(tag)
    return Writer(language, _locale(tag, language.code), ZoneInfo(time_zone))


@cache
def _locale(tag: str, code: str) -> Locale:
    """Figures are in the language of the labels, and of the tag's region where that is known."""
    if tag.partition("-")[0] == code:
        try:
            return Locale.parse(tag, sep="-")
        except (UnknownLocaleError, ValueError):
            pass
    return Locale.parse(code)
