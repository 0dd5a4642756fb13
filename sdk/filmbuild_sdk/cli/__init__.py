"""The command line of the client, where the package was installed with its extra `cli`."""

import sys
from typing import NoReturn

WRONG_USE = 2


def main() -> NoReturn:
    try:
        from filmbuild_sdk.cli.program import run  # noqa: PLC0415 - what it needs may be missing
    except ModuleNotFoundError as error:
        if (error.name or "").partition(".")[0] not in {"click", "rich", "ruamel"}:
            raise
        sys.stderr.write(
            "Install what this command needs, in the repository: python3 -m pip install './sdk[cli]'\n"
        )
        sys.exit(WRONG_USE)
    sys.exit(run())
