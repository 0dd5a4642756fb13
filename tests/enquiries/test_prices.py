"""Price ranges for visitors: those of the estimates, in sensible figures, and nothing of the costs."""

from collections.abc import Iterator
from decimal import Decimal
from itertools import pairwise
from typing import Any

import pytest
from calling import add_organisation
from enquiries import cases
from quotations.leaks import assert_no_costs
from serving import Client, NewDatabase, client_of

from filmbuild.enquiries.form import FormRange
from filmbuild.enquiries.ranges import range_of
from filmbuild.money import Currency, Exact, Money, Percent

OTHER_KEY = "secret-token:filmbuild_of-another-organisation-of-the-tests"


@pytest.fixture(scope="module", params=["sqlite", "postgresql"])
def client(request: pytest.FixtureRequest) -> Iterator[Client]:
    new: NewDatabase = request.getfixturevalue(f"new_{request.param}")
    with new(True, loaded=True) as url:
        add_organisation(url, "other", OTHER_KEY)
        with client_of(url) as client:
            yield client


@pytest.fixture(scope="module")
def headers(client: Client) -> dict[str, str]:
    return cases.page(cases.set_up(client))


def told(client: Client, headers: dict[str, str], **more: Any) -> tuple[Decimal, Decimal]:
    answer = client.post(cases.PRICES, json=cases.question(**more), headers=headers)
    assert answer.status_code == 200, answer.text
    price = answer.json()["price"]
    return Decimal(price["lowest"]["amount"]), Decimal(price["highest"]["amount"])


def faults(answer: Any) -> list[tuple[str, str]]:
    assert answer.status_code == 422, answer.text
    return [(one["pointer"], one["code"]) for one in answer.json()["errors"]]


def test_the_range_is_round_the_estimate_that_is_kept(
    client: Client, headers: dict[str, str]
) -> None:
    """Ten per cent below and twenty above, as the settings have it, brought to fifties."""
    asked = cases.question(
        finish="quartz",
        steps={"count": 3, "width": "4 ft"},
        cracks={"length": "20 ft", "width": "coin"},
    )
    body = cases.enquiry(client, headers, question=asked)
    made = client.post(cases.ENQUIRIES, json=body, headers=headers)
    assert made.status_code == 201, made.text
    kept = client.get(f"{cases.ENQUIRIES}/{made.json()['id']}").json()
    estimate = client.get(f"/v1/estimates/{kept['estimate']}").json()
    net = Decimal(estimate["document"]["price"]["net"]["amount"])
    assert estimate["reference"] == kept["id"]
    lowest, highest = told(client, headers, **asked)
    assert (made.json()["price"]["lowest"]["amount"]) == str(lowest)
    assert 0 <= net * Decimal("0.9") - lowest < 50
    assert 0 <= highest - net * Decimal("1.2") < 500
    site = estimate["request"]["site"]["areas"][0]
    assert site["steps"][0]["risers"] == 3
    assert site["cracks"][0]["length"]["value"] == pytest.approx(20 * 0.3048)


def test_the_same_request_to_the_estimates_comes_to_the_same(
    client: Client, headers: dict[str, str]
) -> None:
    body = cases.enquiry(client, headers)
    made = client.post(cases.ENQUIRIES, json=body, headers=headers).json()
    kept = client.get(f"{cases.ENQUIRIES}/{made['id']}").json()
    estimate = client.get(f"/v1/estimates/{kept['estimate']}").json()
    again = client.post("/v1/estimates", json=estimate["request"]).json()
    assert again["document"] == estimate["document"]


