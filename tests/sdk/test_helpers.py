"""Quantities as people and pint write them, and the service's stand-in for its users' tests."""

import asyncio
import datetime as dt
from typing import Any

import httpx
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from filmbuild.quantities import Length
from filmbuild.quantities.parsing import parse
from filmbuild_sdk import AsyncClient, Client, InvalidInput, NotFound, ft, models, quantity, values
from filmbuild_sdk.retries import Retries
from filmbuild_sdk.testing import FakeService, problem

BASE = "http://testserver.local"
REGISTRY: Any = pint.UnitRegistry()


@pytest.mark.parametrize(
    ("text", "feet"),
    [
        ("24 ft 6 in", 24.5),
        ("24' 6\"", 24.5),
        ("24ft6in", 24.5),
        ("8 ft", 8.0),
        ("8'", 8.0),
        ("6 in", 0.5),
        ("24' 6 1/2\"", 24 + 6.5 / 12),
        ("1/2 in", 0.5 / 12),
        ("-3 ft 6 in", -3.5),
        ("12.25 ft", 12.25),
    ],
)
def test_feet_and_inches_as_they_are_said(text: str, feet: float) -> None:
    found = ft(text)
    assert found.unit == "ft"
    assert found.value == pytest.approx(feet, rel=1e-15)


@given(st.integers(0, 500), st.integers(0, 11), st.sampled_from(["", " 1/2", " 3/8", " 15/16"]))
def test_the_service_reads_the_same_length(feet: int, inches: int, part: str) -> None:
    text = f"{feet} ft {inches}{part} in"
    assert parse(Length, text) == pytest.approx(ft(text).value * 0.3048, abs=1e-12)


@pytest.mark.parametrize("text", ["", "ft", "24 m", "six feet", "1/0 in", "24 ft 6 ft"])
def test_what_is_not_feet_and_inches_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"24 ft 6 1/2 in|divides"):
        ft(text)


@pytest.mark.parametrize(
    ("written", "unit"),
    [
        ("24.5 foot", "ft"),
        ("12 thou", "mil"),
        ("300 micrometer", "um"),
        ("20 meter**2", "m2"),
        ("9.5 pound/gallon", "lb/gal"),
        ("160 foot**2/gallon", "ft2/gal"),
        ("3 liter", "L"),
    ],
)
def test_quantities_of_pint_become_the_services(written: str, unit: str) -> None:
    measured = REGISTRY.Quantity(written)
    assert quantity(measured) == values.Quantity(float(measured.magnitude), unit)


def test_degrees_of_pint_keep_their_scale() -> None:
    assert quantity(REGISTRY.Quantity(68, "degF")) == values.fahrenheit(68)


def test_a_unit_that_the_service_does_not_read_is_named() -> None:
    with pytest.raises(ValueError, match="furlong"):
        quantity(REGISTRY.Quantity(1, "furlong"))


def test_the_stand_in_answers_what_it_was_told_and_keeps_what_was_asked() -> None:
    rule = models.Rule(id="price.line", statement="It is so.", source="this test")
    service = FakeService({("GET", "/v1/rules/price.line"): rule})
    with Client(BASE, transport=service) as client:
        assert client.get_rule("price.line") == rule
        with pytest.raises(NotFound):
            client.get_rule("another")
    assert [one.url.path for one in service.requests] == [
        "/v1/rules/price.line",
        "/v1/rules/another",
    ]


def test_the_stand_in_fails_and_recovers_as_the_service_does() -> None:
    rule = models.Rule(id="a", statement="It is so.", source="this test")
    service = FakeService({("GET", "/v1/rules/a"): [problem(503, "unavailable", "later"), rule]})
    waiting = Retries(first_wait=0.0)

    async def read() -> models.Rule:
        async with AsyncClient(BASE, transport=service, retries=waiting) as client:
            return await client.get_rule("a")

    assert asyncio.run(read()) == rule
    assert len(service.requests) == 2


def test_the_stand_in_may_look_at_the_request() -> None:
    def answer(request: httpx.Request) -> object:
        return problem(422, "invalid-input", f"{len(request.content)} bytes")

    service = FakeService({("POST", "/v1/calculations"): answer})
    job = models.Job(system="hall", start=dt.date(2026, 5, 4))
    with Client(BASE, transport=service) as client, pytest.raises(InvalidInput, match="bytes"):
        client.calculate(models.EstimateRequest(site=models.Site(areas=[]), job=job))
    assert service.bodies() == [
        {"site": {"areas": []}, "job": {"system": "hall", "start": "2026-05-04"}}
    ]
