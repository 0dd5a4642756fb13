"""What a contractor settles of the quote form: finishes, words, and the terms that price it."""

from collections import Counter
from collections.abc import Sequence
from hashlib import sha256
from typing import Annotated, Literal, TypeVar

from msgspec import Meta

from filmbuild.errors import Faults
from filmbuild.money import Currency, Percent
from filmbuild.pipeline.job import Conditions, CrewMember, MonthConditions, Terms, WorkCalendar
from filmbuild.pipeline.requests import TEXT
from filmbuild.pipeline.site import Identifier, Input, Label
from filmbuild.quantities import PositiveHeight

Language = Literal["en", "es"]
Words = Annotated[str, Meta(min_length=1, max_length=2_000, pattern=TEXT)]
Swatch = Annotated[str, Meta(pattern=r"^#[0-9a-f]{6}$(?!\n)")]
WebAddress = Annotated[
    str, Meta(max_length=500, pattern=r"^https://[A-Za-z0-9.-]+(:[0-9]+)?(/[!-~]*)?$(?!\n)")
]
Effort = Literal["none", "usual", "high"]
_DIGEST = 16


class FinishWords(Input, frozen=True, kw_only=True):
    """What visitors read of a finish in one language."""

    language: Language
    name: Label
    description: Annotated[str, Meta(max_length=500, pattern=TEXT)] = ""


class PublicFinish(Input, frozen=True, kw_only=True):
    """A system of the catalogue that the form offers, under an `id` of its own.

    Visitors never see which system it is. `swatch` is a colour as six hexadecimal digits.
    """

    id: Identifier
    system: Identifier
    words: Annotated[tuple[FinishWords, ...], Meta(min_length=1, max_length=2)]
    swatch: Swatch | None = None


class FormWords(Input, frozen=True, kw_only=True):
    """The form's own words in one language.

    `includes` says line by line what the price contains. `minimum_note` tells of a smallest charge.
    `consent` is what visitors agree to, and `privacy` where they can read more.
    """

    language: Language
    title: Label
    includes: Annotated[tuple[Label, ...], Meta(max_length=12)] = ()
    minimum_note: Annotated[str, Meta(max_length=500, pattern=TEXT)] = ""
    consent: Words
    privacy: WebAddress


class FormRange(Input, frozen=True, kw_only=True):
    """How far the range reaches below and above the price that is computed."""

    below_percent: Percent = Percent("10")
    above_percent: Percent = Percent("20")


class FormJob(Input, frozen=True, kw_only=True):
    """What every floor of the form is priced under; the fields are those of a job.

    Steps are taken to be of `step_rise` and `step_going`. Where no day is wished for, work is taken
    to begin `lead_days` from today.
    """

    currency: Currency = Currency("USD")
    rate_book: Identifier | None = None
    price_tier: Identifier | None = None
    conditions: Conditions | None = None
    months: Annotated[tuple[MonthConditions, ...], Meta(max_length=12)] = ()
    crew: Annotated[tuple[CrewMember, ...], Meta(max_length=20)] = ()
    available: Annotated[tuple[CrewMember, ...], Meta(max_length=20)] = ()
    calendar: WorkCalendar = WorkCalendar()
    terms: Terms = Terms()
    lead_days: Annotated[int, Meta(ge=0, le=365)] = 14
    step_rise: PositiveHeight = PositiveHeight(0.175)
    step_going: PositiveHeight = PositiveHeight(0.28)


class QuoteFormSettings(Input, frozen=True, kw_only=True):
    """The quote form of an organisation.

    Every finish has words in each language that the form has words in. `proof` is how much work a
    visitor's browser does before it may send an enquiry, which makes sending thousands dear.
    """

    units: Literal["us", "si"] = "us"
    words: Annotated[tuple[FormWords, ...], Meta(min_length=1, max_length=2)]
    finishes: Annotated[tuple[PublicFinish, ...], Meta(min_length=1, max_length=30)]
    range: FormRange = FormRange()
    tax_shown: bool = False
    proof: Effort = "usual"
    job: FormJob = FormJob()


W = TypeVar("W", FormWords, FinishWords)


def in_language(words: Sequence[W], language: str) -> W:
    """The first of them where there are none in the language."""
    return next((one for one in words if one.language == language), words[0])


def languages(form: QuoteFormSettings) -> tuple[Language, ...]:
    return tuple(one.language for one in form.words)


def consent_version(words: FormWords) -> str:
    """Other words have another version, so that what was agreed to can be told."""
    return sha256(f"{words.consent}\n{words.privacy}".encode()).hexdigest()[:_DIGEST]


def check_form(form: QuoteFormSettings, faults: Faults) -> None:
    """What the types cannot say; whether the finishes can be priced is another matter."""
    wanted = languages(form)
    _check_single([*wanted], faults.at("words"), "language")
    _check_single([one.id for one in form.finishes], faults.at("finishes"), "id")
    for place, finish in enumerate(form.finishes):
        given = [one.language for one in finish.words]
        at = faults.at("finishes", place, "words")
        _check_single([*given], at, "language")
        for missing in sorted({*wanted} - {*given}):
            at.add("missing-language", f'the form has words in "{missing}": so needs the finish')
    if form.range.below_percent >= 100:  # noqa: PLR2004 - a whole is a hundred per cent
        detail = "accepted: less than 100, or the range would begin at nothing"
        faults.add("too-large", detail, "range", "below_percent")


def _check_single(values: list[str], faults: Faults, name: str) -> None:
    counted = Counter(values)
    for place, value in enumerate(values):
        if counted[value] > 1 and values.index(value) < place:
            faults.add("duplicate-id", f'"{value}" stands here twice', place, name)
