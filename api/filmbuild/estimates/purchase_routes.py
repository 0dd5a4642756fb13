"""One purchase list for several jobs."""

import msgspec

from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.edge.encoding import encode
from filmbuild.edge.operations import Answer, AnyOperation, Call, NoQuery, Operation
from filmbuild.estimates.assemble import catalogue_for
from filmbuild.pipeline import papers
from filmbuild.pipeline.requests import PurchasesRequest
from filmbuild.pipeline.results import PurchaseListDocument

PurchasesCall = Call[PurchasesRequest, NoQuery]


def purchase_operations(snapshots: CatalogueSnapshots) -> tuple[AnyOperation, ...]:
    async def plan(call: PurchasesCall) -> Answer:
        request, first = call.body, call.body.jobs[0]
        job = msgspec.structs.replace(first.job, priced_on=request.priced_on or first.job.priced_on)
        earlier = None if first.materials is None else first.materials.priced_on
        catalogue = await catalogue_for(
            snapshots, call.caller.organisation, job, request.catalogue_revision, earlier
        )
        return Answer(encode(papers.purchase_list_document(request, catalogue), request.units))

    return (
        Operation(
            method="POST",
            path="/v1/purchases",
            id="planPurchases",
            reads=True,
            cost=10,
            tag="stages",
            summary="One purchase list for several jobs",
            description="What all jobs need of a product is bought together; each job from a site, "
            "or from the answer of /v1/materials. What they have in store is put together as well. "
            "Says what each job bears, and what is saved against buying apart. All jobs are in one "
            "currency, at the prices of one day: `priced_on`, or else that of the first job.\n\n"
            "Nothing is stored.",
            handler=plan,
            query=NoQuery,
            body=PurchasesRequest,
            answer=PurchaseListDocument,
        ),
    )
