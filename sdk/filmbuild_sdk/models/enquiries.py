"""What the service is sent and what it answers: enquiries.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

import datetime as dt
from collections.abc import Sequence
from decimal import Decimal
from typing import Literal

import msgspec
from msgspec import UNSET, UnsetType

from filmbuild_sdk.models.inputs import Conditions, CrewMember, MonthConditions, Terms, WorkCalendar
from filmbuild_sdk.values import Answer, Choice, Input, Moment, Money, Quantity


class ChallengeParameters(Answer, frozen=True, kw_only=True):
    """As the altcha protocol has them."""

    algorithm: str
    cost: int
    key_length: int = msgspec.field(name="keyLength")
    key_prefix: str = msgspec.field(name="keyPrefix")
    key_signature: str = msgspec.field(name="keySignature")
    nonce: str
    salt: str
    expires_at: int = msgspec.field(name="expiresAt")


class Challenge(Answer, frozen=True, kw_only=True):
    """To be solved, and sent back with its solution: JSON of both, in base64."""

    parameters: ChallengeParameters
    signature: str


class GivenConsent(Answer, frozen=True, kw_only=True):
    """What was agreed to, in its words, and when."""

    version: str
    text: str
    privacy: str
    given_at: Moment


class Person(Answer, frozen=True, kw_only=True):
    """All that tells who asks."""

    name: str
    email: str
    telephone: str
    place: str
    message: str


class PriceRange(Answer, frozen=True, kw_only=True):
    """The floor comes to something between the two."""

    lowest: Money
    highest: Money
    tax_included: bool


class FloorCracks(Input, frozen=True, kw_only=True):
    """All cracks together: a hairline, wide enough for the edge of a coin, or for a finger tip."""

    length: Quantity | str
    width: Choice[Literal["coin", "finger", "hairline"]] | UnsetType = UNSET  # left out: "hairline"


class RoomBySize(Input, frozen=True, kw_only=True, tag_field="kind", tag="size"):
    """A room with four right corners."""

    length: Quantity | str
    width: Quantity | str


class RoomByOutline(Input, frozen=True, kw_only=True, tag_field="kind", tag="outline"):
    """A room by its corners in order round it, each [x, y] in `unit`."""

    unit: Choice[Literal["ft", "m"]]
    corners: Sequence[tuple[float, float]]


class RoomSteps(Input, frozen=True, kw_only=True):
    """Steps to be coated along with the floor."""

    count: int
    width: Quantity | str


class FloorQuestion(Input, frozen=True, kw_only=True):
    """The floor that a price is asked for; `finish` is one of those that the form offers."""

    rooms: Sequence[RoomBySize | RoomByOutline]
    finish: str
    cracks: FloorCracks | None = None
    language: Choice[Literal["en", "es"]] | None = None
    steps: RoomSteps | None = None
    wished_date: dt.date | None = None


class Enquiry(Answer, frozen=True, kw_only=True):
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


class EnquiryChange(Input, frozen=True, kw_only=True):
    state: Choice[Literal["answered", "closed", "new"]]


class EnquiryPage(Answer, frozen=True, kw_only=True):
    """Newest first."""

    items: tuple[Enquiry, ...]
    next: str | None


class EnquiryReceipt(Answer, frozen=True, kw_only=True):
    """The last eight characters of `id` are enough to name it.

    Without a `price` the contractor looks at the floor first.
    """

    id: str
    price: PriceRange | None


class EnquiryConsent(Input, frozen=True, kw_only=True):
    """That the visitor agrees to the form's words of this version."""

    accepted: bool
    version: str


class EnquiryRequest(Input, frozen=True, kw_only=True):
    """A floor, and who asks: an e-mail address or a telephone number is needed to answer.

    `proof` is the solution of a challenge, in base64 as altcha has it.
    """

    question: FloorQuestion
    name: str
    consent: EnquiryConsent
    email: str | UnsetType = UNSET  # left out: ""
    message: str | UnsetType = UNSET  # left out: ""
    place: str | UnsetType = UNSET  # left out: ""
    proof: str | UnsetType = UNSET  # left out: ""
    telephone: str | UnsetType = UNSET  # left out: ""


class FinishWords(Input, frozen=True, kw_only=True):
    """What visitors read of a finish in one language."""

    language: Choice[Literal["en", "es"]]
    name: str
    description: str | UnsetType = UNSET  # left out: ""


