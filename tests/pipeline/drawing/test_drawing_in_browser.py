"""The drawing in a real browser: it opens there, and nothing is lettered over anything else."""

import json
import re
from html import unescape
from pathlib import Path
from typing import Any

import browser
from drawing_cases import SITES, Drawn, room

from filmbuild.quantities import UnitSystem

UNITS: tuple[UnitSystem, ...] = ("si", "us")
PAGE = """<!doctype html><meta charset="utf-8"><title>Drawings</title>{drawings}
<pre id="found"></pre><script>
const MILLIMETRE = 96 / 25.4, SHARED = 0.3 * MILLIMETRE, FRAME = 6 * MILLIMETRE;
function boxes(svg) {{
  return [...svg.querySelectorAll("text")].map(one => [one, one.getBoundingClientRect()]);
}}
function overlapping(texts) {{
  const found = [];
  texts.forEach(([one, box], index) => texts.slice(index + 1).forEach(([other, next]) => {{
    const across = Math.min(box.right, next.right) - Math.max(box.left, next.left);
    const down = Math.min(box.bottom, next.bottom) - Math.max(box.top, next.top);
    if (across > SHARED && down > SHARED) found.push(one.textContent + " | " + other.textContent);
  }}));
  return found;
}}
function outside(svg, texts) {{
  const sheet = svg.getBoundingClientRect();
  return texts.filter(([, box]) => box.left < sheet.left + FRAME || box.right > sheet.right - FRAME
    || box.top < sheet.top + FRAME || box.bottom > sheet.bottom - FRAME)
    .map(([one]) => one.textContent);
}}
window.onload = () => {{
  const found = {{}};
  document.querySelectorAll("div").forEach(one => {{
    const svg = one.querySelector("svg"), image = one.querySelector("img"), texts = boxes(svg);
    found[one.id] = {{texts: texts.length,
      narrowest: Math.min(...texts.map(([, box]) => box.width)), overlapping: overlapping(texts),
      outside: outside(svg, texts), width: image.naturalWidth}};
  }});
  document.getElementById("found").textContent = JSON.stringify(found);
}};
</script>
"""
CROWDED: dict[str, Any] = {
    "name": "Fifty stores of a market hall, each with a name that is longer than it is wide",
    "areas": [
        room(
            f"store-{number}",
            f"{2 + number % 3} m",
            "3 m",
            f"{number % 10 * 5} m",
            f"{number // 10 * 3.5} m",
            name=f"Store {number} of the fishmongers",
        )
        for number in range(50)
    ],
}


def found_in(
    drawings: dict[str, str], folder: Path, **files: str
) -> tuple[dict[str, Any], list[str]]:
    """`files` are the images of drawings whose image is another than what is on the page."""
    shown = []
    for name, text in drawings.items():
        (folder / f"{name}.svg").write_text(files.get(name, text), encoding="utf-8")
        shown.append(f'<div id="{name}">{text}<img src="{name}.svg" alt=""></div>')
    page = folder / "page.html"
    page.write_text(PAGE.format(drawings="".join(shown)), encoding="utf-8")
    document, console = browser.shown(page, folder / "profile")
    answer = re.search(r'<pre id="found">(.*?)</pre>', document, re.DOTALL)
    assert answer is not None, document[-500:]
    found: dict[str, Any] = json.loads(unescape(answer[1]))
    return found, console


def test_a_browser_shows_it_without_lettering_over_lettering(tmp_path: Path) -> None:
    sites = SITES | {"crowded": CROWDED}
    drawings = {
        f"{name}-{units}": Drawn(site, units).text
        for name, site in sites.items()
        for units in UNITS
    }
    found, console = found_in(drawings, tmp_path)
    assert console == []
    assert found.keys() == drawings.keys()
    for name, one in found.items():
        assert one["texts"] > 10, name
        assert one["narrowest"] > 0.5, "the browser has no font to show text in"
        assert one["width"] > 0, f"{name}.svg is no image"
        assert one["overlapping"] == [], name
        assert one["outside"] == [], name


def test_what_is_wrong_would_be_seen(tmp_path: Path) -> None:
    text = Drawn(SITES["rectangle"]).text
    twice = re.sub(r"(<text [^>]*>[^<]*</text>)", r"\1\1", text, count=1)
    beside = text.replace('x="12"', 'x="-12"', 1)
    noisy = f"{text}<script>console.error('heard')</script>"
    drawings = {"twice": twice, "beside": beside, "broken": text, "noisy": noisy}
    found, console = found_in(drawings, tmp_path, broken="<svg><g></svg>")
    assert len(console) == 1
    assert "heard" in console[0]
    assert len(found["twice"]["overlapping"]) == 1
    assert len(found["beside"]["outside"]) == 1
    assert found["beside"]["width"] > 0
    assert found["broken"]["width"] == 0
