"""Stages one after the other, each handed the answer of the one before it, as callers would."""

import json
from collections.abc import Callable
from datetime import date
from functools import cache
from itertools import pairwise
from typing import Any

from demo import priced_demo

from filmbuild.app import LARGEST_BODY_BYTES
from filmbuild.edge.decoding import decode
from filmbuild.edge.encoding import encode
from filmbuild.errors import InvalidInput
from filmbuild.pipeline.estimate import (
    estimate_document,
    labour_document,
    materials_document,
    schedule_document,
    takeoff_document,
)
from filmbuild.pipeline.requests import (
    EstimateRequest,
    LabourRequest,
    MaterialsRequest,
    ScheduleRequest,
    TakeoffRequest,
)
from filmbuild.pipeline.specification import Catalogue

DAY = date(2026, 6, 15)
STAGES = ("takeoff", "materials", "labour", "schedule")
NEXT = dict(pairwise(STAGES))
_COMPUTE: dict[str, tuple[type[Any], Callable[[Any, Catalogue], Any]]] = {
    "takeoff": (TakeoffRequest, lambda request, _catalogue: takeoff_document(request)),
    "materials": (MaterialsRequest, materials_document),
    "labour": (LabourRequest, labour_document),
    "schedule": (ScheduleRequest, schedule_document),
    "estimate": (EstimateRequest, estimate_document),
}


@cache
def catalogue() -> Catalogue:
    return priced_demo("USD", DAY)


def computed(stage: str, body: dict[str, Any], on: Catalogue | None = None) -> dict[str, Any]:
    """The answer of a stage as a caller reads it."""
    kind, compute = _COMPUTE[stage]
    request: Any = decode(kind, json.dumps(body).encode(), max_bytes=LARGEST_BODY_BYTES)
    document = compute(request, on or catalogue())
    answer: dict[str, Any] = json.loads(encode(document, request.units))
    return answer


def handed_on(before: str, answer: dict[str, Any], asked: dict[str, Any]) -> dict[str, Any]:
    """The request of the stage after `before`."""
    return {"units": asked["units"], "job": asked["job"], before: answer}


def chain(asked: dict[str, Any], last: str = "schedule") -> dict[str, Any]:
    """The answer of the last stage, by way of all stages before it."""
    answer = computed("takeoff", {"units": asked["units"], "site": asked["site"]})
    stage = "takeoff"
    while stage != last:
        answer, stage = computed(NEXT[stage], handed_on(stage, answer, asked)), NEXT[stage]
    return answer


def refused(
    before: str, answer: dict[str, Any], asked: dict[str, Any], on: Catalogue | None = None
) -> list[tuple[str, str]]:
    """Pointers and codes of what the next stage finds wrong with an answer handed to it."""
    try:
        computed(NEXT[before], handed_on(before, answer, asked), on)
    except InvalidInput as error:
        return [(fault.pointer, fault.code) for fault in error.faults]
    return []
