"""Answers that the service gave, as the contract's examples have them: nothing of them is lost."""

import datetime as dt
import json
import re
from pathlib import Path
from typing import Any

import msgspec
import pytest

from filmbuild_sdk import calls, models

CONTRACT = Path(__file__).parents[2] / "openapi" / "openapi.json"
ELAPSED = re.compile(r"-?P(\d+D)?(T[\d.HMS]+)?")


def recorded(place: str) -> list[tuple[str, str, Any]]:
    """Operation, component and value of every example of a body or of a success."""
    found = []
    for methods in json.loads(CONTRACT.read_bytes())["paths"].values():
        for operation in methods.values():
            holders = {
                "bodies": [operation.get("requestBody", {})],
                "answers": [
                    one for status, one in operation["responses"].items() if status[0] == "2"
                ],
            }
            for holder in holders[place]:
                media = holder.get("content", {}).get("application/json", {})
                component = media.get("schema", {}).get("$ref", "").rpartition("/")[2]
                found += [
                    (operation["operationId"], component, example["value"])
                    for example in media.get("examples", {}).values()
                    if component
                ]
    return found


def meant(value: Any) -> Any:
    """Without what stands for nothing, and with elapsed times compared as such."""
    if isinstance(value, dict):
        members = {name: meant(one) for name, one in value.items()}
        return {name: one for name, one in members.items() if one not in (None, [], {})}
    if isinstance(value, list):
        return [meant(one) for one in value]
    if isinstance(value, str) and len(value) > 2 and ELAPSED.fullmatch(value):
        return msgspec.convert(value, dt.timedelta)
    return value


def again(value: Any, component: str) -> Any:
    read = msgspec.json.decode(msgspec.json.encode(value), type=getattr(models, component))
    return msgspec.json.decode(msgspec.json.encode(read))


@pytest.mark.parametrize("place", ["bodies", "answers"])
def test_nothing_recorded_is_lost_in_the_models(place: str) -> None:
    found = recorded(place)
    assert len({operation for operation, _, _ in found}) > 5
    for operation, component, value in found:
        assert meant(again(value, component)) == meant(value), operation


def test_every_call_names_the_model_of_its_operation() -> None:
    paths = json.loads(CONTRACT.read_bytes())["paths"]
    body = paths["/v1/estimates"]["post"]["responses"]["201"]["content"]["application/json"]
    assert body["schema"]["$ref"].endswith(f"/{models.StoredEstimate.__name__}")
    assert calls.get_estimate("x").answer is models.StoredEstimate
