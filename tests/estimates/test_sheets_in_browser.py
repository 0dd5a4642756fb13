"""The pages in a real browser, at the width of their paper: nothing runs out of them."""

import json
import re
from html import unescape
from pathlib import Path
from typing import Any

import browser
import pytest
from sheet_cases import CATALOGUE, request

from filmbuild.estimates.sheets import SIZES, Paper, loading_page, mixing_page
from filmbuild.pipeline.papers import loading_list_document, mixing_sheet_document

MEASURE = """<pre id="found"></pre><script>
window.onload = () => {
  const body = document.body, edge = body.getBoundingClientRect().right;
  const outside = [...document.querySelectorAll("th, td, p, li")].filter(one =>
    one.scrollWidth > one.clientWidth + 1 || one.getBoundingClientRect().right > edge + 1);
  const headed = [...document.querySelectorAll("table")].filter(one =>
    getComputedStyle(one.tHead).display === "table-header-group");
  const whole = [...document.querySelectorAll("tbody tr")].filter(one =>
    getComputedStyle(one).breakInside === "avoid");
  document.getElementById("found").textContent = JSON.stringify({
    outside: outside.map(one => one.textContent.trim()),
    width: body.getBoundingClientRect().width, scroll: body.scrollWidth,
    tables: document.querySelectorAll("table").length, headed: headed.length,
    rows: document.querySelectorAll("tbody tr").length, whole: whole.length});
};
</script>"""


def measured(text: str, folder: Path, width: str) -> dict[str, Any]:
    """As wide as the printed part of the sheet: the margins of the paper are 12 mm a side."""
    narrow = f"<style>body {{ width: calc({width} - 24mm); padding: 0 }}</style>"
    page = folder / "page.html"
    page.write_text(text.replace("</body>", f"{narrow}{MEASURE}</body>"), encoding="utf-8")
    document, console = browser.shown(page, folder / "profile")
    assert console == []
    found = re.search(r'<pre id="found">(.*?)</pre>', document, re.DOTALL)
    assert found is not None
    answer: dict[str, Any] = json.loads(unescape(found[1]))
    return answer


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_nothing_is_wider_than_the_paper(paper: Paper, tmp_path: Path) -> None:
    _, short, long = SIZES[paper]
    asked = request()
    mixing = mixing_page(mixing_sheet_document(asked, CATALOGUE), paper, "us").content
    loading = loading_page(loading_list_document(asked, CATALOGUE), paper, "us").content
    for text, width in ((mixing, long), (loading, short)):
        found = measured(text, tmp_path, width)
        assert found["outside"] == []
        assert found["scroll"] <= found["width"] + 1
        assert found["headed"] == found["tables"] > 3
        assert found["whole"] == found["rows"] > 10


def test_what_is_too_wide_would_be_seen(tmp_path: Path) -> None:
    text = mixing_page(mixing_sheet_document(request(), CATALOGUE), "a4", "us").content
    wide = text.replace(
        '<td class="clock"></td>', '<td class="clock figure">00000000000000000</td>', 1
    )
    assert len(measured(wide, tmp_path, SIZES["a4"][2])["outside"]) == 1
