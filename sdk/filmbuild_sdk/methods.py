"""The calls as methods of the clients.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

# ruff: noqa: ASYNC109, D404 - the contract's words, and the HTTP client's timeout

import datetime as dt
from abc import ABC, abstractmethod
from typing import Any, Literal, TypeVar

from filmbuild_sdk import calls, models
from filmbuild_sdk.call import UNCHANGED, Call, Timeout
from filmbuild_sdk.paging import AsyncPages, Pages
from filmbuild_sdk.values import Choice

T = TypeVar("T")


class Methods(ABC):
    """One method for each call; `send` waits."""

    @abstractmethod
    def send(self, call: Call[T], *, timeout: Timeout = UNCHANGED) -> T:
        """Raises FilmbuildError."""

    def calculate(
        self, request: models.EstimateRequest, *, timeout: Timeout = UNCHANGED
    ) -> models.EstimateDocument:
        """The whole estimate, without keeping it.

        Takeoff, materials, labour, schedule and price.

        Nothing is stored. The same body on the same catalogue revision always gets the same answer,
        byte for byte; `catalogue_revision` of the body chooses an earlier revision.
        """
        return self.send(calls.calculate(request), timeout=timeout)

    def get_catalogue(self, *, timeout: Timeout = UNCHANGED) -> models.CurrentRevision:
        """The newest revision of the catalogue.

        Its number, when it was made, and how many records it holds.
        """
        return self.send(calls.get_catalogue(), timeout=timeout)

    def list_catalogue_revisions(
        self, *, limit: int | None = None, cursor: str | None = None, timeout: Timeout = UNCHANGED
    ) -> Pages[models.RevisionPage, models.RevisionRecord]:
        """All revisions of the catalogue, newest first.

        Every revision stays readable: name it in `revision` of a reading, or in
        `catalogue_revision` of a calculation.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_catalogue_revisions(limit=limit, cursor=cursor),
        )

    def compare(
        self, request: models.ComparisonRequest, *, timeout: Timeout = UNCHANGED
    ) -> models.ComparisonDocument:
        """The same job in several ways, side by side.

        The site is measured once, and the job estimated with each of up to 20 crews, starts,
        systems, calendars or conditions. Each variant has its figures, or why it cannot be done;
        the cheapest and the earliest are named. All are priced on the same day.

        Nothing is stored. The same body on the same catalogue revision always gets the same answer,
        byte for byte; `catalogue_revision` of the body chooses an earlier revision.
        """
        return self.send(calls.compare(request), timeout=timeout)

    def list_consumable_rules(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.ConsumableRulePage, models.ConsumableRule]:
        """The catalogue's consumable rules, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_consumable_rules(limit=limit, cursor=cursor, units=units, revision=revision),
        )

    def get_consumable_rule(
        self,
        consumable_rule_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.ConsumableRule:
        """One consumable rule.

        The consumable rule as it is in the newest revision, or in that of `revision`.
        """
        return self.send(
            calls.get_consumable_rule(consumable_rule_id, units=units, revision=revision),
            timeout=timeout,
        )

    def list_estimates(
        self, *, limit: int | None = None, cursor: str | None = None, timeout: Timeout = UNCHANGED
    ) -> Pages[models.EstimatePage, models.EstimateSummary]:
        """Stored estimates, newest first.

        One line for each estimate; the whole of it is at its own path.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_estimates(limit=limit, cursor=cursor),
        )

    def create_estimate(
        self,
        request: models.EstimateRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.StoredEstimate:
        """Make an estimate and keep it.

        The whole pipeline, stored with what it was asked. A stored estimate never changes, whatever
        happens to the catalogue.
        """
        return self.send(
            calls.create_estimate(request, idempotency_key=idempotency_key), timeout=timeout
        )

    def get_estimate(
        self, estimate_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.StoredEstimate:
        """One stored estimate.

        The same bytes that its creation was answered with.
        """
        return self.send(calls.get_estimate(estimate_id), timeout=timeout)

    def explain_materials(
        self, request: models.SheetRequest, *, timeout: Timeout = UNCHANGED
    ) -> models.ExplanationDocument:
        """The figures of the materials as sentences.

        How each volume, mass, film and count of the materials stage came about: the figures it was
        worked from, with their units, as steps for machines and as a sentence.

        From a site, or from the answer of /v1/materials: give exactly one of `site` and
        `materials`. `Accept` chooses between the data and what is made of them.

        Nothing is stored. The same request on the same catalogue revision always gets the same
        answer, byte for byte.
        """
        return self.send(calls.explain_materials(request), timeout=timeout)

    def explain_materials_text(
        self, request: models.SheetRequest, *, timeout: Timeout = UNCHANGED
    ) -> str:
        """The sentences alone.

        A line for each figure, in the order of the answer of /v1/materials.
        """
        return self.send(calls.explain_materials_text(request), timeout=timeout)

    def health(self, *, timeout: Timeout = UNCHANGED) -> models.Health:
        """Whether the process is up.

        Reads nothing and asks nothing of anyone else.
        """
        return self.send(calls.health(), timeout=timeout)

    def labour(
        self, request: models.LabourRequest, *, timeout: Timeout = UNCHANGED
    ) -> models.LabourDocument:
        """Tasks, crew hours and machines.

        From a site, or from the answer of /v1/materials: give exactly one of `site` and
        `materials`.

        Nothing is stored. The same body on the same catalogue revision always gets the same answer,
        byte for byte; `catalogue_revision` of the body chooses an earlier revision.
        """
        return self.send(calls.labour(request), timeout=timeout)

    def write_loading_list(
        self,
        request: models.SheetRequest,
        *,
        paper: Choice[Literal["a4", "letter"]] | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.LoadingListDocument:
        """The loading list.

        Packs, machines, tools, protective equipment and consumables by the stage of the job that
        needs them first, and the power and dust extraction that the machines need at once. Without
        dates: what more days or visits would take is not in it.

        From a site, or from the answer of /v1/materials: give exactly one of `site` and
        `materials`. `Accept` chooses between the data and what is made of them.

        Nothing is stored. The same request on the same catalogue revision always gets the same
        answer, byte for byte.
        """
        return self.send(calls.write_loading_list(request, paper=paper), timeout=timeout)

    def write_loading_list_table(
        self,
        request: models.SheetRequest,
        *,
        paper: Choice[Literal["a4", "letter"]] | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> str:
        """The loading list as a table.

        A line for each thing to load: RFC 4180. Titles give the units. Text that a spreadsheet
        would take for a formula has an apostrophe before it.
        """
        return self.send(calls.write_loading_list_table(request, paper=paper), timeout=timeout)

    def write_loading_list_page(
        self,
        request: models.SheetRequest,
        *,
        paper: Choice[Literal["a4", "letter"]] | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> str:
        """The loading list as a page to print.

        HTML in black on white with its own style sheet and no scripts, for A4 or US Letter by
        `paper`. Rows are not cut in half, and titles stand on every page.
        """
        return self.send(calls.write_loading_list_page(request, paper=paper), timeout=timeout)

    def materials(
        self, request: models.MaterialsRequest, *, timeout: Timeout = UNCHANGED
    ) -> models.MaterialsDocument:
        """Coats, mixes, packs and consumables.

        From a site, or from the answer of /v1/takeoff: give exactly one of `site` and `takeoff`.

        Nothing is stored. The same body on the same catalogue revision always gets the same answer,
        byte for byte; `catalogue_revision` of the body chooses an earlier revision.
        """
        return self.send(calls.materials(request), timeout=timeout)

    def write_mixing_sheet(
        self,
        request: models.SheetRequest,
        *,
        paper: Choice[Literal["a4", "letter"]] | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.MixingSheetDocument:
        """The mixing sheet.

        Every mix in placing order: its parts by volume and mass, when it is put together, and by
        when it must be down.

        From a site, or from the answer of /v1/materials: give exactly one of `site` and
        `materials`. `Accept` chooses between the data and what is made of them.

        Nothing is stored. The same request on the same catalogue revision always gets the same
        answer, byte for byte.
        """
        return self.send(calls.write_mixing_sheet(request, paper=paper), timeout=timeout)

    def write_mixing_sheet_table(
        self,
        request: models.SheetRequest,
        *,
        paper: Choice[Literal["a4", "letter"]] | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> str:
        """The mixing sheet as a table.

        A line for each mix: RFC 4180. Titles give the units. Text that a spreadsheet would take for
        a formula has an apostrophe before it.
        """
        return self.send(calls.write_mixing_sheet_table(request, paper=paper), timeout=timeout)

    def write_mixing_sheet_page(
        self,
        request: models.SheetRequest,
        *,
        paper: Choice[Literal["a4", "letter"]] | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> str:
        """The mixing sheet as a page to print.

        HTML in black on white with its own style sheet and no scripts, for A4 or US Letter by
        `paper`. Rows are not cut in half, and titles stand on every page.
        """
        return self.send(calls.write_mixing_sheet_page(request, paper=paper), timeout=timeout)

    def contract(self, *, timeout: Timeout = UNCHANGED) -> dict[str, Any]:
        """This contract, as an OpenAPI 3.1 document.

        What every operation takes and answers, for machines.
        """
        return self.send(calls.contract(), timeout=timeout)

    def list_packs(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        product: str | None = None,
        currency: str | None = None,
        priced_on: dt.date | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.PackPage, models.PackRecord]:
        """The catalogue's packs, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_packs(
                limit=limit,
                cursor=cursor,
                units=units,
                revision=revision,
                product=product,
                currency=currency,
                priced_on=priced_on,
            ),
        )

    def get_pack(
        self,
        pack_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        currency: str | None = None,
        priced_on: dt.date | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.PackRecord:
        """One pack.

        The pack as it is in the newest revision, or in that of `revision`.
        """
        return self.send(
            calls.get_pack(
                pack_id, units=units, revision=revision, currency=currency, priced_on=priced_on
            ),
            timeout=timeout,
        )

    def read_plan(
        self,
        content: bytes,
        *,
        media_type: Choice[Literal["application/dxf", "image/vnd.dxf"]] = "application/dxf",
        layers: str | None = None,
        islands_layer: str | None = None,
        names_layer: str | None = None,
        unit: Choice[Literal["cm", "ft", "in", "m", "mm", "yd"]] | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.PlanReading:
        """Read areas from a DXF drawing.

        The body is the file itself, saved as text, of at most 20 MB. Closed polylines, circles,
        ellipses, splines and hatches of the chosen layers become areas in the form in which a site
        takes them; arcs and ellipses keep their area exactly, and splines to 0.01 %. Blocks are
        taken apart. Notes say what was skipped and why. Nothing is stored.
        """
        return self.send(
            calls.read_plan(
                content,
                media_type=media_type,
                layers=layers,
                islands_layer=islands_layer,
                names_layer=names_layer,
                unit=unit,
            ),
            timeout=timeout,
        )

    def list_products(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        role: Choice[
            Literal[
                "body_coat",
                "broadcast_aggregate",
                "cove_mortar",
                "crack_filler",
                "joint_filler",
                "patch_mortar",
                "primer",
                "solvent",
                "topcoat",
            ]
        ]
        | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.ProductPage, models.Product]:
        """The catalogue's products, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_products(
                limit=limit, cursor=cursor, units=units, revision=revision, role=role
            ),
        )

    def get_product(
        self,
        product_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Product:
        """One product.

        The product as it is in the newest revision, or in that of `revision`.
        """
        return self.send(
            calls.get_product(product_id, units=units, revision=revision), timeout=timeout
        )

    def plan_purchases(
        self, request: models.PurchasesRequest, *, timeout: Timeout = UNCHANGED
    ) -> models.PurchaseListDocument:
        """One purchase list for several jobs.

        What all jobs need of a product is bought together; each job from a site, or from the answer
        of /v1/materials. What they have in store is put together as well. Says what each job bears,
        and what is saved against buying apart. All jobs are in one currency, at the prices of one
        day: `priced_on`, or else that of the first job.

        Nothing is stored.
        """
        return self.send(calls.plan_purchases(request), timeout=timeout)

    def list_rate_books(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.RateBookPage, models.RateBook]:
        """The catalogue's rate books, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_rate_books(limit=limit, cursor=cursor, units=units, revision=revision),
        )

    def get_rate_book(
        self,
        rate_book_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.RateBook:
        """One rate book.

        The rate book as it is in the newest revision, or in that of `revision`.
        """
        return self.send(
            calls.get_rate_book(rate_book_id, units=units, revision=revision), timeout=timeout
        )

    def readiness(self, *, timeout: Timeout = UNCHANGED) -> models.Readiness:
        """Whether the service can do its work.

        The database answers and is at the newest migration, and a catalogue is loaded. Otherwise a
        problem says which of them is missing.
        """
        return self.send(calls.readiness(), timeout=timeout)

    def list_rules(
        self, *, limit: int | None = None, cursor: str | None = None, timeout: Timeout = UNCHANGED
    ) -> Pages[models.RulePage, models.Rule]:
        """The estimating rules, a page at a time.

        Every figure of an estimate carries a trace that names one of these.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_rules(limit=limit, cursor=cursor),
        )

    def get_rule(self, rule_id: str, *, timeout: Timeout = UNCHANGED) -> models.Rule:
        """One estimating rule.

        Its statement, its equation where it has one, and its source.
        """
        return self.send(calls.get_rule(rule_id), timeout=timeout)

    def schedule(
        self, request: models.ScheduleRequest, *, timeout: Timeout = UNCHANGED
    ) -> models.ScheduleDocument:
        """Dates of the work, and when the floor may be used.

        From a site, or from the answer of /v1/labour: give exactly one of `site` and `labour`.
        `job.start` is needed. `Accept` chooses between the whole schedule, a bar chart, a calendar
        file and a table of it.

        Nothing is stored. The same body on the same catalogue revision always gets the same answer,
        byte for byte; `catalogue_revision` of the body chooses an earlier revision.
        """
        return self.send(calls.schedule(request), timeout=timeout)

    def schedule_drawing(
        self, request: models.ScheduleRequest, *, timeout: Timeout = UNCHANGED
    ) -> str:
        """A bar chart of the schedule.

        A row for each activity under days and dates in the site's time zone, as wide as A4 paper on
        its side: SVG 1.1 without scripts or references to anything outside of it.
        """
        return self.send(calls.schedule_drawing(request), timeout=timeout)

    def schedule_calendar(
        self, request: models.ScheduleRequest, *, timeout: Timeout = UNCHANGED
    ) -> str:
        """A calendar of the schedule.

        An iCalendar file (RFC 5545) with an event for each day's work on an activity, each cure,
        and each opening of the site. Its events keep their UID when the same job is planned anew.
        """
        return self.send(calls.schedule_calendar(request), timeout=timeout)

    def schedule_table(
        self, request: models.ScheduleRequest, *, timeout: Timeout = UNCHANGED
    ) -> str:
        """A table of the schedule.

        A line for each activity, each cure, and each use that the site is closed to (RFC 4180),
        with times by the site's clock and in UTC. Text that a spreadsheet would take for a formula
        has an apostrophe before it.
        """
        return self.send(calls.schedule_table(request), timeout=timeout)

    def list_suppliers(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.SupplierPage, models.Supplier]:
        """The catalogue's suppliers, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_suppliers(limit=limit, cursor=cursor, units=units, revision=revision),
        )

    def get_supplier(
        self,
        supplier_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Supplier:
        """One supplier.

        The supplier as it is in the newest revision, or in that of `revision`.
        """
        return self.send(
            calls.get_supplier(supplier_id, units=units, revision=revision), timeout=timeout
        )

    def list_systems(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.SystemPage, models.System]:
        """The catalogue's systems, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_systems(limit=limit, cursor=cursor, units=units, revision=revision),
        )

    def get_system(
        self,
        system_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.System:
        """One system.

        The system as it is in the newest revision, or in that of `revision`.
        """
        return self.send(
            calls.get_system(system_id, units=units, revision=revision), timeout=timeout
        )

    def takeoff(
        self, request: models.TakeoffRequest, *, timeout: Timeout = UNCHANGED
    ) -> models.TakeoffDocument:
        """Measure a site.

        Areas, bands, walls, cove, cracks, joints and tape of every area, and their sums. Reads
        nothing from the catalogue. `Accept` chooses between the whole takeoff, a drawing of it and
        a table of it.

        Nothing is stored. The same body on the same catalogue revision always gets the same answer,
        byte for byte; `catalogue_revision` of the body chooses an earlier revision.
        """
        return self.send(calls.takeoff(request), timeout=timeout)

    def takeoff_drawing(
        self, request: models.TakeoffRequest, *, timeout: Timeout = UNCHANGED
    ) -> str:
        """A drawing of the takeoff.

        The plan of every level to scale, as wide as A4 paper: SVG 1.1 without scripts or references
        to anything outside of it.
        """
        return self.send(calls.takeoff_drawing(request), timeout=timeout)

    def takeoff_table(self, request: models.TakeoffRequest, *, timeout: Timeout = UNCHANGED) -> str:
        """A table of the takeoff.

        A line for each area and one for all of them (RFC 4180). Titles give the units. Text that a
        spreadsheet would take for a formula has an apostrophe before it.
        """
        return self.send(calls.takeoff_table(request), timeout=timeout)

    def list_tax_rules(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.TaxRulePage, models.TaxRule]:
        """The catalogue's tax rules, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_tax_rules(limit=limit, cursor=cursor, units=units, revision=revision),
        )

    def get_tax_rule(
        self,
        tax_rule_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.TaxRule:
        """One tax rule.

        The tax rule as it is in the newest revision, or in that of `revision`.
        """
        return self.send(
            calls.get_tax_rule(tax_rule_id, units=units, revision=revision), timeout=timeout
        )


class AsyncMethods(ABC):
    """One method for each call; `send` is awaited."""

    @abstractmethod
    async def send(self, call: Call[T], *, timeout: Timeout = UNCHANGED) -> T:
        """Raises FilmbuildError."""

    async def calculate(
        self, request: models.EstimateRequest, *, timeout: Timeout = UNCHANGED
    ) -> models.EstimateDocument:
        """The whole estimate, without keeping it.

        Takeoff, materials, labour, schedule and price.

        Nothing is stored. The same body on the same catalogue revision always gets the same answer,
        byte for byte; `catalogue_revision` of the body chooses an earlier revision.
        """
        return await self.send(calls.calculate(request), timeout=timeout)

    async def get_catalogue(self, *, timeout: Timeout = UNCHANGED) -> models.CurrentRevision:
        """The newest revision of the catalogue.

        Its number, when it was made, and how many records it holds.
        """
        return await self.send(calls.get_catalogue(), timeout=timeout)

    def list_catalogue_revisions(
        self, *, limit: int | None = None, cursor: str | None = None, timeout: Timeout = UNCHANGED
    ) -> AsyncPages[models.RevisionPage, models.RevisionRecord]:
        """All revisions of the catalogue, newest first.

        Every revision stays readable: name it in `revision` of a reading, or in
        `catalogue_revision` of a calculation.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_catalogue_revisions(limit=limit, cursor=cursor),
        )

    async def compare(
        self, request: models.ComparisonRequest, *, timeout: Timeout = UNCHANGED
    ) -> models.ComparisonDocument:
        """The same job in several ways, side by side.

        The site is measured once, and the job estimated with each of up to 20 crews, starts,
        systems, calendars or conditions. Each variant has its figures, or why it cannot be done;
        the cheapest and the earliest are named. All are priced on the same day.

        Nothing is stored. The same body on the same catalogue revision always gets the same answer,
        byte for byte; `catalogue_revision` of the body chooses an earlier revision.
        """
        return await self.send(calls.compare(request), timeout=timeout)

    def list_consumable_rules(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.ConsumableRulePage, models.ConsumableRule]:
        """The catalogue's consumable rules, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_consumable_rules(limit=limit, cursor=cursor, units=units, revision=revision),
        )

    async def get_consumable_rule(
        self,
        consumable_rule_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.ConsumableRule:
        """One consumable rule.

        The consumable rule as it is in the newest revision, or in that of `revision`.
        """
        return await self.send(
            calls.get_consumable_rule(consumable_rule_id, units=units, revision=revision),
            timeout=timeout,
        )

    def list_estimates(
        self, *, limit: int | None = None, cursor: str | None = None, timeout: Timeout = UNCHANGED
    ) -> AsyncPages[models.EstimatePage, models.EstimateSummary]:
        """Stored estimates, newest first.

        One line for each estimate; the whole of it is at its own path.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_estimates(limit=limit, cursor=cursor),
        )

    async def create_estimate(
        self,
        request: models.EstimateRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.StoredEstimate:
        """Make an estimate and keep it.

        The whole pipeline, stored with what it was asked. A stored estimate never changes, whatever
        happens to the catalogue.
        """
        return await self.send(
            calls.create_estimate(request, idempotency_key=idempotency_key), timeout=timeout
        )

    async def get_estimate(
        self, estimate_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.StoredEstimate:
        """One stored estimate.

        The same bytes that its creation was answered with.
        """
        return await self.send(calls.get_estimate(estimate_id), timeout=timeout)

    async def explain_materials(
        self, request: models.SheetRequest, *, timeout: Timeout = UNCHANGED
    ) -> models.ExplanationDocument:
        """The figures of the materials as sentences.

        How each volume, mass, film and count of the materials stage came about: the figures it was
        worked from, with their units, as steps for machines and as a sentence.

        From a site, or from the answer of /v1/materials: give exactly one of `site` and
        `materials`. `Accept` chooses between the data and what is made of them.

        Nothing is stored. The same request on the same catalogue revision always gets the same
        answer, byte for byte.
        """
        return await self.send(calls.explain_materials(request), timeout=timeout)

    async def explain_materials_text(
        self, request: models.SheetRequest, *, timeout: Timeout = UNCHANGED
    ) -> str:
        """The sentences alone.

        A line for each figure, in the order of the answer of /v1/materials.
        """
        return await self.send(calls.explain_materials_text(request), timeout=timeout)

    async def health(self, *, timeout: Timeout = UNCHANGED) -> models.Health:
        """Whether the process is up.

        Reads nothing and asks nothing of anyone else.
        """
        return await self.send(calls.health(), timeout=timeout)

    async def labour(
        self, request: models.LabourRequest, *, timeout: Timeout = UNCHANGED
    ) -> models.LabourDocument:
        """Tasks, crew hours and machines.

        From a site, or from the answer of /v1/materials: give exactly one of `site` and
        `materials`.

        Nothing is stored. The same body on the same catalogue revision always gets the same answer,
        byte for byte; `catalogue_revision` of the body chooses an earlier revision.
        """
        return await self.send(calls.labour(request), timeout=timeout)

    async def write_loading_list(
        self,
        request: models.SheetRequest,
        *,
        paper: Choice[Literal["a4", "letter"]] | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.LoadingListDocument:
        """The loading list.

        Packs, machines, tools, protective equipment and consumables by the stage of the job that
        needs them first, and the power and dust extraction that the machines need at once. Without
        dates: what more days or visits would take is not in it.

        From a site, or from the answer of /v1/materials: give exactly one of `site` and
        `materials`. `Accept` chooses between the data and what is made of them.

        Nothing is stored. The same request on the same catalogue revision always gets the same
        answer, byte for byte.
        """
        return await self.send(calls.write_loading_list(request, paper=paper), timeout=timeout)

    async def write_loading_list_table(
        self,
        request: models.SheetRequest,
        *,
        paper: Choice[Literal["a4", "letter"]] | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> str:
        """The loading list as a table.

        A line for each thing to load: RFC 4180. Titles give the units. Text that a spreadsheet
        would take for a formula has an apostrophe before it.
        """
        return await self.send(
            calls.write_loading_list_table(request, paper=paper), timeout=timeout
        )

    async def write_loading_list_page(
        self,
        request: models.SheetRequest,
        *,
        paper: Choice[Literal["a4", "letter"]] | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> str:
        """The loading list as a page to print.

        HTML in black on white with its own style sheet and no scripts, for A4 or US Letter by
        `paper`. Rows are not cut in half, and titles stand on every page.
        """
        return await self.send(calls.write_loading_list_page(request, paper=paper), timeout=timeout)

    async def materials(
        self, request: models.MaterialsRequest, *, timeout: Timeout = UNCHANGED
    ) -> models.MaterialsDocument:
        """Coats, mixes, packs and consumables.

        From a site, or from the answer of /v1/takeoff: give exactly one of `site` and `takeoff`.

        Nothing is stored. The same body on the same catalogue revision always gets the same answer,
        byte for byte; `catalogue_revision` of the body chooses an earlier revision.
        """
        return await self.send(calls.materials(request), timeout=timeout)

    async def write_mixing_sheet(
        self,
        request: models.SheetRequest,
        *,
        paper: Choice[Literal["a4", "letter"]] | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.MixingSheetDocument:
        """The mixing sheet.

        Every mix in placing order: its parts by volume and mass, when it is put together, and by
        when it must be down.

        From a site, or from the answer of /v1/materials: give exactly one of `site` and
        `materials`. `Accept` chooses between the data and what is made of them.

        Nothing is stored. The same request on the same catalogue revision always gets the same
        answer, byte for byte.
        """
        return await self.send(calls.write_mixing_sheet(request, paper=paper), timeout=timeout)

    async def write_mixing_sheet_table(
        self,
        request: models.SheetRequest,
        *,
        paper: Choice[Literal["a4", "letter"]] | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> str:
        """The mixing sheet as a table.

        A line for each mix: RFC 4180. Titles give the units. Text that a spreadsheet would take for
        a formula has an apostrophe before it.
        """
        return await self.send(
            calls.write_mixing_sheet_table(request, paper=paper), timeout=timeout
        )

    async def write_mixing_sheet_page(
        self,
        request: models.SheetRequest,
        *,
        paper: Choice[Literal["a4", "letter"]] | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> str:
        """The mixing sheet as a page to print.

        HTML in black on white with its own style sheet and no scripts, for A4 or US Letter by
        `paper`. Rows are not cut in half, and titles stand on every page.
        """
        return await self.send(calls.write_mixing_sheet_page(request, paper=paper), timeout=timeout)

    async def contract(self, *, timeout: Timeout = UNCHANGED) -> dict[str, Any]:
        """This contract, as an OpenAPI 3.1 document.

        What every operation takes and answers, for machines.
        """
        return await self.send(calls.contract(), timeout=timeout)

    def list_packs(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        product: str | None = None,
        currency: str | None = None,
        priced_on: dt.date | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.PackPage, models.PackRecord]:
        """The catalogue's packs, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_packs(
                limit=limit,
                cursor=cursor,
                units=units,
                revision=revision,
                product=product,
                currency=currency,
                priced_on=priced_on,
            ),
        )

    async def get_pack(
        self,
        pack_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        currency: str | None = None,
        priced_on: dt.date | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.PackRecord:
        """One pack.

        The pack as it is in the newest revision, or in that of `revision`.
        """
        return await self.send(
            calls.get_pack(
                pack_id, units=units, revision=revision, currency=currency, priced_on=priced_on
            ),
            timeout=timeout,
        )

    async def read_plan(
        self,
        content: bytes,
        *,
        media_type: Choice[Literal["application/dxf", "image/vnd.dxf"]] = "application/dxf",
        layers: str | None = None,
        islands_layer: str | None = None,
        names_layer: str | None = None,
        unit: Choice[Literal["cm", "ft", "in", "m", "mm", "yd"]] | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.PlanReading:
        """Read areas from a DXF drawing.

        The body is the file itself, saved as text, of at most 20 MB. Closed polylines, circles,
        ellipses, splines and hatches of the chosen layers become areas in the form in which a site
        takes them; arcs and ellipses keep their area exactly, and splines to 0.01 %. Blocks are
        taken apart. Notes say what was skipped and why. Nothing is stored.
        """
        return await self.send(
            calls.read_plan(
                content,
                media_type=media_type,
                layers=layers,
                islands_layer=islands_layer,
                names_layer=names_layer,
                unit=unit,
            ),
            timeout=timeout,
        )

    def list_products(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        role: Choice[
            Literal[
                "body_coat",
                "broadcast_aggregate",
                "cove_mortar",
                "crack_filler",
                "joint_filler",
                "patch_mortar",
                "primer",
                "solvent",
                "topcoat",
            ]
        ]
        | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.ProductPage, models.Product]:
        """The catalogue's products, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_products(
                limit=limit, cursor=cursor, units=units, revision=revision, role=role
            ),
        )

    async def get_product(
        self,
        product_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Product:
        """One product.

        The product as it is in the newest revision, or in that of `revision`.
        """
        return await self.send(
            calls.get_product(product_id, units=units, revision=revision), timeout=timeout
        )

    async def plan_purchases(
        self, request: models.PurchasesRequest, *, timeout: Timeout = UNCHANGED
    ) -> models.PurchaseListDocument:
        """One purchase list for several jobs.

        What all jobs need of a product is bought together; each job from a site, or from the answer
        of /v1/materials. What they have in store is put together as well. Says what each job bears,
        and what is saved against buying apart. All jobs are in one currency, at the prices of one
        day: `priced_on`, or else that of the first job.

        Nothing is stored.
        """
        return await self.send(calls.plan_purchases(request), timeout=timeout)

    def list_rate_books(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.RateBookPage, models.RateBook]:
        """The catalogue's rate books, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_rate_books(limit=limit, cursor=cursor, units=units, revision=revision),
        )

    async def get_rate_book(
        self,
        rate_book_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.RateBook:
        """One rate book.

        The rate book as it is in the newest revision, or in that of `revision`.
        """
        return await self.send(
            calls.get_rate_book(rate_book_id, units=units, revision=revision), timeout=timeout
        )

    async def readiness(self, *, timeout: Timeout = UNCHANGED) -> models.Readiness:
        """Whether the service can do its work.

        The database answers and is at the newest migration, and a catalogue is loaded. Otherwise a
        problem says which of them is missing.
        """
        return await self.send(calls.readiness(), timeout=timeout)

    def list_rules(
        self, *, limit: int | None = None, cursor: str | None = None, timeout: Timeout = UNCHANGED
    ) -> AsyncPages[models.RulePage, models.Rule]:
        """The estimating rules, a page at a time.

        Every figure of an estimate carries a trace that names one of these.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_rules(limit=limit, cursor=cursor),
        )

    async def get_rule(self, rule_id: str, *, timeout: Timeout = UNCHANGED) -> models.Rule:
        """One estimating rule.

        Its statement, its equation where it has one, and its source.
        """
        return await self.send(calls.get_rule(rule_id), timeout=timeout)

    async def schedule(
        self, request: models.ScheduleRequest, *, timeout: Timeout = UNCHANGED
    ) -> models.ScheduleDocument:
        """Dates of the work, and when the floor may be used.

        From a site, or from the answer of /v1/labour: give exactly one of `site` and `labour`.
        `job.start` is needed. `Accept` chooses between the whole schedule, a bar chart, a calendar
        file and a table of it.

        Nothing is stored. The same body on the same catalogue revision always gets the same answer,
        byte for byte; `catalogue_revision` of the body chooses an earlier revision.
        """
        return await self.send(calls.schedule(request), timeout=timeout)

    async def schedule_drawing(
        self, request: models.ScheduleRequest, *, timeout: Timeout = UNCHANGED
    ) -> str:
        """A bar chart of the schedule.

        A row for each activity under days and dates in the site's time zone, as wide as A4 paper on
        its side: SVG 1.1 without scripts or references to anything outside of it.
        """
        return await self.send(calls.schedule_drawing(request), timeout=timeout)

    async def schedule_calendar(
        self, request: models.ScheduleRequest, *, timeout: Timeout = UNCHANGED
    ) -> str:
        """A calendar of the schedule.

        An iCalendar file (RFC 5545) with an event for each day's work on an activity, each cure,
        and each opening of the site. Its events keep their UID when the same job is planned anew.
        """
        return await self.send(calls.schedule_calendar(request), timeout=timeout)

    async def schedule_table(
        self, request: models.ScheduleRequest, *, timeout: Timeout = UNCHANGED
    ) -> str:
        """A table of the schedule.

        A line for each activity, each cure, and each use that the site is closed to (RFC 4180),
        with times by the site's clock and in UTC. Text that a spreadsheet would take for a formula
        has an apostrophe before it.
        """
        return await self.send(calls.schedule_table(request), timeout=timeout)

    def list_suppliers(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.SupplierPage, models.Supplier]:
        """The catalogue's suppliers, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_suppliers(limit=limit, cursor=cursor, units=units, revision=revision),
        )

    async def get_supplier(
        self,
        supplier_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Supplier:
        """One supplier.

        The supplier as it is in the newest revision, or in that of `revision`.
        """
        return await self.send(
            calls.get_supplier(supplier_id, units=units, revision=revision), timeout=timeout
        )

    def list_systems(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.SystemPage, models.System]:
        """The catalogue's systems, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_systems(limit=limit, cursor=cursor, units=units, revision=revision),
        )

    async def get_system(
        self,
        system_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.System:
        """One system.

        The system as it is in the newest revision, or in that of `revision`.
        """
        return await self.send(
            calls.get_system(system_id, units=units, revision=revision), timeout=timeout
        )

    async def takeoff(
        self, request: models.TakeoffRequest, *, timeout: Timeout = UNCHANGED
    ) -> models.TakeoffDocument:
        """Measure a site.

        Areas, bands, walls, cove, cracks, joints and tape of every area, and their sums. Reads
        nothing from the catalogue. `Accept` chooses between the whole takeoff, a drawing of it and
        a table of it.

        Nothing is stored. The same body on the same catalogue revision always gets the same answer,
        byte for byte; `catalogue_revision` of the body chooses an earlier revision.
        """
        return await self.send(calls.takeoff(request), timeout=timeout)

    async def takeoff_drawing(
        self, request: models.TakeoffRequest, *, timeout: Timeout = UNCHANGED
    ) -> str:
        """A drawing of the takeoff.

        The plan of every level to scale, as wide as A4 paper: SVG 1.1 without scripts or references
        to anything outside of it.
        """
        return await self.send(calls.takeoff_drawing(request), timeout=timeout)

    async def takeoff_table(
        self, request: models.TakeoffRequest, *, timeout: Timeout = UNCHANGED
    ) -> str:
        """A table of the takeoff.

        A line for each area and one for all of them (RFC 4180). Titles give the units. Text that a
        spreadsheet would take for a formula has an apostrophe before it.
        """
        return await self.send(calls.takeoff_table(request), timeout=timeout)

    def list_tax_rules(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.TaxRulePage, models.TaxRule]:
        """The catalogue's tax rules, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_tax_rules(limit=limit, cursor=cursor, units=units, revision=revision),
        )

    async def get_tax_rule(
        self,
        tax_rule_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.TaxRule:
        """One tax rule.

        The tax rule as it is in the newest revision, or in that of `revision`.
        """
        return await self.send(
            calls.get_tax_rule(tax_rule_id, units=units, revision=revision), timeout=timeout
        )
