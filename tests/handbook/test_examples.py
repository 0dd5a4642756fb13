"""The handbook's examples do what it says they do, in order, as a reader runs them."""

import codeop
import shlex
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner
from handbook_examples import (
    ALONE,
    PAGES,
    PICTURES,
    SHOWN,
    agrees,
    blocks,
    contains,
    names_of_run,
    pictures,
    read_through,
    serving_page,
    session,
    shown_again,
    text_of,
)
from running import running
from serving import NewDatabase

from filmbuild import cli
from filmbuild.handbook import outline

OPERATORS = ("console", "nginx", "haproxy")
"""What whoever runs the service types, and the proxies' own configurations."""
RUN_HERE = ("migrate", "create-organisation")
FIRST_STEPS = ("start-invoicing", "start-script")
"""What a newcomer does first, whatever the database."""
WRITING = ("revisions", "idempotency", "preconditions")
"""Other pages that change something, and so begin with a service of their own too."""
READING = [name for name in names_of_run() if name not in FIRST_STEPS + WRITING]


@pytest.fixture(scope="module")
def shared(new_sqlite: NewDatabase) -> Iterator[str]:
    with new_sqlite(True, loaded=True) as url, running(url, ALONE, fresh=True) as service:
        yield f"http://127.0.0.1:{service.port}"


def run_page(name: str, address: str, folder: Path) -> None:
    for ran in read_through(name, address, folder):
        shown = ran.shown.content if ran.shown else ""
        assert agrees(ran), f"{ran.block.content}\nprinted\n{ran.printed}\nnot\n{shown}"
    for picture in pictures(text_of(name)):
        drawn, kept = folder / picture, PICTURES / picture
        assert drawn.read_text() == kept.read_text(), "run python tests/handbook_examples.py"


@pytest.mark.parametrize("name", READING)
def test_examples_that_read(shared: str, name: str, tmp_path: Path) -> None:
    run_page(name, shared, tmp_path)


@pytest.mark.parametrize("name", FIRST_STEPS)
def test_first_steps_work_the_first_time(
    new_database: NewDatabase, name: str, tmp_path: Path
) -> None:
    run_from_the_beginning(new_database, name, tmp_path)


@pytest.mark.parametrize("name", WRITING)
def test_examples_that_write(new_sqlite: NewDatabase, name: str, tmp_path: Path) -> None:
    run_from_the_beginning(new_sqlite, name, tmp_path)


def run_from_the_beginning(new: NewDatabase, name: str, folder: Path) -> None:
    with new(True, loaded=True) as url, serving_page(name, url) as address:
        run_page(name, address, folder)


@pytest.mark.parametrize("name", names_of_run())
def test_an_example_can_be_pasted_into_a_prompt(name: str) -> None:
    """There a statement ends with a blank line, also one that a file goes on with below it."""
    for block in blocks(text_of(name)):
        statement: list[str] = []
        for line in [*block.content.splitlines(), ""] if block.language == "python" else ():
            statement.append(line)
            if codeop.compile_command("\n".join(statement)) is not None:
                statement.clear()
        assert not statement, "\n".join(statement)


def test_nothing_is_shown_that_is_not_tried() -> None:
    """Each block is run, or is what the one before it prints, or is looked at by another test."""
    for name in (one.name for one in outline.entries()):
        before = None
        for block in blocks(text_of(name)):
            shown = block.language in SHOWN and before is not None
            elsewhere = block.flags in (("shape",), ("form",), ("style",), ("own",), ("readme",))
            elsewhere = elsewhere or block.language in OPERATORS
            assert block.runs or shown or elsewhere, f"{name}, line {block.first}"
            before = block if block.runs else None


def test_what_operators_type_is_what_there_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What makes the database is run; of the rest, the commands and their options are looked up."""
    monkeypatch.setenv("FILMBUILD_DATA_FOLDER", str(tmp_path))
    CliRunner().invoke(cli.cli, ["migrate"])
    typed = [
        shlex.split(line)
        for entry in outline.entries()
        for block in blocks(text_of(entry.name))
        if block.language == "console"
        for line in block.content.splitlines()
    ]
    assert len(typed) >= 4
    for words in typed:
        while "=" in words[0]:
            del words[0]
        program, command, *given = words
        assert program == "filmbuild"
        if command in RUN_HERE:
            outcome = CliRunner().invoke(cli.cli, [command, *given])
            assert outcome.exit_code == 0 or "exists already" in str(outcome.exception)
        else:
            cli.cli.commands[command].make_context(command, given)


def test_the_first_command_is_that_of_the_readme() -> None:
    (command,) = (one for one in blocks(text_of("index")) if one.flags == ("readme",))
    readme = (Path(__file__).parents[2] / "README.md").read_text()
    joined = command.content.replace("\\\n  ", "").strip()
    assert joined.endswith(" --keep-running")
    assert f"\n{joined.removesuffix(' --keep-running')}\n" in readme


def test_every_picture_is_drawn_by_an_example() -> None:
    shown = {one for page in PAGES.rglob("*.md") for one in pictures(page.read_text())}
    assert shown == {one.name for one in PICTURES.iterdir()}


def test_the_pages_send_a_key_with_every_request() -> None:
    """But the first one, which asks for the public state of the service."""
    for name in names_of_run():
        text = text_of(name)
        calls = text.count("curl -sS")
        with_key = text.count("Authorization: Bearer $FILMBUILD_KEY") + text.count('-H "$auth"')
        if name not in ("index", "preconditions"):
            assert calls == with_key, name
        assert text.count("Client(os") == text.count('key=os.environ["FILMBUILD_KEY"]'), name


def test_what_goes_wrong_would_be_noticed(tmp_path: Path) -> None:
    assert not contains({"status": 404}, {"status": 422})
    assert not contains([1, 2], [1])
    assert contains([1, 2], [1, "..."])
    failing = blocks("```shell\nfalse\necho on\n```\n\n```python\n1 / 0\n```\n")
    for block, error in zip(failing, (AssertionError, ZeroDivisionError), strict=True):
        with session("http://127.0.0.1:1", tmp_path) as reader, pytest.raises(error):
            reader.run(block)


def test_what_is_shown_is_recorded_anew() -> None:
    assert shown_again({"a": 1, "b": 2}, {"a": 7}) == {"a": 1}
    assert shown_again({"a": [1, 2, 3]}, {"a": [7, "..."]}) == {"a": [1, "..."]}
    assert shown_again({"a": 1, "request_id": "x"}, "?") == {"a": 1, "request_id": "..."}
