"""What a customer meets: states, forms, the policy of the page; and nothing of the costs."""

import re
from base64 import b64encode
from collections.abc import Iterator
from decimal import Decimal
from hashlib import sha256
from typing import Any, get_args

import msgspec
import pytest
from document_cases import (
    DECLINED,
    DRAFT,
    accepted,
    content_of,
    estimated,
    one_way,
    spanish,
    two_ways,
)
from document_readings import parsed, print_text, words

from filmbuild.errors import InvalidInput
from filmbuild.money import Currency, Exact, Money
from filmbuild.pipeline.results import EstimateDocument
from filmbuild.pipeline.trace import Caution
from filmbuild.quotations.content import Decision, QuotationContent, QuotationState
from filmbuild.quotations.documents.json_ld import offer_json_ld
from filmbuild.quotations.documents.lines import offer_lines_csv
from filmbuild.quotations.documents.offer_view import offer_shown
from filmbuild.quotations.documents.pages import confirmation_page, offer_page
from filmbuild.quotations.documents.pdf import offer_pdf
from filmbuild.quotations.documents.writer import writer_of

LINK = "/v1/offers/token-of-the-link"
STATES: tuple[QuotationState, ...] = get_args(QuotationState)
BANNERS = {
    "draft": "This is not an offer yet.",
    "accepted": "By Rosa Tide, on Wednesday, May 6, 2026, 10:30",
    "declined": "Reason: We have changed our plans.",
    "expired": "It could be accepted until June 3, 2026.",
    "superseded": "Replaced by a newer quotation",
    "withdrawn": "Withdrawn",
}


def decision_in(state: QuotationState, content: QuotationContent) -> Decision | None:
    return {"accepted": accepted(content), "declined": DECLINED}.get(state)


def content_in(state: QuotationState) -> QuotationContent:
    if state == "draft":
        return msgspec.structs.replace(two_ways(), **DRAFT)
    return two_ways()


@pytest.mark.parametrize("state", STATES)
def test_the_page_and_print_say_what_became_of_the_offer(state: QuotationState) -> None:
    content = content_in(state)
    decision = decision_in(state, content)
    page = parsed(offer_page(content, state, decision, link=LINK).content)
    banners = [words(one) for one in page.xpath("//*[@role='status']")]
    printed = print_text(offer_pdf(content, state, decision)).replace("\u00a0", " ")
    if state == "issued":
        assert banners == []
        assert not any(one in printed for one in BANNERS.values())
    else:
        assert BANNERS[state] in banners[0].replace("\u00a0", " ")
        assert BANNERS[state] in printed


@pytest.mark.parametrize("state", STATES)
def test_only_an_open_offer_can_be_decided_on_and_only_through_its_link(
    state: QuotationState,
) -> None:
    content = content_in(state)
    decision = decision_in(state, content)
    without = offer_page(content, state, decision)
    assert "<form" not in without.content
    assert "form-action 'none'" in without.policy
    made = offer_page(content, state, decision, link=LINK)
    forms = parsed(made.content).forms
    if state != "issued":
        assert forms == []
        return
    assert "form-action 'self'" in made.policy
    assert [one.action for one in forms] == [f"{LINK}/acceptance"] * 2 + [f"{LINK}/decline"]
    assert all(one.method == "POST" for one in forms)


def test_the_forms_send_the_fields_that_a_decision_has() -> None:
    *accepting, declining = parsed(offer_page(two_ways(), "issued", None, link=LINK).content).forms
    for form, one in zip(accepting, two_ways().alternates, strict=True):
        assert set(form.fields) == {"alternate", "options", "name"}
        assert form.fields["alternate"] == one.id
        boxes = form.xpath(".//input[@type='checkbox']")
        assert [box.get("value") for box in boxes] == [option.id for option in one.offer.options]
        assert not any(box.checked for box in boxes)
    assert set(declining.fields) == {"name", "reason"}
    for form in (*accepting, declining):
        (name,) = form.xpath(".//input[@name='name']")
        assert "required" in name.attrib
        labels = [words(one) for one in form.iter("label")]
        assert "Your full name" in labels


def test_a_draft_is_marked_and_has_no_number() -> None:
    content = msgspec.structs.replace(two_ways(), **DRAFT)
    page = parsed(offer_page(content, "draft", None).content)
    assert words(next(page.iter("h1"))) == "Quotation"
    text = print_text(offer_pdf(content, "draft", None))
    assert "DRAFT" in text
    assert "Q-2026" not in text
    assert "DRAFT" not in print_text(offer_pdf(two_ways(), "issued", None))


def test_a_change_order_says_what_it_changes() -> None:
    (one,) = one_way().alternates
    content = content_of(one, kind="change_order", number="Q-18", changes="Q-2026-0017")
    for text in (
        words(parsed(offer_page(content, "issued", None).content)),
        print_text(offer_pdf(content, "issued", None)),
    ):
        assert "Change order Q-18" in text
        assert "Changes quotation Q-2026-0017" in text


def test_the_page_runs_nothing_and_loads_nothing() -> None:
    for made in (
        offer_page(two_ways(), "issued", None, link=LINK),
        confirmation_page(two_ways(), "thin", (), "R", link=LINK),
    ):
        (style,) = re.findall(r"<style>(.*?)</style>", made.content, re.DOTALL)
        digest = b64encode(sha256(style.encode()).digest()).decode()
        assert f"default-src 'none'; style-src 'sha256-{digest}'" in made.policy
        page = parsed(made.content)
        assert not list(page.iter("script", "link", "img", "iframe", "object", "base"))
        for element in page.iter():
            assert "style" not in element.attrib
            assert not any(name.startswith("on") for name in element.attrib)
            for name in ("src", "href", "action"):
                assert element.get(name, "#").startswith(("#", LINK))


