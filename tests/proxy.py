"""A real proxy before several processes of the service: Debian's haproxy."""

import os
import shutil
import socket
import subprocess
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

import pytest
from waiting import until

CONFIGURATION = """
global
  maxconn 512
defaults
  mode http
  timeout connect 2s
  timeout client 60s
  timeout server 60s
  option forwardfor
  option redispatch
  retries 3
frontend service
  bind 127.0.0.1:{port}
  default_backend processes
backend processes
  balance roundrobin
  option httpchk GET /v1/readiness
  default-server check inter 200ms fall 1 rise 1
{servers}
"""


def program() -> str:
    found = shutil.which("haproxy", path=f"{os.environ.get('PATH', '')}:/usr/sbin")
    if found is None:
        reason = "haproxy is not installed (Debian: apt-get install haproxy)"
        if os.environ.get("CI"):
            pytest.fail(reason)
        pytest.skip(reason)
    return found


@contextmanager
def proxied(ports: Sequence[int], folder: Path) -> Iterator[str]:
    """The address of a proxy that shares requests out among what listens on the ports."""
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        port = listener.getsockname()[1]
    servers = "\n".join(f"  server s{one} 127.0.0.1:{one}" for one in ports)
    path = folder / "haproxy.cfg"
    path.write_text(CONFIGURATION.format(port=port, servers=servers))
    with subprocess.Popen([program(), "-f", str(path), "-q"]) as process:
        try:
            until(lambda: _listening(port))
            yield f"http://127.0.0.1:{port}"
        finally:
            process.kill()


def _listening(port: int) -> bool:
    try:
        with socket.create_connection(("127.0.0.1", port), timeout=1):
            return True
    except OSError:
        return False
