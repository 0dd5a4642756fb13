"""What is sent for what was written, and what is read of what came."""

import datetime as dt
import re
from decimal import Decimal
from pathlib import Path

import msgspec
import pytest

import filmbuild_sdk
from filmbuild_sdk import Money, Quantity, feet, metres, models, values

ROOT = Path(__file__).parents[2]
BAY = models.SiteArea(id="bay", outline=models.Rectangle(length="24 ft 6 in", width=metres(7)))


def sent(value: object) -> object:
    return msgspec.json.decode(msgspec.json.encode(value))


def test_what_is_left_out_is_not_sent() -> None:
    request = models.EstimateRequest(site=models.Site(areas=[BAY]), job=models.Job(system="hall"))
    assert sent(request) == {
        "site": {
            "areas": [
                {
                    "id": "bay",
                    "outline": {
                        "kind": "rectangle",
                        "length": "24 ft 6 in",
                        "width": {"value": 7.0, "unit": "m"},
                    },
                }
            ]
        },
        "job": {"system": "hall"},
    }


def test_what_is_given_is_sent_even_where_it_is_the_services_default() -> None:
    assert sent(models.Joint(length="1 m", width="1 in", depth="1 in", treatment="fill")) == {
        "length": "1 m",
        "width": "1 in",
        "depth": "1 in",
        "treatment": "fill",
    }


def test_amounts_and_days_are_sent_as_the_contract_has_them() -> None:
    job = models.Job(
        system="hall",
        start=dt.date(2026, 5, 4),
        terms=models.Terms(overhead_percent=Decimal("12.50"), minimum_charge=Decimal(900)),
    )
    assert sent(job) == {
        "system": "hall",
        "start": "2026-05-04",
        "terms": {"overhead_percent": "12.50", "minimum_charge": "900"},
    }


def test_arrays_may_be_given_as_any_sequence() -> None:
    one = models.Polygon(unit="m", vertices=[(0, 0), (1, 0), (1, 1)])
    other = models.Polygon(unit="m", vertices=((0, 0), (1, 0), (1, 1)))
    assert msgspec.json.encode(one) == msgspec.json.encode(other)


def test_what_was_left_out_is_not_shown_either() -> None:
    assert repr(models.Site(areas=[])) == "Site(areas=[])"


@pytest.mark.parametrize(
    ("made", "value", "unit"),
    [
        (feet(24, 6), 24.5, "ft"),
        (feet(-24, 6), -24.5, "ft"),
        (feet(8), 8.0, "ft"),
        (values.inches(0.25), 0.25, "in"),
        (values.mils(12), 12.0, "mil"),
        (values.millimetres(6), 6.0, "mm"),
        (values.micrometres(300), 300.0, "um"),
        (values.square_feet(1200), 1200.0, "ft2"),
        (values.square_metres(110), 110.0, "m2"),
        (values.fahrenheit(70), 70.0, "degF"),
        (values.celsius(21), 21.0, "degC"),
    ],
)
def test_quantities_are_made_in_the_units_of_the_trade(
    made: Quantity, value: float, unit: str
) -> None:
    assert (made.value, made.unit) == (value, unit)
    assert sent(made) == {"value": value, "unit": unit}


def test_a_quantity_reads_well() -> None:
    assert str(feet(24, 6)) == "24.5 ft"
    assert str(Money(Decimal("1234.50"), "USD")) == "1234.50 USD"


def test_words_and_fields_that_are_not_known_yet_are_read() -> None:
    found = msgspec.json.decode(
        b'{"porosity": "open_pored", "hardness": "soft", "texture_depth": {"value": 12.0, '
        b'"unit": "mil", "tolerance": 1}, "existing_coating": false, "carbonation": "none"}',
        type=models.Substrate,
    )
    assert found == models.Substrate(
        porosity="open_pored",  # type: ignore[arg-type]  # type checkers know today's words only
        hardness="soft",
        texture_depth=Quantity(12.0, "mil"),
        existing_coating=False,
    )


def test_elapsed_times_are_read_as_such() -> None:
    recoat = msgspec.json.decode(
        b'{"temperature": {"value": 70.0, "unit": "degF"}, "minimum": "PT16H30M", '
        b'"maximum": "P2D"}',
        type=models.RecoatPoint,
    )
    assert recoat.minimum == dt.timedelta(hours=16, minutes=30)
    assert recoat.maximum == dt.timedelta(days=2)


def test_moments_keep_their_offset_and_are_never_naive() -> None:
    decoder = msgspec.json.Decoder(values.Moment)
    moment = decoder.decode(b'"2026-05-04T07:00:00-05:00"')
    assert moment.utcoffset() == dt.timedelta(hours=-5)
    with pytest.raises(msgspec.ValidationError):
        decoder.decode(b'"2026-05-04T07:00:00"')


def test_amounts_are_exact() -> None:
    read = msgspec.json.decode(b'{"amount": "100000000000.000001", "currency": "USD"}', type=Money)
    assert read.amount == Decimal("100000000000.000001")


def test_models_cannot_be_changed_by_the_way() -> None:
    with pytest.raises(AttributeError):
        BAY.id = "other"  # type: ignore[misc]  # what is tested is that it cannot be done


def test_the_version_is_that_of_the_package() -> None:
    project = (ROOT / "sdk" / "pyproject.toml").read_text()
    assert re.findall(r'^version = "(.+)"', project, re.MULTILINE) == [filmbuild_sdk.__version__]


def test_everything_exported_is_there() -> None:
    assert [name for name in filmbuild_sdk.__all__ if not hasattr(filmbuild_sdk, name)] == []
    assert [name for name in models.__all__ if not hasattr(models, name)] == []
