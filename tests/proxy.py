"""Real proxies before several processes of the service: Debian's haproxy and nginx."""

import os
import shutil
import socket
import subprocess
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple

import pytest
from waiting import until

HAPROXY = """
global
  maxconn 512
defaults
  mode http
  timeout connect 2s
  timeout check 5s
  timeout client 60s
  timeout server 60s
  option forwardfor
  option redispatch
  retries {tries}
frontend service
  bind 127.0.0.1:{port}
  default_backend processes
backend processes
  balance roundrobin
{check}
{servers}
"""
NGINX = """
daemon off;
worker_processes 1;
pid {folder}/nginx.pid;
error_log {folder}/error.log;
events {{ worker_connections 512; }}
http {{
  access_log off;
  client_body_temp_path {folder}/body;
  proxy_temp_path {folder}/proxy;
  fastcgi_temp_path {folder}/fastcgi;
  uwsgi_temp_path {folder}/uwsgi;
  scgi_temp_path {folder}/scgi;
  upstream processes {{
{servers}
    keepalive 16;
  }}
  server {{
    listen 127.0.0.1:{port};
    location / {{
      proxy_pass http://processes;
      proxy_http_version 1.1;
      proxy_set_header Connection "";
      proxy_set_header Host $http_host;
      proxy_set_header X-Forwarded-For $proxy_add_x_forwarded_for;
      proxy_set_header X-Forwarded-Proto $scheme;
      proxy_next_upstream {tries};
    }}
  }}
}}
"""


CHECK = """
  option httpchk GET /v1/readiness
  default-server check inter 200ms fall 1 rise 1
"""


class Kind(NamedTuple):
    """A proxy, and how its configuration is written."""

    program: str
    configuration: str
    server: str
    patient: str
    impatient: str
    options: tuple[str, ...]


KINDS = {
    "haproxy": Kind("haproxy", HAPROXY, "  server s{0} 127.0.0.1:{0}", "3", "0", ("-q", "-f")),
    "nginx": Kind("nginx", NGINX, "    server 127.0.0.1:{0};", "error timeout", "off", ("-c",)),
}


def program(name: str = "haproxy") -> str:
    found = shutil.which(name, path=f"{os.environ.get('PATH', '')}:/usr/sbin")
    if found is None:
        reason = f"{name} is not installed (Debian: apt-get install haproxy nginx-light)"
        if os.environ.get("CI"):
            pytest.fail(reason)
        pytest.skip(reason)
    return found


@contextmanager
def proxied(
    ports: Sequence[int],
    folder: Path,
    kind: str = "haproxy",
    *,
    patient: bool = True,
    checks: bool = True,
) -> Iterator[str]:
    """The address of a proxy that shares requests out among what listens on the ports.

    One that is not `patient` tries no request twice. nginx never `checks` who is ready.
    """
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        port = listener.getsockname()[1]
    chosen = KINDS[kind]
    text = chosen.configuration.format(
        port=port,
        folder=folder,
        servers="\n".join(chosen.server.format(one) for one in ports),
        check=CHECK if checks else "",
        tries=chosen.patient if patient else chosen.impatient,
    )
    path = folder / f"{kind}.cfg"
    path.write_text(text)
    with subprocess.Popen([program(kind), *chosen.options, str(path)]) as process:
        try:
            until(lambda: _listening(port))
            yield f"http://127.0.0.1:{port}"
        finally:
            process.terminate()


def _listening(port: int) -> bool:
    try:
        with socket.create_connection(("127.0.0.1", port), timeout=1):
            return True
    except OSError:
        return False
