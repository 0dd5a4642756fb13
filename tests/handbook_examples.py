"""The examples of the handbook, run in order as a reader would run them.

Run as a program, it writes what they print, and the pictures that they make, into the handbook.
"""

import contextlib
import io
import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, NamedTuple
from unittest import mock

import calling
from markdown_it import MarkdownIt
from running import running
from sqlalchemy import URL

import filmbuild.handbook
from filmbuild.handbook import outline
from filmbuild_sdk import Client

FOLDER = Path(filmbuild.handbook.__file__).parent
PAGES = FOLDER / "pages"
PICTURES = FOLDER / "pictures"
PRINTED_URL = "http://127.0.0.1:8080"
PRINTED_KEY = "secret-token:filmbuild_your-own-key"
KEY = calling.KEY
"""What the examples send as their key: the one place to change where the service wants another."""
RUN = ("python", "shell")
"""What is run, where no flag says that another test looks at it."""
SHOWN = ("text", "json")
ALONE = "--no-work"
"""Hardly an example waits for work in the background, and a service without it starts sooner."""
WORKING = ("start-invoicing",)
"""Pages on which something is waited for that the service does in the background."""
ON_ONE_MACHINE = {"FILMBUILD_WEBHOOK_PRIVATE_NETWORKS": "on"}
"""As the quickstart has it."""
END = "-- end of the example --"


class Block(NamedTuple):
    """An example; `flags` are the words after its language, `first` and `last` its lines in the file."""

    language: str
    flags: tuple[str, ...]
    content: str
    first: int
    last: int

    @property
    def runs(self) -> bool:
        return self.language in RUN and not self.flags


def text_of(name: str) -> str:
    return (PAGES / f"{name}.md").read_text("utf-8")


def blocks(text: str) -> list[Block]:
    fences = (one for one in MarkdownIt().parse(text) if one.type == "fence" and one.map)
    return [_block(one.info.split(), one.content, *(one.map or (0, 0))) for one in fences]


def _block(info: Sequence[str], content: str, start: int, end: int) -> Block:
    return Block(info[0], tuple(info[1:]), content, start + 1, end - 1)


def pictures(text: str) -> list[str]:
    return re.findall(r"^!\[[^\]]+\]\(pictures/([a-z-]+\.svg)\)$", text, re.MULTILINE)


class Ran(NamedTuple):
    """What an example printed, and the block that shows it, where there is one."""

    block: Block
    printed: str
    shown: Block | None


class Session:
    """A reader with a folder, a shell and a Python prompt, who goes through one page."""

    def __init__(self, address: str, folder: Path) -> None:
        self._folder = folder
        self._names: dict[str, Any] = {}
        self._address = address
        path = os.pathsep.join((str(Path(sys.executable).parent), os.environ["PATH"]))
        environment = {"FILMBUILD_URL": address, "FILMBUILD_KEY": KEY, "PATH": path}
        self._environment = os.environ | environment
        self._shell: subprocess.Popen[str] | None = None

    def run(self, block: Block) -> str:
        text = block.content.replace(PRINTED_URL, self._address).replace(PRINTED_KEY, KEY)
        return self._run_python(text) if block.language == "python" else self._run_shell(text)

    def _run_python(self, code: str) -> str:
        output = io.StringIO()
        with (
            contextlib.redirect_stdout(output),
            contextlib.chdir(self._folder),
            mock.patch.dict(os.environ, self._environment),
        ):
            exec(code, self._names)  # noqa: S102 - the example is our own
        return output.getvalue()

    def _run_shell(self, commands: str) -> str:
        if self._shell is None:
            self._shell = subprocess.Popen(
                ["/bin/bash", "-eu", "-o", "pipefail"],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.STDOUT,
                text=True,
                cwd=self._folder,
                env=self._environment,
            )
        assert self._shell.stdin is not None
        assert self._shell.stdout is not None
        self._shell.stdin.write(f"{commands}\nprintf '\\n%s\\n' '{END}'\n")
        self._shell.stdin.flush()
        lines: list[str] = []
        for line in self._shell.stdout:
            if line.rstrip("\n") == END:
                return "".join(lines).removesuffix("\n")
            lines.append(line)
        raise AssertionError(f"the shell ended:\n{commands}\n{''.join(lines)}")

    def close(self) -> None:
        for value in self._names.values():
            if isinstance(value, Client):
                value.close()
        if self._shell is not None:
            self._shell.communicate()


