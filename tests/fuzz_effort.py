"""How far the fuzz tests search: python tests/fuzz_effort.py TIMES [pytest's own arguments].

By default a run takes well under a minute; TIMES multiplies its generated cases, and from 2 on no
boundary case is left out. The cases are the same on every run of the same TIMES.
"""

import sys
from pathlib import Path

import pytest

TIMES = 1


def main(times: str, *arguments: str) -> int:
    import fuzz_effort  # noqa: PLC0415 - the module the tests see, which is not the one that runs

    fuzz_effort.TIMES = int(times)
    return pytest.main([str(Path(__file__).with_name("test_fuzz.py")), *arguments])


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
