"""The UBL document among the forms in which a quotation is answered."""

from collections.abc import Awaitable, Callable
from typing import TypeVar

from filmbuild.edge.operations import Answer, Call, Representation
from filmbuild.quotations.content import Decision, QuotationContent
from filmbuild.quotations.ubl.quotation import quotation_xml

Query = TypeVar("Query")
MEDIA_TYPE = "application/xml"


def ubl_representation(
    show: Callable[[Call[None, Query]], Awaitable[tuple[QuotationContent, Decision | None]]],
    headers: tuple[tuple[str, str], ...] = (),
) -> Representation[None, Query]:
    """`show` finds the quotation that a call is about, and what its customer decided.

    `headers` go with every answer.
    """

    async def document(call: Call[None, Query]) -> Answer:
        content, decision = await show(call)
        return Answer(quotation_xml(content, decision), headers)

    return Representation(
        media_type=MEDIA_TYPE,
        summary="UBL 2.1",
        description="A Quotation of the Universal Business Language 2.1 (OASIS), for the "
        "customer's own software: the accepted alternate with its options, or the first where "
        "nothing is decided; the others stand in notes. Units are codes of UNECE Recommendation "
        "20, tax categories those of UNTDID 5305. A draft has none.",
        handler=document,
    )
