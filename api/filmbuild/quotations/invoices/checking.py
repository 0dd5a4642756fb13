"""What an invoice lacks, all of it at once, before it gets a number.

Where its taxes are value added tax, the rules are those of EN 16931 and article 226 of Directive
2006/112/EC; pointers are into the request, where sellers and buyers can be completed.
"""

from decimal import Decimal

from filmbuild.errors import Faults
from filmbuild.money import minor_units
from filmbuild.organisations.parties import Address, Party
from filmbuild.pipeline.unit_codes import UNITS
from filmbuild.quotations.invoices.categories import (
    EXEMPT,
    EXPORT,
    INTRA_COMMUNITY,
    OUTSIDE,
    REVERSE_CHARGE,
    VAT_CATEGORIES,
)
from filmbuild.quotations.invoices.countries import VAT_PREFIXES_BESIDE_COUNTRIES, countries
from filmbuild.quotations.invoices.records import Invoice, InvoiceRequest, InvoiceTax

_STEPS = 9


def check(invoice: Invoice, request: InvoiceRequest, faults: Faults) -> None:
    _check_dates(invoice, faults)
    _check_country(invoice.seller.address, faults.at("seller", "address"))
    _check_country(invoice.buyer.address, faults.at("buyer", "address"))
    if invoice.place is not None:
        _check_country(invoice.place, faults.at("place"))
    _check_units(invoice, faults)
    _check_sums(invoice, request, faults)
    if invoice.vat:
        _check_vat(invoice, faults)


def _check_dates(invoice: Invoice, faults: Faults) -> None:
    if invoice.due_on < invoice.issued_on:
        detail = f"must be {invoice.issued_on}, the day of the invoice, or later"
        faults.add("before-issue", detail, "due_on")


def _check_country(address: Address, faults: Faults) -> None:
    if address.country not in countries():
        detail = (
            f'"{address.country}" is no country of ISO 3166-1; accepted: two letters such as "US"'
        )
        faults.add("unknown-country", detail, "country")


def _check_units(invoice: Invoice, faults: Faults) -> None:
    unknown = sorted({line.unit for line in invoice.lines} - UNITS.keys())
    for unit in unknown:
        detail = (
            f'the quotation counts in "{unit}", which is no unit that is invoiced in; accepted: '
        )
        faults.add("unknown-unit", detail + ", ".join(UNITS))


def _check_sums(invoice: Invoice, request: InvoiceRequest, faults: Faults) -> None:
    prepaid = request.prepaid
    if prepaid is not None:
        if prepaid.currency != invoice.currency:
            faults.add("wrong-currency", f"accepted: {invoice.currency}", "prepaid", "currency")
        elif not 0 <= prepaid.amount <= invoice.total.amount:
            most = f"accepted: from 0 to the total of {invoice.total.amount:f}"
            faults.add("out-of-range", most, "prepaid", "amount")
    step = request.due_step
    if step is not None and step != round(Decimal(step), minor_units(invoice.currency)):
        faults.add("too-precise", f"{invoice.currency} has no smaller unit", "due_step")
    elif step is not None and step > invoice.total.amount:
        most = f"accepted: up to the total of {invoice.total.amount:f}"
        faults.add("out-of-range", most, "due_step")


def _check_vat(invoice: Invoice, faults: Faults) -> None:
    categories = {tax.category for line in invoice.lines for tax in line.taxes}
    _check_lines(invoice, faults)
    for tax in invoice.taxes:
        _check_tax(tax, faults)
    if OUTSIDE in categories and len(categories) > 1:
        detail = (
            "what is outside of the scope of the tax cannot stand with other lines on one invoice "
            "(EN 16931 rule BR-O-11); quote it on its own"
        )
        faults.add("mixed-categories", detail)
    _check_where(invoice.seller, "seller", faults)
    _check_where(invoice.buyer, "buyer", faults)
    if OUTSIDE not in categories:
        _check_seller(invoice.seller, categories, faults.at("seller"))
        _check_number(invoice.buyer.vat_number, faults.at("buyer"))
    elif invoice.seller.registration is None:
        detail = (
            "needed where the seller shows no VAT number: its number in a register of companies "
            "(EN 16931 rule BR-CO-26)"
        )
        faults.add("missing", detail, "seller", "registration")
    _check_buyer(invoice, categories, faults)


