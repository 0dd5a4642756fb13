"""What is asked of a new key, beyond its form."""

from collections.abc import Collection
from datetime import UTC, datetime, timedelta
from urllib.parse import urlsplit

from filmbuild.accounts.wire import KeyRequest, RotationRequest
from filmbuild.errors import Faults

LONGEST_OVERLAP = timedelta(days=30)
LATEST = datetime.max.replace(tzinfo=UTC)
_LARGEST_OFFSET = timedelta(days=1)
LOOPBACK = ("localhost", "127.0.0.1")


def check_request(request: KeyRequest, scopes: Collection[str], now: datetime) -> None:
    """Raises InvalidInput with all that is wrong."""
    faults = Faults()
    if request.kind == "secret":
        _check_secret(request, scopes, faults)
    else:
        _check_publishable(request, faults)
    _check_expiry(request.expires_at, now, faults)
    faults.raise_if_any()


def check_rotation(request: RotationRequest, now: datetime) -> None:
    """Raises InvalidInput with all that is wrong."""
    faults = Faults()
    if not timedelta(0) <= request.overlap <= LONGEST_OVERLAP:
        faults.add("out-of-range", "accepted: a duration from PT0S to P30D", "overlap")
    _check_expiry(request.expires_at, now, faults)
    faults.raise_if_any()


def _check_secret(request: KeyRequest, scopes: Collection[str], faults: Faults) -> None:
    if not request.scopes:
        faults.add("missing", "a secret key needs at least one scope", "scopes")
    for place, one in enumerate(request.scopes):
        if one not in scopes:
            known = ", ".join(sorted(scopes))
            faults.add("unknown-scope", f"accepted: one of {known}", "scopes", place)
    if request.origins:
        detail = "a secret key has none: it must not be in a web page"
        faults.add("not-applicable", detail, "origins")


def _check_publishable(request: KeyRequest, faults: Faults) -> None:
    if request.scopes:
        detail = "a publishable key has none: what it may do is fixed"
        faults.add("not-applicable", detail, "scopes")
    if not request.origins:
        detail = "a publishable key needs the origin of at least one page"
        faults.add("missing", detail, "origins")
    for place, one in enumerate(request.origins):
        parts = urlsplit(one)
        if parts.scheme == "http" and parts.hostname not in LOOPBACK:
            detail = "accepted: https, or http on this machine alone (localhost, 127.0.0.1)"
            faults.add("insecure-origin", detail, "origins", place)


def _check_expiry(expires_at: datetime | None, now: datetime, faults: Faults) -> None:
    if expires_at is None:
        return
    if expires_at.tzinfo is None:
        faults.add("no-offset", "accepted: a moment with its offset from UTC", "expires_at")
    elif expires_at <= now:
        faults.add("in-the-past", "accepted: a moment that is still to come", "expires_at")
    elif expires_at.replace(tzinfo=UTC) > LATEST - _LARGEST_OFFSET:
        detail = "accepted: a moment before the last day of the year 9999, or none"
        faults.add("out-of-range", detail, "expires_at")
