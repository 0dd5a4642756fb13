"""The bar chart in a real browser: it opens there, and nothing is lettered over anything else."""

from pathlib import Path

from lettering import found_in
from timeline_cases import CASES, case

from filmbuild.pipeline.timeline import schedule_chart


def test_a_browser_shows_it_without_lettering_over_lettering(tmp_path: Path) -> None:
    charts = {
        name.replace(" ", "-").replace(",", ""): schedule_chart(case(name), f"chart-{index}-")
        for index, name in enumerate(CASES)
    }
    found, console = found_in(charts, tmp_path)
    assert console == []
    assert found.keys() == charts.keys()
    for name, one in found.items():
        assert one["texts"] > 30, name
        assert one["narrowest"] > 0.5, "the browser has no font to show text in"
        assert one["width"] > 0, f"{name}.svg is no image"
        assert one["overlapping"] == [], name
        assert one["outside"] == [], name


def test_lettering_that_collides_would_be_seen(tmp_path: Path) -> None:
    text = schedule_chart(case("three days"))
    found, _ = found_in({"twice": text.replace('x="92.5"', 'x="66"')}, tmp_path)
    assert found["twice"]["overlapping"] != []