def test_ids_are_unique_though_each_alternate_has_its_drawings() -> None:
    page = parsed(offer_page(two_ways(), "issued", None, link=LINK).content)
    ids = [one.get("id") for one in page.iter() if one.get("id")]
    assert len(ids) == len(set(ids)) > 20
    named = [one for one in page.iter() if one.get("aria-labelledby")]
    assert len(named) == 4
    for one in named:
        assert set(one.get("aria-labelledby").split()) <= set(ids)
    text = offer_page(two_ways(), "issued", None).content
    assert set(re.findall(r"url\(#([^)]+)\)", text)) <= set(ids)


@pytest.mark.parametrize(
    ("alternate", "options", "pointer"),
    [
        ("third", (), "/alternate"),
        (None, (), "/alternate"),
        ("thin", ("stripe", "roof"), "/options/1"),
        ("thin", ("stripe", "stripe"), "/options/1"),
    ],
)
def test_what_cannot_be_accepted_is_refused_at_its_field(
    alternate: str | None, options: tuple[str, ...], pointer: str
) -> None:
    with pytest.raises(InvalidInput) as refused:
        confirmation_page(two_ways(), alternate, options, "R. Tide", link=LINK)
    assert [one.pointer for one in refused.value.faults] == [pointer]


def test_one_alternate_needs_no_choice() -> None:
    page = confirmation_page(one_way(), None, (), "R. Tide", link=LINK).content
    assert 'name="alternate" value="broadcast"' in page


def _costs(document: EstimateDocument) -> Iterator[Decimal]:
    """What the work costs, as far as a figure is peculiar enough to be recognised."""
    price = document.price
    whole = (price.direct_cost, price.contingency, price.overhead, price.cost)
    yield from (one.amount for one in whole)
    for line in price.lines:
        yield line.amount.amount
        yield Decimal(line.unit_cost.amount)
    for purchase in document.materials.purchases:
        yield from (pack.amount.amount for pack in purchase.packs)


_COST_WORDS = re.compile(
    r"\b(margin|markup|overhead|wages?|contingency|direct cost|unit cost|labou?r cost|margen|"
    r"gastos generales|salario)\b",
    re.IGNORECASE,
)


@pytest.mark.parametrize("tag", ["en-US", "es-ES"])
def test_no_form_of_the_offer_tells_a_cost(tag: str) -> None:
    content = one_way() if tag == "en-US" else spanish(one_way(), tag)
    _, document = estimated()
    forms = {
        "page": offer_page(content, "issued", None, link=LINK).content,
        "print": print_text(offer_pdf(content, "issued", None)),
        "table": offer_lines_csv(content),
        "linked data": offer_json_ld(content).decode(),
    }
    shown = {str(one) for each in content.alternates for one in _amounts(each.offer)}
    writer = writer_of(tag, "UTC")
    looked_for = 0
    for cost in set(_costs(document)):
        if cost < 10 or cost == int(cost) or f"{cost:.2f}" in shown:
            continue
        looked_for += 1
        written = {f"{cost:f}", f"{cost:.2f}", writer.number(cost, 4)}
        for name, text in forms.items():
            found = [
                one for one in written if re.search(rf"(?<![\d.,]){re.escape(one)}(?!\d)", text)
            ]
            assert not found, (name, found)
    assert looked_for > 20
    for name, text in forms.items():
        assert not _COST_WORDS.search(re.sub(r"<style>.*?</style>", "", text, flags=re.DOTALL)), (
            name
        )


def _amounts(value: Any) -> Iterator[Decimal]:
    if isinstance(value, Decimal):
        yield value
    elif isinstance(value, tuple):
        for one in value:
            yield from _amounts(one)
    elif isinstance(value, msgspec.Struct):
        yield from _amounts(tuple(getattr(value, name) for name in value.__struct_fields__))


def test_a_caution_is_told_once_with_the_sources_of_all_alternates() -> None:
    first, second = two_ways().alternates

    def hazard(source: str) -> Caution:
        return Caution(
            code="demo-hazard", title="Keep out", detail="Until it has cured.", source=source
        )

    one, other = hazard("Demo rule 1; Demo rule 12"), hazard("Demo rule 1")
    third = hazard("Demo guide, part 2")
    content = msgspec.structs.replace(
        two_ways(),
        alternates=(
            msgspec.structs.replace(first, cautions=(other, third)),
            msgspec.structs.replace(second, cautions=(one,)),
        ),
    )
    (shown,) = offer_shown(content, "issued", None).cautions
    assert shown.applies_to == ""
    assert shown.source == "Demo guide, part 2; Demo rule 1; Demo rule 12"


@pytest.mark.parametrize(
    ("agreed", "said"),
    [
        ("4000.00", ("Agreed so far $4,000.00", "In all with this change $3,900.00")),
        (None, ()),
    ],
)
def test_a_change_order_says_what_is_owed_in_all(agreed: str | None, said: tuple[str, ...]) -> None:
    (one,) = one_way().alternates
    usd = Currency("USD")
    offer = msgspec.structs.replace(one.offer, total=Money(Exact("-100.00"), usd), options=())
    content = content_of(
        msgspec.structs.replace(one, offer=offer),
        kind="change_order",
        changes="Q-2026-0017",
        agreed_total=None if agreed is None else Money(Exact(agreed), usd),
    )
    page = words(parsed(offer_page(content, "issued", None).content))
    printed = print_text(offer_pdf(content, "issued", None))
    for text in (page, printed):
        assert all(each in text for each in said)
        assert said or "Agreed so far" not in text
