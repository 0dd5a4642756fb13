"""Builds the application: the one place that knows every feature."""

import asyncio
import gc
from collections.abc import AsyncIterator, Callable, Sequence
from contextlib import asynccontextmanager
from typing import TYPE_CHECKING

from litestar import Litestar
from litestar.handlers import HTTPRouteHandler

from filmbuild import quantities
from filmbuild import settings as configuration
from filmbuild.accounts.gate import KeyGate, utc_now
from filmbuild.accounts.routes import key_operations
from filmbuild.accounts.service import KeyService
from filmbuild.accounts.usage import Usage
from filmbuild.catalogue.bulk_routes import bulk_operations
from filmbuild.catalogue.routes import catalogue_operations
from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.catalogue.write_routes import write_operations
from filmbuild.catalogue.writing import CatalogueWriter
from filmbuild.db import Database
from filmbuild.db.readiness import readiness_check
from filmbuild.edge.closing import Closing
from filmbuild.edge.contract import contract_operations, state_operations
from filmbuild.edge.http import handlers, routing_failed
from filmbuild.edge.openapi import Json, document
from filmbuild.edge.operations import AnyOperation
from filmbuild.estimates.purchase_routes import purchase_operations
from filmbuild.estimates.routes import stage_operations
from filmbuild.estimates.rulebook import rule_operations
from filmbuild.estimates.service import EstimateService
from filmbuild.estimates.sheet_routes import explanation_operations, sheet_operations
from filmbuild.estimates.stages import Stages
from filmbuild.estimates.stored_routes import estimate_operations
from filmbuild.handbook.routes import handbook_operations
from filmbuild.organisations.routes import organisation_operations
from filmbuild.organisations.service import OrganisationService
from filmbuild.pipeline.estimate import ENGINE_VERSION
from filmbuild.plans.routes import plan_operations
from filmbuild.pricelists.routes import price_list_operations
from filmbuild.pricelists.update_routes import price_update_operations
from filmbuild.quotations.features import customer_operations
from filmbuild.repricing.batches import KIND, Batches
from filmbuild.repricing.routes import repricing_operations
from filmbuild.settings import Settings

if TYPE_CHECKING:
    from filmbuild.jobs.worker import Worker

LARGEST_BODY_BYTES = 8 << 20
INFO: Json = {
    "title": "Filmbuild",
    "version": ENGINE_VERSION,
    "summary": "Takeoff, materials, labour, schedule and price of resinous floors.",
    "description": (
        "Send a site as it was measured, and get what the job needs: areas, film volumes, mixes "
        "and packs, consumables, crew hours, dates and a price. Every figure carries its trace: "
        "the rule that made it and what the rule was applied to.\n\n"
        'Quantities name their unit. They are read as {"value": 24.5, "unit": "ft"} or as text '
        'such as "24 ft 6 in", and are always answered as {"value", "unit"} in the unit system '
        "that the request asks for. Elapsed times are ISO 8601 durations. Exact decimals, and so "
        "the amounts of money, are text; a JSON number in their place is refused.\n\n"
        "Fields that a request does not know are refused. Answers may grow new fields, and their "
        "enumerations new values.\n\n"
        "Every failure is answered with a problem document (RFC 9457) whose `errors` list all "
        "that is wrong at once, each with a JSON Pointer (RFC 6901) into the body, or with "
        "/name for a query parameter. HEAD is answered wherever GET is.\n\n"
        "Cautions name their source. They never state that work is safe: the product's safety "
        "data sheet, local codes and licensed practice decide."
    ),
    "license": {"name": "Apache-2.0", "identifier": "Apache-2.0"},
}
PUBLIC_TAGS = ("offers", "service")
TAGS = (
    ("stages", "One step of the work at a time, from a site or from the step before it."),
    ("estimates", "The whole of it at once, kept or not."),
    ("repricings", "All open estimates at new prices, in the background."),
    ("organisation", "Who offers, and in which words."),
    ("quotations", "Offers and change orders, from the draft to the customer's decision."),
    ("offers", "What a customer reads and decides, behind a link."),
    ("invoices", "What accepted work is billed, by stages of payment."),
    ("keys", "Who may call, and what was done with keys and prices."),
    ("catalogue", "Products, packs, systems, rates and rules, in numbered revisions."),
    ("prices", "Price lists, and updates of many prices at once."),
    ("rules", "The estimating method, as published rules."),
    ("service", "The service itself: its state and its contract."),
)


