"""An estimate for a terminal."""

import datetime as dt
from decimal import Decimal

from rich.console import Console
from rich.text import Text

from filmbuild_sdk import Money, Quantity, models
from filmbuild_sdk.cli.output import clean, show_table


def show(console: Console, document: models.EstimateDocument) -> None:
    site = document.takeoff.site or "Site"
    console.print(Text(clean(f"{site}, system {document.materials.system}"), style="bold"))
    console.print(
        f"catalogue revision {document.catalogue_revision}, prices of {document.priced_on}"
    )
    for part in (_areas, _layers, _packs, _dates, _price):
        console.print()
        part(console, document)
    if document.notes:
        console.print()
    for note in document.notes:
        console.print(clean(f"Note: {note.detail}"))
    if document.cautions:
        titles = "; ".join(one.title for one in document.cautions)
        console.print(clean(f"\nCautions: {titles}. In full, with sources: --json"))


def _areas(console: Console, document: models.EstimateDocument) -> None:
    takeoff = document.takeoff
    rows = [
        (one.name, *map(_text, (one.floor, one.machine_grind, one.hand_grind, one.vertical)))
        for one in takeoff.areas
    ]
    total = takeoff.totals
    if len(rows) > 1:
        figures = (total.floor, total.machine_grind, total.hand_grind, total.vertical)
        rows.append(("all", *map(_text, figures)))
    show_table(console, "Takeoff", ("area ", "floor", "by machine", "by hand", "vertical"), rows)


def _layers(console: Console, document: models.EstimateDocument) -> None:
    rows = [
        (
            one.name,
            "" if one.wet_film is None else _text(one.wet_film),
            _text(one.ordered_volume),
            len(one.mixes),
        )
        for one in document.materials.coats
    ]
    show_table(console, "Layers", ("layer ", "wet film", "volume", "mixes"), rows)


def _packs(console: Console, document: models.EstimateDocument) -> None:
    rows = [
        (pack.name, pack.count, _money(pack.amount))
        for purchase in document.materials.purchases
        for pack in purchase.packs
    ]
    show_table(console, "To buy", ("pack ", "number", "amount"), rows)


def _dates(console: Console, document: models.EstimateDocument) -> None:
    schedule = document.schedule
    rows = [
        ("work", f"{schedule.first_day:%a %d %b %Y} to {schedule.last_day:%a %d %b %Y}"),
        ("crew", f"{document.labour.crew}, {_text(schedule.paid)} paid"),
        ("foot traffic", _moment(schedule.foot_traffic_from)),
        ("vehicles", _moment(schedule.vehicle_traffic_from)),
        ("full cure", _moment(schedule.full_cure_at)),
    ]
    show_table(console, f"Dates ({schedule.time_zone})", ("what ", "when "), rows)


def _price(console: Console, document: models.EstimateDocument) -> None:
    price = document.price
    groups: dict[str, Decimal] = {}
    for line in price.lines:
        groups[line.group] = groups.get(line.group, Decimal(0)) + line.amount.amount
    rows = [(group, f"{amount:,f}") for group, amount in groups.items()]
    rows += [
        ("contingency", _money(price.contingency)),
        ("overhead", _money(price.overhead)),
        ("cost", _money(price.cost)),
        (f"net, margin {price.margin_percent} %", _money(price.net)),
    ]
    rows += [(f"{tax.name}, {tax.rate_percent} %", _money(tax.amount)) for tax in price.taxes]
    rows.append(("total", _money(price.total)))
    show_table(console, f"Price ({price.currency})", ("item ", "amount"), rows)


def _text(quantity: Quantity) -> str:
    digits = 1 if abs(quantity.value) >= 10 else 2  # noqa: PLR2004 - three figures are read at a glance
    return f"{quantity.value:,.{digits}f} {quantity.unit}"


def _money(money: Money) -> str:
    return f"{money.amount:,f}"


def _moment(moment: dt.datetime) -> str:
    """To the nearest minute."""
    return f"{moment + dt.timedelta(seconds=30):%a %d %b %Y %H:%M}"
