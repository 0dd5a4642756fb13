"""Estimates, organisations and quotations on the demo catalogue, with a clock that tests set."""

import copy
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import UTC, datetime
from typing import Any

import msgspec
from open_gate import SOMEONE
from sqlalchemy import URL

import examples
from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.db import Database
from filmbuild.edge.decoding import decode
from filmbuild.edge.operations import Caller
from filmbuild.edge.paging import PageQuery
from filmbuild.estimates.service import EstimateService
from filmbuild.estimates.wire import RevisionRequest
from filmbuild.organisations.profile import OrganisationProfile
from filmbuild.organisations.service import OrganisationService
from filmbuild.pipeline.requests import EstimateRequest
from filmbuild.quotations.drafting import Drafting
from filmbuild.quotations.offer_wire import Acceptance, Refusal
from filmbuild.quotations.offers import OfferService
from filmbuild.quotations.service import Answered, QuotationService
from filmbuild.quotations.wire import ChangeOrderRequest, QuotationRequest

NOON = datetime(2026, 9, 1, 17, 0, tzinfo=UTC)
"""Noon of a Tuesday in Chicago, where the organisation below is."""
PROFILE: dict[str, Any] = {
    "seller": {
        "name": "Demo Resin Floors (demo data)",
        "address": {
            "lines": ["1 Sample Quay"],
            "city": "Port Alder",
            "postal_code": "00000",
            "country": "US",
        },
        "contact": {"email": "office@floors.example"},
    },
    "time_zone": "America/Chicago",
    "valid_days": 14,
}
BUYER: dict[str, Any] = {
    "name": "Sample Hall Association (demo data)",
    "address": {"city": "Port Alder", "country": "US"},
}


def estimate_body(**job: Any) -> dict[str, Any]:
    """The request of the contract's example, to be changed at will."""
    body: dict[str, Any] = copy.deepcopy(examples.read("createEstimate")[0].body)
    body["job"] |= job
    return body


def quotation_body(*estimates: str, **more: Any) -> dict[str, Any]:
    return {
        "estimates": [
            {"id": f"way-{place}", "label": f"Way {place}", "estimate": name}
            for place, name in enumerate(estimates)
        ],
        "buyer": BUYER,
        **more,
    }


class Clock:
    """Stands still until it is set."""

    def __init__(self, now: datetime = NOON) -> None:
        self.now = now

    def __call__(self) -> datetime:
        return self.now


class Office:
    """The services of one process, over one database."""

    def __init__(self, database: Database, clock: Clock, caller: Caller = SOMEONE) -> None:
        self.clock = clock
        self.caller = caller
        self.database = database
        self.snapshots = CatalogueSnapshots(database)
        self.estimates = EstimateService(database, self.snapshots)
        self.organisations = OrganisationService(database, clock)
        drafting = Drafting(database, self.estimates, self.snapshots)
        self.quotations = QuotationService(database, drafting, clock)
        self.offers = OfferService(database, clock)

    async def describe(self, **more: Any) -> None:
        await self.organisations.put(
            self.caller.organisation, read(OrganisationProfile, PROFILE | more), {"if-match": "*"}
        )

    async def estimate(self, body: dict[str, Any] | None = None, **job: Any) -> str:
        """The id of a new one: of the contract's example, with its job changed."""
        content = msgspec.json.encode(body or estimate_body(**job))
        request = decode(EstimateRequest, content)
        return (await self.estimates.create(self.caller, request, content, None)).id

    async def revise_estimate(self, name: str, **job: Any) -> None:
        await self.revise_to(name, estimate_body(**job))

    async def revise_to(self, name: str, request: dict[str, Any]) -> None:
        content = msgspec.json.encode({"request": request, "cause": "Measured again"})
        body = decode(RevisionRequest, content)
        await self.estimates.revise(self.caller, name, body, content, {"if-match": "*"}, None)

    async def draft(self, *estimates: str, **more: Any) -> Answered:
        request = read(QuotationRequest, quotation_body(*estimates, **more))
        return await self.quotations.create(self.caller, request, None)

    async def issue(self, draft: Answered) -> Answered:
        return await self.quotations.issue(self.caller, draft.id, {"if-match": draft.tag})

    async def revise(self, name: str, *estimates: str, **more: Any) -> Answered:
        request = read(QuotationRequest, quotation_body(*estimates, **more))
        return await self.quotations.revise(self.caller, name, request, None)

    async def issued(self, *estimates: str, **more: Any) -> "Issued":
        return Issued(await self.issue(await self.draft(*estimates, **more)))

    async def accept(self, offer: "Issued", **more: Any) -> dict[str, Any]:
        return plain(await self.offers.accept(offer.token, read(Acceptance, offer.choice(**more))))

    async def decline(self, offer: "Issued", name: str = "A. Sample") -> dict[str, Any]:
        return plain(await self.offers.decline(offer.token, Refusal(name=name)))

    async def change(self, name: str, **more: Any) -> Answered:
        request = read(ChangeOrderRequest, more)
        return await self.quotations.change(self.caller, name, request, None)

    async def state(self, name: str) -> str:
        state: str = plain((await self.quotations.get(self.caller.organisation, name)).content)[
            "state"
        ]
        return state

    async def steps(self, name: str) -> list[str]:
        """The kinds of a quotation's history."""
        return [one["kind"] for one in await self.history(name)]

    async def history(self, name: str) -> list[dict[str, Any]]:
        page = await self.quotations.history(
            self.caller.organisation, name, PageQuery(limit=100), "/history"
        )
        return [msgspec.to_builtins(one) for one in page.items]


class Issued:
    """An issued quotation, with what a customer would answer."""

    def __init__(self, answered: Answered) -> None:
        self.id = answered.id
        self.tag = answered.tag
        self.answer = plain(answered.content)
        self.link: str = self.answer["link"]
        self.token = self.link.rpartition("/")[2]

    def choice(self, **more: Any) -> dict[str, Any]:
        """The first alternate without options."""
        (first, *_) = self.answer["content"]["alternates"]
        return {
            "name": "A. Sample",
            "alternate": first["id"],
            "total": first["offer"]["total"],
            **more,
        }


def plain(content: bytes) -> dict[str, Any]:
    found: dict[str, Any] = msgspec.json.decode(content)
    return found


def read(kind: Any, body: dict[str, Any]) -> Any:
    return decode(kind, msgspec.json.encode(body))


@asynccontextmanager
async def office(url: URL) -> AsyncIterator[Office]:
    """With a profile, on a database that has the demo catalogue and nothing else."""
    database = Database(url)
    opened = Office(database, Clock(), SOMEONE)
    try:
        await opened.organisations.put(SOMEONE.organisation, read(OrganisationProfile, PROFILE), {})
        yield opened
    finally:
        await database.dispose()
