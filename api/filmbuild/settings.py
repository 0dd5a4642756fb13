"""The only reader of the environment."""

import ipaddress
import os
import re
from collections.abc import Mapping
from importlib.util import find_spec
from pathlib import Path
from typing import Literal, TypeVar
from urllib.parse import urlsplit

import msgspec
from sqlalchemy import URL, make_url
from sqlalchemy.exc import ArgumentError

from filmbuild.errors import Faults, Refusal

PREFIX = "FILMBUILD_"
NAMES = (
    "CONNECTIONS",
    "DATABASE_URL",
    "DATA_FOLDER",
    "DRAIN_SECONDS",
    "HOST",
    "LIMITS_URL",
    "LIMIT_ADDRESS",
    "LIMIT_PUBLISHABLE_KEY",
    "LIMIT_SECRET_KEY",
    "LIMIT_VISITOR",
    "LOG",
    "METRICS",
    "PORT",
    "PUBLIC_URL",
    "SECURITY_CONTACT",
    "TRACES",
    "TRUSTED_PROXIES",
    "WEBHOOK_PRIVATE_NETWORKS",
)
LogForm = Literal["json", "text", "off"]
MetricsAccess = Literal["off", "loopback", "on"]
Switch = Literal["off", "on"]
Choice = TypeVar("Choice")
LOG_FORMS: dict[str, LogForm] = {"json": "json", "text": "text", "off": "off"}
METRICS_ACCESS: dict[str, MetricsAccess] = {"off": "off", "loopback": "loopback", "on": "on"}
SWITCH: dict[str, Switch] = {"off": "off", "on": "on"}
TRACING = ("opentelemetry.sdk", "opentelemetry.exporter.otlp.proto.http")
DRIVERS = {"sqlite": "aiosqlite", "postgresql": "asyncpg"}
PORT = re.compile(r"[0-9]{1,5}")
LAST_PORT = 65535
# RFC 9116 section 2.5.3: a URI; an address alone is read as one of mail
CONTACT = re.compile(r"(?:mailto:|tel:|https://)[\x21-\x7e]+")
ADDRESS = re.compile(r"[\x21-\x3f\x41-\x7e]+@[A-Za-z0-9.-]+")
ALLOWANCE = re.compile(r"([0-9]{1,6}(?:\.[0-9]{1,3})?)/([0-9]{1,9})")
CONNECTIONS = re.compile(r"[1-9][0-9]{0,5}")
DRAIN = re.compile(r"[0-9]{1,3}(?:\.[0-9]{1,3})?")
LIMITS_HERE = ("file:", "memory:", "off")
LIMITS_SCHEMES = ("redis", "rediss", "valkey", "valkeys")
Network = ipaddress.IPv4Network | ipaddress.IPv6Network


class Allowance(msgspec.Struct, frozen=True):
    """`rate` [1/s] for good, and `burst` at once; both count cost, where 1 is a read."""

    rate: float
    burst: int


class Limits(msgspec.Struct, frozen=True, kw_only=True):
    """Where allowances are kept, and how large they are; None where there is no such limit.

    The defaults let one key make 600 estimates at once and 40 a second for good, a tenth of what a
    processor does: scripts that load a list of jobs get through, and one that runs away leaves room
    for the others. A visitor of a page that holds a publishable key makes 12 at once and one a
    second. An address pays 1 for each request with a key.
    """

    url: str = "file:"
    secret_key: Allowance | None = Allowance(200, 3000)
    publishable_key: Allowance | None = Allowance(100, 1000)
    visitor: Allowance | None = Allowance(5, 60)
    address: Allowance | None = Allowance(300, 3000)

    def __repr__(self) -> str:
        """Without the URL's password."""
        return f"Limits({self.url.partition('//')[0]}...)"


NO_LIMITS = Limits(url="off")


class Settings(msgspec.Struct, frozen=True, kw_only=True):
    """`log` is None where it is to suit where it is written to.

    `public_url` is how the service is reached from outside, without a slash at its end.
    `security_contact` is a URI. `traces` lets OpenTelemetry read its own variables (OTEL_...).
    `connections` is how many may be open at once, over all callers. `webhook_private_networks` lets
    webhooks out to networks that are not public, and without TLS.
    For `drain_seconds` [s] a service that is told to stop goes on serving, while proxies read that
    it is no longer ready.
    """

    data_folder: Path
    database_url: URL
    host: str
    port: int
    log: LogForm | None = None
    metrics: MetricsAccess = "off"
    traces: Switch = "off"
    public_url: str | None = None
    security_contact: str | None = None
    limits: Limits = NO_LIMITS
    trusted_proxies: tuple[Network, ...] = ()
    connections: int = 1000
    webhook_private_networks: bool = False
    drain_seconds: float = 1.0


