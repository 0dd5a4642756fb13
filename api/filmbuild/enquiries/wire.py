"""The quote form and enquiries as callers see them."""

from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from filmbuild.edge.paging import PageQuery
from filmbuild.enquiries.asking import FloorQuestion, Person
from filmbuild.enquiries.form import Language, QuoteFormSettings
from filmbuild.money import Currency, Money
from filmbuild.pipeline.job import UnitSystem
from filmbuild.pipeline.results.base import Moment
from filmbuild.pipeline.site import Input
from filmbuild.quantities import Length

EnquiryState = Literal["new", "answered", "closed"]


class QuoteFormQuery(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    language: Annotated[Language, Meta(description="In which language to answer.")] | None = None


class KeptQuoteForm(msgspec.Struct, frozen=True, kw_only=True):
    """The settings as they were last given."""

    created_at: Moment
    updated_at: Moment
    settings: QuoteFormSettings


class OfferedFinish(msgspec.Struct, frozen=True, kw_only=True):
    id: str
    name: str
    description: str
    swatch: str | None


class OfferedConsent(msgspec.Struct, frozen=True, kw_only=True):
    """What to agree to; `version` is sent back with an enquiry."""

    version: str
    text: str
    privacy: str


class QuestionLimits(msgspec.Struct, frozen=True, kw_only=True):
    """What the form takes at most and at least."""

    rooms: int
    corners: int
    shortest_side: Length
    longest_side: Length
    days_ahead: int


class QuoteForm(msgspec.Struct, frozen=True, kw_only=True):
    """All that a page needs to show the form in one language.

    `proof_attempts` is how many attempts solving a challenge takes at most; where it is 1, no proof
    is asked for.
    """

    language: Language
    languages: tuple[Language, ...]
    title: str
    finishes: tuple[OfferedFinish, ...]
    units: UnitSystem
    currency: Currency
    tax_included: bool
    includes: tuple[str, ...]
    minimum_note: str
    consent: OfferedConsent
    limits: QuestionLimits
    proof_attempts: int


class PriceRange(msgspec.Struct, frozen=True, kw_only=True):
    """The floor comes to something between the two."""

    lowest: Money
    highest: Money
    tax_included: bool


class QuotedRange(msgspec.Struct, frozen=True, kw_only=True):
    """`working_days` are worked on; from the first to the last of them it is `days`."""

    price: PriceRange
    includes: tuple[str, ...]
    minimum_note: str
    working_days: int
    days: int


class ChallengeParameters(msgspec.Struct, frozen=True, kw_only=True, rename="camel"):
    """As the altcha protocol has them."""

    algorithm: str
    cost: int
    key_length: int
    key_prefix: str
    key_signature: str
    nonce: str
    salt: str
    expires_at: int


class Challenge(msgspec.Struct, frozen=True, kw_only=True):
    """To be solved, and sent back with its solution: JSON of both, in base64."""

    parameters: ChallengeParameters
    signature: str


class EnquiryReceipt(msgspec.Struct, frozen=True, kw_only=True):
    """The last eight characters of `id` are enough to name it.

    Without a `price` the contractor looks at the floor first.
    """

    id: str
    price: PriceRange | None


class GivenConsent(msgspec.Struct, frozen=True, kw_only=True):
    """What was agreed to, in its words, and when."""

    version: str
    text: str
    privacy: str
    given_at: Moment


class Enquiry(msgspec.Struct, frozen=True, kw_only=True):
    """What a visitor asked; `person` is null once it was erased.

    `price` is what the visitor was told, and `estimate` what it was computed as; both are null
    where the floor could not be priced. `state` is `new`, `answered` or `closed`.
    """

    id: str
    created_at: Moment
    updated_at: Moment
    state: str
    language: str
    question: FloorQuestion
    person: Person | None
    consent: GivenConsent
    estimate: str | None
    price: PriceRange | None


class EnquiryPage(msgspec.Struct, frozen=True, kw_only=True):
    """Newest first."""

    items: tuple[Enquiry, ...]
    next: str | None


class EnquiriesQuery(PageQuery, frozen=True, kw_only=True):
    state: EnquiryState | None = None


class EnquiryChange(Input, frozen=True, kw_only=True):
    state: EnquiryState
