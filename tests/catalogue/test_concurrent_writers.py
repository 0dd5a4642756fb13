"""Several writers on one database, each an application of its own as another process would be."""

from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack

import pytest
from serving import Client, NewDatabase, client_of

PATH = "/v1/products/harbour-20"
WRITERS = 4


@pytest.fixture
def clients(new_database: NewDatabase) -> Iterator[list[Client]]:
    with new_database(True, loaded=True) as url, ExitStack() as stack:
        yield [stack.enter_context(client_of(url)) for _ in range(WRITERS)]


def test_of_two_changes_under_one_tag_one_is_made(clients: list[Client]) -> None:
    for turn in range(5):
        headers = {"If-Match": clients[0].get(PATH).headers["etag"]}

        def change(place: int, turn: int = turn, headers: dict[str, str] = headers) -> int:
            name = f"Name {turn} of {place}"
            return clients[place].patch(PATH, json={"name": name}, headers=headers).status_code

        with ThreadPoolExecutor(WRITERS) as pool:
            statuses = Counter(pool.map(change, range(WRITERS)))
        assert statuses == {200: 1, 412: WRITERS - 1}
        names = {one.get(PATH).json()["name"] for one in clients}
        assert len(names) == 1, "every process sees the one that was made"
    assert clients[1].get("/v1/catalogue").json()["revision"] == 6


def test_changes_of_different_records_are_all_made(clients: list[Client]) -> None:
    packs = [one["id"] for one in clients[0].get("/v1/packs?limit=12").json()["items"]]

    def change(number: int) -> int:
        client, path = clients[number % WRITERS], f"/v1/packs/{packs[number]}"
        headers = {"If-Match": client.get(path).headers["etag"]}
        return client.patch(path, json={"name": f"Pack {number}"}, headers=headers).status_code

    with ThreadPoolExecutor(WRITERS) as pool:
        assert set(pool.map(change, range(len(packs)))) == {200}
    listed = clients[0].get("/v1/packs?limit=12").json()["items"]
    assert [one["name"] for one in listed] == [f"Pack {number}" for number in range(12)]
    revisions = clients[1].get("/v1/catalogue/revisions?limit=100").json()["items"]
    assert [one["revision"] for one in revisions] == list(range(13, 0, -1))


def test_of_creations_at_once_under_one_key_one_is_made(clients: list[Client]) -> None:
    bag = clients[0].get("/v1/packs/harbour-20-kit-3gal").json()
    pack = {name: bag[name] for name in ("product", "name", "contents", "gross_mass")}
    headers = {"Idempotency-Key": "one-kit"}

    def create(place: int) -> tuple[int, bytes]:
        body = {"id": "another-kit", **pack}
        answer = clients[place].post("/v1/packs", json=body, headers=headers)
        return answer.status_code, answer.content

    with ThreadPoolExecutor(WRITERS) as pool:
        answers = set(pool.map(create, range(WRITERS)))
    assert len(answers) == 1
    assert answers.pop()[0] == 201
    assert clients[0].get("/v1/catalogue").json()["revision"] == 2


def test_a_change_through_one_process_is_computed_with_by_the_next_request_of_another(
    clients: list[Client],
) -> None:
    writer, *readers = clients
    for turn in range(10):
        headers = {"If-Match": writer.get(PATH).headers["etag"]}
        writer.patch(PATH, json={"name": f"Turn {turn}"}, headers=headers)
        for reader in readers:
            assert reader.get(PATH).json()["name"] == f"Turn {turn}"
