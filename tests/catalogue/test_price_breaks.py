"""Price breaks: kept in the catalogue, shown with the pack, and refused where they make no sense."""

from collections.abc import Iterator

import msgspec
import pytest
from serving import Client, NewDatabase, serving

from filmbuild.catalogue import wire
from filmbuild.catalogue.validate import validate
from filmbuild.catalogue.wire import CatalogueFile
from filmbuild.errors import InvalidInput
from filmbuild.money import NonNegativeExact
from filmbuild.pipeline.specification import PriceBreak


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving(new_sqlite) as client:
        yield client


def test_a_pack_is_shown_with_its_breaks(client: Client) -> None:
    path = "/v1/packs/harbour-100-kit-15gal?units=si&priced_on=2026-03-02"
    found = client.get(path).json()
    assert found["price"]["amount"] == "995.00"
    assert found["breaks"] == [
        {"from_packs": 4, "amount": "955.00"},
        {"from_packs": 10, "amount": "915.00"},
    ]
    assert found["gross_mass"]["unit"] == "kg"


def with_breaks(*breaks: tuple[int, str]) -> CatalogueFile:
    """The first price of the demo has these."""
    file = wire.read(wire.demo()).file
    steps = tuple(
        PriceBreak(from_packs=start, amount=NonNegativeExact(amount)) for start, amount in breaks
    )
    first = msgspec.structs.replace(file.prices[0], breaks=steps)
    return msgspec.structs.replace(file, prices=(first, *file.prices[1:]))


def test_more_packs_cost_less_each() -> None:
    validate(with_breaks((4, "180"), (10, "170")))
    with pytest.raises(InvalidInput) as raised:
        validate(with_breaks((4, "180"), (4, "185")))
    assert {(one.pointer, one.code) for one in raised.value.faults} == {
        ("/prices/0/breaks/1/from_packs", "breaks-not-rising"),
        ("/prices/0/breaks/1/amount", "breaks-not-falling"),
    }
