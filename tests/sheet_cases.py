"""The studio of the quickstart, for the sheets that follow from it."""

import json
from datetime import date
from pathlib import Path
from typing import Any

from demo import priced_demo

import filmbuild
from filmbuild.edge.decoding import decode
from filmbuild.pipeline.requests import SheetRequest

STUDIO = json.loads(Path(filmbuild.__file__).with_name("quickstart_request.json").read_bytes())
CATALOGUE = priced_demo("USD", date(2026, 6, 15))


def asked(system: str = "harbour-broadcast", units: str = "us", **site: object) -> dict[str, Any]:
    """The body of a request; `site` are members of the site to change."""
    job = {**STUDIO["job"], "system": system}
    return {"units": units, "site": {**STUDIO["site"], **site}, "job": job}


def request(system: str = "harbour-broadcast", units: str = "us") -> SheetRequest:
    return decode(SheetRequest, json.dumps(asked(system, units)).encode())
