"""Updates of many prices: written whole, in three formats, once for each key."""

from collections.abc import Iterator
from typing import Any

import msgspec
import pytest
from calling import KEY_ID
from price_update_cases import (
    CSV,
    DAY,
    JSON,
    KIT,
    NDJSON,
    PAIL,
    UPDATES,
    amount,
    as_ndjson,
    newest,
    price,
    send,
)
from serving import Client, NewDatabase, serving


@pytest.fixture
def client(new_database: NewDatabase) -> Iterator[Client]:
    with serving(new_database) as client:
        yield client


ROWS: list[dict[str, Any]] = [
    {"pack": KIT, "amount": "200.00"},
    {
        "pack": PAIL,
        "amount": "1010.00",
        "breaks": [{"from_packs": 4, "amount": "970.00"}, {"from_packs": 10, "amount": "930"}],
    },
]
TABLE = f"pack,amount,breaks\r\n{KIT},200.00,\r\n{PAIL},1010.00,4:970.00 10:930\r\n"


@pytest.mark.parametrize(
    ("content", "kind"),
    [
        (TABLE, CSV),
        ("\ufeff" + TABLE, CSV),
        (TABLE.replace("\r\n", "\n").rstrip(), CSV),
        (TABLE.replace(KIT, f'"{KIT}"').replace("200.00", '"200.00"'), CSV),
        (as_ndjson(*ROWS), NDJSON),
        (as_ndjson(*ROWS).replace(b"\n", b"\r\n\r\n"), NDJSON),
        (msgspec.json.encode(ROWS), JSON),
        (msgspec.json.format(msgspec.json.encode(ROWS), indent=4), JSON),
    ],
)
def test_every_format_says_the_same(
    client: Client, content: str | bytes, kind: dict[str, str]
) -> None:
    answered = send(client, content, kind)
    assert answered.status_code == 201, answered.text
    update = answered.json()
    assert update["revision"] == update["based_on"] + 1 == newest(client)
    assert update["counts"]["changed"] == update["counts"]["rows"] == 2
    found = price(client, PAIL, update["revision"])
    assert found["price"] == {"amount": "1010.00", "currency": "USD"}
    assert found["breaks"] == [
        {"from_packs": 4, "amount": "970.00"},
        {"from_packs": 10, "amount": "930.00"},
    ]
    assert answered.headers["location"] == f"{UPDATES}/{update['id']}"


def test_the_revision_before_gives_the_prices_that_it_gave(client: Client) -> None:
    before = client.get(f"/v1/packs?revision=1&priced_on={DAY}&limit=100").content
    update = send(client, TABLE).json()
    assert amount(client, KIT, update["revision"]) == "200.00"
    assert client.get(f"/v1/packs?revision=1&priced_on={DAY}&limit=100").content == before


def test_a_price_holds_from_its_day_on(client: Client) -> None:
    was = amount(client, KIT, on="2026-12-31")
    revision = send(client, TABLE).json()["revision"]
    assert amount(client, KIT, revision, on="2026-12-31") == was
    assert amount(client, KIT, revision, on="2027-01-01") == "200.00"


def test_the_revision_says_who_when_and_how_many(client: Client) -> None:
    update = send(client, TABLE, note="spring list").json()
    made = client.get("/v1/catalogue/revisions").json()["items"][0]
    assert (made["author"], made["note"]) == (KEY_ID, "spring list")
    assert made["changes"]["prices"] == {"new": 0, "changed": 2, "unchanged": 0, "retired": 0}
    assert made["created_at"] == update["created_at"]


def test_the_same_again_differs_in_nothing_and_makes_no_revision(client: Client) -> None:
    first = send(client, TABLE).json()
    again = send(client, TABLE).json()
    assert again["revision"] is None
    assert again["counts"]["unchanged"] == 2
    assert newest(client) == first["revision"]


def test_a_key_is_answered_once_and_with_the_same(client: Client) -> None:
    keyed = {**CSV, "idempotency-key": "spring"}
    first = send(client, TABLE, keyed)
    again = send(client, TABLE, keyed)
    assert (again.status_code, again.content) == (201, first.content)
    assert newest(client) == 2
    other = send(client, TABLE.replace("200.00", "201.00"), keyed)
    assert other.status_code == 422
    assert other.json()["errors"][0]["code"] == "idempotency-key-reused"
    assert send(client, TABLE, keyed, limit_percent="50").status_code == 422


