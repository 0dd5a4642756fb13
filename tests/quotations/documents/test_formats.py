"""The same figures in every form, and each form as its standard has it."""

import csv
import io
from decimal import Decimal
from itertools import pairwise
from typing import Any

import msgspec
import pypdf
import pytest
import typst
from document_cases import (
    accepted,
    alternate_of,
    catalogue,
    content_of,
    estimated,
    one_way,
    spanish,
    two_ways,
)
from document_readings import (
    VOCABULARY,
    Read,
    expanded,
    of_linked_data,
    of_page,
    of_table,
    parsed,
    print_text,
    tables,
    value,
    words,
)

from filmbuild.money import Currency, Money, parse_currency, rounded
from filmbuild.pipeline.offering import with_options
from filmbuild.quotations.content import QuotationContent
from filmbuild.quotations.documents.job_pack import job_pack
from filmbuild.quotations.documents.json_ld import offer_json_ld
from filmbuild.quotations.documents.languages import read
from filmbuild.quotations.documents.lines import offer_lines_csv
from filmbuild.quotations.documents.pages import confirmation_page, offer_page
from filmbuild.quotations.documents.pdf import job_pack_pdf, offer_pdf
from filmbuild.quotations.documents.writer import writer_of

LINES = read("en")["lines"]
PRESENTED = {
    "lump sum": content_of(alternate_of("a", "A", "harbour-broadcast", lines="lump_sum")),
    "by area": one_way(),
    "by work": content_of(alternate_of("a", "A", "harbour-broadcast", lines="by_work")),
    "two ways": two_ways(),
}


def stated(content: QuotationContent) -> list[Read]:
    """What the offers themselves say."""
    return [
        Read(
            lines=tuple((line.description, line.net.amount) for line in one.offer.lines),
            net=one.offer.net.amount,
            taxes=tuple(tax.amount.amount for tax in one.offer.taxes),
            total=one.offer.total.amount,
        )
        for one in content.alternates
    ]


@pytest.mark.parametrize("name", PRESENTED)
def test_lines_and_sums_are_the_same_everywhere_and_add_up(name: str) -> None:
    content = PRESENTED[name]
    expected = stated(content)
    for one in expected:
        one.check()
        assert one.taxes
    assert of_page(offer_page(content, "issued", None).content, LINES) == expected
    assert of_table(content) == expected
    assert of_linked_data(content) == expected


@pytest.mark.parametrize("tag", ["en-US", "es-ES", "es-MX"])
def test_print_has_every_line_and_sum_as_the_page_has_it(tag: str) -> None:
    content = msgspec.structs.replace(two_ways(), language=tag)
    writer = writer_of(tag, content.time_zone)
    text = print_text(offer_pdf(content, "issued", None)).replace("\u00a0", " ")
    for one in content.alternates:
        for line in one.offer.lines:
            assert line.description in text
            assert writer.money(line.net).replace("\u00a0", " ") in text
        assert writer.money(one.offer.total).replace("\u00a0", " ") in text
    for name in ("reference", "site"):
        assert getattr(content, name) in text
    for party in (content.seller, content.buyer):
        assert party.name in text


def test_spanish_figures_are_the_same_figures() -> None:
    content = spanish(two_ways())
    text = offer_page(content, "issued", None).content
    caption = read("es")["lines"]
    assert [(one.net, one.taxes, one.total) for one in of_page(text, caption, ",")] == [
        (one.net, one.taxes, one.total) for one in stated(content)
    ]


def test_options_are_in_no_sum_and_show_what_they_add() -> None:
    content = one_way()
    (one,) = content.alternates
    (table,) = tables(offer_page(content, "issued", None).content)[read("en")["options_caption"]]
    shown = {}
    for row in table.xpath("./tbody/tr"):
        name, net, adds = (words(cell) for cell in row)
        shown[name.split()[0]] = (net, adds)
    writer = writer_of("en-US", content.time_zone)
    assert len(shown) == 2
    for option in one.offer.options:
        more = with_options(one.offer, (option.id,)).total.amount - one.offer.total.amount
        assert shown[option.label.split()[0]] == (
            writer.money(option.net),
            writer.money(rounded(more, option.net.currency)),
        )
        assert option.label not in [name for name, _ in of_table(content)[0].lines]


