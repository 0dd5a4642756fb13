"""Makes drafts of change orders: what the job now costs more or less than what was accepted."""

import asyncio
from collections.abc import Sequence
from datetime import datetime

import msgspec

from filmbuild.edge.encoding import encode
from filmbuild.errors import Conflict, Fault, Faults, InvalidInput
from filmbuild.pipeline.offering import change_between, with_options
from filmbuild.pipeline.results import Offer
from filmbuild.quotations.build import alternates_of, texts_for
from filmbuild.quotations.content import Decision, QuotationContent
from filmbuild.quotations.drafting import Drafting, check_terms, draft_of, valid_days
from filmbuild.quotations.records import decision_of, read, shown_content
from filmbuild.quotations.store import StoredQuotation
from filmbuild.quotations.wire import AlternateRequest, ChangeOrderRequest

_ALTERNATE = "change"
_OPEN = frozenset(("draft", "issued"))


class Agreed(msgspec.Struct, frozen=True, kw_only=True):
    """What holds before a change: the offer with all that was ticked, and `of` whose it is.

    `content` and `decision` are those of the quotation that was accepted first.
    """

    content: QuotationContent
    decision: Decision
    offer: Offer
    of: str


def agreed_before(original: StoredQuotation, changes: Sequence[StoredQuotation]) -> Agreed:
    """Raises Conflict where another change order is still open.

    Both would start from the same offer, and together would change it twice.
    """
    if any(one.state in _OPEN for one in changes):
        detail = "Another change order is open; withdraw it, or wait until it is decided."
        raise Conflict(detail, (Fault("", "change-order-open", detail),))
    content = shown_content(original)
    decision = decision_of(original)
    if decision is None:
        raise RuntimeError(f"{original.id} was accepted without a decision")
    last = _last(changes)
    if last is not None and last.agreed is not None:
        offer = read(Offer, last.agreed)
        return Agreed(content=content, decision=decision, offer=offer, of=last.id)
    accepted = next(one for one in content.alternates if one.id == decision.alternate)
    offer = with_options(accepted.offer, decision.options)
    return Agreed(content=content, decision=decision, offer=offer, of=original.id)


def _last(changes: Sequence[StoredQuotation]) -> StoredQuotation | None:
    """The accepted change that no other starts from: clocks may be set back, this order may not."""
    done = [one for one in changes if one.state == "accepted"]
    earlier = {one.starts_from for one in done}
    return next((one for one in done if one.id not in earlier), None)


async def change_order(
    drafting: Drafting,
    organisation: str,
    original: StoredQuotation,
    agreed: Agreed,
    request: ChangeOrderRequest,
    now: datetime,
) -> StoredQuotation:
    """The draft, not stored yet. Raises InvalidInput with all that is wrong."""
    seller = await drafting.seller(organisation, agreed.content.language)
    faults = Faults()
    valid = check_terms(request, seller.profile, now, faults)
    loaded = await drafting.load(organisation, request.estimate, request.revision, faults)
    asked = AlternateRequest(
        id=_ALTERNATE,
        label=request.label or original.number or original.id,
        estimate=request.estimate,
        presentation=request.presentation,
    )
    if loaded is not None and loaded.document.price.currency != original.currency:
        detail = f"a change order is in the currency of the offer, {original.currency}"
        faults.add("other-currency", detail, "estimate")
    faults.raise_if_any()
    if loaded is None:
        raise RuntimeError("no estimate, and no fault that says so")
    whole = await drafting.prepare(organisation, asked, loaded, ())
    options = agreed.decision.options if request.options is None else request.options
    then = with_options(whole.offer, options)
    difference = change_between(agreed.offer, then, request.payments or ())
    if not difference.lines:
        detail = "the work comes to what was accepted: there is nothing to agree on"
        raise InvalidInput("Nothing changes.", (Fault("/estimate", "no-difference", detail),))
    change = msgspec.structs.replace(whole, offer=difference)

    def lay_out() -> QuotationContent:
        return QuotationContent(
            kind="change_order",
            number=None,
            language=seller.language,
            currency=original.currency,
            time_zone=seller.profile.time_zone,
            issued_on=None,
            valid_until=valid,
            seller=seller.profile.seller,
            buyer=agreed.content.buyer,
            place=agreed.content.place,
            site=change.document.takeoff.site,
            reference=request.reference or agreed.content.reference,
            texts=texts_for(seller.texts, request.texts, seller.profile.payment_instructions),
            alternates=alternates_of([change], seller.language, seller.texts.cautions),
            changes=original.number,
            agreed_total=agreed.offer.total,
        )

    content = await asyncio.to_thread(lay_out)
    draft = draft_of(content, [change], now, valid_days(request, seller.profile))
    text = encode(then, whole.request.units).decode()
    return msgspec.structs.replace(draft, changes=original.id, starts_from=agreed.of, agreed=text)
