"""Writes what the SDK takes from the contract: python sdk/generate.py [--check].

Reads openapi/openapi.json and nothing else. Types that callers write (what request bodies refer
to) keep their words as choices and take quantities as text too; types that are only answered are
open: any word is read, and fields that are not known are passed over.
"""

import argparse
import json
import subprocess
import sys
from pathlib import Path

from generator.contract import Contract
from generator.methods import calls_module, methods_module
from generator.models import models_module

ROOT = Path(__file__).parents[1]
CONTRACT = ROOT / "openapi" / "openapi.json"
RUFF = Path(sys.executable).parent / "ruff"
PACKAGE = ROOT / "sdk" / "filmbuild_sdk"
EXCUSED = {"ASYNC109": "    async def send", "D404": '"""This '}
HEADER = '"""{title}\n\nGenerated from openapi/openapi.json by sdk/generate.py: change those, not this.\n"""\n\n{excuse}'


def modules(contract: Contract) -> dict[str, str]:
    """The text of each generated module, by file name."""
    made = {
        "models.py": ("What the service is sent and what it answers.", models_module(contract)),
        "calls.py": (
            "Every call of the service, described without sending it.",
            calls_module(contract),
        ),
        "methods.py": ("The calls as methods of the clients.", methods_module(contract)),
    }
    return {
        name: formatted(HEADER.format(title=title, excuse=excuse(body)) + body)
        for name, (title, body) in made.items()
    }


def excuse(code: str) -> str:
    """For what the linter would have otherwise, where the code has it."""
    rules = [rule for rule, mark in EXCUSED.items() if mark in code]
    reason = "the contract's words, and the HTTP client's timeout"
    return f"# ruff: noqa: {', '.join(rules)} - {reason}\n\n" if rules else ""


def formatted(code: str) -> str:
    """With its imports in order."""
    for arguments in (["check", "--quiet", "--select", "I", "--fix"], ["format"]):
        code = subprocess.run(  # noqa: S603 - the formatter of this project
            [RUFF, *arguments, "--stdin-filename", PACKAGE / "generated.py", "-"],
            input=code,
            text=True,
            capture_output=True,
            check=True,
        ).stdout
    return code


def main() -> int:
    parser = argparse.ArgumentParser(description="Write the SDK's models, calls and methods.")
    parser.add_argument("--check", action="store_true", help="fail where a file would change")
    parser.add_argument("--contract", type=Path, default=CONTRACT)
    chosen = parser.parse_args()
    made = modules(Contract(json.loads(chosen.contract.read_bytes())))
    paths = {PACKAGE / name: text for name, text in made.items()}
    if not chosen.check:
        for path, text in paths.items():
            path.write_text(text)
        return 0
    stale = [path for path, text in paths.items() if not path.is_file() or path.read_text() != text]
    for path in stale:
        sys.stderr.write(f"{path} is not what the contract says: run python sdk/generate.py\n")
    return 1 if stale else 0


if __name__ == "__main__":
    sys.exit(main())
