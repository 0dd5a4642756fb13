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
from generator.methods import all_methods, calls_modules, methods_modules
from generator.models import lazy_package, models_modules
from generator.types import is_model

ROOT = Path(__file__).parents[1]
CONTRACT = ROOT / "openapi" / "openapi.json"
RUFF = Path(sys.executable).parent / "ruff"
PACKAGE = ROOT / "sdk" / "filmbuild_sdk"
PACKAGES = ("models", "calls", "methods")
EXCUSED = {"ASYNC109": "    async def ", "D404": '"""This '}
HEADER = '"""{title}\n\nGenerated from openapi/openapi.json by sdk/generate.py: change those, not this.\n"""\n\n{excuse}'


def modules(contract: Contract) -> dict[str, str]:
    """The text of each generated module, by its path in the package."""
    calls = {one.name: place for place, group in contract.groups.items() for one in group}
    models = {
        name: place for name, place in contract.places.items() if is_model(contract.schemas[name])
    }
    packages = {
        "models": ("What the service is sent and what it answers", models_modules(contract)),
        "calls": ("Calls of the service, described without sending them", calls_modules(contract)),
        "methods": ("The calls as methods of the clients", methods_modules(contract)),
    }
    made = {
        "models/__init__.py": ("All types of the contract.", lazy_package("models", models)),
        "calls/__init__.py": ("Every call of the service.", lazy_package("calls", calls)),
        "methods/__init__.py": ("All calls as methods.", all_methods(contract)),
    }
    for package, (title, bodies) in packages.items():
        for name, body in bodies.items():
            made[f"{package}/{name}.py"] = (f"{title}: {name.replace('_', ' ')}.", body)
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
    left = [
        path
        for package in PACKAGES
        for path in sorted((PACKAGE / package).glob("*.py"))
        if path not in paths
    ]
    if not chosen.check:
        for path, text in paths.items():
            path.parent.mkdir(exist_ok=True)
            path.write_text(text)
        for path in left:
            path.unlink()
        return 0
    stale = [path for path, text in paths.items() if not path.is_file() or path.read_text() != text]
    for path in stale + left:
        sys.stderr.write(f"{path} is not what the contract says: run python sdk/generate.py\n")
    return 1 if stale else 0


if __name__ == "__main__":
    sys.exit(main())
