"""The JSON Schema of what is read and written."""

import msgspec
import pytest

from filmbuild import quantities
from filmbuild.edge.schema import components, schemas
from filmbuild.money import Percent


class Order(msgspec.Struct, kw_only=True, forbid_unknown_fields=True):
    air: quantities.Temperature | None = quantities.Temperature(20.0)
    tint: Percent = Percent("0")


class Answer(msgspec.Struct, kw_only=True):
    air: quantities.Temperature


def test_only_what_is_read_refuses_unknown_fields_in_its_schema() -> None:
    found = components([Order, Answer])
    assert found["Order"]["additionalProperties"] is False
    assert "additionalProperties" not in found["Answer"]
    assert found["Order"]["properties"]["air"] == {
        "anyOf": [{"$ref": "#/components/schemas/Temperature"}, {"type": "null"}],
        "default": {"value": 20.0, "unit": "degC"},
    }
    assert found["Percent"]["type"] == "string"
    (top,), _ = schemas([Order])
    assert top == {"$ref": "#/components/schemas/Order"}


def test_a_component_name_cannot_be_taken_by_two_types() -> None:
    class Temperature(msgspec.Struct):  # the name of a kind of quantity
        air: quantities.Temperature

    with pytest.raises(ValueError, match="Temperature"):
        components([Temperature])
