"""The drawing in a real browser: it opens there, and nothing is lettered over anything else."""

import re
from pathlib import Path
from typing import Any

from drawing_cases import SITES, Drawn, room
from lettering import found_in

from filmbuild.quantities import UnitSystem

UNITS: tuple[UnitSystem, ...] = ("si", "us")
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
