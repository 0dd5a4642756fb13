"""Undoing a whole update, and formulas over many packs."""

from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

import httpx
import pytest
from price_update_cases import CSV, DAY, KIT, PAIL, UPDATES, amount, faults, newest, price, send
from serving import Client, NewDatabase, serving

FORMULAS = "/v1/price-formulas"


@pytest.fixture
def client(new_database: NewDatabase) -> Iterator[Client]:
    with serving(new_database) as client:
        yield client


def update(client: Client, table: str, **query: str) -> dict[str, Any]:
    answered = send(client, f"pack,amount\n{table}", CSV, **query)
    assert answered.status_code == 201, answered.text
    made: dict[str, Any] = answered.json()
    return made


def undo(client: Client, made: dict[str, Any]) -> httpx.Response:
    return client.post(f"{UPDATES}/{made['id']}/undo")


def all_prices(client: Client, revision: int) -> list[tuple[Any, ...]]:
    found = []
    for currency in ("USD", "EUR"):
        for day in ("2026-03-01", "2026-12-31", "2027-06-01"):
            path = f"/v1/packs?revision={revision}&currency={currency}&priced_on={day}&limit=100"
            items = client.get(path).json()["items"]
            found += [(one["id"], one["price"], one["breaks"], one["price_since"]) for one in items]
    return found


def test_prices_are_as_before(client: Client) -> None:
    before = all_prices(client, 1)
    made = update(client, f"{KIT},200.00\n{PAIL},1.00\n")
    again = update(client, f"{KIT},50\n", effective_from="2026-07-01")
    assert all_prices(client, again["revision"]) != before
    for one in (again, made):
        answered = undo(client, one)
        assert answered.status_code == 201, answered.text
    assert answered.json()["revision"] == newest(client) == 5
    assert all_prices(client, 5) == before
    assert all_prices(client, 3) != before
    found = client.get(f"{UPDATES}/{made['id']}").json()
    assert found["undone_by"] == answered.json()["id"]
    assert answered.json()["undoes"] == made["id"]


def test_a_price_that_was_new_is_withdrawn(client: Client) -> None:
    made = update(client, f"{KIT},150.00\n", tier="trade")
    undone = undo(client, made).json()
    assert undone["counts"]["withdrawn"] == 1
    found = price(client, KIT, undone["revision"], tier="trade")
    assert (found["price_tier"], found["price"]["amount"]) == ("", "189.90")
    changes = client.get(f"{UPDATES}/{undone['id']}/changes").json()["items"]
    assert [(one["outcome"], one["was"], one["now"]) for one in changes] == [
        ("withdrawn", "150.00", None)
    ]


def test_undoing_twice_undoes_once(client: Client) -> None:
    made = update(client, f"{KIT},200.00\n")
    first, again = undo(client, made), undo(client, made)
    assert (first.status_code, again.status_code) == (201, 200)
    assert again.json()["id"] == first.json()["id"]
    assert newest(client) == 3


def test_an_undoing_can_be_undone(client: Client) -> None:
    made = update(client, f"{KIT},200.00\n")
    redone = undo(client, undo(client, made).json()).json()
    assert amount(client, KIT, redone["revision"]) == "200.00"
    assert client.get(f"{UPDATES}/{made['id']}").json()["undone_by"] is None
    assert undo(client, made).status_code == 201
    assert amount(client, KIT, newest(client)) == "189.90"


def test_what_was_changed_since_stands_in_the_way(client: Client) -> None:
    made = update(client, f"{KIT},200.00\n{PAIL},1.00\n")
    later = update(client, f"{KIT},210.00\n")
    refused = undo(client, made)
    assert refused.status_code == 409
    assert [one["code"] for one in refused.json()["errors"]] == ["changed-since"]
    assert KIT in refused.json()["errors"][0]["detail"]
    assert newest(client) == 3
    assert undo(client, later).status_code == 201
    assert undo(client, made).status_code == 201
    assert amount(client, KIT, newest(client)) == "189.90"