SCOPES = frozenset(
    {f"{tag}:{verb}" for tag, _ in TAGS if tag not in PUBLIC_TAGS for verb in ("read", "write")}
    | {"*"}
)
"""What keys can be allowed."""
OBJECTS_BETWEEN_COLLECTIONS = 20_000


def settle_collector() -> None:
    """Fits the garbage collector to requests that make many objects, all of them needed.

    What start-up made stays, so that full collections need not walk it again; and what a request
    makes lives until its answer is sent, so that looking for garbage after every 700 objects, as
    Python does, took two fifths of the time of a takeoff of 10,000 areas.
    """
    gc.collect()
    gc.freeze()
    gc.set_threshold(OBJECTS_BETWEEN_COLLECTIONS, 10, 10)


def create_app(
    settings: Settings | None = None,
    extra_routes: Sequence[HTTPRouteHandler] = (),
    *,
    working: bool = False,
    closing: Closing | None = None,
) -> Litestar:
    """Reads the settings from the environment where none are given.

    One that is `working` also does background work, where no other process does. `closing` is told
    when the server is to stop.
    """
    settings = settings or configuration.read()
    database = Database(settings.database_url)
    operations = _operations(database, closing or Closing())
    usage = Usage(database, utc_now)
    gate = KeyGate(database, usage)

    @asynccontextmanager
    async def lifespan(_app: Litestar) -> AsyncIterator[None]:
        quantities.warm()
        settle_collector()
        end_work = await _begin_work(settings) if working else None
        try:
            yield
        finally:
            if end_work is not None:
                await asyncio.to_thread(end_work)
            await usage.settled()
            await database.dispose()

    return Litestar(
        [
            *handlers((*operations, *handbook_operations()), LARGEST_BODY_BYTES, gate),
            *extra_routes,
        ],
        lifespan=[lifespan],
        exception_handlers={Exception: routing_failed},
        openapi_config=None,
        logging_config=None,
    )


def build_worker(settings: Settings) -> "Worker":
    """Knows the work of every feature, and has connections of its own."""
    from filmbuild.jobs.worker import Worker  # noqa: PLC0415 - loads DBOS, a second that only workers need spend

    database = Database(settings.database_url)
    batches = Batches(database, CatalogueSnapshots(database))
    return Worker(database, {KIND: batches.work})


async def _begin_work(settings: Settings) -> Callable[[], None]:
    """What is given ends it: it blocks until the portion that is being done is finished."""
    from filmbuild.jobs.thread import WorkerThread  # noqa: PLC0415 - loads DBOS, a second that only workers need spend

    thread = WorkerThread(lambda: build_worker(settings))
    await asyncio.to_thread(thread.start)
    return thread.stop


def contract_document(settings: Settings | None = None) -> Json:
    """The contract, without connecting to anything."""
    settings = settings or configuration.read()
    return document(_operations(Database(settings.database_url), Closing()), INFO, TAGS)


def _operations(database: Database, closing: Closing) -> tuple[AnyOperation, ...]:
    snapshots = CatalogueSnapshots(database)
    service = EstimateService(database, snapshots)
    writer = CatalogueWriter(database, snapshots)
    features = (
        *plan_operations(),
        *stage_operations(Stages(snapshots)),
        *sheet_operations(snapshots),
        *purchase_operations(snapshots),
        *explanation_operations(snapshots),
        *estimate_operations(service, snapshots),
        *repricing_operations(database, closing),
        *organisation_operations(OrganisationService(database)),
        *customer_operations(database, service, snapshots),
        *catalogue_operations(database, snapshots),
        *write_operations(writer, snapshots),
        *bulk_operations(database, writer, snapshots),
        *price_list_operations(snapshots),
        *price_update_operations(database, snapshots),
        *rule_operations(),
        *key_operations(KeyService(database, SCOPES, utc_now)),
        *state_operations(readiness_check(database)),
    )
    contract: tuple[AnyOperation, ...] = ()

    def build() -> Json:
        return document((*features, *contract), INFO, TAGS)

    contract = contract_operations(build)
    return (*features, *contract)
