"""What the service is run with: `python tests/dependencies.py licences` or `audit`.

Both go by the lock: by what is installed with the service and all its extras, and nothing of the
development group. Exit codes: 0 is good, 1 is not, 77 could not be found out.
"""

import json
import os
import re
import subprocess
import sys
import tempfile
import tomllib
from collections.abc import Iterable, Iterator
from email.message import Message
from importlib.metadata import PackageNotFoundError, metadata
from pathlib import Path
from typing import Any, NamedTuple

ROOT = Path(__file__).parents[1]
NOT_KNOWN = 77
"""As automake's tests say that they were skipped."""
_LOCKED = re.compile(r"(?P<name>[A-Za-z0-9._-]+)==(?P<version>[^ ;]+)(?: ; (?P<marker>.+))?")
# packages without an SPDX expression state their licence by classifiers, or in words
_CLASSIFIED = {
    "Apache Software License": "Apache-2.0",
    "BSD License": "BSD",
    "GNU Lesser General Public License v3 (LGPLv3)": "LGPL-3.0-only",
    "MIT License": "MIT",
    "Mozilla Public License 2.0 (MPL 2.0)": "MPL-2.0",
    "Public Domain": "public domain",
    "Python Software Foundation License": "PSF-2.0",
}
_IN_WORDS = {
    "3-Clause BSD License": "BSD-3-Clause",
    "Apache License 2.0": "Apache-2.0",
    "Apache License": "Apache-2.0",
    "MIT License": "MIT",
}
_UNREACHABLE = ("ConnectionError", "ConnectTimeout", "ReadTimeout", "ProxyError", "SSLError")


class Locked(NamedTuple):
    name: str
    version: str
    marker: str | None


def exported() -> str:
    """The lock, as a list of requirements."""
    uv = os.environ.get("UV", str(ROOT / ".tools" / "bin" / "uv"))
    options = "--frozen --no-dev --all-extras --no-emit-workspace --no-header --no-annotate"
    command = [uv, "export", *options.split(), "--no-hashes", "--python", sys.executable]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout


def locked(requirements: str) -> Iterator[Locked]:
    for line in requirements.splitlines():
        found = _LOCKED.fullmatch(line.strip())
        if found is not None:
            yield Locked(**found.groupdict())


def licence_of(described: Message) -> str:
    """An SPDX expression, or what comes closest to one; empty where nothing is said."""
    expression = described.get("License-Expression")
    if expression:
        return str(expression)
    classified = [
        _CLASSIFIED.get(name, name)
        for one in described.get_all("Classifier") or ()
        if one.startswith("License :: ") and (name := one.rpartition(" :: ")[2])
    ]
    if classified:
        return " OR ".join(classified)
    words = str(described.get("License") or "").strip().partition("\n")[0]
    return _IN_WORDS.get(words, words)


def allowed(expression: str, licences: Iterable[str]) -> bool:
    """All of what stands between ANDs, of any part between ORs."""
    known = set(licences)
    alternatives = expression.replace("(", "").replace(")", "").split(" OR ")
    return any(all(one.strip() in known for one in each.split(" AND ")) for each in alternatives)


def judge(name: str, licence: str, rules: dict[str, Any]) -> tuple[bool, str]:
    """Whether it may be used, and what is to be said of it."""
    if allowed(licence, rules["allowed"]):
        return True, licence
    exception = rules["exceptions"].get(name)
    if exception is not None and exception["licence"] == licence:
        return True, f"{licence}: {exception['reason']}"
    return False, f"{licence or 'nothing stated'}: NOT ALLOWED"


def licences() -> int:
    rules = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["filmbuild"]["licences"]
    good = True
    met: set[str] = set()
    for one in locked(exported()):
        try:
            may, said = judge(one.name, licence_of(_described(one.name)), rules)
        except PackageNotFoundError:
            may, said = one.marker is not None, f"not installed here ({one.marker})"
        good, met = good and may, met | {one.name}
        print(f"{one.name} {one.version}: {said}")
    for name in rules["exceptions"].keys() - met:
        print(f"{name} is an exception, and is not used")
        good = False
    return 0 if good else 1


def _described(name: str) -> Message:
    described: Any = metadata(name)
    found: Message = described
    return found


def audit() -> int:
    """By the Open Source Vulnerabilities database; no registry is asked."""
    with tempfile.TemporaryDirectory() as folder:
        requirements, report = Path(folder, "requirements.txt"), Path(folder, "report.json")
        requirements.write_text(exported())
        options = [
            "--disable-pip",
            "--no-deps",
            "-s",
            "osv",
            "--progress-spinner",
            "off",
            "-f",
            "json",
        ]
        command = ["pip_audit", "-r", str(requirements), *options, "-o", str(report)]
        done = subprocess.run(
            [sys.executable, "-m", *command], capture_output=True, text=True, check=False
        )
        return verdict(report.read_text() if report.exists() else "", done.stderr)


def verdict(report: str, said: str) -> int:
    """Says what was found, in the report of pip-audit or in what else it said."""
    if not report:
        last = said.strip().rpartition("\n")[2]
        if any(one in last for one in _UNREACHABLE):
            print("NOT AUDITED: the database of advisories cannot be reached from here.")
            return NOT_KNOWN
        print(said)
        return 1
    dependencies = json.loads(report)["dependencies"]
    found = [(one, bad) for one in dependencies for bad in one.get("vulns", ())]
    for one, bad in found:
        mended = ", ".join(bad["fix_versions"]) or "no version yet"
        print(f"{one['name']} {one['version']}: {bad['id']}, mended in {mended}")
    for one in dependencies:
        if "skip_reason" in one:
            print(f"{one['name']}: not audited, {one['skip_reason']}")
    print(f"{len(dependencies)} packages audited, {len(found)} advisories.")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit({"licences": licences, "audit": audit}[sys.argv[1]]())