def test_what_was_accepted_is_shown_with_its_options() -> None:
    content = two_ways()
    decision = accepted(content, ("stripe", "lockers"))
    chosen = with_options(content.alternates[1].offer, decision.options)
    other, shown = of_page(offer_page(content, "accepted", decision).content, LINES)
    shown.check()
    assert shown.total == chosen.total.amount > content.alternates[1].offer.total.amount
    assert other.total == content.alternates[0].offer.total.amount
    total = writer_of("en-US", "UTC").money(chosen.total)
    assert total in print_text(offer_pdf(content, "accepted", decision))


def test_payments_add_up_to_what_is_to_be_paid() -> None:
    content = one_way()
    for page, columns in (
        (offer_page(content, "issued", None).content, 3),
        (confirmation_page(content, None, ["stripe"], "R. Tide", link="/o").content, 1),
    ):
        (table,) = tables(page)[read("en")["payments_caption"]]
        rows = [
            [Decimal(words(cell).replace("$", "").replace(",", "")) for cell in row[1:]]
            for row in table.xpath("./tbody/tr")
        ]
        assert len(rows) == 4
        (read_back,) = of_page(page, LINES)
        sums = [sum(column) for column in zip(*rows, strict=True)]
        expected = [read_back.net, sum(read_back.taxes), read_back.total]
        assert sums == expected[-columns:]


def test_the_confirmation_sends_the_total_that_it_shows() -> None:
    content = two_ways()
    page = confirmation_page(content, "thin", ["lockers"], "R. Tide", link="/v1/offers/t").content
    (shown,) = of_page(page, LINES)
    shown.check()
    total = with_options(content.alternates[0].offer, ("lockers",)).total
    assert shown.total == total.amount
    assert f'name="total" value="{total.amount} USD"' in page
    assert 'name="alternate" value="thin"' in page
    assert 'name="options" value="lockers"' in page
    assert 'action="/v1/offers/t/acceptance"' in page


def test_the_table_is_rectangular_and_safe_for_spreadsheets() -> None:
    text = offer_lines_csv(two_ways())
    rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    assert len({len(row) for row in rows}) == 1
    assert all(line.endswith("\r\n") for line in text.splitlines(keepends=True))
    (one,) = one_way().alternates
    first, *rest = one.offer.lines
    bad = msgspec.structs.replace(first, description="=HYPERLINK(1)")
    offer = msgspec.structs.replace(one.offer, lines=(bad, *rest))
    content = content_of(msgspec.structs.replace(one, offer=offer))
    assert "'=HYPERLINK(1)" in offer_lines_csv(content)
    assert "-100.07" in offer_lines_csv(content).split(",")


def test_linked_data_names_the_offer_by_schema_org() -> None:
    whole = expanded(one_way())
    assert whole["@type"] == [f"{VOCABULARY}Offer"]
    assert value(whole, "identifier") == "Q-2026-0017"
    assert value(whole, "validThrough") == "2026-06-03"
    assert value(whole, "validFrom") == "2026-05-04"
    assert value(whole, "priceCurrency") == "USD"
    (seller,) = whole[f"{VOCABULARY}offeredBy"]
    assert value(seller, "name") == "Saltmarsh Floors (demo)"
    both = expanded(two_ways())
    assert both["@type"] == [f"{VOCABULARY}AggregateOffer"]
    assert value(both, "offerCount") == "2"
    low, high = value(both, "lowPrice"), value(both, "highPrice")
    assert Decimal(low) < Decimal(high)


