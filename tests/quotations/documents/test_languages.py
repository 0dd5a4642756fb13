"""Both languages are whole: every label, every caution, every word of drawings and charts."""

import json
import re
from datetime import timedelta
from pathlib import Path
from string import Formatter
from xml.etree import ElementTree as ET

import drawing_cases
import pytest
import timeline_cases
from document_cases import (
    DECLINED,
    STUDIO,
    accepted,
    catalogue,
    content_of,
    estimated,
    one_way,
    request_of,
    spanish,
    two_ways,
)
from document_readings import print_text
from drawing_cases import SVG, Drawn

from filmbuild.errors import FilmbuildError
from filmbuild.pipeline.cautions.common import DEFERS
from filmbuild.pipeline.estimate import estimate_document
from filmbuild.pipeline.labour.sequence import NAMES
from filmbuild.pipeline.timeline import schedule_chart
from filmbuild.pipeline.trace import Caution
from filmbuild.quotations.documents import pages
from filmbuild.quotations.documents.figures import figure
from filmbuild.quotations.documents.job_pack import job_pack
from filmbuild.quotations.documents.job_pack_view import pack_shown
from filmbuild.quotations.documents.languages import available, language_of, read
from filmbuild.quotations.documents.offer_view import offer_shown
from filmbuild.quotations.documents.pages import offer_page
from filmbuild.quotations.documents.pdf import offer_pdf
from filmbuild.quotations.documents.writer import writer_of

SAME = frozenset(("choice_of", "total"))
"""Labels that are the same words, or no words."""


def holes(text: str) -> set[str]:
    return {name for _, name, _, _ in Formatter().parse(text) if name}


def test_there_are_english_and_spanish() -> None:
    assert available() == ("en", "es")
    assert language_of("es-MX").code == "es"
    assert language_of("EN").code == language_of("fr").code == language_of("x").code == "en"


def test_every_label_is_in_every_language_with_the_same_holes() -> None:
    english = read("en").labels
    for code in available():
        labels = read(code).labels
        assert list(labels) == list(english)
        for key, text in labels.items():
            assert text.strip() == text != ""
            assert holes(text) == holes(english[key]), key


def test_spanish_labels_are_not_english_ones() -> None:
    english, other = read("en").labels, read("es").labels
    same = {key for key in english if english[key] == other[key]}
    assert same == SAME


def test_phrases_keep_what_fills_their_holes() -> None:
    for phrase in read("es").phrases:
        assert holes(phrase.said) == holes(phrase.english), phrase.english
    assert len({one.english for one in read("es").phrases}) == len(read("es").phrases)


def test_every_label_is_used() -> None:
    folder = Path(pages.__file__).parent
    files = [*folder.glob("*.py"), *folder.glob("templates/*"), *folder.glob("typst/*")]
    source = "\n".join(one.read_text() for one in files)
    made = (
        "offer",
        "change_order",
        "state_",
        "occasion_",
        "stage_",
        "kind_",
        "people_",
        "machine_days_",
        "due_days_",
    )
    for key in read("en").labels:
        if key.startswith(made) or key.endswith(("_means", "_by")):
            continue
        assert re.search(rf"\bt\.{key}\b|\"{key}\"|'{key}'", source) is not None, key


def _cautions() -> set[Caution]:
    """Of every system of the demo, on good concrete and on bad, with and without readings."""
    found: set[Caution] = set()
    bare = {key: value for key, value in STUDIO["site"].items() if key != "substrate"}
    wet = {
        **bare,
        "substrate": {"moisture": [{"emission": "9 lb/1000ft2/24h"}], "profile": 9, "age_days": 3},
    }
    for system in catalogue().systems:
        for site in (STUDIO["site"], bare, wet):
            try:
                document = estimate_document(request_of(system, "us", site), catalogue())
            except FilmbuildError:
                continue
            found.update(document.cautions)
    return found


def test_every_caution_is_said_in_spanish_and_keeps_its_source() -> None:
    language, found = read("es"), _cautions()
    assert {one.code for one in found} >= {
        "respirable-silica",
        "silica-in-materials",
        "isocyanate",
        "flammable-liquid",
        "skin-sensitiser",
        "exotherm",
        "slip-resistance",
        "moisture-not-measured",
        "moisture-limit-exceeded",
        "profile-out-of-range",
        "profile-not-stated",
        "young-concrete",
    }
    for one in found:
        assert language.said(one.title) != one.title, one.title
        said = language.said(one.detail)
        assert said != one.detail, one.detail
        assert DEFERS not in said
        assert "ficha de datos de seguridad" in said, said
        figures = re.findall(r"\d+", one.detail)
        assert all(figure in said for figure in figures), (one.detail, said)


def test_every_task_is_named_in_spanish() -> None:
    language = read("es")
    for name in NAMES.values():
        assert language.said(name) != name
        assert language.said(f"{name.replace(',', '')}, Top").endswith(", Top"), name


def _letters(svg: str) -> set[str]:
    root = ET.fromstring(svg)  # noqa: S314 - written here, a moment ago
    return {one.text or "" for one in root.iter() if one.tag in (f"{SVG}text", f"{SVG}desc")}


