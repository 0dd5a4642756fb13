"""Builds the application: the one place that knows every feature."""

import asyncio
import gc
from collections.abc import AsyncIterator, Callable, Sequence
from contextlib import asynccontextmanager
from dataclasses import replace
from importlib.metadata import version
from typing import TYPE_CHECKING

import msgspec
from litestar import Litestar
from litestar.handlers import HTTPRouteHandler
from litestar.middleware import DefineMiddleware

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
from filmbuild.edge.contract import contract_operations
from filmbuild.edge.http import handlers, routing_failed
from filmbuild.edge.openapi import Json, document
from filmbuild.edge.operations import AnyOperation
from filmbuild.enquiries.routes import enquiry_operations
from filmbuild.estimates.purchase_routes import purchase_operations
from filmbuild.estimates.routes import stage_operations
from filmbuild.estimates.rulebook import rule_operations
from filmbuild.estimates.service import EstimateService
from filmbuild.estimates.sheet_routes import explanation_operations, sheet_operations
from filmbuild.estimates.stages import Stages
from filmbuild.estimates.stored_routes import estimate_operations
from filmbuild.handbook.routes import handbook_operations
from filmbuild.jobs.backlog import due_jobs, oldest_due_seconds
from filmbuild.jobs.work import Work
from filmbuild.limits.addresses import BehindProxies
from filmbuild.limits.making import limited
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
from filmbuild.spans import Watcher, span, watched_by
from filmbuild.watching.request_lines import RequestLog
from filmbuild.watching.state import State, Versions, WorkerState, state_operations
from filmbuild.watching.watch import Watch
from filmbuild.watching.well_known import well_known_operations
from filmbuild.webhooks.backlog import Backlog as WebhookBacklog
from filmbuild.webhooks.deliveries import DeliveryService
from filmbuild.webhooks.events import WEBHOOKS
from filmbuild.webhooks.routes import webhook_operations
from filmbuild.webhooks.service import EndpointService

if TYPE_CHECKING:
    from filmbuild.jobs.thread import WorkerThread
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
    ("enquiries", "The quote form of the contractor's web pages, and what comes in by it."),
    ("invoices", "What accepted work is billed, by stages of payment."),
    ("webhooks", "Messages to other systems when something happens."),
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
    request_log: RequestLog | None = None,
) -> Litestar:
    """Reads the settings from the environment where none are given.

    One that is `working` also does background work, where no other process does. `closing` is told
    when the server is to stop, and `request_log` of each request.
    """
    settings = settings or configuration.read()
    database = Database(settings.database_url)
    watch = Watch(settings, request_log)
    background = _Background(settings, watch.watcher)
    operations = _operations(database, closing or Closing(), settings, watch, background.state)
    unlisted = well_known_operations(settings.public_url, settings.security_contact, utc_now)
    usage = Usage(database, utc_now)
    gate, buckets = limited(KeyGate(database, usage), settings.limits, settings.data_folder)

    @asynccontextmanager
    async def lifespan(_app: Litestar) -> AsyncIterator[None]:
        quantities.warm()
        settle_collector()
        if working:
            await asyncio.to_thread(background.begin)
        watching = asyncio.create_task(watch.lag.measure())
        try:
            yield
        finally:
            watching.cancel()
            await asyncio.to_thread(background.end)
            if buckets is not None:
                await buckets.close()
            await usage.settled()
            await database.dispose()
            await asyncio.to_thread(watch.end)

    app = Litestar(
        [
            *handlers((*operations, *unlisted, *handbook_operations()), LARGEST_BODY_BYTES, gate),
            *watch.routes,
            *extra_routes,
        ],
        lifespan=[lifespan],
        middleware=[DefineMiddleware(BehindProxies, trusted=settings.trusted_proxies)]
        if settings.trusted_proxies
        else [],
        exception_handlers={Exception: routing_failed},
        openapi_config=None,
        logging_config=None,
    )
    watch.around(app)
    return app


