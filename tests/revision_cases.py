"""Estimates of one job in many variations, and the demo catalogue with other prices and rates."""

import copy
import json
from collections.abc import Callable
from datetime import date
from typing import Any

from calling import ORGANISATION
from demo import priced_demo

import examples
from filmbuild.catalogue import loader, wire
from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.db import Database
from filmbuild.edge.decoding import decode
from filmbuild.edge.operations import Caller
from filmbuild.estimates.service import EstimateService
from filmbuild.pipeline.estimate import estimate_document
from filmbuild.pipeline.requests import EstimateRequest
from filmbuild.pipeline.results import EstimateDocument
from filmbuild.pipeline.specification import Catalogue

Change = Callable[[dict[str, Any]], None]
CALLER = Caller(organisation=ORGANISATION, actor="tester")
DAY = date(2026, 9, 7)
KIT = "harbour-140-kit-3gal"
"""A pack that the job below buys one of."""


def asked(**terms: object) -> dict[str, Any]:
    """The job of the contract's example, with other terms."""
    body = copy.deepcopy(examples.read("calculateEstimate")[0].body)
    assert isinstance(body, dict)
    body["job"]["terms"] |= terms
    return body


def of_length(feet: float, **terms: object) -> dict[str, Any]:
    body = asked(**terms)
    body["site"]["areas"][0]["outline"]["length"] = f"{feet} ft"
    return body


def demo_catalogue() -> Catalogue:
    return priced_demo("USD", DAY)


def estimated(body: dict[str, Any], catalogue: Catalogue | None = None) -> EstimateDocument:
    request = decode(EstimateRequest, json.dumps(body).encode())
    return estimate_document(request, catalogue or demo_catalogue())


def priced_at(amount: str, pack: str = KIT) -> Change:
    def change(catalogue: dict[str, Any]) -> None:
        for price in catalogue["prices"]:
            if (price["pack"], price["currency"]) == (pack, "USD"):
                price["amount"] = amount

    return change


async def load_catalogue(database: Database, *changes: Change) -> None:
    """The demo catalogue, changed, as the next revision."""
    catalogue = json.loads(wire.demo())
    for change in changes:
        change(catalogue)
    authored = wire.read(json.dumps(catalogue).encode())
    report = await loader.load(database, ORGANISATION, authored, "tester")
    assert report.revision is not None


def service_on(database: Database) -> EstimateService:
    return EstimateService(database, CatalogueSnapshots(database))


async def kept(service: EstimateService, body: dict[str, Any]) -> str:
    content = json.dumps(body).encode()
    request = decode(EstimateRequest, content)
    return (await service.create(CALLER, request, content, None)).id