_ENGLISH = re.compile(
    r"\b(wall|joint|joints|edge|area|areas|floor|crack|cracks|count|walls|wide|exit|level|order|"
    r"work|follows|waits|until|closed|vehicle|foot|traffic|shift|hours|keep|what|where|not|drains|"
    r"pits|vacuum|mask|grind|abrade|demobilise|start|finish|Mon|Tue|Wed|Thu|Jan|Apr|Aug|Dec)\b",
    re.IGNORECASE,
)


@pytest.mark.parametrize("name", drawing_cases.SITES)
def test_drawings_are_lettered_in_spanish(name: str) -> None:
    drawn = Drawn(drawing_cases.SITES[name], "us")
    names = {drawn.takeoff.site, *(one.name for one in drawn.takeoff.areas)}
    shown = _letters(figure(drawn.text, "p-", "Dibujo", writer_of("es", "UTC")).svg)
    was = _letters(drawn.text)
    left = {one for one in shown & was if _ENGLISH.search(one)}
    given = {one for one in left if any(one.rstrip("\u2026") in name for name in names)}
    assert left - given == set()


@pytest.mark.parametrize("name", ["studio", "three weeks", "in sections", "one day a week"])
def test_charts_are_lettered_in_spanish(name: str) -> None:
    document = timeline_cases.case(name)
    layers = {one.name for one in document.materials.coats}
    shown = figure(schedule_chart(document), "p-", "Días", writer_of("es", "UTC")).svg
    said = _letters(shown) - {document.takeoff.site}
    left = []
    for one in said:
        bare = one
        for layer in layers:
            bare = bare.replace(layer, "")
        if _ENGLISH.search(bare):
            left.append(one)
    assert left == []


def test_figures_of_drawings_have_the_decimals_of_the_language() -> None:
    request, document = estimated()
    pack = job_pack(request, document, catalogue())
    for tag, sign in (("es-ES", ","), ("es-MX", "."), ("en", ".")):
        shown = figure(pack.drawing, "p-", "", writer_of(tag, "UTC")).svg
        assert f"723{sign}1 ft\u00b2" in shown


def test_reasons_of_the_plan_are_said_in_spanish() -> None:
    request, document = estimated()
    shown = pack_shown(job_pack(request, document, catalogue()), "es")
    english = re.compile(r"\b(follows|waits|until|then|starts|shift)\b")
    reasons = [one.why for day in shown.days for one in day.activities]
    assert len(reasons) > 20
    assert [one for one in reasons if english.search(one)] == []
    assert any("espera al repintado de Parcheo de desconchados hasta" in one for one in reasons)


@pytest.mark.parametrize("state", ["draft", "issued", "accepted", "declined", "expired"])
def test_nothing_of_the_page_stays_english(state: str) -> None:
    """But for names, and what the catalogue and the caller say."""
    content = spanish(two_ways())
    decision = {"accepted": accepted(content), "declined": DECLINED}.get(state)
    shown = offer_shown(content, state, decision)  # type: ignore[arg-type]  # one of the states
    text = json.dumps(
        [shown.banner and shown.banner.title, [one.label for one in shown.facts], shown.kind]
    )
    english = {text for key, text in read("en").labels.items() if text != read("es")[key]}
    assert not any(f'"{one}"' in text for one in english)
    page = offer_page(content, "issued", None, link="/o").content
    assert '<html lang="es-ES">' in page
    assert not any(f">{one}<" in page for one in english)


def test_print_in_spanish_says_what_the_page_says() -> None:
    content = spanish(one_way())
    text = print_text(offer_pdf(content, "expired", None))
    for words in (
        "Ya no es válido: ha vencido el plazo",
        "Se podía aceptar hasta el 3 de junio de 2026.",
        "Primer día de trabajo lunes, 15 de junio de 2026",
        "Qué no está incluido",
        "Página 1 de",
    ):
        assert words in text


@pytest.mark.parametrize("office", ["America/New_York", "UTC", "Asia/Tokyo"])
def test_the_floor_opens_by_the_clock_of_the_site_and_never_too_early(office: str) -> None:
    """As the chart beside it has it, wherever the seller's office is: seconds go up."""
    (one,) = one_way().alternates
    page = offer_page(content_of(one, time_zone=office), "issued", None).content
    for title, opens in (
        ("May be walked on from", one.dates.foot_traffic_from),
        ("May be driven on from", one.dates.vehicle_traffic_from),
        ("Fully cured", one.dates.full_cure_at),
    ):
        assert opens is not None
        assert opens.second
        said = opens.replace(second=0, microsecond=0) + timedelta(minutes=1)
        text = said.strftime("%A, %B %-d, %Y, %-I:%M\u00a0%p")
        assert re.search(rf"<dt>{title}</dt>\s*<dd[^>]*>{text}</dd>", page)
        assert said.strftime("%a %-d %b %H:%M") in one.chart


def test_an_unknown_language_is_answered_in_english_and_says_so() -> None:
    (one,) = one_way().alternates
    page = offer_page(content_of(one, language="fr-CA"), "issued", None).content
    assert '<html lang="en">' in page
    assert "May 4, 2026" in page
