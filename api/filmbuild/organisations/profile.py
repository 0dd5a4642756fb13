"""What an organisation says of itself, and the words that stand around the figures of its offers."""

from typing import Annotated

from msgspec import Meta

from filmbuild.errors import Faults
from filmbuild.money import Currency
from filmbuild.organisations.parties import Language, Party
from filmbuild.pipeline.offering import PaymentPlan, check_plan
from filmbuild.pipeline.site import Identifier, Input, Label
from filmbuild.pipeline.workdays import zone_named

Paragraph = Annotated[
    str,
    Meta(
        min_length=1,
        max_length=2_000,
        pattern=r"^[^\u0000-\u001f\u007f]*$(?!\n)",
        description="A paragraph of plain text.",
    ),
]
Paragraphs = Annotated[tuple[Paragraph, ...], Meta(max_length=30)]
ValidDays = Annotated[
    int, Meta(ge=1, le=365, description="For how many days after its issue an offer is open.")
]
# a number ends in digits: if its prefix did too, two series could make the same number
NumberPrefix = Annotated[str, Meta(max_length=20, pattern=r"^([A-Za-z0-9./-]*[A-Za-z./-])?$(?!\n)")]


class BankAccount(Input, frozen=True, kw_only=True):
    """Where invoices are paid, unless one names another account.

    `account` is an IBAN, or the number by which the bank's country knows it: up to 34 letters and
    digits, with spaces or hyphens between them.
    """

    account: Annotated[str, Meta(pattern=r"^[A-Za-z0-9]([ -]?[A-Za-z0-9]){2,33}$(?!\n)")]
    holder: Label | None = None
    bank: Label | None = None
    bic: Annotated[str, Meta(pattern=r"^[A-Z]{6}[A-Z0-9]{2}([A-Z0-9]{3})?$(?!\n)")] | None = None


class OrganisationProfile(Input, frozen=True, kw_only=True):
    """The seller, and what its offers have where nothing else is asked for.

    `time_zone` is an IANA name; an offer is open until the end of its last day there. An offer's
    number is the prefix and the next of the numbers, filled up with zeros to `number_digits`;
    `first_number` is where they start, and says nothing any more once one has been taken.
    """

    seller: Party
    language: Language = "en"
    time_zone: Annotated[str, Meta(min_length=1, max_length=64)] = "UTC"
    currency: Currency | None = None
    number_prefix: NumberPrefix = "Q-"
    number_digits: Annotated[int, Meta(ge=1, le=9)] = 4
    first_number: Annotated[int, Meta(ge=1, le=999_999_999)] = 1
    valid_days: ValidDays = 30
    payments: PaymentPlan = ()
    bank: BankAccount | None = None
    payment_instructions: Paragraphs = ()


class CautionWords(Input, frozen=True, kw_only=True):
    """How customers are told of the hazard `code`; the source of the caution is added to it."""

    code: Identifier
    title: Label
    detail: Paragraph


class OrganisationTexts(Input, frozen=True, kw_only=True):
    """The words around the figures of an offer, a paragraph each.

    `before` and `after` are what the customer must do before and after the work. Of the cautions
    that an estimate calls for, customers are shown those that have words in `cautions`.
    """

    introduction: Paragraphs = ()
    scope: Paragraphs = ()
    exclusions: Paragraphs = ()
    conditions: Paragraphs = ()
    before: Paragraphs = ()
    after: Paragraphs = ()
    payment: Paragraphs = ()
    cautions: Annotated[tuple[CautionWords, ...], Meta(max_length=50)] = ()


def check_profile(profile: OrganisationProfile, faults: Faults) -> None:
    if zone_named(profile.time_zone) is None:
        detail = 'accepted: an IANA name of a place such as "America/Chicago", or "UTC"'
        faults.add("unknown-time-zone", detail, "time_zone")
    check_plan(profile.payments, faults.at("payments"))


def check_texts(texts: OrganisationTexts, faults: Faults) -> None:
    seen: set[str] = set()
    for place, words in enumerate(texts.cautions):
        if words.code in seen:
            faults.add("repeated-code", "each code has one wording", "cautions", place, "code")
        seen.add(words.code)
