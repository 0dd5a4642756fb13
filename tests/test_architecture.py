"""What the import contracts cannot see."""

import ast
import io
import re
import tokenize
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
SOURCE_ROOTS = ("api", "sdk", "migrations", "tests")
TOP_LEVEL = {
    "DEVELOPERS.md",
    "README.md",
    "api",
    "migrations",
    "openapi",
    "pyproject.toml",
    "sdk",
    "tests",
    "uv.lock",
}
BUILT = {"dist"}
LONGEST_MODULE = 400
GENERATED = "Generated from " + "openapi/openapi.json"
LONG_FUNCTION = 50
SHARE_OF_SHORT_FUNCTIONS = 0.95

IMPURE_MODULES = {"os", "random", "secrets", "time"}
IMPURE_NAMES = {"__import__", "eval", "exec", "hash", "id", "input", "open", "print"}
IMPURE_METHODS = {
    "environ",
    "getenv",
    "monotonic",
    "now",
    "perf_counter",
    "today",
    "utcnow",
    "uuid1",
    "uuid4",
}
SILENCING = re.compile(r"#\s*(?:ruff:\s*)?(?:noqa|type:\s*ignore|pragma:\s*no (?:cover|branch))")
WITH_REASON = re.compile(
    r"#\s*(?:(?:ruff:\s*)?noqa:\s*[A-Z]+\d+(?:,\s*[A-Z]+\d+)*"
    r"|type:\s*ignore\[[\w-]+(?:,\s*[\w-]+)*\]"
    r"|pragma:\s*no (?:cover|branch))"
    r"\s*[-#]\s*\w.{5,}"
)


def sources(*roots: str) -> list[Path]:
    found = [path for root in roots for path in sorted((ROOT / root).rglob("*.py"))]
    assert found
    return found


def named(path: Path) -> str:
    return str(path.relative_to(ROOT))


def findings(finder: Callable[[str], list[str]], paths: list[Path]) -> dict[str, list[str]]:
    found = {named(path): finder(path.read_text()) for path in paths}
    return {name: faults for name, faults in found.items() if faults}


def impurities(code: str) -> list[str]:
    """What would make a second run of the same code answer differently, or leave a trace."""
    return [f"line {line}: {what}" for line, what in _impurities(ast.parse(code))]


def _impurities(tree: ast.AST) -> Iterator[tuple[int, str]]:
    for node in ast.walk(tree):
        match node:
            case ast.Import(names=names):
                for name in names:
                    if name.name.split(".")[0] in IMPURE_MODULES:
                        yield node.lineno, name.name
            case ast.ImportFrom(module=str(module)) if module.split(".")[0] in IMPURE_MODULES:
                yield node.lineno, module
            case ast.Call(func=ast.Name(id=name)) if name in IMPURE_NAMES | IMPURE_METHODS:
                yield node.lineno, name
            case ast.Attribute(attr=name) if name in IMPURE_METHODS:
                yield node.lineno, name
            case _:
                pass


def test_the_pipeline_has_no_clock_chance_or_surroundings() -> None:
    assert findings(impurities, sources("api/filmbuild/pipeline")) == {}


@pytest.mark.parametrize(
    "planted",
    [
        "import time",
        "import os.path",
        "from random import random",
        "from secrets import token_hex",
        "datetime.now()",
        "datetime.datetime.utcnow()",
        "date.today()",
        "today = date.today",
        "uuid.uuid4()",
        "uuid4()",
        "module.environ['HOME']",
        "open('file')",
        "print(area)",
        "hash(name)",
    ],
)
def test_a_planted_impurity_is_caught(planted: str) -> None:
    assert impurities(f"def stage(area):\n    {planted}\n    return area") != []


@pytest.mark.parametrize(
    "innocent", ["from datetime import time", "job.id", "line.opened", "site.today_is_a_workday"]
)
def test_an_innocent_name_is_not(innocent: str) -> None:
    assert impurities(innocent) == []


def test_only_the_settings_read_the_environment() -> None:
    reading = re.compile(r"\bos\.(environ|getenv)\b")
    readers = [
        named(path)
        for path in sources("api", "sdk/filmbuild_sdk", "sdk/generator")
        if reading.search(path.read_text())
    ]
    assert readers == ["api/filmbuild/settings.py"]


def test_nothing_imports_through_a_source_root() -> None:
    through = re.compile(r"^\s*(?:from|import) (?:api|sdk)\b", re.MULTILINE)
    found = [named(path) for path in sources(*SOURCE_ROOTS) if through.search(path.read_text())]
    assert found == []


def test_no_module_is_too_long_to_read_whole() -> None:
    lengths = {
        named(path): text.count("\n")
        for path in sources(*SOURCE_ROOTS)
        if GENERATED not in (text := path.read_text())
    }
    assert {name: length for name, length in lengths.items() if length > LONGEST_MODULE} == {}


def test_nearly_all_functions_are_short() -> None:
    lengths = sorted(
        (node.end_lineno - node.lineno + 1, f"{named(path)}:{node.lineno} {node.name}")
        for path in sources("api", "sdk")
        for node in ast.walk(ast.parse(path.read_text()))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef) and node.end_lineno
    )
    long = [function for function in lengths if function[0] >= LONG_FUNCTION]
    assert len(long) <= (1 - SHARE_OF_SHORT_FUNCTIONS) * len(lengths), long


def unexplained(code: str) -> list[str]:
    tokens = tokenize.generate_tokens(io.StringIO(code).readline)
    comments = (token for token in tokens if token.type == tokenize.COMMENT)
    return [
        f"line {comment.start[0]}: {comment.string}"
        for comment in comments
        if SILENCING.search(comment.string) and not WITH_REASON.search(comment.string)
    ]


def test_what_silences_a_check_says_why() -> None:
    assert findings(unexplained, sources(*SOURCE_ROOTS)) == {}


@pytest.mark.parametrize(
    "comment",
    ["# noqa", "# noqa: E501", "# type: ignore", "# type: ignore[misc]", "# pragma: no cover"],
)
def test_a_bare_silencing_is_caught(comment: str) -> None:
    assert unexplained(f"area = 1  {comment}\n") != []


def test_the_top_level_is_what_it_is_meant_to_be() -> None:
    found = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    assert found - BUILT == TOP_LEVEL
