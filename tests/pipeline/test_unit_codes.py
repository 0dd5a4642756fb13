"""Codes of UNECE Recommendation 20; against the list of EN 16931 they stand in test_en16931."""

from typing import get_args

from filmbuild.pipeline.job import SaleUnit
from filmbuild.pipeline.unit_codes import LUMP_SUM, UNITS


def test_codes_names_and_symbols_are_each_unique() -> None:
    for values in zip(*UNITS.values(), strict=True):
        assert len(set(values)) == len(UNITS)


def test_units_that_floors_are_sold_in_are_there() -> None:
    """Names as in the recommendation's own list, from memory."""
    names = {code: UNITS[code].name for code in ("MTK", "FTK", "MTR", "FOT", "HUR", LUMP_SUM)}
    assert names == {
        "MTK": "square metre",
        "FTK": "square foot",
        "MTR": "metre",
        "FOT": "foot",
        "HUR": "hour",
        "LS": "lump sum",
    }


def test_whatever_is_sold_can_be_invoiced() -> None:
    assert set(get_args(SaleUnit)) <= UNITS.keys()