def test_no_answer_to_a_page_tells_a_cost(client: Client, headers: dict[str, str]) -> None:
    body = cases.enquiry(client, headers)
    challenge = client.get(f"{cases.FORM}/challenge", headers=headers)
    answers = [
        client.get(cases.FORM, headers=headers),
        client.post(cases.PRICES, json=body["question"], headers=headers),
        client.post(cases.PRICES, json={"finish": "none"}, headers=headers),
        client.post(cases.ENQUIRIES, json=body, headers=headers),
    ]
    assert [one.status_code for one in answers] == [200, 200, 422, 201]
    kept = client.get(f"{cases.ENQUIRIES}/{answers[-1].json()['id']}").json()
    document = client.get(f"/v1/estimates/{kept['estimate']}").json()["document"]
    for answer in answers:
        assert_no_costs(answer.content, document)
        for word in ("harbour", "supplier", '"est_', "pack", "23.7"):
            assert word not in answer.text.lower()
    # the protocol's own name for the work of an attempt
    assert challenge.json()["parameters"].keys() >= {"cost", "nonce", "salt"}


def test_a_page_key_reads_no_enquiry_and_no_settings(
    client: Client, headers: dict[str, str]
) -> None:
    made = client.post(cases.ENQUIRIES, json=cases.enquiry(client, headers), headers=headers).json()
    for path in (
        cases.ENQUIRIES,
        f"{cases.ENQUIRIES}/{made['id']}",
        f"{cases.FORM}/settings",
        "/v1/estimates",
    ):
        assert client.get(path, headers=headers).status_code == 403, path
    assert client.put(cases.FORM, json=cases.settings(), headers=headers).status_code == 403
    other = {"authorization": f"Bearer {OTHER_KEY}"}
    assert client.get(cases.ENQUIRIES, headers=other).json()["items"] == []
    assert client.get(f"{cases.ENQUIRIES}/{made['id']}", headers=other).status_code == 404
    assert client.delete(f"{cases.ENQUIRIES}/{made['id']}", headers=other).status_code == 404
    assert client.get(cases.FORM, headers=other).status_code == 404


def test_pages_of_other_origins_are_refused(client: Client, headers: dict[str, str]) -> None:
    """The Fetch standard: what a browser asks before a request with a key, and what lets it."""
    elsewhere = headers | {"origin": "https://elsewhere.example"}
    asked = client.post(cases.PRICES, json=cases.question(), headers=elsewhere)
    assert asked.status_code == 403
    assert "access-control-allow-origin" not in asked.headers
    before = {
        "origin": cases.SITE,
        "access-control-request-method": "POST",
        "access-control-request-headers": "authorization,content-type,idempotency-key",
    }
    preflight = client.options(cases.ENQUIRIES, headers=before)
    assert preflight.headers["access-control-allow-origin"] == cases.SITE
    assert preflight.headers["access-control-allow-methods"] == "POST"
    allowed = preflight.headers["access-control-allow-headers"].lower()
    for name in ("authorization", "content-type", "idempotency-key"):
        assert name in allowed
    other = client.options(
        cases.ENQUIRIES, headers=before | {"origin": "https://elsewhere.example"}
    )
    assert "access-control-allow-origin" not in other.headers


@pytest.mark.parametrize("finish", ["plain", "quartz"])
def test_a_much_larger_floor_never_costs_less(
    client: Client, headers: dict[str, str], finish: str
) -> None:
    """Of floors that differ little the larger may cost less, where it spares a short day."""
    ranges = []
    for length in ("8 ft", "16 ft", "32 ft", "64 ft", "128 ft"):
        room = {"kind": "size", "length": length, "width": "18 ft"}
        ranges.append(told(client, headers, rooms=[room], finish=finish))
    assert all(one[0] < two[0] and one[1] < two[1] for one, two in pairwise(ranges))


def test_a_drawn_room_costs_what_it_costs_by_its_size(
    client: Client, headers: dict[str, str]
) -> None:
    size = {"kind": "size", "length": "24 ft", "width": "18 ft"}
    corners = [[2, 2], [26, 2], [26, 20], [2, 20]]
    drawn = {"kind": "outline", "unit": "ft", "corners": corners}
    backwards = drawn | {"corners": corners[::-1]}
    by_size = told(client, headers, rooms=[size])
    assert told(client, headers, rooms=[drawn]) == by_size
    assert told(client, headers, rooms=[backwards]) == by_size


