"""The reference site of the benchmarks: invented rooms, in feet and inches, on the demo catalogue."""

import json
from typing import Any

SYSTEM = "harbour-high-build"
COLUMNS = 100
PITCH = 30


def room(number: int) -> dict[str, Any]:
    """Every third room is an L, every fourth has a column, every second a cracked floor."""
    x, y = (number % COLUMNS) * PITCH, (number // COLUMNS) * PITCH
    area: dict[str, Any] = {
        "id": f"room-{number}",
        "outline": _l_shape(x, y) if number % 3 == 2 else _rectangle(x, y),
        "edges": [{"side": 0, "kind": "open", "offset": "4 ft", "length": "3 ft 6 in"}],
        "base_walls": [{"height": "4 in"}],
    }
    if number % 4 == 3:
        area["islands"] = [{"outline": _square(x + 4, y + 4)}]
    if number % 2:
        area["cracks"] = [{"length": "11 ft 3 in", "width": "1/4 in", "depth": "1/2 in"}]
    return area


def request(areas: int, system: str = SYSTEM) -> bytes:
    site = {"name": "Benchmark hall", "areas": [room(number) for number in range(areas)]}
    job = {
        "system": system,
        "rate_book": "main-usd",
        "start": "2026-06-15",
        "conditions": {
            "air_temperature": "68 degF",
            "surface_temperature": "66 degF",
            "relative_humidity_percent": 50,
        },
        "crew": crew(areas),
        "calendar": {"time_zone": "America/Chicago"},
        "terms": {"overhead_percent": "12", "margin_percent": "30"},
    }
    return json.dumps({"units": "us", "site": site, "job": job}).encode()


def cut_floor(areas: int, system: str = SYSTEM) -> bytes:
    """One floor of 160 x 40 ft cut into so many equal strips: the same coats whatever the number."""
    strip = {"kind": "rectangle", "length": f"{160 * 12 / areas:.9f} in", "width": "40 ft"}
    run_on = [{"side": side, "kind": "joined"} for side in (1, 3)]
    site = {
        "name": "Benchmark strips",
        "areas": [
            {"id": f"strip-{number}", "outline": strip, "edges": run_on} for number in range(areas)
        ],
    }
    asked = json.loads(request(1, system))
    asked["site"] = site
    asked["job"]["crew"] = [{"labour_class": "finisher", "count": 12}]
    return json.dumps(asked).encode()


def crew(areas: int) -> list[dict[str, Any]]:
    """Enough people to place a coat within a shift, as far as a job may name them."""
    return [{"labour_class": "finisher", "count": min(50, max(8, areas // 2))}]


def _origin(x: float, y: float) -> dict[str, str]:
    return {"x": f"{x} ft", "y": f"{y} ft"}


def _rectangle(x: int, y: int) -> dict[str, Any]:
    sides = {"length": "24 ft 6 in", "width": "18 ft 9 in"}
    return {"kind": "rectangle", **sides, "origin": _origin(x, y)}


def _square(x: int, y: int) -> dict[str, Any]:
    sides = {"length": "1 ft 6 in", "width": "1 ft 6 in"}
    return {"kind": "rectangle", **sides, "origin": _origin(x, y)}


def _l_shape(x: int, y: int) -> dict[str, Any]:
    corners = [(0, 0), (25, 0), (25, 12), (14, 12), (14, 20), (0, 20)]
    vertices = [[x + right, y + up] for right, up in corners]
    return {"kind": "polygon", "unit": "ft", "vertices": vertices}