def test_updates_are_listed_newest_first_and_found_by_id(client: Client) -> None:
    made = [send(client, TABLE.replace("200.00", f"20{one}.00")).json()["id"] for one in range(3)]
    page = client.get(f"{UPDATES}?limit=2").json()
    rest = client.get(f"{UPDATES}?limit=2&cursor={page['next']}").json()
    assert [one["id"] for one in (*page["items"], *rest["items"])] == made[::-1]
    assert rest["next"] is None
    found = client.get(f"{UPDATES}/{made[1]}").json()
    assert (found["id"], found["revision"], found["undone_by"]) == (made[1], 3, None)
    assert client.get(f"{UPDATES}/pru_{'0' * 26}").status_code == 404


def test_changes_are_paged_with_what_was(client: Client) -> None:
    name = send(client, TABLE + "harbour-90-1gal,41.00,\r\n").json()["id"]
    path = f"{UPDATES}/{name}/changes"
    page = client.get(f"{path}?limit=2").json()
    rest = client.get(f"{path}?limit=2&cursor={page['next']}").json()
    items = [*page["items"], *rest["items"]]
    assert [one["pack"] for one in items] == [PAIL, KIT, "harbour-90-1gal"]
    first = items[1]
    # (200.00 - 189.90) / 189.90 = 5.32 %
    assert (first["was"], first["was_since"], first["now"]) == ("189.90", "2026-07-01", "200.00")
    assert first["percent"] == "5.32"
    table = client.get(path, headers={"accept": "text/csv"}).text.splitlines()
    assert table[0].startswith("outcome,pack,currency,tier,effective_from,was,")
    assert len(table) == 4
    assert table[2] == f"changed,{KIT},USD,,{DAY},189.90,2026-07-01,,200.00,,5.32"


def test_an_update_can_be_answered_as_a_table(client: Client) -> None:
    answered = send(client, TABLE, {**CSV, "accept": "text/csv"})
    assert answered.status_code == 201
    assert answered.headers["content-type"].startswith("text/csv")
    assert answered.text.splitlines()[0].startswith("outcome,pack,")
    assert len(answered.text.splitlines()) == 3
    assert newest(client) == 2


def test_a_tier_has_a_list_of_its_own(client: Client) -> None:
    usual = amount(client, KIT)
    revision = send(client, TABLE, tier="trade").json()["revision"]
    assert amount(client, KIT, revision) == usual
    assert amount(client, KIT, revision, tier="trade") == "200.00"
    lists = client.get(f"/v1/price-lists?revision={revision}").json()["items"]
    trade = next(one for one in lists if one["tier"] == "trade")
    assert trade == {
        "currency": "USD",
        "tier": "trade",
        "packs": 2,
        "prices": 2,
        "first_effective": DAY,
        "last_effective": DAY,
    }


def test_one_file_may_hold_several_lists_and_days(client: Client) -> None:
    table = (
        "tier,pack,effective_from,currency,amount\n"
        f",{KIT},2027-01-01,USD,200\n"
        f"trade,{KIT},2027-01-01,USD,180\n"
        f"trade,{KIT},2027-02-01,USD,181.5\n"
        f"trade,{KIT},2027-01-01,JPY,27000\n"
    )
    update = send(client, table).json()
    assert update["counts"] | {"new": 3, "changed": 1} == update["counts"]
    asked = [
        {},
        {"tier": "trade"},
        {"tier": "trade", "on": "2027-03-01"},
        {"tier": "trade", "currency": "JPY"},
    ]
    found = [amount(client, KIT, update["revision"], **one) for one in asked]
    assert found == ["200.00", "180.00", "181.50", "27000"]


def test_without_a_day_prices_hold_from_today(client: Client) -> None:
    answered = client.post(f"{UPDATES}?currency=USD", content=TABLE, headers=CSV).json()
    changes = client.get(f"{UPDATES}/{answered['id']}/changes").json()["items"]
    assert {one["effective_from"] for one in changes} == {answered["created_at"][:10]}
