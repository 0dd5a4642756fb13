"""Suppliers' terms: kept and shown, and refused where they make no sense."""

from collections.abc import Iterator
from typing import Any

import catalogue_cases as cases
import pytest
from serving import Client, NewDatabase, serving

from filmbuild.catalogue.validate import validate
from filmbuild.errors import InvalidInput


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving(new_sqlite) as client:
        yield client


def test_terms_are_shown(client: Client) -> None:
    found = client.get("/v1/suppliers/harbour-floor-supply?units=si").json()
    assert found["freight"][0] == {"up_to": {"value": 25.0, "unit": "kg"}, "price": "24.00"}
    assert found["minimum_order"] == "150.00"
    assert client.get("/v1/catalogue").json()["records"]["suppliers"] == 2


def document(**terms: Any) -> dict[str, Any]:
    """The small catalogue with a supplier who ships by mass, each pack with its own."""
    found = cases.document()
    for pack in found["packs"]:
        pack["gross_mass"] = "5 kg"
    quay = {
        "id": "quay",
        "name": "Quay Coatings (demo data)",
        "currency": "USD",
        "freight": [band("25 kg", "20"), band("100 kg", "50")],
        "freight_beyond": {"each": "50 kg", "price": "20"},
        "minimum_order": "100",
    }
    return {**found, "suppliers": [{**quay, **terms}]}


def band(up_to: str, price: str) -> dict[str, str]:
    return {"up_to": up_to, "price": price}


def refused(found: dict[str, Any]) -> set[tuple[str, str]]:
    with pytest.raises(InvalidInput) as raised:
        validate(cases.authored(found).file)
    return {(one.pointer, one.code) for one in raised.value.faults}


def test_sound_terms_are_taken() -> None:
    validate(cases.authored(document()).file)


@pytest.mark.parametrize(
    ("terms", "pointer", "code"),
    [
        ({"name": "Pier"}, "/suppliers/0/name", "unused-supplier"),
        ({"freight_beyond": None}, "/suppliers/0/freight_beyond", "no-freight-beyond"),
        ({"freight": []}, "/suppliers/0/freight", "no-freight-band"),
        (
            {"freight": [band("25 kg", "20"), band("25 kg", "50")]},
            "/suppliers/0/freight/1/up_to",
            "bands-not-rising",
        ),
        (
            {"freight": [band("25 kg", "20"), band("50 kg", "19")]},
            "/suppliers/0/freight/1/price",
            "freight-falling",
        ),
    ],
)
def test_terms_that_make_no_sense_are_refused(
    terms: dict[str, Any], pointer: str, code: str
) -> None:
    assert (pointer, code) in refused(document(**terms))


def test_negative_amounts_are_refused() -> None:
    assert refused(document(minimum_order="-1")) == {("/suppliers/0/minimum_order", "negative")}
    found = refused(document(freight=[band("25 kg", "-1")]))
    assert found == {("/suppliers/0/freight/0/price", "negative")}


def test_a_pack_that_is_shipped_by_mass_states_it() -> None:
    found = document()
    del found["packs"][2]["gross_mass"]
    assert refused(found) == {("/packs/2/gross_mass", "no-gross-mass")}


def test_terms_stand_once_for_each_currency() -> None:
    found = document()
    found["suppliers"].append({**found["suppliers"][0], "id": "again"})
    assert refused(found) == {("/suppliers/1/name", "duplicate")}
    found["suppliers"][1]["currency"] = "EUR"
    validate(cases.authored(found).file)