def _check_lines(invoice: Invoice, faults: Faults) -> None:
    apart = [line.id for line in invoice.lines if len(line.taxes) != 1]
    if apart:
        detail = (
            f"line {', '.join(apart[:_STEPS])} of the quotation does not fall under exactly one "
            "rate of value added tax (EN 16931 rule BR-CO-04); also what is exempt or outside of "
            "its scope needs a tax rule that says so"
        )
        faults.add("line-without-one-tax", detail)


def _check_tax(tax: InvoiceTax, faults: Faults) -> None:
    category = VAT_CATEGORIES.get(tax.category)
    if category is None:
        detail = f'the tax "{tax.name}" has the category "{tax.category}"; accepted: '
        faults.add("unknown-tax-category", detail + ", ".join(VAT_CATEGORIES))
        return
    rate = tax.rate_percent or Decimal(0)
    wrong = (category.rate == "positive" and rate <= 0) or (
        category.rate in ("zero", "none") and (rate or tax.amount.amount)
    )
    if wrong:
        wanted = "a rate above zero" if category.rate == "positive" else "nothing due"
        detail = f'the tax "{tax.name}" is of the category {category.name}, which has {wanted}'
        faults.add("rate-not-of-category", detail)
    if tax.category == EXEMPT and tax.exemption_reason is None:
        detail = f'the tax "{tax.name}" exempts without saying why (EN 16931 rule BR-E-10)'
        faults.add("no-exemption-reason", detail)


def _check_where(party: Party, name: str, faults: Faults) -> None:
    """The whole address of both is asked for by article 226 (5) of the directive."""
    at = faults.at(name, "address")
    if not party.address.lines:
        at.add("missing", f"the street of the {name} is needed where VAT applies", "lines")
    if party.address.city is None:
        at.add("missing", f"the city of the {name} is needed where VAT applies", "city")


def _check_seller(seller: Party, categories: set[str], faults: Faults) -> None:
    if categories & {INTRA_COMMUNITY, EXPORT} and seller.vat_number is None:
        detail = "needed for supplies out of the country (EN 16931 rules BR-IC-02 and BR-G-02)"
        faults.add("missing", detail, "vat_number")
    elif seller.vat_number is None and seller.tax_registration is None:
        detail = (
            "needed where VAT applies, or else `tax_registration` (EN 16931 rules BR-S-02, "
            "BR-Z-02, BR-E-02 and BR-AE-02)"
        )
        faults.add("missing", detail, "vat_number")
    elif seller.vat_number is None and seller.registration is None:
        detail = "needed where the seller has no VAT number (EN 16931 rule BR-CO-26)"
        faults.add("missing", detail, "registration")
    _check_number(seller.vat_number, faults)


def _check_number(number: str | None, faults: Faults) -> None:
    if number is None:
        return
    if number[:2] not in countries() | VAT_PREFIXES_BESIDE_COUNTRIES:
        detail = 'must begin with its country\'s two letters, "EL" for Greece (rule BR-CO-09)'
        faults.add("no-country-prefix", detail, "vat_number")


def _check_buyer(invoice: Invoice, categories: set[str], faults: Faults) -> None:
    buyer = invoice.buyer
    if INTRA_COMMUNITY in categories:
        if buyer.vat_number is None:
            detail = "needed for an intra-community supply (EN 16931 rule BR-IC-02)"
            faults.add("missing", detail, "buyer", "vat_number")
        if invoice.delivered_on is None:
            detail = "needed for an intra-community supply (EN 16931 rule BR-IC-11)"
            faults.add("missing", detail, "delivered_on")
        if invoice.place is None:
            detail = "needed for an intra-community supply (EN 16931 rule BR-IC-12)"
            faults.add("missing", detail, "place")
    elif REVERSE_CHARGE in categories and not (buyer.vat_number or buyer.registration):
        detail = "needed where the buyer accounts for the tax (EN 16931 rule BR-AE-02)"
        faults.add("missing", detail, "buyer", "vat_number")