@contextmanager
def session(address: str, folder: Path) -> Iterator[Session]:
    one = Session(address, folder)
    try:
        yield one
    finally:
        one.close()


def read_through(name: str, address: str, folder: Path) -> Iterator[Ran]:
    """Runs the page's examples in order."""
    found = blocks(text_of(name))
    with session(address, folder) as reader:
        for at, block in enumerate(found):
            if block.runs:
                following = found[at + 1] if at + 1 < len(found) else None
                shown = following if following and following.language in SHOWN else None
                yield Ran(block, reader.run(block), shown)


def contains(whole: Any, part: Any) -> bool:
    """Objects may hold more than is shown; lists are whole but for an ellipsis at their end."""
    if isinstance(part, dict):
        return isinstance(whole, dict) and all(
            name in whole and contains(whole[name], value) for name, value in part.items()
        )
    if isinstance(part, list):
        if part and part[-1] == "...":
            return len(whole) >= len(part) and contains(whole[: len(part) - 1], part[:-1])
        return len(whole) == len(part) and all(
            contains(one, other) for one, other in zip(whole, part, strict=True)
        )
    return part == "..." or bool(whole == part)


def agrees(ran: Ran) -> bool:
    if ran.shown is None:
        return True
    if ran.shown.language == "json":
        return contains(json.loads(ran.printed), json.loads(ran.shown.content))
    return ran.printed.rstrip("\n") == ran.shown.content.rstrip("\n")


def shown_again(whole: Any, part: Any) -> Any:
    """What `part` shows of an answer, as it is now; a question mark asks for all of it."""
    if part == "?":
        return {**whole, "request_id": "..."} if "request_id" in whole else whole
    if isinstance(part, dict) and isinstance(whole, dict):
        return {name: shown_again(whole[name], one) for name, one in part.items() if name in whole}
    if isinstance(part, list) and isinstance(whole, list) and part and part[-1] == "...":
        first = zip(whole, part[:-1], strict=False)
        return [*(shown_again(one, other) for one, other in first), "..."]
    return part if part == "..." else whole


def names_of_run() -> list[str]:
    """The pages that have something to run."""
    names = [one.name for one in outline.entries()]
    return [name for name in names if any(one.runs for one in blocks(text_of(name)))]


def record(url: URL) -> None:
    for name in names_of_run():
        with (
            fresh(url) as copy,
            TemporaryDirectory() as folder,
            serving_page(name, copy) as address,
        ):
            _record_page(name, address, Path(folder))


@contextmanager
def serving_page(name: str, url: URL) -> Iterator[str]:
    """The address of a service as the quickstart starts one, with no more of it than the page needs."""
    options = () if name in WORKING else (ALONE,)
    with running(url, *options, environment=ON_ONE_MACHINE) as service:
        yield f"http://127.0.0.1:{service.port}"


@contextmanager
def fresh(url: URL) -> Iterator[URL]:
    with TemporaryDirectory() as folder:
        copy = url.set(database=f"{folder}/handbook.sqlite3")
        shutil.copyfile(str(url.database), str(copy.database))
        yield copy


def _record_page(name: str, address: str, folder: Path) -> None:
    lines = text_of(name).splitlines(keepends=True)
    for ran in reversed(list(read_through(name, address, folder))):
        if ran.shown is not None:
            lines[ran.shown.first : ran.shown.last] = [_recorded(ran.printed, ran.shown)]
    (PAGES / f"{name}.md").write_text("".join(lines), "utf-8")
    for picture in pictures(text_of(name)):
        shutil.copyfile(folder / picture, PICTURES / picture)


def _recorded(printed: str, shown: Block) -> str:
    if shown.language == "text":
        return printed.rstrip("\n") + "\n"
    part = "?" if shown.content.strip() == "?" else json.loads(shown.content)
    again = shown_again(json.loads(printed), part)
    if again == part:
        return shown.content
    return json.dumps(again, indent=2, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    from new_databases import load_demo, make

    with TemporaryDirectory() as place:
        database = URL.create("sqlite+aiosqlite", database=f"{place}/demo.sqlite3")
        make(database)
        load_demo(database)
        record(database)
