"""Schedules of the demo catalogue to draw, list and import: invented sites, demo data."""

import json
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from typing import Any

from demo import priced_demo

import filmbuild
from filmbuild.edge.decoding import decode
from filmbuild.pipeline.estimate import schedule_document
from filmbuild.pipeline.requests import ScheduleRequest
from filmbuild.pipeline.results import ScheduleDocument

STUDIO: dict[str, Any] = json.loads(
    Path(filmbuild.__file__).with_name("quickstart_request.json").read_bytes()
)
PRICES = date(2026, 1, 5)


def hall(side: str = "20 m", name: str = "Demo market hall") -> dict[str, Any]:
    outline = {"kind": "rectangle", "length": side, "width": side}
    return {"name": name, "areas": [{"id": "hall", "outline": outline}]}


def halls(count: int) -> dict[str, Any]:
    """Areas that stand apart, so that coats may end between them."""
    (area,) = hall("20 m")["areas"]
    areas = [{**area, "id": f"hall-{number}"} for number in range(1, count + 1)]
    return {"name": "Demo halls", "areas": areas}


def body(site: dict[str, Any] | None = None, **job: Any) -> dict[str, Any]:
    return {
        "units": "us",
        "site": site or STUDIO["site"],
        "job": {**STUDIO["job"], "priced_on": PRICES.isoformat(), **job},
    }


def planned(site: dict[str, Any] | None = None, **job: Any) -> ScheduleDocument:
    request = decode(ScheduleRequest, json.dumps(body(site, **job)).encode())
    return schedule_document(request, priced_demo("USD", PRICES))


@cache
def case(name: str) -> ScheduleDocument:
    return planned(**CASES[name])


def mondays(first: date, count: int) -> list[str]:
    return [(first + timedelta(weeks=week)).isoformat() for week in range(count)]


def _calendar(**calendar: Any) -> dict[str, Any]:
    return {"time_zone": "America/Chicago", **calendar}


CASES: dict[str, dict[str, Any]] = {
    "three days": {"site": hall("6 m"), "system": "harbour-thin-film"},
    "three weeks": {
        "site": hall(),
        "system": "harbour-high-build",
        "calendar": _calendar(
            working_days=["mon", "tue", "wed", "thu"],
            closed_dates=["2026-06-18", "2026-06-29"],
            breaks=[{"start": "12:00", "end": "12:30"}],
        ),
    },
    "studio": {},
    "over a change of clocks": {
        "site": hall("6 m"),
        "start": "2026-10-23",
        "calendar": {"time_zone": "Europe/Lisbon", "working_days": ["fri", "sun", "mon", "tue"]},
    },
    "by night": {
        "site": hall("6 m"),
        "calendar": _calendar(shift_start="21:00", shift_end="06:00"),
    },
    "one day a week": {
        "site": hall(),
        "system": "harbour-high-build",
        "calendar": _calendar(working_days=["mon"], closed_dates=mondays(date(2026, 7, 6), 14)),
    },
    "over the years": {
        "site": hall(),
        "system": "harbour-high-build",
        "calendar": _calendar(working_days=["mon"], closed_dates=mondays(date(2026, 7, 6), 150)),
    },
    "in sections": {
        "site": halls(4),
        "system": "harbour-high-build",
        "crew": [{"labour_class": "finisher", "count": 5}],
    },
    "long names": {
        "site": hall("6 m", "Demo hall of the society for the keeping of very long names, " * 3),
        "system": "harbour-decorative",
    },
}