def test_a_later_price_that_agrees_does_not(client: Client) -> None:
    made = update(client, f"{KIT},200.00\n")
    update(client, f"{KIT},210.00\n")
    update(client, f"{KIT},200.00\n")
    assert undo(client, made).status_code == 201
    assert amount(client, KIT, newest(client)) == "189.90"


def test_an_update_that_changed_nothing_has_nothing_to_undo(client: Client) -> None:
    made = update(client, f"{KIT},189.90\n")
    assert made["revision"] is None
    assert undo(client, made).json()["errors"][0]["code"] == "nothing-to-undo"
    assert undo(client, {"id": f"pru_{'0' * 26}"}).status_code == 404


def formula(client: Client, **fields: Any) -> httpx.Response:
    asked = {"selector": {}, "currency": "USD", "effective_from": DAY} | fields
    return client.post(FORMULAS, json=asked)


@pytest.mark.parametrize(
    ("rounding", "expected"), [("half_up", "198.45"), ("up", "198.45"), ("down", "198.40")]
)
def test_a_formula_raises_and_rounds(client: Client, rounding: str, expected: str) -> None:
    # 189.90 x 1.045 = 198.4455
    answered = formula(
        client,
        selector={"packs": [KIT]},
        percent="4.5",
        round_to="0.05",
        rounding=rounding,
    )
    assert answered.status_code == 201, answered.text
    assert amount(client, KIT, answered.json()["revision"]) == expected
    assert answered.json()["note"] == "Formula +4.5 %, rounded to 0.05"


def test_a_formula_is_checked_like_a_file(client: Client) -> None:
    before = all_prices(client, 1)
    supplier = "Harbour Floor Supply (demo data)"
    fields = {"selector": {"suppliers": [supplier], "roles": ["primer"]}, "percent": "10"}
    checked = formula(client, **fields, check_only=True)
    assert checked.status_code == 200
    assert newest(client) == 1
    differences = checked.json()["differences"]
    assert {one["pack"] for one in differences} == {KIT, "harbour-20-kit-15gal"}
    for one in differences:
        raised = (Decimal(one["was"]) * Decimal("1.1")).quantize(Decimal("0.01"), ROUND_HALF_UP)
        assert Decimal(one["now"]) == raised
    made = formula(client, **fields).json()
    assert made["counts"]["changed"] == 2
    undo(client, made)
    assert all_prices(client, newest(client)) == before


def test_breaks_go_with_their_price(client: Client) -> None:
    made = formula(client, selector={"packs": [PAIL]}, amount="-5").json()
    found = price(client, PAIL, made["revision"])
    before = price(client, PAIL, 1)
    for was, now in zip(before["breaks"], found["breaks"], strict=True):
        assert Decimal(now["amount"]) == Decimal(was["amount"]) - 5


@pytest.mark.parametrize(
    ("fields", "expected"),
    [
        ({}, {("", "exactly-one")}),
        ({"percent": "1", "amount": "1"}, {("/amount", "exactly-one")}),
        ({"percent": "-101"}, {("/percent", "out-of-range")}),
        ({"percent": "1", "round_to": "0.005"}, {("/round_to", "too-precise")}),
        (
            {"percent": "1", "selector": {"packs": ["x"], "suppliers": ["y"], "products": ["z"]}},
            {
                ("/selector/packs/0", "unknown-pack"),
                ("/selector/suppliers/0", "unknown-supplier"),
                ("/selector/products/0", "unknown-product"),
            },
        ),
        ({"amount": "-100000", "selector": {"packs": ["harbour-90-1gal"]}}, {("", "negative")}),
        ({"percent": "1", "tier": "nobody"}, {("", "no-rows")}),
        (
            {"percent": "20", "limit_percent": "10", "selector": {"packs": [KIT]}},
            {("", "out-of-bounds")},
        ),
    ],
)
def test_formulas_that_cannot_be(
    client: Client, fields: dict[str, Any], expected: set[tuple[str, str]]
) -> None:
    answered = formula(client, **fields)
    assert answered.status_code == 422, answered.text
    assert faults(answered) == expected
    assert newest(client) == 1
