"""What quotations and invoices have in common: parties, addresses, amounts, taxes and prices."""

from decimal import Decimal
from xml.etree.ElementTree import Element

from filmbuild.money import Money, exact_text
from filmbuild.organisations.parties import Address, Party
from filmbuild.quotations.ubl.elements import part, text
from filmbuild.quotations.ubl.prices import LinePrice

VAT = "VAT"
OTHER_TAX = "TAX"


def number(value: Decimal) -> str:
    """Without an exponent, and without zeros that say nothing."""
    return f"{value.normalize():f}"


def amount(parent: Element, name: str, value: Money) -> None:
    text(parent, name, exact_text(value.amount), currencyID=value.currency)


def quantity(parent: Element, name: str, value: Decimal, unit: str) -> None:
    text(parent, name, number(value), unitCode=unit)


def address(parent: Element, name: str, given: Address) -> None:
    element = part(parent, name)
    lines = (*given.lines, None, None, None)
    text(element, "StreetName", lines[0])
    text(element, "AdditionalStreetName", lines[1])
    text(element, "CityName", given.city)
    text(element, "PostalZone", given.postal_code)
    text(element, "CountrySubentity", given.region)
    if lines[2]:
        text(part(element, "AddressLine"), "Line", lines[2])
    text(part(element, "Country"), "IdentificationCode", given.country)


def party(parent: Element, name: str, given: Party, *, vat: bool, other_tax: bool) -> None:
    """`vat` and `other_tax` say which of its numbers for taxes are shown."""
    element = part(part(parent, name), "Party")
    address(element, "PostalAddress", given.address)
    if vat:
        _registered(element, given.vat_number, VAT)
    if other_tax:
        _registered(element, given.tax_registration, OTHER_TAX)
    entity = part(element, "PartyLegalEntity")
    text(entity, "RegistrationName", given.name)
    text(entity, "CompanyID", given.registration)
    contact = given.contact
    if contact is not None and (contact.name or contact.telephone or contact.email):
        shown = part(element, "Contact")
        text(shown, "Name", contact.name)
        text(shown, "Telephone", contact.telephone)
        text(shown, "ElectronicMail", contact.email)


def _registered(parent: Element, registration: str | None, scheme: str) -> None:
    if registration:
        element = part(parent, "PartyTaxScheme")
        text(element, "CompanyID", registration)
        text(part(element, "TaxScheme"), "ID", scheme)


def tax_category(
    parent: Element,
    name: str,
    *,
    category: str,
    percent: Decimal | None,
    scheme: tuple[str, str | None],
    reason: tuple[str | None, str | None] = (None, None),
) -> None:
    """`scheme` is the code of the tax and its name, `reason` the code and text of an exemption."""
    element = part(parent, name)
    text(element, "ID", category)
    text(element, "Percent", None if percent is None else number(percent))
    text(element, "TaxExemptionReasonCode", reason[0])
    text(element, "TaxExemptionReason", reason[1])
    tax = part(element, "TaxScheme")
    text(tax, "ID", scheme[0])
    text(tax, "Name", scheme[1])


def price(parent: Element, given: LinePrice, currency: str) -> None:
    element = part(parent, "Price")
    text(element, "PriceAmount", exact_text(given.amount), currencyID=currency)
    if given.per != 1:
        quantity(element, "BaseQuantity", given.per, given.unit)