def read(environment: Mapping[str, str] = os.environ) -> Settings:
    """Raises InvalidInput with a fault for each variable that cannot be used."""
    faults = Faults()
    for name in sorted(environment):
        if name.startswith(PREFIX) and name.removeprefix(PREFIX) not in NAMES:
            known = ", ".join(PREFIX + known for known in NAMES)
            faults.add(
                "unknown-setting", f"{name} is not a setting; the settings are {known}", name
            )
    data_folder = Path(environment.get("FILMBUILD_DATA_FOLDER") or ".data")
    settings = Settings(
        data_folder=data_folder,
        database_url=_database_url(environment.get("FILMBUILD_DATABASE_URL"), data_folder, faults),
        host=environment.get("FILMBUILD_HOST") or "127.0.0.1",
        port=_port(environment.get("FILMBUILD_PORT") or "8080", faults),
        log=_chosen(environment, "FILMBUILD_LOG", LOG_FORMS, faults),
        metrics=_chosen(environment, "FILMBUILD_METRICS", METRICS_ACCESS, faults) or "off",
        traces=_traces(environment, faults),
        public_url=_public_url(environment.get("FILMBUILD_PUBLIC_URL"), faults),
        security_contact=_contact(environment.get("FILMBUILD_SECURITY_CONTACT"), faults),
        limits=_limits(environment, faults),
        trusted_proxies=_networks(environment.get("FILMBUILD_TRUSTED_PROXIES") or "", faults),
        connections=_connections(environment.get("FILMBUILD_CONNECTIONS") or "1000", faults),
        webhook_private_networks=_chosen(
            environment, "FILMBUILD_WEBHOOK_PRIVATE_NETWORKS", SWITCH, faults
        )
        == "on",
        drain_seconds=_drain(environment.get("FILMBUILD_DRAIN_SECONDS") or "1", faults),
    )
    faults.raise_if_any("The settings are not valid.")
    return settings


def on_one_machine(environment: Mapping[str, str] = os.environ) -> dict[str, str]:
    """That of a service on the loopback address for a trial: who tries it receives webhooks there."""
    return {"FILMBUILD_WEBHOOK_PRIVATE_NETWORKS": "on", **environment}


def _port(text: str, faults: Faults) -> int:
    if PORT.fullmatch(text) and int(text) <= LAST_PORT:
        return int(text)
    detail = f"{text!r} is not a port: give 0 (any free one) to {LAST_PORT}"
    faults.add("invalid-setting", detail, "FILMBUILD_PORT")
    return 0


def _chosen(
    environment: Mapping[str, str], name: str, known: Mapping[str, Choice], faults: Faults
) -> Choice | None:
    """None where nothing is chosen, or nothing that is known."""
    text = environment.get(name)
    if text and text not in known:
        faults.add("invalid-setting", f"{text!r} is not one of {', '.join(known)}", name)
    return known.get(text or "")


def _traces(environment: Mapping[str, str], faults: Faults) -> Switch:
    chosen = _chosen(environment, "FILMBUILD_TRACES", SWITCH, faults) or "off"
    if chosen == "on" and not all(map(_importable, TRACING)):
        detail = "traces need the optional dependencies of filmbuild[traces]"
        faults.add("invalid-setting", detail, "FILMBUILD_TRACES")
    return chosen


def _importable(module: str) -> bool:
    """Without importing more of it than what holds it."""
    try:
        return find_spec(module) is not None
    except ModuleNotFoundError:
        return False


def _public_url(text: str | None, faults: Faults) -> str | None:
    if not text:
        return None
    try:
        parts = urlsplit(text)
        usable = parts.scheme in {"http", "https"} and bool(parts.hostname) and "@" not in text
        usable = usable and parts.path in {"", "/"} and not (parts.query or parts.fragment)
    except ValueError:
        usable = False
    if usable and text.isascii() and text.isprintable() and " " not in text:
        return text.rstrip("/")
    detail = "it is not an address; give one such as https://floors.example.com"
    faults.add("invalid-setting", detail, "FILMBUILD_PUBLIC_URL")
    return None


def _contact(text: str | None, faults: Faults) -> str | None:
    if not text:
        return None
    if CONTACT.fullmatch(text):
        return text
    if ADDRESS.fullmatch(text):
        return f"mailto:{text}"
    detail = "give an address of mail, or a URI of https, mailto or tel"
    faults.add("invalid-setting", detail, "FILMBUILD_SECURITY_CONTACT")
    return None


