"""Sentences that explain a figure: their arithmetic, worked by others, gives the figure."""

# ruff: noqa: RUF001 - sentences have the signs of typography

import json
import math
import re
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from demo import priced_demo
from hypothesis import given
from hypothesis import strategies as st

import filmbuild
from filmbuild.edge.decoding import decode
from filmbuild.pipeline.estimate import materials_document
from filmbuild.pipeline.explain.expressions import named, worked, written
from filmbuild.pipeline.explain.formulas import FORMULAS
from filmbuild.pipeline.papers import explanation_document
from filmbuild.pipeline.requests import MaterialsRequest, SheetRequest
from filmbuild.pipeline.results import Explanation, MaterialsDocument, Step
from filmbuild.quantities import Area, Thickness, UnitSystem
from filmbuild.quantities.units import ACCEPTED, unit

SYSTEMS = ("harbour-broadcast", "harbour-thin-film", "harbour-high-build", "harbour-decorative")
STUDIO = json.loads(Path(filmbuild.__file__).with_name("quickstart_request.json").read_bytes())
DIMENSIONS = {label: dimension for dimension, labels in ACCEPTED.items() for label in labels}
NUMBER = r"\d+(?:\.\d+)?"
LABELS = "|".join(sorted(map(re.escape, DIMENSIONS), key=len, reverse=True))
TOKEN = re.compile(
    rf"(?<![\w-])({NUMBER})(?: ({LABELS})(?![\w/]))?|([×÷+−(),]|rounded up|at least)"
)
ROUNDED = 4e-5


def body(system: str, units: UnitSystem) -> bytes:
    site, job = STUDIO["site"], {**STUDIO["job"], "system": system}
    return json.dumps({"units": units, "site": site, "job": job}).encode()


@cache
def explained(system: str, units: UnitSystem) -> tuple[Explanation, ...]:
    request = decode(SheetRequest, body(system, units))
    return explanation_document(request, priced_demo("USD", date(2026, 6, 15))).explanations


@cache
def materials(system: str) -> MaterialsDocument:
    request = decode(MaterialsRequest, body(system, "us"))
    return materials_document(request, priced_demo("USD", date(2026, 6, 15)))


def read_aloud(sentence: str) -> float:
    """What a sentence comes to in SI: its numbers with their units, and none of its words."""
    code: list[str] = []
    for number, label, symbol in TOKEN.findall(sentence):
        if symbol == "rounded up":
            code = ["math.ceil((", *code[: code.index(",")], ") - 1e-4)"]
        elif symbol == "at least":
            code = ["max(", *code[:-1], ","]
        elif symbol:
            code.append({"×": "*", "÷": "/", "−": "-"}.get(symbol, symbol))
        else:
            value = (
                float(number) if not label else unit(DIMENSIONS[label], label).to_si(float(number))
            )
            code.append(repr(value))
    text = "".join(code)
    text += ")" * (text.count("(") - text.count(")"))
    return float(eval(text, {"__builtins__": {}, "math": math, "max": max}))  # noqa: S307 - the sentence, as numbers and signs


@pytest.mark.parametrize(
    ("system", "units"), [*((system, "us") for system in SYSTEMS), ("harbour-broadcast", "si")]
)
def test_the_sentence_comes_to_the_figure(system: str, units: UnitSystem) -> None:
    wrong = []
    for one in explained(system, units):
        sums = one.text.partition(": ")[2].partition(" = ")[2].split(" = ")
        if "carton" in sums[0]:
            continue
        told = [read_aloud(sentence) for sentence in sums]
        expected = one.quantity if one.quantity is not None else one.number
        assert expected is not None
        left_over = one.steps[-1].operation == "subtract"
        lost = ROUNDED * max(step.quantity or 0.0 for step in one.steps) if left_over else 0.0
        if not all(math.isclose(value, expected, rel_tol=ROUNDED, abs_tol=lost) for value in told):
            wrong.append((one.text, told, float(expected)))
    assert wrong == []


