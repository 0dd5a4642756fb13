"""All operations around quotations, put together."""

from functools import partial

from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.db import Database
from filmbuild.edge.operations import AnyOperation, Call, NoQuery
from filmbuild.errors import Conflict
from filmbuild.estimates.assemble import catalogue_for
from filmbuild.estimates.service import EstimateService
from filmbuild.quotations.content import Decision, QuotationContent
from filmbuild.quotations.documents.answers import confirmation, offer_representations
from filmbuild.quotations.documents.job_pack_routes import job_pack_operations
from filmbuild.quotations.drafting import Drafting
from filmbuild.quotations.invoices.routes import invoice_operations
from filmbuild.quotations.invoices.service import InvoiceService
from filmbuild.quotations.invoices.source import StoredQuotations
from filmbuild.quotations.offer_routes import PRIVATE, offer_operations
from filmbuild.quotations.offers import OfferService
from filmbuild.quotations.records import Shown
from filmbuild.quotations.routes import quotation_operations
from filmbuild.quotations.service import QuotationService
from filmbuild.quotations.ubl.representation import ubl_representation

Asked = Call[None, NoQuery]


def customer_operations(
    database: Database, estimates: EstimateService, snapshots: CatalogueSnapshots
) -> tuple[AnyOperation, ...]:
    """From the draft of a quotation to its invoices, with the documents of customer and crew."""
    quotations = QuotationService(database, Drafting(database, estimates, snapshots))
    offers = OfferService(database)

    async def of_staff(call: Asked) -> Shown:
        return await quotations.show(call.caller.organisation, call.path["quotation_id"])

    async def of_customer(call: Asked) -> Shown:
        return await offers.show(call.path["token"])

    async def issued(call: Asked) -> tuple[QuotationContent, Decision | None]:
        return _issued(await of_staff(call))

    async def offered(call: Asked) -> tuple[QuotationContent, Decision | None]:
        return _issued(await of_customer(call))

    return (
        *quotation_operations(
            quotations,
            (*offer_representations(of_staff, decides=False), ubl_representation(issued)),
        ),
        *offer_operations(
            offers,
            (
                *offer_representations(of_customer, decides=True, headers=PRIVATE),
                ubl_representation(offered, PRIVATE),
            ),
            confirmation(PRIVATE),
        ),
        *invoice_operations(InvoiceService(database, StoredQuotations())),
        *job_pack_operations(partial(catalogue_for, snapshots), estimates.load),
    )


def _issued(found: Shown) -> tuple[QuotationContent, Decision | None]:
    """Raises Conflict: a draft has neither a number nor a day, which a quotation needs in UBL."""
    if found.state == "draft":
        raise Conflict("A draft has no UBL document yet; issue it first.")
    return found.content, found.decision
