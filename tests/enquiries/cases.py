"""A quote form on the demo catalogue, its keys, and floors that visitors ask about."""

import copy
from typing import Any

import altcha
import httpx

SITE = "https://floors.example"
FORM = "/v1/quote-form"
PRICES = f"{FORM}/prices"
ENQUIRIES = "/v1/enquiries"
WORDS: list[dict[str, Any]] = [
    {
        "language": "en",
        "title": "What would your floor come to?",
        "includes": ["Grinding and cleaning the concrete", "All coats, laid by our own crew"],
        "minimum_note": "Small floors have a smallest charge.",
        "consent": "Demo Resin Floors may keep these details to answer me.",
        "privacy": "https://floors.example/privacy",
    },
    {
        "language": "es",
        "title": "¿Cuánto costaría su piso?",
        "includes": ["Desbaste y limpieza del concreto", "Todas las capas, con nuestra cuadrilla"],
        "minimum_note": "Los pisos pequeños tienen un cargo mínimo.",
        "consent": "Demo Resin Floors puede guardar estos datos para responderme.",
        "privacy": "https://floors.example/privacidad",
    },
]
SETTINGS: dict[str, Any] = {
    "units": "us",
    "words": WORDS,
    "finishes": [
        {
            "id": "plain",
            "system": "harbour-thin-film",
            "swatch": "#7d8a91",
            "words": [
                {"language": "en", "name": "Plain colour", "description": "Smooth and thin"},
                {"language": "es", "name": "Color liso", "description": "Lisa y delgada"},
            ],
        },
        {
            "id": "quartz",
            "system": "harbour-broadcast",
            "swatch": "#b59f7a",
            "words": [
                {"language": "en", "name": "Quartz grain", "description": "Rough and hard-wearing"},
                {"language": "es", "name": "Grano de cuarzo", "description": "Áspera y dura"},
            ],
        },
    ],
    "job": {
        "rate_book": "main-usd",
        "crew": [
            {"labour_class": "finisher", "count": 1},
            {"labour_class": "technician", "count": 1},
        ],
        "calendar": {"time_zone": "America/Chicago"},
        "terms": {"overhead_percent": "12", "margin_percent": "23.7"},
    },
}
QUESTION: dict[str, Any] = {
    "language": "en",
    "rooms": [{"kind": "size", "length": "24 ft 6 in", "width": "18 ft"}],
    "finish": "plain",
}


def settings(**more: Any) -> dict[str, Any]:
    return copy.deepcopy(SETTINGS) | more


def question(**more: Any) -> dict[str, Any]:
    return copy.deepcopy(QUESTION) | more


def set_up(client: httpx.Client, origin: str = SITE, **more: Any) -> str:
    """The key of a page of the origin."""
    made = client.put(FORM, json=settings(**more))
    assert made.status_code == 201, made.text
    return page_key(client, origin)


def page_key(client: httpx.Client, *origins: str) -> str:
    body = {"name": "Web site", "kind": "publishable", "origins": list(origins)}
    answer = client.post("/v1/keys", json=body)
    assert answer.status_code == 201, answer.text
    key: str = answer.json()["secret"]
    return key


def page(key: str, origin: str = SITE) -> dict[str, str]:
    """The headers that a browser sends from a page."""
    return {"authorization": f"Bearer {key}", "origin": origin}


def solved(client: httpx.Client, headers: dict[str, str]) -> str:
    """With the library's own solver."""
    answer = client.get(f"{FORM}/challenge", headers=headers)
    assert answer.status_code == 200, answer.text
    challenge = altcha.Challenge.from_dict(answer.json())
    solution = altcha.solve_challenge(challenge)
    assert solution is not None
    return altcha.Payload(challenge, solution).to_base64()


def enquiry(client: httpx.Client, headers: dict[str, str], **more: Any) -> dict[str, Any]:
    form = client.get(FORM, headers=headers).json()
    body = {
        "question": question(),
        "name": "Rosa Tide",
        "email": "rosa@tide.example",
        "consent": {"accepted": True, "version": form["consent"]["version"]},
    }
    if "proof" not in more:
        body["proof"] = solved(client, headers)
    return body | more
