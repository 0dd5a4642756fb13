"""The service as it is run, or the same with an open gate: `python served_service.py KIND PORT`.

`whole` has keys, limits and a log of every request; `bare` lets everyone in, limits nobody and logs
nothing. All else is read from the environment, as ever.
"""

import sys
from contextlib import nullcontext
from unittest.mock import patch

from open_gate import OPEN_GATE

from filmbuild import cli
from filmbuild.edge.gate import Gate


def opened(_gate: Gate, *_rest: object) -> tuple[Gate, None]:
    return OPEN_GATE, None


def main(kind: str, port: str) -> None:
    with patch("filmbuild.app.limited", opened) if kind == "bare" else nullcontext():
        cli.cli(["serve", "--no-work", "--port", port])


if __name__ == "__main__":
    main(*sys.argv[1:])
