"""Quotations as UBL 2.1, for the software of those who are quoted to."""

from decimal import Decimal
from xml.etree.ElementTree import Element

from filmbuild.errors import Conflict
from filmbuild.money import Currency, Money, exact_text, rounded
from filmbuild.pipeline.results.offer import Offer, OfferLine, OfferTax
from filmbuild.quotations.accepted import accepted_offer, chosen_alternate
from filmbuild.quotations.content import Alternate, Decision, QuotationContent
from filmbuild.quotations.ubl import parts
from filmbuild.quotations.ubl.elements import part, root, text, written
from filmbuild.quotations.ubl.prices import line_price

_OUTSIDE = "O"
_VAT = "vat"


def quotation_xml(content: QuotationContent, decision: Decision | None = None) -> bytes:
    """The accepted alternate with its options; the first of them where nothing is decided.

    UBL quotes one set of lines with one total: other alternates, and options that are not ticked,
    are notes with their labels and sums. Lines that take off have a quantity below zero. Raises
    Conflict for a draft, as there a document without a number is no UBL document.
    """
    if content.number is None or content.issued_on is None:
        raise Conflict("A draft has no number yet, and so no UBL document; issue it first.")
    alternate = chosen_alternate(content, decision)
    offer = accepted_offer(content, decision)
    document = root("Quotation")
    text(document, "ID", content.number)
    text(document, "IssueDate", content.issued_on.isoformat())
    for note in _notes(content, alternate, offer):
        text(document, "Note", note)
    text(document, "PricingCurrencyCode", offer.currency)
    text(document, "LineCountNumeric", str(len(offer.lines)))
    period = part(document, "ValidityPeriod")
    text(period, "StartDate", content.issued_on.isoformat())
    text(period, "EndDate", content.valid_until.isoformat())
    _references(document, content)
    vat = any(tax.category != _OUTSIDE for tax in offer.taxes) or not offer.taxes
    parts.party(document, "SellerSupplierParty", content.seller, vat=vat, other_tax=vat)
    parts.party(document, "OriginatorCustomerParty", content.buyer, vat=vat, other_tax=False)
    _delivery(document, content, alternate)
    _conditions(document, content)
    _taxes(document, offer)
    _totals(document, offer)
    taxes = {tax.rule: tax for tax in offer.taxes}
    for place, line in enumerate(offer.lines, 1):
        _line(document, str(place), line, taxes)
    return written(document)


def _notes(content: QuotationContent, alternate: Alternate, offer: Offer) -> list[str]:
    others = [
        f"{one.label}: {_shown(one.offer.total)}"
        for one in content.alternates
        if one.id != alternate.id
    ]
    options = [f"{one.label}: {_shown(one.net)}" for one in offer.options]
    return [content.site, alternate.label, *content.texts.introduction, *others, *options]


def _shown(money: Money) -> str:
    return f"{exact_text(money.amount)} {money.currency}"


def _references(document: Element, content: QuotationContent) -> None:
    if content.reference is not None:
        text(part(document, "RequestForQuotationDocumentReference"), "ID", content.reference)
    if content.changes is not None:
        text(part(document, "AdditionalDocumentReference"), "ID", content.changes)


def _delivery(document: Element, content: QuotationContent, alternate: Alternate) -> None:
    element = part(document, "Delivery")
    if content.place is not None:
        parts.address(part(element, "DeliveryLocation"), "Address", content.place)
    period = part(element, "EstimatedDeliveryPeriod")
    text(period, "StartDate", alternate.dates.first_day.isoformat())
    text(period, "EndDate", alternate.dates.last_day.isoformat())


def _conditions(document: Element, content: QuotationContent) -> None:
    conditions = (*content.texts.conditions, *content.texts.payment)
    if conditions:
        element = part(document, "TransactionConditions")
        for paragraph in conditions:
            text(element, "Description", paragraph)


def _taxes(document: Element, offer: Offer) -> None:
    if not offer.taxes:
        return
    total = part(document, "TaxTotal")
    due = sum((tax.amount.amount for tax in offer.taxes), Decimal(0))
    parts.amount(total, "TaxAmount", rounded(due, Currency(offer.currency)))
    for tax in offer.taxes:
        subtotal = part(total, "TaxSubtotal")
        parts.amount(subtotal, "TaxableAmount", tax.base)
        parts.amount(subtotal, "TaxAmount", tax.amount)
        _category(subtotal, "TaxCategory", tax, tax.exemption_reason)


def _category(parent: Element, name: str, tax: OfferTax, reason: str | None = None) -> None:
    parts.tax_category(
        parent,
        name,
        category=tax.category,
        percent=None if tax.category == _OUTSIDE else tax.rate_percent,
        scheme=(parts.VAT, None) if tax.scheme == _VAT else (tax.rule, tax.name),
        reason=(None, reason),
    )


def _totals(document: Element, offer: Offer) -> None:
    totals = part(document, "QuotedMonetaryTotal")
    parts.amount(totals, "LineExtensionAmount", offer.net)
    parts.amount(totals, "TaxExclusiveAmount", offer.net)
    parts.amount(totals, "TaxInclusiveAmount", offer.total)
    parts.amount(totals, "PayableAmount", offer.total)


def _line(document: Element, name: str, line: OfferLine, taxes: dict[str, OfferTax]) -> None:
    priced = line_price(line.quantity, line.unit, line.net)
    element = part(document, "QuotationLine")
    text(element, "ID", name)
    item_line = part(element, "LineItem")
    text(item_line, "ID", name)
    parts.quantity(item_line, "Quantity", priced.quantity, priced.unit)
    parts.amount(item_line, "LineExtensionAmount", line.net)
    parts.price(item_line, priced, line.net.currency)
    item = part(item_line, "Item")
    text(item, "Name", line.description)
    for rule in line.taxes:
        _category(item, "ClassifiedTaxCategory", taxes[rule])
