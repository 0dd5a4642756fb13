"""What a customer accepted: one alternate, with the options that were ticked."""

import msgspec

from filmbuild.errors import Conflict
from filmbuild.pipeline.offering import with_options
from filmbuild.pipeline.results.offer import Offer
from filmbuild.quotations.content import Alternate, Decision, QuotationContent


class AcceptedQuotation(msgspec.Struct, frozen=True, kw_only=True):
    """A quotation that its customer has accepted.

    `changes` is the id of the quotation to which a change order was made.
    """

    id: str
    content: QuotationContent
    decision: Decision
    changes: str | None = None


def chosen_alternate(content: QuotationContent, decision: Decision | None) -> Alternate:
    """The one that was accepted; the first of them where nothing is decided."""
    wanted = None if decision is None else decision.alternate
    if wanted is None:
        return content.alternates[0]
    for alternate in content.alternates:
        if alternate.id == wanted:
            return alternate
    raise Conflict(f'The quotation has no alternate "{wanted}".')


def accepted_offer(content: QuotationContent, decision: Decision | None) -> Offer:
    """The offer of that alternate, the ticked options among its lines."""
    offer = chosen_alternate(content, decision).offer
    if decision is None or not decision.options:
        return offer
    return with_options(offer, decision.options)


def as_accepted(content: QuotationContent, decision: Decision | None) -> QuotationContent:
    """With what was accepted alone, the ticked options among its lines; whole before that."""
    if decision is None or decision.kind != "accepted":
        return content
    chosen = chosen_alternate(content, decision)
    offer = accepted_offer(content, decision)
    return msgspec.structs.replace(
        content, alternates=(msgspec.structs.replace(chosen, offer=offer),)
    )