class PublicFinish(Input, frozen=True, kw_only=True):
    """A system of the catalogue that the form offers, under an `id` of its own.

    Visitors never see which system it is. `swatch` is a colour as six hexadecimal digits.
    """

    id: str
    system: str
    words: Sequence[FinishWords]
    swatch: str | None = None


class FormJob(Input, frozen=True, kw_only=True):
    """What every floor of the form is priced under; the fields are those of a job.

    Steps are taken to be of `step_rise` and `step_going`. Where no day is wished for, work is taken
    to begin `lead_days` from today.
    """

    available: Sequence[CrewMember] = ()
    calendar: WorkCalendar | UnsetType = UNSET
    conditions: Conditions | None = None
    crew: Sequence[CrewMember] = ()
    currency: str | UnsetType = UNSET  # left out: "USD"
    lead_days: int | UnsetType = UNSET  # left out: 14
    months: Sequence[MonthConditions] = ()
    price_tier: str | None = None
    rate_book: str | None = None
    step_going: Quantity | str | UnsetType = UNSET  # left out: {"unit": "mm", "value": 280.0}
    step_rise: Quantity | str | UnsetType = UNSET  # left out: {"unit": "mm", "value": 175.0}
    terms: Terms | UnsetType = UNSET


class FormRange(Input, frozen=True, kw_only=True):
    """How far the range reaches below and above the price that is computed."""

    above_percent: Decimal | UnsetType = UNSET  # left out: "20"
    below_percent: Decimal | UnsetType = UNSET  # left out: "10"


class FormWords(Input, frozen=True, kw_only=True):
    """The form's own words in one language.

    `includes` says line by line what the price contains. `minimum_note` tells of a smallest charge.
    `consent` is what visitors agree to, and `privacy` where they can read more.
    """

    language: Choice[Literal["en", "es"]]
    title: str
    consent: str
    privacy: str
    includes: Sequence[str] = ()
    minimum_note: str | UnsetType = UNSET  # left out: ""


class QuoteFormSettings(Input, frozen=True, kw_only=True):
    """The quote form of an organisation.

    Every finish has words in each language that the form has words in. `proof` is how much work a
    visitor's browser does before it may send an enquiry, which makes sending thousands dear.
    """

    words: Sequence[FormWords]
    finishes: Sequence[PublicFinish]
    job: FormJob | UnsetType = UNSET
    proof: Choice[Literal["high", "none", "usual"]] | UnsetType = UNSET  # left out: "usual"
    range: FormRange | UnsetType = UNSET  # left out: {"above_percent": "20", "below_percent": "10"}
    tax_shown: bool | UnsetType = UNSET  # left out: false
    units: Choice[Literal["si", "us"]] | UnsetType = UNSET  # left out: "us"


class KeptQuoteForm(Answer, frozen=True, kw_only=True):
    """The settings as they were last given."""

    created_at: Moment
    updated_at: Moment
    settings: QuoteFormSettings


class OfferedConsent(Answer, frozen=True, kw_only=True):
    """What to agree to; `version` is sent back with an enquiry."""

    version: str
    text: str
    privacy: str


class OfferedFinish(Answer, frozen=True, kw_only=True):
    id: str
    name: str
    description: str
    swatch: str | None


class QuestionLimits(Answer, frozen=True, kw_only=True):
    """What the form takes at most and at least."""

    rooms: int
    corners: int
    shortest_side: Quantity
    longest_side: Quantity
    days_ahead: int


class QuoteForm(Answer, frozen=True, kw_only=True):
    """All that a page needs to show the form in one language.

    `proof_attempts` is how many attempts solving a challenge takes at most; where it is 1, no proof
    is asked for.
    """

    language: str
    languages: tuple[str, ...]
    title: str
    finishes: tuple[OfferedFinish, ...]
    units: str
    currency: str
    tax_included: bool
    includes: tuple[str, ...]
    minimum_note: str
    consent: OfferedConsent
    limits: QuestionLimits
    proof_attempts: int


class QuotedRange(Answer, frozen=True, kw_only=True):
    """`working_days` are worked on; from the first to the last of them it is `days`."""

    price: PriceRange
    includes: tuple[str, ...]
    minimum_note: str
    working_days: int
    days: int
