"""Keys as tests ask for them."""

from typing import Any

from serving import Client

PAGE = "https://floors.example"


def make_key(client: Client, **asked: Any) -> dict[str, Any]:
    response = client.post("/v1/keys", json={"name": "Back office", **asked})
    assert response.status_code == 201, response.text
    made: dict[str, Any] = response.json()
    return made


def bearer(secret: str) -> dict[str, str]:
    return {"authorization": f"Bearer {secret}"}