def build_worker(settings: Settings, watcher: Watcher | None = None) -> "Worker":
    """Knows the work of every feature, and has connections of its own."""
    from filmbuild.jobs.worker import Worker  # noqa: PLC0415 - loads DBOS, a second that only workers need spend
    from filmbuild.webhooks.sender import Sender  # noqa: PLC0415 - loads an HTTP client, as above
    from filmbuild.webhooks.sending import Postman  # noqa: PLC0415 - as above

    database = Database(settings.database_url)
    batches = Batches(database, CatalogueSnapshots(database))
    private = settings.webhook_private_networks
    sender = Sender(database, lambda: Postman(private=private), private=private)
    works = {KIND: batches.work}
    watched = {kind: watched_work(kind, one, watcher) for kind, one in works.items()}
    return Worker(database, watched, (sender.run,))


def watched_work(kind: str, work: Work, watcher: Watcher | None) -> Work:
    """The same work, each portion of which the watcher is told of."""

    async def portion(organisation: str, subject: str) -> bool:
        with watched_by(watcher), span(f"job.{kind}"):
            return await work.portion(organisation, subject)

    return replace(work, portion=portion)


class _Background:
    """The work that this process does beside its requests, if it does any."""

    def __init__(self, settings: Settings, watcher: Watcher | None) -> None:
        self._settings = settings
        self._watcher = watcher
        self._thread: WorkerThread | None = None

    def begin(self) -> None:
        """Blocking."""
        from filmbuild.jobs.thread import WorkerThread  # noqa: PLC0415 - loads DBOS, a second that only workers need spend

        self._thread = WorkerThread(lambda: build_worker(self._settings, self._watcher))
        self._thread.start()

    def state(self) -> WorkerState:
        return "none" if self._thread is None else self._thread.state

    def end(self) -> None:
        """Blocks until the portion that is being done is finished."""
        if self._thread is not None:
            self._thread.stop()


def contract_document(settings: Settings | None = None) -> Json:
    """The contract, without connecting to anything."""
    settings = settings or configuration.read()
    watch = Watch(msgspec.structs.replace(settings, metrics="off", traces="off"))
    database = Database(settings.database_url)
    operations = _operations(database, Closing(), settings, watch, lambda: "none")
    return document(operations, INFO, TAGS, WEBHOOKS)


def _add_gauges(watch: Watch, database: Database, snapshots: CatalogueSnapshots) -> None:
    add = watch.gauges.add
    add("catalogue_snapshots", "Revisions of catalogues in memory.", snapshots.held)
    add("database_connections", "Connections in use.", database.connections_in_use)
    add("jobs_due", "Jobs that are due.", due_jobs(database))
    add(
        "jobs_oldest_due_seconds",
        "How long the oldest job has been due.",
        oldest_due_seconds(database, utc_now),
    )
    webhooks = WebhookBacklog(database, utc_now)
    add("webhooks_due", "Messages that are due.", webhooks.messages_due)
    add(
        "webhooks_oldest_due_seconds",
        "How long the oldest message has been due.",
        webhooks.oldest_due_seconds,
    )


def _operations(
    database: Database,
    closing: Closing,
    settings: Settings,
    watch: Watch,
    worker: Callable[[], WorkerState],
) -> tuple[AnyOperation, ...]:
    versions = Versions(
        service=version("filmbuild"), engine=ENGINE_VERSION, contract=INFO["version"]
    )
    state = State(readiness_check(database), closing, worker, versions)
    snapshots = CatalogueSnapshots(database)
    _add_gauges(watch, database, snapshots)
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
        *enquiry_operations(database, snapshots, utc_now),
        *catalogue_operations(database, snapshots),
        *write_operations(writer, snapshots),
        *bulk_operations(database, writer, snapshots),
        *price_list_operations(snapshots),
        *price_update_operations(database, snapshots),
        *rule_operations(),
        *webhook_operations(
            EndpointService(database, utc_now, private=settings.webhook_private_networks),
            DeliveryService(database, utc_now),
        ),
        *key_operations(KeyService(database, SCOPES, utc_now)),
        *state_operations(state),
    )
    contract: tuple[AnyOperation, ...] = ()

    def build() -> Json:
        return document((*features, *contract), INFO, TAGS, WEBHOOKS)

    contract = contract_operations(build)
    return (*features, *contract)
