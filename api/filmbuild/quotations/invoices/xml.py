"""Invoices and credit notes as UBL 2.1."""

from xml.etree.ElementTree import Element

from filmbuild.quotations.invoices.categories import OUTSIDE
from filmbuild.quotations.invoices.records import Invoice, InvoiceLine, InvoiceTax, LineTax
from filmbuild.quotations.ubl import parts
from filmbuild.quotations.ubl.elements import part, root, text, written
from filmbuild.quotations.ubl.prices import LinePrice

CREDIT_TRANSFER = "30"
"""UNTDID 4461."""


def invoice_xml(invoice: Invoice) -> bytes:
    """An Invoice, or a CreditNote where the invoice is one.

    `CustomizationID` claims the rules of EN 16931, and is left out where the invoice does not
    conform to them: taxes on sales other than VAT are outside of its model.
    """
    credit = invoice.kind == "credit_note"
    document = root("CreditNote" if credit else "Invoice")
    _heading(document, invoice, credit=credit)
    _references(document, invoice)
    outside = any(tax.category == OUTSIDE for tax in invoice.taxes) and invoice.vat
    parts.party(
        document, "AccountingSupplierParty", invoice.seller, vat=not outside, other_tax=not outside
    )
    parts.party(
        document, "AccountingCustomerParty", invoice.buyer, vat=not outside, other_tax=False
    )
    _delivery(document, invoice)
    _payment(document, invoice, credit=credit)
    _taxes(document, invoice)
    _totals(document, invoice)
    for line in invoice.lines:
        _line(document, line, invoice, credit=credit)
    return written(document)


def _heading(document: Element, invoice: Invoice, *, credit: bool) -> None:
    text(document, "CustomizationID", invoice.conforms_to)
    text(document, "ID", invoice.number)
    text(document, "IssueDate", invoice.issued_on.isoformat())
    if credit:
        text(document, "CreditNoteTypeCode", invoice.type_code)
    else:
        text(document, "DueDate", invoice.due_on.isoformat())
        text(document, "InvoiceTypeCode", invoice.type_code)
    text(document, "Note", invoice.site)
    text(document, "DocumentCurrencyCode", invoice.currency)
    text(document, "BuyerReference", invoice.reference)


def _references(document: Element, invoice: Invoice) -> None:
    for earlier in invoice.earlier:
        reference = part(part(document, "BillingReference"), "InvoiceDocumentReference")
        text(reference, "ID", earlier.number)
        text(reference, "IssueDate", earlier.issued_on.isoformat())
    text(part(document, "ContractDocumentReference"), "ID", invoice.quotation)


def _delivery(document: Element, invoice: Invoice) -> None:
    if invoice.delivered_on is None and invoice.place is None:
        return
    element = part(document, "Delivery")
    if invoice.delivered_on is not None:
        text(element, "ActualDeliveryDate", invoice.delivered_on.isoformat())
    if invoice.place is not None:
        parts.address(part(element, "DeliveryLocation"), "Address", invoice.place)


def _payment(document: Element, invoice: Invoice, *, credit: bool) -> None:
    """A credit note has no DueDate; its day stands in the terms where these say nothing else."""
    payee = invoice.payee
    if payee is not None and not credit:
        means = part(document, "PaymentMeans")
        text(means, "PaymentMeansCode", CREDIT_TRANSFER)
        text(means, "PaymentID", invoice.number)
        account = part(means, "PayeeFinancialAccount")
        text(account, "ID", payee.account)
        text(account, "Name", payee.name)
        if payee.bank is not None:
            text(part(account, "FinancialInstitutionBranch"), "ID", payee.bank)
    terms = "\n".join(invoice.terms) or (invoice.due_on.isoformat() if credit else None)
    if terms:
        text(part(document, "PaymentTerms"), "Note", terms)


def _taxes(document: Element, invoice: Invoice) -> None:
    if not invoice.taxes:
        return
    total = part(document, "TaxTotal")
    parts.amount(total, "TaxAmount", invoice.tax)
    for tax in invoice.taxes:
        subtotal = part(total, "TaxSubtotal")
        parts.amount(subtotal, "TaxableAmount", tax.base)
        parts.amount(subtotal, "TaxAmount", tax.amount)
        parts.tax_category(
            subtotal,
            "TaxCategory",
            category=tax.category,
            percent=tax.rate_percent,
            scheme=_scheme(invoice, tax),
            reason=(tax.exemption_code, tax.exemption_reason),
        )


def _scheme(invoice: Invoice, tax: InvoiceTax | LineTax) -> tuple[str, str | None]:
    """Taxes other than VAT go by the names of their own rules."""
    if invoice.vat:
        return parts.VAT, None
    return (tax.rule if isinstance(tax, LineTax) else tax.rules[0]), tax.name


def _totals(document: Element, invoice: Invoice) -> None:
    totals = part(document, "LegalMonetaryTotal")
    parts.amount(totals, "LineExtensionAmount", invoice.net)
    parts.amount(totals, "TaxExclusiveAmount", invoice.net)
    parts.amount(totals, "TaxInclusiveAmount", invoice.total)
    if invoice.prepaid.amount:
        parts.amount(totals, "PrepaidAmount", invoice.prepaid)
    if invoice.rounding.amount:
        parts.amount(totals, "PayableRoundingAmount", invoice.rounding)
    parts.amount(totals, "PayableAmount", invoice.amount_due)


def _line(document: Element, line: InvoiceLine, invoice: Invoice, *, credit: bool) -> None:
    element = part(document, "CreditNoteLine" if credit else "InvoiceLine")
    text(element, "ID", line.id)
    quantity = "CreditedQuantity" if credit else "InvoicedQuantity"
    parts.quantity(element, quantity, line.quantity, line.unit)
    parts.amount(element, "LineExtensionAmount", line.net)
    item = part(element, "Item")
    text(item, "Name", line.description)
    for tax in line.taxes:
        parts.tax_category(
            item,
            "ClassifiedTaxCategory",
            category=tax.category,
            percent=tax.rate_percent,
            scheme=_scheme(invoice, tax),
        )
    price = LinePrice(
        quantity=line.quantity,
        unit=line.unit,
        amount=line.unit_price,
        per=line.price_quantity,
    )
    parts.price(element, price, invoice.currency)
