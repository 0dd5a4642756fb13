"""How the pipeline's time grows with the number of areas."""

import math
import statistics
import tempfile
import time
from collections.abc import Callable
from typing import Any, TypeVar

import reference
from prepared import prepare

from filmbuild.app import settle_collector
from filmbuild.edge.decoding import decode
from filmbuild.pipeline.estimate import estimate_document, materials_document, takeoff_document
from filmbuild.pipeline.requests import EstimateRequest, MaterialsRequest, TakeoffRequest

R = TypeVar("R")
SIZES = {10: 50, 100: 10, 1_000: 3, 10_000: 1}
LARGEST_BODY = 1 << 25


def figures() -> list[dict[str, Any]]:
    """Processor seconds by number of areas, and the exponent fitted to them on a log-log line.

    Rooms of one size, placed on a plan and so compared with one another, run through takeoff
    alone, and through takeoff and materials (a floor that outgrows a shift has no schedule); one
    floor cut into strips runs through the whole pipeline.
    """
    with tempfile.TemporaryDirectory() as folder:
        _, catalogue = prepare(folder)
    settle_collector()
    plans = {
        size: _seconds(takeoff_document, _plan(size), repeats) for size, repeats in SIZES.items()
    }
    rooms = {
        size: _seconds(lambda asked: materials_document(asked, catalogue), _rooms(size), repeats)
        for size, repeats in SIZES.items()
    }
    strips = {
        size: _seconds(lambda asked: estimate_document(asked, catalogue), _strips(size), repeats)
        for size, repeats in SIZES.items()
    }
    found: list[dict[str, Any]] = []
    for name, seconds in (
        ("takeoff", plans),
        ("takeoff_and_materials", rooms),
        ("whole_pipeline", strips),
    ):
        found += [
            {"name": f"growth.{name}.{size}_areas", "value": value * 1e3, "unit": "ms"}
            for size, value in seconds.items()
        ]
        exponent = {"name": f"growth.{name}.exponent", "value": _exponent(seconds)}
        found.append({**exponent, "unit": "exponent"})
    return found


def _plan(size: int) -> TakeoffRequest:
    asked = _rooms(size)
    if asked.site is None:
        raise TypeError("rooms are a site")
    return TakeoffRequest(units=asked.units, site=asked.site)


def _rooms(size: int) -> MaterialsRequest:
    asked = decode(
        EstimateRequest,
        reference.request(size, "harbour-thin-film"),
        max_bytes=LARGEST_BODY,
    )
    return MaterialsRequest(units=asked.units, job=asked.job, site=asked.site)


def _strips(size: int) -> EstimateRequest:
    return decode(EstimateRequest, reference.cut_floor(size), max_bytes=LARGEST_BODY)


def _seconds(run: Callable[[R], object], asked: R, repeats: int) -> float:
    times = []
    for _ in range(repeats):
        start = time.process_time()
        run(asked)
        times.append(time.process_time() - start)
    return statistics.median(times)


def _exponent(seconds: dict[int, float]) -> float:
    sizes = [math.log(size) for size in seconds]
    return statistics.linear_regression(sizes, [math.log(one) for one in seconds.values()]).slope
