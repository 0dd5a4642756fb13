"""What is written: tables that fit the terminal, JSON for programs, questions and progress."""

import re
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager

import click
import msgspec
from rich.cells import cell_len
from rich.console import Console
from rich.progress import BarColumn, DownloadColumn, Progress, SpinnerColumn, TextColumn
from rich.table import Table
from rich.text import Text

GAP = 2
LEAST_WRAPPED = 20
"""[cells] Narrower than this a sentence reads worse in a column than in a paragraph."""
# what could move the cursor or change the terminal, in texts that others have written
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]")
WIDE = 10_000


def screen(*, error: bool = False) -> Console:
    """Of the terminal; elsewhere without colours, and with lines as long as they are."""
    console = Console(stderr=error, highlight=False, markup=False, emoji=False)
    if not console.is_terminal:
        console.width = WIDE
    return console


def say(text: str) -> None:
    """Beside the results, on standard error, and after what was shown before."""
    sys.stdout.flush()
    screen(error=True).print(clean(text))


def clean(text: str) -> str:
    return _CONTROL.sub("\N{REPLACEMENT CHARACTER}", text)


def show_json(value: object) -> None:
    content = msgspec.json.format(msgspec.json.encode(value), indent=2)
    sys.stdout.write(content.decode() + "\n")


def show_table(
    console: Console, title: str, columns: Sequence[str], rows: Iterable[Sequence[object]]
) -> None:
    """A column whose name ends in a blank is text, the others are figures.

    Where the whole does not fit, text in the last column goes on below itself, or else each row
    is a paragraph, so that no figure is cut in two.
    """
    cells = [[clean(str(cell)) for cell in row] for row in rows]
    names = [column.rstrip() for column in columns]
    widths = [max(map(cell_len, column)) for column in zip(names, *cells, strict=True)]
    console.print(Text(clean(title), style="bold"))
    left = [column.endswith(" ") for column in columns]
    start = sum(widths[:-1]) + GAP * (len(widths) - 1)
    room = max(console.width - start, 0)
    if room < widths[-1] and (room < LEAST_WRAPPED or not left[-1]):
        for row in cells:
            _paragraph(console, names, row)
        return
    widths[-1] = min(widths[-1], room)
    console.print(Text(_line(names, widths, left), style="dim"))
    for *figures, last in cells:
        first, *others = Text(last).wrap(console, max(room, 1)) or [Text()]
        console.print(Text(_line([*figures, first.plain], widths, left)))
        for more in others:
            console.print(Text(" " * start + more.plain))


def _line(cells: Sequence[str], widths: Sequence[int], left: Sequence[bool]) -> str:
    blanks = [" " * (width - cell_len(cell)) for cell, width in zip(cells, widths, strict=True)]
    padded = [
        cell + blank if to_left else blank + cell
        for cell, blank, to_left in zip(cells, blanks, left, strict=True)
    ]
    return (" " * GAP).join(padded).rstrip()


def _paragraph(console: Console, names: Sequence[str], row: Sequence[str]) -> None:
    """Of two cells, the first is the name of the second."""
    first, *others = zip(names, row, strict=True)
    if len(others) == 1:
        others = [(first[1], others[0][1])]
    else:
        console.print(Text(first[1] or "-"))
    for name, cell in others:
        if cell:
            # a table of one row wraps what is long under itself, to the right of its name
            line = Table.grid(padding=(0, 1, 0, 0))
            line.add_column(no_wrap=True)
            line.add_column(overflow="fold")
            line.add_row(Text(f"  {name}", style="dim"), Text(cell))
            console.print(line)


def confirm(question: str, *, yes: bool) -> bool:
    if yes:
        return True
    if not sys.stdin.isatty():
        raise click.UsageError(f"{question} There is nobody to ask: say --yes to do it.")
    return click.confirm(clean(question), err=True)


@contextmanager
def sending(what: str) -> Iterator[Callable[[int, int | None], None] | None]:
    """A bar for what is sent, on a terminal; nothing elsewhere."""
    console = screen(error=True)
    if not console.is_terminal:
        yield None
        return
    narrow = console.width < 60  # noqa: PLR2004 - name, bar and bytes need about as much
    bar = [] if narrow else [BarColumn(bar_width=20), DownloadColumn()]
    spinner, name = SpinnerColumn(), TextColumn("{task.description}", markup=False)
    with Progress(spinner, name, *bar, console=console, transient=True) as shown:
        task = shown.add_task(what, total=None)

        def progress(sent: int, total: int | None) -> None:
            over = total is not None and sent >= total
            text = f"{what}: the service is at work" if over else what
            shown.update(task, completed=sent, total=total, description=text)

        yield progress