def work(steps: tuple[Step, ...]) -> float:
    """The steps worked anew, in SI."""
    found: list[float] = []
    for step in steps:
        of = [found[place] for place in step.of]
        value = step.quantity if step.quantity is not None else step.number
        assert value is not None
        match step.operation:
            case "value":
                found.append(float(value))
            case "add":
                found.append(sum(of))
            case "subtract":
                found.append(of[0] - sum(of[1:]))
            case "multiply":
                found.append(math.prod(of))
            case "divide":
                found.append(of[0] / of[1])
            case "round_up":
                found.append(math.ceil(of[0] - 1e-9))
            case "at_least":
                found.append(max(of))
    return found[-1]


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_steps_come_to_the_figure(system: str) -> None:
    for one in explained(system, "us"):
        expected = one.quantity if one.quantity is not None else one.number
        assert expected is not None
        assert math.isclose(work(one.steps), expected, rel_tol=1e-9), one.text
        last = one.steps[-1]
        assert (last.quantity, last.number) == (one.quantity, one.number)


def pointed(value: Any, pointer: str) -> Any:
    for token in pointer.split("/")[1:]:
        if isinstance(value, tuple):
            value = value[int(token)]
        elif isinstance(value, dict):
            value = value[token]
        else:
            value = getattr(value, token)
    return value


@pytest.mark.parametrize("system", SYSTEMS)
def test_each_sentence_points_to_its_figure(system: str) -> None:
    document = materials(system)
    for one in explained(system, "us"):
        expected = one.quantity if one.quantity is not None else one.number
        assert pointed(document, one.pointer) == expected, one.pointer


@pytest.mark.parametrize("system", SYSTEMS)
def test_every_volume_of_a_coat_is_unfolded_to_what_was_measured(system: str) -> None:
    """No figure with a formula is only stated."""
    found = {one.pointer: one for one in explained(system, "us")}
    for index, coat in enumerate(materials(system).materials.coats):
        for field in ("net_volume", "residue", "ordered_volume"):
            one = found[f"/materials/coats/{index}/{field}"]
            if one.rule != "materials.void-volume":
                assert one.steps[-1].operation != "value", one.text
        names = {step.name for step in found[f"/materials/coats/{index}/ordered_volume"].steps}
        assert names >= {"loss fraction", "mixes", "container residue"}
        if coat.kind != "repair":
            assert names >= {"floor", "wet film"}


def test_the_whole_sentence_of_a_coat_in_si() -> None:
    """By hand: 100 m2 at 0.1 mm; 10 L / (1 - 0.05) + 2 x 0.1 L is 10.7263 L."""
    values = {
        "net_volume": named("net", 0.01),
        "loss_fraction": named("loss", 0.05),
        "residue": worked(
            "mixes * each", {"mixes": named("mixes", 2), "each": named("residue", 1e-4)}.get
        ),
    }
    formula = FORMULAS["materials.ordered-volume"]["ordered_volume"]
    found = worked(formula, values.get)
    assert found is not None
    assert found.value == pytest.approx(0.0107263, rel=1e-5)
    assert written(found, "si") == "net 0.01 ÷ (1 − loss 0.05) + 2 mixes × residue 0.0001"


def test_quantities_are_in_the_callers_units() -> None:
    values = {"floor": named("floor", Area(212.4)), "film": named("wet film", Thickness(3e-4))}
    found = worked("floor * film", values.get)
    assert found is not None
    assert written(found, "si") == "floor 212.4 m2 × wet film 300 um"
    assert written(found, "us") == "floor 2286.25 ft2 × wet film 11.811 mil"


@given(st.lists(st.floats(0.1, 10.0), min_size=4, max_size=4))
def test_brackets_keep_the_order_of_working(values: list[float]) -> None:
    rounded = [float(f"{value:.6g}") for value in values]
    inputs = {name: named(None, value) for name, value in zip("abcd", rounded, strict=True)}
    for formula in (
        "a - (b - c) - d",
        "a / (b / c) / d",
        "(a + b) * (c + d)",
        "a / (b * c) + d",
        "a - (b + c) * d",
        "(a - b) / (c + d)",
    ):
        found = worked(formula, inputs.get)
        assert found is not None
        sign = written(found, "si")
        plain = eval(formula, {"__builtins__": {}}, dict(zip("abcd", rounded, strict=True)))  # noqa: S307 - the formulas above
        assert read_aloud(sign) == pytest.approx(plain, rel=1e-9, abs=1e-9)