def test_linked_data_speaks_of_vat_only_where_vat_is_taken() -> None:
    """schema.org, valueAddedTaxIncluded: a sales tax is none, and neither is no tax at all."""
    (one,) = one_way().alternates
    (tax,) = one.offer.taxes
    vat = msgspec.structs.replace(tax, scheme="vat")
    for taxes, said in (((tax,), []), ((), []), ((vat,), [True, False])):
        offer = msgspec.structs.replace(one.offer, taxes=taxes)
        text = offer_json_ld(content_of(msgspec.structs.replace(one, offer=offer)))
        price = msgspec.json.decode(text)["priceSpecification"]
        parts = [price, price["priceComponent"][0]]
        name = "valueAddedTaxIncluded"
        assert [part[name] for part in parts if name in part] == said
        assert text.count(name.encode()) == 0 or said


@pytest.mark.parametrize(
    ("code", "text"),
    [
        ("JPY", "\u00a5125"),
        ("USD", "$125.00"),
        ("KWD", "KWD\u00a0125.000"),
        ("EUR", "\u20ac125.00"),
    ],
)
def test_money_has_the_minor_units_of_its_currency(code: str, text: str) -> None:
    """ISO 4217: the yen has none, the dinar three."""
    currency = parse_currency(code)
    assert isinstance(currency, Currency)
    assert writer_of("en", "UTC").money(rounded(Decimal(125), currency)) == text


def test_a_unit_price_that_does_not_come_to_the_net_says_so() -> None:
    writer = writer_of("en", "UTC")
    net = Money(rounded(Decimal(100), Currency("USD")).amount, Currency("USD"))
    assert writer.unit_price(net, Decimal(8)) == "$12.50"
    assert writer.unit_price(net, Decimal(3)) == "about $33.33"


def test_print_is_tagged_named_and_in_its_language() -> None:
    reader = pypdf.PdfReader(io.BytesIO(offer_pdf(spanish(one_way()), "issued", None)))
    root: Any = reader.trailer["/Root"]
    assert root["/Lang"] == "es"
    assert root["/MarkInfo"]["/Marked"]
    assert "/StructTreeRoot" in root
    metadata = reader.metadata
    assert metadata is not None
    assert metadata.title == "Presupuesto Q-2026-0017"
    assert metadata.author == "Saltmarsh Floors (demo)"
    titles = [str(one["/Title"]) for one in reader.outline if not isinstance(one, list)]
    assert titles[0] == "Presupuesto Q-2026-0017"
    fonts = {
        str(font["/BaseFont"])
        for page in list[Any](reader.pages)
        for font in (one.get_object() for one in page["/Resources"]["/Font"].values())
    }
    assert fonts
    assert all("Libertinus" in one or "DejaVu" in one or "NewCM" in one for one in fonts)


@pytest.mark.parametrize("name", ["offer", "job_pack"])
def test_print_meets_pdf_ua(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """ISO 14289-1, as far as typst checks it: titles, language, alternative texts, headings."""
    compiled: Any = typst.compile
    asked = []

    def strictly(*given: Any, **more: Any) -> Any:
        asked.append(name)
        return compiled(*given, **more, pdf_standards="ua-1")

    monkeypatch.setattr(typst, "compile", strictly)
    if name == "offer":
        made = offer_pdf(spanish(two_ways()), "accepted", accepted(two_ways()))
    else:
        made = job_pack_pdf(job_pack(*estimated(), catalogue()), "en")
    assert b"pdfuaid" in made
    assert asked == [name]


def test_headings_do_not_skip_a_level() -> None:
    for content in (one_way(), two_ways()):
        text = offer_page(content, "issued", None, link="/o").content
        levels = [int(one[1]) for one in _heading_tags(text)]
        assert levels[0] == 1
        assert levels.count(1) == 1
        assert all(after <= before + 1 for before, after in pairwise(levels))


def _heading_tags(text: str) -> list[str]:
    return [one.tag for one in parsed(text).iter("h1", "h2", "h3", "h4")]
