"""What the service is sent and what it answers: organisation.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from collections.abc import Sequence

from msgspec import UNSET, UnsetType

from filmbuild_sdk.models.inputs import Party, PaymentTerm
from filmbuild_sdk.values import Answer, Input, Moment


class BankAccount(Input, frozen=True, kw_only=True):
    """Where invoices are paid, unless one names another account.

    `account` is an IBAN, or the number by which the bank's country knows it: up to 34 letters and
    digits, with spaces or hyphens between them.
    """

    account: str
    bank: str | None = None
    bic: str | None = None
    holder: str | None = None


class OrganisationProfile(Input, frozen=True, kw_only=True):
    """The seller, and what its offers have where nothing else is asked for.

    `time_zone` is an IANA name; an offer is open until the end of its last day there. An offer's
    number is the prefix and the next of the numbers, filled up with zeros to `number_digits`;
    `first_number` is where they start, and says nothing any more once one has been taken.
    """

    seller: Party
    bank: BankAccount | None = None
    currency: str | None = None
    first_number: int | UnsetType = UNSET  # left out: 1
    language: str | UnsetType = UNSET  # left out: "en"
    number_digits: int | UnsetType = UNSET  # left out: 4
    number_prefix: str | UnsetType = UNSET  # left out: "Q-"
    payment_instructions: Sequence[str] = ()
    payments: Sequence[PaymentTerm] = ()
    time_zone: str | UnsetType = UNSET  # left out: "UTC"
    valid_days: int | UnsetType = UNSET  # left out: 30


class Organisation(Answer, frozen=True, kw_only=True):
    """The profile as it was last given."""

    created_at: Moment
    updated_at: Moment
    profile: OrganisationProfile


class CautionWords(Input, frozen=True, kw_only=True):
    """How customers are told of the hazard `code`; the source of the caution is added to it."""

    code: str
    title: str
    detail: str


class OrganisationTexts(Input, frozen=True, kw_only=True):
    """The words around the figures of an offer, a paragraph each.

    `before` and `after` are what the customer must do before and after the work. Of the cautions
    that an estimate calls for, customers are shown those that have words in `cautions`.
    """

    after: Sequence[str] = ()
    before: Sequence[str] = ()
    cautions: Sequence[CautionWords] = ()
    conditions: Sequence[str] = ()
    exclusions: Sequence[str] = ()
    introduction: Sequence[str] = ()
    payment: Sequence[str] = ()
    scope: Sequence[str] = ()


class TextsInUse(Answer, frozen=True, kw_only=True):
    """The words of offers in one language.

    `own` is false where the organisation has given none in it, and the service's own words hold.
    """

    language: str
    own: bool
    texts: OrganisationTexts