def test_all_that_is_wrong_is_told_at_once_and_in_the_language_asked(
    client: Client, headers: dict[str, str]
) -> None:
    crossed = {"kind": "outline", "unit": "m", "corners": [[0, 0], [6, 6], [6, 0], [0, 6]]}
    asked = cases.question(
        language="es",
        rooms=[{"kind": "size", "length": "1 in", "width": "900 ft"}, crossed],
        finish="gold",
        steps={"count": 2, "width": "1 in"},
        cracks={"length": "9 km", "width": "coin"},
        wished_date="2020-01-01",
    )
    answer = client.post(cases.PRICES, json=asked, headers=headers)
    assert faults(answer) == [
        ("/rooms/0/length", "out-of-range"),
        ("/rooms/0/width", "out-of-range"),
        ("/rooms/1/corners", "outline-crosses-itself"),
        ("/steps/width", "out-of-range"),
        ("/cracks/length", "out-of-range"),
        ("/finish", "unknown-finish"),
        ("/wished_date", "out-of-range"),
    ]
    problem = answer.json()
    assert problem["detail"] == "La solicitud no es válida."
    assert "plain, quartz" in problem["errors"][5]["detail"]
    torn = {"language": "es", "rooms": [{"kind": "size", "length": "long"}], "more": 1}
    answer = client.post(cases.PRICES, json=torn, headers=headers)
    assert ("/rooms/0/width", "missing-field") in faults(answer)
    assert {one["detail"] for one in answer.json()["errors"]} >= {"falta este dato"}
    english = client.post(
        cases.PRICES, json={"rooms": []}, headers=headers | {"accept-language": "en"}
    )
    assert english.json()["detail"] == "The request is not valid."


def test_what_cannot_be_priced_is_an_enquiry_all_the_same(
    client: Client, headers: dict[str, str]
) -> None:
    """The system was retired since: the pipeline's reasons, which name it, stay inside."""
    path = "/v1/systems/harbour-decorative"
    found = client.get(path)
    finishes = cases.settings()["finishes"]
    finishes.append(finishes[0] | {"id": "smooth", "system": "harbour-decorative"})
    tag = {"if-match": client.get(f"{cases.FORM}/settings").headers["etag"]}
    changed = client.put(cases.FORM, json=cases.settings(finishes=finishes), headers=tag)
    assert changed.status_code == 200, changed.text
    retired = client.delete(path, headers={"if-match": found.headers["etag"]})
    assert retired.is_success, retired.text
    asked = cases.question(finish="smooth")
    answer = client.post(cases.PRICES, json=asked, headers=headers)
    assert faults(answer) == [("", "not-priceable")]
    assert "harbour" not in answer.text
    body = cases.enquiry(client, headers, question=asked)
    made = client.post(cases.ENQUIRIES, json=body, headers=headers)
    assert made.status_code == 201, made.text
    assert made.json()["price"] is None
    kept = client.get(f"{cases.ENQUIRIES}/{made.json()['id']}").json()
    assert (kept["estimate"], kept["question"]["finish"]) == (None, "smooth")


@pytest.mark.parametrize(
    ("price", "expected"),
    [
        ("4800.00", ("4300", "5800")),
        ("48000.00", ("43000", "58000")),
        ("480.00", ("430", "580")),
        ("4801.00", ("4300", "5800")),
        ("0.00", ("0", "0")),
    ],
)
def test_figures_are_sensible(price: str, expected: tuple[str, str]) -> None:
    """Worked by hand: 4800 less 10 % is 4320, in fifties below 4300; plus 20 % is 5760, so 5800."""
    found = range_of(
        Money(Exact(price), Currency("USD")),
        FormRange(below_percent=Percent("10"), above_percent=Percent("20")),
    )
    assert tuple(Decimal(one.amount) for one in found) == tuple(map(Decimal, expected))


def test_a_range_never_falls_as_its_price_rises() -> None:
    found = [
        range_of(Money(Exact(f"{cents / 100:.2f}"), Currency("USD")), FormRange())
        for cents in range(80_000, 1_300_000, 337)
    ]
    for one, two in pairwise(found):
        assert one[0].amount <= two[0].amount
        assert one[1].amount <= two[1].amount
