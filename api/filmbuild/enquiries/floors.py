"""From what a visitor tells to what the pipeline is asked, and what is wrong with it before that."""

from datetime import date, timedelta
from typing import Any

import msgspec
from shapely import Polygon

from filmbuild.edge.encoding import encode
from filmbuild.enquiries import words
from filmbuild.enquiries.asking import FloorQuestion, RoomByOutline, RoomBySize
from filmbuild.enquiries.form import PublicFinish, QuoteFormSettings, languages
from filmbuild.enquiries.words import Told
from filmbuild.errors import Faults
from filmbuild.quantities import PositiveLength

METRES = {"m": 1.0, "ft": 0.3048}
SHORTEST_SIDE, LONGEST_SIDE = 0.5, 150.0
LEAST_AREA = 1.0
NARROWEST_STEP, WIDEST_STEP = 0.3, 10.0
SHORTEST_CRACK, LONGEST_CRACK = 0.1, 1_000.0
FARTHEST = timedelta(days=730)
# [m] width and depth of the chase that is cut; common practice, no source
CHASES = {"hairline": (0.004, 0.006), "coin": (0.006, 0.010), "finger": (0.012, 0.015)}
SITE = "Quote form"
_OF_THE_FORM = ("lead_days", "step_rise", "step_going")


def check_question(
    question: FloorQuestion, form: QuoteFormSettings, today: date, faults: Faults, language: Told
) -> None:
    """All that is wrong with the floor, in the visitor's language."""
    checks = _Checks(form, faults, language)
    for place, room in enumerate(question.rooms):
        at = faults.at("rooms", place)
        if isinstance(room, RoomBySize):
            checks.length(room.length, SHORTEST_SIDE, LONGEST_SIDE, at, "length")
            checks.length(room.width, SHORTEST_SIDE, LONGEST_SIDE, at, "width")
        else:
            checks.outline(room, at)
    if question.steps is not None:
        checks.length(
            question.steps.width, NARROWEST_STEP, WIDEST_STEP, faults.at("steps"), "width"
        )
    if question.cracks is not None:
        at = faults.at("cracks")
        checks.length(question.cracks.length, SHORTEST_CRACK, LONGEST_CRACK, at, "length")
    if finish_of(form, question.finish) is None:
        accepted = ", ".join(one.id for one in form.finishes)
        words.add(faults, language, "unknown-finish", "finish", accepted=accepted)
    if question.language is not None and question.language not in languages(form):
        accepted = ", ".join(languages(form))
        words.add(faults, language, "language-not-offered", "language", accepted=accepted)
    wished = question.wished_date
    if wished is not None and not today <= wished <= today + FARTHEST:
        last = today + FARTHEST
        words.add(faults, language, "out-of-range", "wished_date", low=today, high=last)


class _Checks:
    def __init__(self, form: QuoteFormSettings, faults: Faults, language: Told) -> None:
        self._unit = "ft" if form.units == "us" else "m"
        self._faults = faults
        self._language = language

    def length(self, value: float, low: float, high: float, at: Faults, name: str) -> None:
        if not low <= value <= high:
            told = (self._told(low), self._told(high))
            words.add(at, self._language, "out-of-range", name, low=told[0], high=told[1])

    def outline(self, room: RoomByOutline, at: Faults) -> None:
        shape = Polygon(_corners(room))
        if not shape.is_valid:
            words.add(at, self._language, "outline-crosses-itself", "corners")
            return
        left, low, right, high = shape.bounds
        reach = max(right - left, high - low)
        if reach > LONGEST_SIDE or shape.area < LEAST_AREA:
            low_text, high_text = f"{LEAST_AREA:g} m²", self._told(LONGEST_SIDE)
            words.add(at, self._language, "out-of-range", "corners", low=low_text, high=high_text)

    def _told(self, metres: float) -> str:
        return f"{metres / METRES[self._unit]:.4g} {self._unit}"


def finish_of(form: QuoteFormSettings, name: str) -> PublicFinish | None:
    return next((one for one in form.finishes if one.id == name), None)


def estimate_request(
    question: FloorQuestion,
    form: QuoteFormSettings,
    finish: PublicFinish,
    today: date,
    reference: str | None = None,
) -> bytes:
    """The text of a request for an estimate; the question is one that was checked.

    Rooms are levels of their own: how they lie to one another was not asked.
    """
    areas = [_area(place, room) for place, room in enumerate(question.rooms, start=1)]
    if question.steps is not None:
        areas[0]["steps"] = [
            {
                "risers": question.steps.count,
                "width": _metres(question.steps.width),
                "rise": _metres(form.job.step_rise),
                "going": _metres(form.job.step_going),
                "treads": "added",
            }
        ]
    if question.cracks is not None:
        width, depth = CHASES[question.cracks.width]
        areas[0]["cracks"] = [
            {
                "length": _metres(question.cracks.length),
                "width": _metres(width),
                "depth": _metres(depth),
            }
        ]
    settled: dict[str, Any] = msgspec.json.decode(encode(form.job, "si"))
    job = {name: value for name, value in settled.items() if name not in _OF_THE_FORM}
    start = question.wished_date or today + timedelta(days=form.job.lead_days)
    job |= {"system": finish.system, "start": start, "priced_on": today}
    asked = {
        "units": form.units,
        "site": {"name": SITE, "areas": areas},
        "job": job,
        "reference": reference,
    }
    return msgspec.json.encode(asked)


def sample_question(finish: str) -> FloorQuestion:
    """A plain room, to see whether a finish can be priced at all."""
    room = RoomBySize(length=PositiveLength(6.0), width=PositiveLength(4.0))
    return FloorQuestion(rooms=(room,), finish=finish)


def _area(number: int, room: RoomBySize | RoomByOutline) -> dict[str, Any]:
    outline: dict[str, Any]
    if isinstance(room, RoomBySize):
        outline = {
            "kind": "rectangle",
            "length": _metres(room.length),
            "width": _metres(room.width),
        }
    else:
        outline = {"kind": "polygon", "vertices": room.corners, "unit": room.unit}
    return {"id": f"room-{number}", "level": f"room-{number}", "outline": outline}


def _corners(room: RoomByOutline) -> list[tuple[float, float]]:
    metres = METRES[room.unit]
    return [(x * metres, y * metres) for x, y in room.corners]


def _metres(value: float) -> dict[str, Any]:
    return {"value": float(value), "unit": "m"}
