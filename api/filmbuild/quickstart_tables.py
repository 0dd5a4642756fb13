"""An estimate as tables for a terminal."""

import datetime as dt
from collections import Counter
from decimal import Decimal

from rich.console import Console
from rich.table import Table

from filmbuild_sdk import Money, Quantity, models


def show(console: Console, document: models.EstimateDocument) -> None:
    console.print(
        f"\n[bold]{document.takeoff.site}[/]  (system {document.materials.system}, catalogue revision "
        f"{document.catalogue_revision}, prices of {document.priced_on})"
    )
    for table in (
        _takeoff(document.takeoff),
        _coats(document.materials),
        _packs(document.materials),
        _consumables(document),
        _labour(document.labour, document.schedule),
        _dates(document.schedule),
        _price(document.price),
    ):
        console.print()
        console.print(table)
    _usable(console, document.schedule)
    for note in document.notes:
        console.print(f"[bold]Note:[/] {note.detail}")
    for caution in document.cautions:
        where = f" ({', '.join(caution.applies_to)})" if caution.applies_to else ""
        console.print(f"[bold]Caution: {caution.title}[/]{where}. {caution.detail}")
        console.print(f"  Source: {caution.source}")


def _table(title: str, *columns: str) -> Table:
    """A column whose heading ends in a blank is text; the others are figures."""
    table = Table(title=title, title_justify="left", title_style="bold", header_style="")
    for column in columns:
        table.add_column(column.rstrip(), justify="left" if column.endswith(" ") else "right")
    return table


def _takeoff(takeoff: models.Takeoff) -> Table:
    table = _table(
        "Takeoff", "area ", "floor", "machine", "by hand", "cut in", "vertical", "walls", "tape"
    )
    for area in takeoff.areas:
        table.add_row(area.name, *_measures(area))
    table.add_section()
    table.add_row("all", *_measures(takeoff.totals))
    return table


def _measures(one: models.AreaTakeoff | models.Totals) -> list[str]:
    areas = (one.floor, one.machine_grind, one.hand_grind, one.cut_in, one.vertical)
    return [_text(figure) for figure in (*areas, one.wall_length, one.tape_length)]


def _coats(materials: models.Materials) -> Table:
    table = _table("Layers", "layer ", "wet film", "net", "ordered", "parts ", "mixes ")
    for coat in materials.coats:
        parts = ", ".join(f"{part.part} {_text(part.volume)}" for part in coat.parts)
        film = "" if coat.wet_film is None else _text(coat.wet_film)
        net, ordered = _text(coat.net_volume), _text(coat.ordered_volume)
        table.add_row(coat.name, film, net, ordered, parts, _mixes(coat))
    return table


def _mixes(coat: models.Coat) -> str:
    if not coat.mixes:
        return ""
    shortest = _minutes(min(mix.working_life for mix in coat.mixes))
    sizes = Counter(_text(mix.volume) for mix in coat.mixes)
    if len(coat.mixes) == 1:
        return f"1 mix of {next(iter(sizes))}, within {shortest}"
    shown = ", ".join(f"{many} x {size}" for size, many in sizes.items())
    return f"{len(coat.mixes)} mixes: {shown}; each within {shortest}"


def _packs(materials: models.Materials) -> Table:
    table = _table("Packs to buy", "product ", "pack ", "number", "each", "amount", "left over ")
    for purchase in materials.purchases:
        surplus = ", ".join(f"{part} {_text(left)}" for part, left in purchase.surplus.items())
        for pack in purchase.packs:
            each, amount = _money(pack.unit_price), _money(pack.amount)
            table.add_row(purchase.name, pack.name, str(pack.count), each, amount, surplus)
            surplus = ""
    return table


def _consumables(document: models.EstimateDocument) -> Table:
    table = _table("Consumables and tools", "stage ", "item ", "number", "unit ", "amount")
    lines = (*document.materials.consumables, *document.schedule.consumables)
    for line in sorted(lines, key=lambda one: one.stage):
        table.add_row(line.stage, line.name, str(line.count), line.unit, _money(line.amount))
    return table


def _labour(labour: models.Labour, schedule: models.Schedule) -> Table:
    """Paid hours are those of the dates, as the price takes them."""
    table = _table(
        f"Crew hours (crew of {labour.crew})", "task ", "quantity", "people", "crew time", "labour"
    )
    for task in (*labour.tasks, *schedule.tasks):
        quantity = "" if task.quantity is None else _text(task.quantity)
        labour_hours = _text(task.labour)
        duration = _minutes(task.duration)
        table.add_row(task.name, quantity, str(task.workers), duration, labour_hours)
    table.add_section()
    table.add_row("productive", "", "", "", _text(schedule.productive))
    table.add_row("paid, with travel", "", "", "", _text(schedule.paid))
    return table


def _dates(schedule: models.Schedule) -> Table:
    table = _table(f"Dates ({schedule.time_zone})", "work ", "from ", "to ", "float", "why then ")
    for one in schedule.activities:
        float_time = "none" if one.critical else _minutes(one.float_time)
        table.add_row(one.name, _moment(one.start), _moment(one.finish), float_time, one.bound_by)
    return table


def _usable(console: Console, schedule: models.Schedule) -> None:
    console.print(
        f"Foot traffic from {_moment(schedule.foot_traffic_from)}, vehicles from "
        f"{_moment(schedule.vehicle_traffic_from)}, full cure {_moment(schedule.full_cure_at)}."
    )


def _price(price: models.Price) -> Table:
    table = _table(f"Price ({price.currency})", "item ", "amount")
    groups: dict[str, Decimal] = {}
    for line in price.lines:
        groups[line.group] = groups.get(line.group, Decimal(0)) + line.amount.amount
    for group, amount in groups.items():
        table.add_row(group, f"{amount:,f}")
    table.add_section()
    table.add_row("contingency", _money(price.contingency))
    table.add_row("overhead", _money(price.overhead))
    table.add_row("cost", _money(price.cost))
    gain = f"markup {price.markup_percent} %, margin {price.margin_percent} %"
    table.add_row(f"net ({gain})", _money(price.net))
    for tax in price.taxes:
        table.add_row(f"{tax.name}, {tax.rate_percent} %", _money(tax.amount))
    table.add_row("total", _money(price.total))
    table.add_row("net for one square foot", _money(price.per_square_foot))
    return table


def _text(quantity: Quantity) -> str:
    digits = 1 if abs(quantity.value) >= 10 else 2  # noqa: PLR2004 - three figures are read at a glance
    return f"{quantity.value:,.{digits}f} {quantity.unit}"


def _money(money: Money) -> str:
    return f"{money.amount:,f}"


def _minutes(duration: dt.timedelta) -> str:
    minutes = round(duration.total_seconds() / 60)
    return f"{minutes // 60} h {minutes % 60:02} min" if minutes >= 60 else f"{minutes} min"  # noqa: PLR2004 - minutes in an hour


def _moment(moment: dt.datetime) -> str:
    """To the nearest minute."""
    return f"{moment + dt.timedelta(seconds=30):%a %d %b %H:%M}"
