"""Documents that are handed back: taken as they were answered, refused where they were changed."""

import json
from collections.abc import Iterable
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from handing_on import chain, computed, handed_on, refused
from tampering import TAMPERED, doubled, path_of, times

import filmbuild
from filmbuild.errors import InvalidInput

STUDIO = json.loads(Path(filmbuild.__file__).with_name("quickstart_request.json").read_bytes())
SYSTEMS = ("harbour-thin-film", "harbour-high-build", "harbour-decorative", "harbour-broadcast")


def asked(system: str = "harbour-broadcast", units: str = "us") -> dict[str, Any]:
    """A request of the demo studio, free to be changed."""
    return {"units": units, "site": STUDIO["site"], "job": {**STUDIO["job"], "system": system}}


@cache
def answered(stage: str, units: str = "us") -> str:
    return json.dumps(chain(asked(units=units), stage))


def at(document: Any, path: Iterable[str | int]) -> Any:
    for name in path:
        document = document[name]
    return document


def changed(stage: str, *edits: tuple[str, Any], units: str = "us") -> dict[str, Any]:
    """An answer with some members replaced; a function is given what stood there."""
    document: dict[str, Any] = json.loads(answered(stage, units))
    for path, value in edits:
        *parents, last = path_of(path)
        parent = at(document, parents)
        parent[last] = value(parent[last]) if callable(value) else value
    return document


@pytest.mark.parametrize("units", ["us", "si"])
@pytest.mark.parametrize("name", TAMPERED)
def test_what_was_changed_is_pointed_at(name: str, units: str) -> None:
    one = TAMPERED[name]
    document = changed(one.stage, (one.path, one.change), units=units)
    pointer = f"/{one.stage}"
    place: Any = document
    for token in path_of(one.told or one.path):
        index = len(place) + token if isinstance(token, int) and token < 0 else token
        pointer += f"/{index}"
        place = place[index]
    found = refused(one.stage, document, asked(units=units))
    assert (pointer, one.code) in found, found


def test_all_that_was_changed_is_told_at_once() -> None:
    document = changed(
        "materials",
        ("takeoff/totals/floor", times(2)),
        ("materials/coats/-2/layer", "no-such-layer"),
        ("materials/purchases/0/cost", doubled),
    )
    body = asked()
    body["job"]["system"] = "harbour-thin-film"
    found = {code for _, code in refused("materials", document, body)}
    assert {"totals-mismatch", "amount-mismatch", "basis-mismatch"} <= found
    body["job"]["system"] = "no-such-system"
    found = {code for _, code in refused("materials", document, body)}
    assert {"totals-mismatch", "amount-mismatch", "unknown-system"} <= found


def test_a_fault_says_what_would_be_accepted_in_the_units_of_the_request() -> None:
    document = changed("takeoff", ("takeoff/totals/floor", times(2)))
    floor = json.loads(answered("takeoff"))["takeoff"]["totals"]["floor"]["value"]
    with pytest.raises(InvalidInput) as raised:
        computed("materials", handed_on("takeoff", document, asked()))
    (fault,) = [one for one in raised.value.faults if one.code == "totals-mismatch"]
    assert f"{floor:.10g} ft2, and not {2 * floor:.10g} ft2" in fault.detail
