"""Runs every check, and says of each whether it passed: tests/check.py [--only NAME] [--coverage].

Needs nothing but the standard library itself, so that what is missing is reported, not a crash.
"""

import argparse
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).parents[1]
PROGRAMS = Path(sys.executable).parent
STREAMED = "tests"
SKIPPED = 77
"""What a step's program answers where it could not find out; that is told, and fails nothing."""


class Outcome(NamedTuple):
    passed: bool
    output: str
    skipped: bool = False


class Result(NamedTuple):
    name: str
    outcome: Outcome
    seconds: float


def run(*command: str, shown: bool = False, **environment: str) -> Outcome:
    """What a program that cannot be started answers is a failure like any other."""
    lines: list[str] = []
    try:
        with subprocess.Popen(
            command,
            cwd=ROOT,
            env={**os.environ, **environment},
            text=True,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
        ) as process:
            for line in process.stdout or ():
                lines.append(line)
                if shown:
                    print(line, end="", flush=True)
    except OSError as error:
        print(f"{command[0]} could not be started: {error}", flush=True)
        return Outcome(passed=False, output="")
    skipped = process.returncode == SKIPPED
    return Outcome(skipped or process.returncode == 0, "".join(lines), skipped)


def program(name: str, *arguments: str) -> Callable[[], Outcome]:
    """One that is installed beside this Python."""
    return lambda: run(str(PROGRAMS / name), *arguments)


def lock() -> Outcome:
    """`uv run` says where it is itself; without it, the one that the README installs will do."""
    uv = os.environ.get("UV", str(ROOT / ".tools" / "bin" / "uv"))
    return run(uv, "lock", "--check", "--python", sys.executable)


def openapi() -> Outcome:
    """The committed document is the one that the service serves."""
    return run(sys.executable, "-m", "filmbuild.cli", "openapi", "--check")


def migrations() -> Outcome:
    """What the migrations make is what the code declares."""
    alembic = str(PROGRAMS / "alembic")
    with tempfile.TemporaryDirectory() as folder:
        url = f"sqlite+aiosqlite:///{folder}/check.sqlite3"
        made = run(alembic, "upgrade", "head", FILMBUILD_DATABASE_URL=url)
        if not made.passed:
            return made
        return run(alembic, "check", FILMBUILD_DATABASE_URL=url)


def licences() -> Outcome:
    """Of what the service is run with, each is one that is allowed."""
    return run(sys.executable, "tests/dependencies.py", "licences", shown=True)


def audit() -> Outcome:
    """No advisory is known of what the service is run with."""
    return run(sys.executable, "tests/dependencies.py", "audit", shown=True)


def tests(*more: str) -> Outcome:
    pytest = str(PROGRAMS / "pytest")
    return run(pytest, "-n2", "--dist=worksteal", "-ra", *more, shown=True)


def covered() -> Outcome:
    """The tests, and which lines and branches they reach: takes about a third longer."""
    return tests("--cov", "--cov-report=term")


STEPS: dict[str, Callable[[], Outcome]] = {
    "lock": lock,
    "format": program("ruff", "format", "--check"),
    "lint": program("ruff", "check"),
    "imports": program("lint-imports"),
    "types": program("mypy"),
    "openapi": openapi,
    "sdk": program("python", "sdk/generate.py", "--check"),
    "migrations": migrations,
    "licences": licences,
    "audit": audit,
    STREAMED: tests,
}


SHOWN = (STREAMED, "licences", "audit")
"""Steps whose output is shown as it comes."""


def check(name: str) -> Result:
    print(f"{name} ...", flush=True)
    started = time.perf_counter()
    outcome = STEPS[name]()
    seconds = time.perf_counter() - started
    if not outcome.passed and name not in SHOWN:
        print(outcome.output, end="", flush=True)
    return Result(name, outcome, seconds)


def report(results: list[Result]) -> None:
    print()
    for result in results:
        done = "not known" if result.outcome.skipped else "passed"
        verdict = done if result.outcome.passed else "FAILED"
        print(f"{result.name:<12}{verdict:<9}{result.seconds:>8.1f} s")
    for result in results:
        if result.name == STREAMED and result.outcome.output:
            print(result.outcome.output.rstrip().splitlines()[-1])


def main() -> int:
    parser = argparse.ArgumentParser(description="Run every check.")
    parser.add_argument("--only", action="append", choices=STEPS, help="may be given repeatedly")
    parser.add_argument("--coverage", action="store_true", help="measure what the tests reach")
    chosen = parser.parse_args()
    if chosen.coverage:
        STEPS[STREAMED] = covered
    names = chosen.only or list(STEPS)
    results = [check(name) for name in names]
    report(results)
    return 0 if all(result.outcome.passed for result in results) else 1


if __name__ == "__main__":
    sys.exit(main())
