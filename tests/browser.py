"""Pages in a real browser, without a screen: what they hold after their scripts have run."""

import os
import shutil
import subprocess
from pathlib import Path

import pytest

PROGRAMS = ("chromium", "chromium-browser", "google-chrome")
OPTIONS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--disable-sync",
    "--disable-component-update",
    "--disable-background-networking",
    "--no-first-run",
    "--enable-logging=stderr",
    "--dump-dom",
)


def program() -> str:
    """Skips the test where there is no browser, but fails it in continuous integration."""
    found = next((path for name in PROGRAMS if (path := shutil.which(name))), None)
    if found is not None:
        return found
    reason = "no browser is installed (Debian: apt-get install chromium)"
    if os.environ.get("CI"):
        pytest.fail(reason)
    pytest.skip(reason)


def shown(page: Path, folder: Path) -> tuple[str, list[str]]:
    """The document as it stands once it is loaded, and what was written to the console."""
    done = subprocess.run(
        [program(), *OPTIONS, f"--user-data-dir={folder}", page.as_uri()],
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    return done.stdout, [line for line in done.stderr.splitlines() if "CONSOLE" in line]
