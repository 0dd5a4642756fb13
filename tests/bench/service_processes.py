"""Processes of the service for benchmarks, in one of two kinds, and the databases they stand on."""

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import bench_http
import httpx
import new_databases
import private_cluster
from sqlalchemy import URL

from filmbuild.settings import read

TESTS = Path(__file__).parents[1]
PLENTY = "900000/100000000"
UNREFUSED = {"FILMBUILD_LIMIT_SECRET_KEY": PLENTY, "FILMBUILD_LIMIT_ADDRESS": PLENTY}
READY_WITHIN = 60.0


class Process:
    """A server of its own interpreter; its log goes to a file in the folder."""

    def __init__(self, kind: str, url: URL, folder: Path, port: int = 0) -> None:
        self.port = port or bench_http.free_port()
        self._log = (folder / f"log-{self.port}").open("ab")
        program = str(Path(__file__).parent / "served_service.py")
        environment = {
            **os.environ,
            **UNREFUSED,
            "PYTHONPATH": os.pathsep.join([*filter(None, sys.path), str(TESTS)]),
            "FILMBUILD_DATA_FOLDER": str(folder),
            "FILMBUILD_DATABASE_URL": url.render_as_string(hide_password=False),
            "FILMBUILD_LOG": "json" if kind == "whole" else "off",
        }
        command = [sys.executable, program, kind, str(self.port)]
        self._process = subprocess.Popen(command, env=environment, stderr=self._log)

    def wait(self) -> None:
        until = time.monotonic() + READY_WITHIN
        while not self.ready():
            if self._process.poll() is not None:
                raise RuntimeError("the server under load did not start")
            if time.monotonic() > until:
                raise TimeoutError("the server under load was not ready in time")
            time.sleep(0.05)

    def ready(self) -> bool:
        try:
            return httpx.get(f"http://127.0.0.1:{self.port}/v1/readiness").status_code == 200
        except httpx.TransportError:
            return False

    @property
    def resident(self) -> int:
        """Of memory [byte]."""
        pages = int(Path(f"/proc/{self._process.pid}/statm").read_text().split()[1])
        return pages * os.sysconf("SC_PAGE_SIZE")

    @property
    def processor_seconds(self) -> float:
        """Of all its threads since it began (man 5 proc: fields 14 and 15 of stat)."""
        told = Path(f"/proc/{self._process.pid}/stat").read_text().rpartition(")")[2].split()
        return (int(told[11]) + int(told[12])) / os.sysconf("SC_CLK_TCK")

    def kill(self) -> None:
        self._process.kill()
        self._process.wait()
        self._log.close()


@contextmanager
def serving(kind: str, url: URL, folder: Path) -> Iterator[Process]:
    process = Process(kind, url, folder)
    try:
        process.wait()
        yield process
    finally:
        process.kill()


@contextmanager
def sqlite() -> Iterator[tuple[URL, Path]]:
    """A database with the demo catalogue, in a folder."""
    with tempfile.TemporaryDirectory() as folder:
        url = read({"FILMBUILD_DATA_FOLDER": folder}).database_url
        _fill(url)
        yield url, Path(folder)


@contextmanager
def postgresql() -> Iterator[tuple[URL, Path] | None]:
    """The same; None where no server is installed."""
    binaries = private_cluster.programs()
    if binaries is None:
        yield None
        return
    with private_cluster.cluster(binaries) as cluster, tempfile.TemporaryDirectory() as folder:
        url = cluster.create("bench")
        _fill(url)
        yield url, Path(folder)


def _fill(url: URL) -> None:
    new_databases.make(url)
    new_databases.load_demo(url)
