"""Sellers and buyers, as invoices and offers name them."""

from typing import Annotated

from msgspec import Meta

from filmbuild.pipeline.site import Input, Label

Country = Annotated[
    str,
    Meta(pattern=r"^[A-Z]{2}$(?!\n)", description="An ISO 3166-1 country code of two letters."),
]
Language = Annotated[
    str,
    Meta(
        pattern=r"^[a-z]{2}(-[A-Z]{2})?$(?!\n)", description="A language tag such as en or es-MX."
    ),
]


class Address(Input, frozen=True, kw_only=True):
    """A postal address; `region` is a state or province."""

    lines: Annotated[tuple[Label, ...], Meta(max_length=3)] = ()
    city: Label | None = None
    postal_code: Annotated[str, Meta(min_length=1, max_length=20)] | None = None
    region: Label | None = None
    country: Country


class Contact(Input, frozen=True, kw_only=True):
    name: Label | None = None
    telephone: Annotated[str, Meta(min_length=3, max_length=40)] | None = None
    email: (
        Annotated[str, Meta(min_length=3, max_length=254, pattern=r"^[^@\s]+@[^@\s]+$(?!\n)")]
        | None
    ) = None


class Party(Input, frozen=True, kw_only=True):
    """A company or a person.

    `vat_number` begins with its country's letters where the country has such numbers;
    `registration` is the number in a register of companies; `tax_registration` any other number
    under which a tax is accounted for.
    """

    name: Label
    address: Address
    contact: Contact | None = None
    vat_number: Annotated[str, Meta(min_length=2, max_length=20)] | None = None
    tax_registration: Annotated[str, Meta(min_length=1, max_length=40)] | None = None
    registration: Annotated[str, Meta(min_length=1, max_length=40)] | None = None
