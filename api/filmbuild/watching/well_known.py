"""What machines look for at known places of any host (RFC 8615), outside of the contract."""

from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Any

import msgspec

from filmbuild.edge.operations import Answer, AnyOperation, Call, NoQuery, Operation

API_CATALOG = "/.well-known/api-catalog"
SECURITY_TEXT = "/.well-known/security.txt"
# RFC 9727 section 4.2
LINKSET = 'application/linkset+json; profile="https://www.rfc-editor.org/info/rfc9727"'
GOOD_FOR = timedelta(days=180)
"""RFC 9116 section 2.5.5 recommends less than a year."""
TAG = "service"


def well_known_operations(
    public_url: str | None, contact: str | None, clock: Callable[[], datetime]
) -> tuple[AnyOperation, ...]:
    """Addresses are relative where it is not known how the service is reached."""
    base = public_url or ""
    catalog = _api_catalog(base)
    return (catalog,) if contact is None else (catalog, _security_text(base, contact, clock))


def linkset(base: str) -> dict[str, Any]:
    """The one API of this host, by RFC 9264 section 4.2, with the relations of RFC 8631."""
    api = f"{base}/v1"
    described = {
        "anchor": api,
        "service-desc": [{"href": f"{api}/openapi.json", "type": "application/json"}],
        "service-doc": [{"href": f"{api}/docs", "type": "text/html"}],
        "status": [{"href": f"{api}/readiness", "type": "application/json"}],
    }
    return {"linkset": [{"anchor": f"{base}{API_CATALOG}", "item": [{"href": api}]}, described]}


def _api_catalog(base: str) -> AnyOperation:
    content = msgspec.json.encode(linkset(base))
    # RFC 9727 section 2 asks for it with HEAD
    links = f'<{base}{API_CATALOG}>; rel="api-catalog", <{base}/v1>; rel="item"'

    async def get_api_catalog(_call: Call[None, NoQuery]) -> Answer:
        return Answer(content, (("link", links),))

    return Operation(
        method="GET",
        path=API_CATALOG,
        id="getApiCatalog",
        tag=TAG,
        public=True,
        summary="Where the API of this host is described",
        description="RFC 9727.",
        handler=get_api_catalog,
        query=NoQuery,
        answer=dict[str, Any],
        media_type=LINKSET,
    )


def _security_text(base: str, contact: str, clock: Callable[[], datetime]) -> AnyOperation:
    async def get_security_text(_call: Call[None, NoQuery]) -> Answer:
        expires = (clock() + GOOD_FOR).replace(hour=0, minute=0, second=0, microsecond=0)
        fields = [f"Contact: {contact}", f"Expires: {expires:%Y-%m-%dT%H:%M:%SZ}"]
        fields.append("Preferred-Languages: en")
        if base:
            fields.append(f"Canonical: {base}{SECURITY_TEXT}")
        return Answer("".join(f"{one}\r\n" for one in fields).encode())

    return Operation(
        method="GET",
        path=SECURITY_TEXT,
        id="getSecurityText",
        tag=TAG,
        public=True,
        summary="Whom to tell about a weakness",
        description="RFC 9116.",
        handler=get_security_text,
        query=NoQuery,
        answer=str,
        media_type="text/plain",
    )
