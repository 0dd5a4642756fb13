"""The calls as methods of the clients: stages.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

# ruff: noqa: ASYNC109 - the contract's words, and the HTTP client's timeout

from __future__ import annotations

from typing import Literal

from filmbuild_sdk import calls, models
from filmbuild_sdk.call import UNCHANGED, Timeout
from filmbuild_sdk.sending import AsyncSender, Sender
from filmbuild_sdk.uploads import Progress, Upload
from filmbuild_sdk.values import Choice


class StagesMethods(Sender):
    """The calls about stages."""

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

    def write_job_pack(
        self,
        request: models.EstimateRequest,
        *,
        language: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.JobPack:
        """The crew's papers for a job.

        All that the crew needs and none of the prices: the drawing, the plan day by day with the
        bar chart, when each area may be used, the loading list, the mixing sheet, and the cautions
        with their sources. `Accept` chooses between the data, a page and print.

        Nothing is stored.
        """
        return self.send(calls.write_job_pack(request, language=language), timeout=timeout)

    def write_job_pack_print(
        self,
        request: models.EstimateRequest,
        *,
        language: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> bytes:
        """The job pack for print.

        A tagged PDF with the fonts in it; the same job on the same catalogue revision always has
        the same bytes.
        """
        return self.send(calls.write_job_pack_print(request, language=language), timeout=timeout)

    def write_job_pack_page(
        self,
        request: models.EstimateRequest,
        *,
        language: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> str:
        """The job pack as a page.

        For screens of any size and for print, with its own style sheet and no scripts.
        """
        return self.send(calls.write_job_pack_page(request, language=language), timeout=timeout)

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

    def read_plan(
        self,
        content: Upload,
        *,
        media_type: Choice[Literal["application/dxf", "image/vnd.dxf"]] = "application/dxf",
        layers: str | None = None,
        islands_layer: str | None = None,
        names_layer: str | None = None,
        unit: Choice[Literal["cm", "ft", "in", "m", "mm", "yd"]] | None = None,
        progress: Progress | None = None,
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
            progress=progress,
            timeout=timeout,
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


class AsyncStagesMethods(AsyncSender):
    """The calls about stages."""

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

    async def write_job_pack(
        self,
        request: models.EstimateRequest,
        *,
        language: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.JobPack:
        """The crew's papers for a job.

        All that the crew needs and none of the prices: the drawing, the plan day by day with the
        bar chart, when each area may be used, the loading list, the mixing sheet, and the cautions
        with their sources. `Accept` chooses between the data, a page and print.

        Nothing is stored.
        """
        return await self.send(calls.write_job_pack(request, language=language), timeout=timeout)

    async def write_job_pack_print(
        self,
        request: models.EstimateRequest,
        *,
        language: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> bytes:
        """The job pack for print.

        A tagged PDF with the fonts in it; the same job on the same catalogue revision always has
        the same bytes.
        """
        return await self.send(
            calls.write_job_pack_print(request, language=language), timeout=timeout
        )

    async def write_job_pack_page(
        self,
        request: models.EstimateRequest,
        *,
        language: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> str:
        """The job pack as a page.

        For screens of any size and for print, with its own style sheet and no scripts.
        """
        return await self.send(
            calls.write_job_pack_page(request, language=language), timeout=timeout
        )

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

    async def read_plan(
        self,
        content: Upload,
        *,
        media_type: Choice[Literal["application/dxf", "image/vnd.dxf"]] = "application/dxf",
        layers: str | None = None,
        islands_layer: str | None = None,
        names_layer: str | None = None,
        unit: Choice[Literal["cm", "ft", "in", "m", "mm", "yd"]] | None = None,
        progress: Progress | None = None,
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
            progress=progress,
            timeout=timeout,
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