def _connections(text: str, faults: Faults) -> int:
    if CONNECTIONS.fullmatch(text):
        return int(text)
    detail = f"{text!r} is not a number of connections: give one from 1 to 999999"
    faults.add("invalid-setting", detail, "FILMBUILD_CONNECTIONS")
    return 1


def _drain(text: str, faults: Faults) -> float:
    if DRAIN.fullmatch(text):
        return float(text)
    detail = f"{text!r} is not a number of seconds: give one from 0 to 999, such as 2.5"
    faults.add("invalid-setting", detail, "FILMBUILD_DRAIN_SECONDS")
    return 0.0


def _networks(text: str, faults: Faults) -> tuple[Network, ...]:
    found = []
    for one in filter(None, (part.strip() for part in text.split(","))):
        try:
            found.append(ipaddress.ip_network(one))
        except ValueError:
            detail = f"{one!r} is not an address or a network: give some such as 10.0.0.0/8, ::1"
            faults.add("invalid-setting", detail, "FILMBUILD_TRUSTED_PROXIES")
    return tuple(found)


def _limits(environment: Mapping[str, str], faults: Faults) -> Limits:
    usual = Limits()

    def allowance(name: str, default: Allowance | None) -> Allowance | None:
        return _allowance(environment.get(name) or "", default, name, faults)

    return Limits(
        url=_limits_url(environment.get("FILMBUILD_LIMITS_URL") or usual.url, faults),
        secret_key=allowance("FILMBUILD_LIMIT_SECRET_KEY", usual.secret_key),
        publishable_key=allowance("FILMBUILD_LIMIT_PUBLISHABLE_KEY", usual.publishable_key),
        visitor=allowance("FILMBUILD_LIMIT_VISITOR", usual.visitor),
        address=allowance("FILMBUILD_LIMIT_ADDRESS", usual.address),
    )


def _allowance(text: str, default: Allowance | None, name: str, faults: Faults) -> Allowance | None:
    if not text:
        return default
    if text == "off":
        return None
    found = ALLOWANCE.fullmatch(text)
    if found and float(found[1]) > 0 and int(found[2]) > 0:
        return Allowance(float(found[1]), int(found[2]))
    detail = f"{text!r} is not an allowance: give cost a second and burst, such as 100/1000, or off"
    faults.add("invalid-setting", detail, name)
    return default


def _limits_url(text: str, faults: Faults) -> str:
    scheme, separator, _ = text.partition("://")
    if text in LIMITS_HERE:
        return text
    if not separator or scheme not in LIMITS_SCHEMES or not _names_host(text):
        # The text may hold a password, so it is not repeated.
        detail = "it is not a store of limits; give file:, memory:, off or redis://host:6379/0"
    elif find_spec("redis") is None:
        detail = f"{scheme} needs the optional dependencies of filmbuild[redis]"
    else:
        return text.replace("valkey", "redis", 1) if scheme.startswith("valkey") else text
    faults.add("invalid-setting", detail, "FILMBUILD_LIMITS_URL")
    return "off"


def _names_host(url: str) -> bool:
    try:
        parts = urlsplit(url)
    except ValueError:
        return False
    try:
        return bool(parts.hostname) and (parts.port is None or parts.port > 0)
    except ValueError:
        return False


def _database_url(text: str | None, data_folder: Path, faults: Faults) -> URL:
    default = URL.create("sqlite+aiosqlite", database=str(data_folder / "filmbuild.sqlite3"))
    if not text:
        return default
    try:
        url = _with_driver(make_url(text))
    except Refusal as refusal:
        reason = refusal.detail
    except (ArgumentError, ValueError):
        # The text may hold a password, so neither it nor the parser's message is repeated.
        reason = "it is not a database URL"
    else:
        return url
    accepted = "sqlite:///folder/file.sqlite3 or postgresql://user@host/name"
    detail = f"{reason}; give one such as {accepted}"
    faults.add("invalid-setting", detail, "FILMBUILD_DATABASE_URL")
    return default


def _refused(detail: str) -> Refusal:
    return Refusal("invalid-setting", detail)


def _with_driver(url: URL) -> URL:
    kind = url.get_backend_name()
    driver = DRIVERS.get(kind)
    if driver is None or url.drivername not in {kind, f"{kind}+{driver}"}:
        raise _refused(f"{url.drivername} is not supported")
    if kind == "sqlite" and url.database in {None, "", ":memory:"}:
        raise _refused("SQLite is kept in a file here")
    if find_spec(driver) is None:
        raise _refused(f"{kind} needs the optional dependencies of filmbuild[{kind}]")
    return url.set(drivername=f"{kind}+{driver}")
