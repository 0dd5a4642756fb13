"""What the crew takes along: all of the sheets, in the order of the days, and no price."""

import re
from collections.abc import Iterator
from decimal import Decimal
from typing import Any

import msgspec
import pytest
from document_cases import catalogue, estimated, request_of
from document_readings import parsed, print_text, words

from filmbuild.edge.encoding import encode
from filmbuild.pipeline.estimate import estimate_document
from filmbuild.pipeline.papers import loading_list_document, mixing_sheet_document
from filmbuild.pipeline.requests import SheetRequest
from filmbuild.quotations.documents.job_pack import JobPack, job_pack
from filmbuild.quotations.documents.languages import read
from filmbuild.quotations.documents.pages import job_pack_page
from filmbuild.quotations.documents.pdf import job_pack_pdf


def pack_of(system: str = "harbour-broadcast", units: str = "us") -> JobPack:
    request, document = estimated(system, units)
    return job_pack(request, document, catalogue())


def test_the_days_have_every_hour_of_the_work_in_order() -> None:
    _, document = estimated()
    pack = pack_of()
    assert [day.date for day in pack.days] == [day.date for day in document.schedule.days]
    assert [day.people for day in pack.days] == [day.people for day in document.schedule.days]
    found: dict[str, list[Any]] = {}
    for day in pack.days:
        starts = [one.start for one in day.activities]
        assert starts == sorted(starts)
        assert all(one.start.date() == day.date for one in day.activities)
        for one in day.activities:
            found.setdefault(one.id, []).append(one)
    assert list(found) == [one.activity for one in document.schedule.activities]
    for planned in document.schedule.activities:
        pieces = found[planned.activity]
        assert abs((pieces[0].start - planned.start).total_seconds()) < 1
        assert abs((pieces[-1].finish - planned.finish).total_seconds()) < 1
        assert [one.goes_on for one in pieces] == [True] * (len(pieces) - 1) + [False]


def test_work_over_several_days_stands_on_each_of_them() -> None:
    site = {
        "name": "Demo hall",
        "areas": [
            {"id": "hall", "outline": {"kind": "rectangle", "length": "20 m", "width": "20 m"}}
        ],
    }
    request = request_of("harbour-thin-film", "si", site)
    pack = job_pack(request, estimate_document(request, catalogue()), catalogue())
    lasting = [one for day in pack.days for one in day.activities if one.goes_on]
    assert lasting
    text = words(parsed(job_pack_page(pack, "en").content))
    assert text.count("(goes on the next day)") == len(lasting)


def test_the_sheets_are_those_that_stand_alone() -> None:
    request, document = estimated()
    asked = SheetRequest(units=request.units, site=request.site, job=request.job)
    pack = pack_of()
    assert pack.mixing_sheet == mixing_sheet_document(asked, catalogue()).sheet
    alone = loading_list_document(asked, catalogue()).loading_list
    packs = [item for stage in alone.stages for item in stage.items if item.kind == "pack"]
    mine = [item for stage in pack.loading_list.stages for item in stage.items]
    assert [one for one in mine if one.kind == "pack"] == packs
    days = {one.equipment: one.days for one in document.schedule.equipment}
    assert {one.id: one.days for one in mine if one.kind == "machine"} == days
    assert pack.cautions == document.cautions


@pytest.mark.parametrize("code", ["en", "es"])
def test_page_and_print_have_all_that_is_loaded_mixed_and_warned_of(code: str) -> None:
    pack, language = pack_of(), read(code)
    page = words(parsed(job_pack_page(pack, code).content))
    printed = print_text(job_pack_pdf(pack, code))
    for text in (page, printed):
        for stage in pack.loading_list.stages:
            for item in stage.items:
                assert item.name in text
        for coat in pack.mixing_sheet.coats:
            assert coat.product_name in text
        for caution in pack.cautions:
            assert language.said(caution.title) in text
            assert caution.source in text
        for day in pack.days:
            for one in day.activities:
                assert language.said(one.name) in text
    rows = parsed(job_pack_page(pack, code).content).xpath("//div[@class='wide']//tbody/tr")
    assert len(rows) == sum(len(coat.mixes) for coat in pack.mixing_sheet.coats)


def test_limits_of_time_are_rounded_down() -> None:
    pack = pack_of()
    rows = parsed(job_pack_page(pack, "en").content).xpath("//div[@class='wide']//tbody/tr")
    mixes = [mix for coat in pack.mixing_sheet.coats for mix in coat.mixes]
    for row, mix in zip(rows, mixes, strict=True):
        within = float(words(row.xpath("./td/strong")[0]))
        limit = (mix.down_by - mix.starts_at) / 60
        assert limit - 1 < within <= limit + 1e-6


def test_spanish_figures_have_the_decimals_of_the_region() -> None:
    text = job_pack_page(pack_of(), "es-ES").content
    other = job_pack_page(pack_of(), "es-MX").content
    amount = re.findall(r'class="figure">(\d+,\d+)\u00a0gal', text)
    assert amount
    assert [one.replace(",", ".") for one in amount] == re.findall(
        r'class="figure">(\d+\.\d+)\u00a0gal', other
    )


def _keys(value: Any) -> Iterator[str]:
    if isinstance(value, dict):
        for key, one in value.items():
            yield key
            yield from _keys(one)
    elif isinstance(value, list):
        for one in value:
            yield from _keys(one)


def test_no_price_is_in_it() -> None:
    _, document = estimated()
    pack = pack_of()
    data = encode(pack, "us")
    keys = set(_keys(msgspec.json.decode(data)))
    assert not any(re.search("price|cost|amount|currency|rate$|paid", key) for key in keys), keys
    price = document.price
    figures: set[Decimal] = {price.net.amount, price.total.amount}
    for line in price.lines:
        figures |= {line.amount.amount, line.unit_cost.amount}
    texts = (
        job_pack_page(pack, "en").content,
        print_text(job_pack_pdf(pack, "en")),
        data.decode(),
    )
    looked_for = 0
    for figure in figures:
        if figure > 20 and figure != int(figure) and figure.as_tuple().exponent in (-2, -3):
            looked_for += 1
            for text in texts:
                assert not re.search(rf"(?<![\d.]){figure:f}(?!\d)", text), figure
    assert looked_for > 15
    for text in texts:
        assert "USD" not in text
        assert "$" not in text


def test_print_is_dated_with_the_first_day_of_work() -> None:
    pack = pack_of()
    made = job_pack_pdf(pack, "en")
    assert made == job_pack_pdf(pack, "en")
    later = msgspec.structs.replace(pack, first_day=pack.first_day.replace(day=16))
    assert made != job_pack_pdf(later, "en")
