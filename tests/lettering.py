"""Drawings in a real browser: what of their lettering lies over other lettering or off the sheet."""

import json
import re
from html import unescape
from pathlib import Path
from typing import Any

import browser

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
