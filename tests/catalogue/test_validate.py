"""Every rule of the catalogue is broken once, in a catalogue that is sound otherwise."""

import catalogue_cases as cases
import pytest
from broken_catalogues import BROKEN, MISSING, Change, layer, put, rivals

from filmbuild.catalogue.validate import validate, warnings_of
from filmbuild.errors import InvalidInput


@pytest.mark.parametrize(
    ("pointer", "code", "change"), BROKEN, ids=[f"{one[1]} {one[0]}" for one in BROKEN]
)
def test_a_broken_rule_is_the_one_fault_reported(pointer: str, code: str, change: Change) -> None:
    document = cases.document()
    change(document)
    with pytest.raises(InvalidInput) as caught:
        validate(cases.authored(document).file)
    assert [(fault.pointer, fault.code) for fault in caught.value.faults] == [(pointer, code)]


def test_a_catalogue_that_fits_together_has_no_fault() -> None:
    validate(cases.authored(cases.document()).file)


def test_every_fault_is_reported_at_once() -> None:
    document = cases.document()
    for change in (
        put("packs", 0, "product", "nothing"),
        put("prices", 1, "pack", "nothing"),
        layer(wet_film="501 um", vertical="99 um"),
        put("taxes", 0, "effective_to", "2025-12-31"),
    ):
        change(document)
    with pytest.raises(InvalidInput) as caught:
        validate(cases.authored(document).file)
    assert [fault.pointer for fault in caught.value.faults] == [
        "/packs/0/product",
        "/prices/1/pack",
        "/systems/0/layers/1/wet_film",
        "/systems/0/layers/1/vertical",
        "/taxes/0/effective_from",
    ]


@pytest.mark.parametrize(
    "change",
    [
        put("packs", 0, "contents", 1, "volume", "1.02 L"),
        put("packs", 0, "contents", [{"part": "b", "volume": "7 L"}]),
        put("packs", 0, "contents", 1, {"part": "b", "mass": "1 kg"}),
        put("rate_books", 0, "productions", 1, "length_rate", MISSING),
        put("taxes", 0, "effective_to", "2026-01-01"),
        layer(wet_film="500 um", vertical="100 um"),
        rivals({}, {"roles": ["primer"]}, {"layers": ["base"]}, {"roles": ["topcoat"]}),
        rivals({"roles": ["primer"]}, {"roles": ["primer"], "layers": ["base"]}),
        put("rate_books", 0, "minimum_paid_day", "PT8H"),
    ],
    ids=[
        "ratio-within-2-percent",
        "part-alone",
        "by-mass",
        "no-rate",
        "one-day",
        "at-limits",
        "each-its-own-rate",
        "more-specific",
        "whole-day-paid",
    ],
)
def test_what_just_fits_is_accepted(change: Change) -> None:
    document = cases.document()
    change(document)
    validate(cases.authored(document).file)


def test_products_without_a_pack_are_warned_of_where_they_are_used() -> None:
    document = cases.document()
    document["packs"] = [one for one in document["packs"] if one["product"] in ("body", "primer")]
    document["prices"] = []
    file = cases.authored(document).file
    validate(file)
    assert [(fault.pointer, fault.code) for fault in warnings_of(file)] == [
        ("/systems/0/layers/1/broadcast/product", "no-pack"),
        ("/systems/0/repairs/crack_filler", "no-pack"),
        ("/systems/0/repairs/fill_aggregate", "no-pack"),
    ]
