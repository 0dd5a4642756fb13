"""Text that others wrote is shown as they wrote it, and is never markup."""

import io
from collections.abc import Iterator

import msgspec
import pypdf
import pytest
from document_cases import TEXTS, accepted, catalogue, content_of, estimated, one_way
from document_readings import parsed, print_text, words
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from filmbuild.quotations.content import Decision, QuotationContent
from filmbuild.quotations.documents.job_pack import job_pack
from filmbuild.quotations.documents.pages import confirmation_page, job_pack_page, offer_page
from filmbuild.quotations.documents.pdf import job_pack_pdf, offer_pdf

HOSTILE = (
    '#panic("hall")',
    "<script>alert(1)</script>",
    "*bold* _italic_ `code` $x^2$ \\ @label <label>",
    '#import "secret.typ": * // /* */ = Title',
    "{{ t.total }} {% block %}",
    "&amp; \"quoted\" 'single' </style></svg>",
    "1. list - item + item / term: x",
    "http://example.invalid/#a?b=c&d",
)
RIGHT_TO_LEFT = ("קומת הקרקע", "الطابق الأرضي")
LONG = "W" * 200


def written(content: QuotationContent, text: str) -> QuotationContent:
    """With the text wherever a caller may put one."""
    (one,) = content.alternates
    first, *rest = one.offer.lines
    offer = msgspec.structs.replace(
        one.offer,
        lines=(msgspec.structs.replace(first, description=text), *rest),
        options=tuple(
            msgspec.structs.replace(each, label=text, description=text)
            for each in one.offer.options
        ),
    )
    areas = tuple(msgspec.structs.replace(each, name=text) for each in one.areas)
    changed = msgspec.structs.replace(
        one, label=text, system=text, gains=(text,), areas=areas, offer=offer
    )
    buyer = msgspec.structs.replace(content.buyer, name=text)
    texts = msgspec.structs.replace(TEXTS, introduction=(text,), scope=(text,))
    return content_of(changed, buyer=buyer, texts=texts, site=text, reference=text)


def decided(content: QuotationContent, text: str) -> Decision:
    return msgspec.structs.replace(accepted(content), name=text)


@pytest.mark.parametrize("text", HOSTILE)
def test_markup_is_shown_literally(text: str) -> None:
    content = written(one_way(), text)
    page = offer_page(content, "accepted", decided(content, text)).content
    tree = parsed(page)
    assert words(tree).count(text) >= 9
    assert not list(tree.iter("script"))
    assert print_text(offer_pdf(content, "accepted", decided(content, text))).count(text) >= 9
    confirmed = parsed(confirmation_page(content, None, (), text, link="/o").content)
    (form,) = confirmed.forms
    assert form.fields["name"] == text


@pytest.mark.parametrize("text", RIGHT_TO_LEFT)
def test_other_directions_and_scripts_are_shown(text: str) -> None:
    content = written(one_way(), text)
    assert text in words(parsed(offer_page(content, "issued", None).content))
    made = offer_pdf(content, "issued", None)
    letters = set("".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(made)).pages))
    assert set(text) - {" "} <= letters


def test_a_sign_that_no_font_has_breaks_nothing() -> None:
    content = written(one_way(), "floor \U0001f600 done")
    assert "\U0001f600" in offer_page(content, "issued", None).content
    text = print_text(offer_pdf(content, "issued", None))
    assert "floor" in text
    assert "done" in text


def test_a_very_long_word_stays_on_the_paper() -> None:
    content = written(one_way(), LONG)
    made = offer_pdf(content, "issued", None)
    reader = pypdf.PdfReader(io.BytesIO(made))
    assert print_text(made).replace(" ", "").count(LONG) >= 3
    for page in reader.pages:
        wide = float(page.mediabox.width)
        assert all(0 <= x <= wide for x in _places(page))


def _places(page: pypdf.PageObject) -> Iterator[float]:
    """Where pieces of text begin and, nearly, where they end."""
    found: list[float] = []

    def visit(text: str, cm: list[float], tm: list[float], _font: object, size: float) -> None:
        if text.strip() and cm[0] * tm[0] > 0:
            x = tm[4] * cm[0] + cm[4]
            found.extend(
                (x, x + 0.4 * len(text.rsplit("\n", maxsplit=1)[-1].strip()) * size * cm[0] * tm[0])
            )

    page.extract_text(visitor_text=visit)
    return iter(found)


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1, max_size=120))
def test_any_text_makes_a_document(text: str) -> None:
    content = written(one_way(), text)
    assert offer_pdf(content, "issued", None).startswith(b"%PDF")
    tree = parsed(offer_page(content, "issued", None).content)
    (name,) = tree.xpath("(//header//strong)[2]")
    assert name.text == text


def test_a_job_pack_takes_no_markup_either() -> None:
    request, document = estimated()
    pack = job_pack(request, document, catalogue())
    text = HOSTILE[1]
    changed = msgspec.structs.replace(
        pack, site=text, reference=text, areas=dict.fromkeys(pack.areas, text)
    )
    tree = parsed(job_pack_page(changed, "en").content)
    assert not list(tree.iter("script"))
    assert words(tree).count(text) > 5
    assert print_text(job_pack_pdf(changed, "en")).count(text) > 5
