"""Drawings that stand in a page: nothing active in them, and ids that are theirs alone."""

import re

import pytest
from document_cases import one_way

from filmbuild.quotations.documents.figures import figure
from filmbuild.quotations.documents.writer import writer_of

ENGLISH = writer_of("en", "UTC")
ACTIVE = (
    '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
    'viewBox="0 0 10 20" onload="alert(1)" aria-labelledby="a b">'
    "<title id='a'>A</title><desc id='b'>B</desc><!-- a comment -->"
    "<script>alert(2)</script><foreignObject><body/></foreignObject>"
    '<a xlink:href="javascript:alert(3)"><text>link</text></a><image href="http://x.invalid/"/>'
    '<g style="fill:red" onclick="alert(4)"><rect id="r" fill="url(#p)" width="1" height="1"/></g>'
    "</svg>"
)


def test_what_acts_is_left_out() -> None:
    made = figure(ACTIVE, "one-", "Title", ENGLISH)
    for word in ("script", "alert", "foreignObject", "href", "image", "style", "<a", "comment"):
        assert word not in made.svg, word
    assert 'id="one-r"' in made.svg
    assert 'fill="url(#one-p)"' in made.svg
    assert 'aria-labelledby="one-a one-b"' in made.svg
    assert (made.width, made.height) == (10.0, 20.0)


@pytest.mark.parametrize("kind", ["drawing", "chart"])
def test_english_drawings_keep_every_line_and_word(kind: str) -> None:
    (one,) = one_way().alternates
    svg = getattr(one, kind)
    made = figure(svg, "p-", "Title", ENGLISH).svg
    for tag in ("path", "rect", "circle", "text", "title", "desc", "pattern", "clipPath"):
        assert made.count(f"<{tag}") == svg.count(f"<{tag}"), tag
    assert re.findall(r"<text[^>]*>([^<]*)", made) == re.findall(r"<text[^>]*>([^<]*)", svg)
    assert re.findall(r' d="[^"]*"', made) == re.findall(r' d="[^"]*"', svg)


def test_longer_words_are_lettered_smaller() -> None:
    (one,) = one_way().alternates
    size = r'<text[^>]*font-size="([\d.]+)"[^>]*>{}<'
    was = re.search(size.format("Wash"), one.chart)
    made = figure(one.chart, "p-", "", writer_of("es", "UTC")).svg
    fits = re.search(size.format("Lavado"), made)
    long = re.search(size.format("Desbaste a m\u00e1quina y desbaste manual de bordes"), made)
    assert was is not None
    assert fits is not None
    assert long is not None
    assert fits[1] == was[1]
    assert float(long[1]) < float(was[1])
