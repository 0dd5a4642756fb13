"""A small invented catalogue for tests, as a document that tests may change, and how to load it."""

from typing import Any

import msgspec

from filmbuild.catalogue.loader import LoadReport, load
from filmbuild.catalogue.wire import Authored, read
from filmbuild.db import Database

Document = dict[str, Any]
ORGANISATION = "main"


def product(name: str, role: str = "body_coat", **members: object) -> Document:
    return {
        "id": name,
        "name": f"Quay {name}",
        "supplier": "Quay Coatings (demo data)",
        "role": role,
        "parts": [
            {"name": "a", "ratio_by_volume": 2, "density": "1.1 kg/L"},
            {"name": "b", "ratio_by_volume": 1, "density": "1.0 kg/L"},
        ],
        "volume_solids": 0.5,
        "wet_film_minimum": "100 um",
        "wet_film_maximum": "500 um",
        "working_life": times("PT60M", "PT30M"),
        "recoat": [
            {"temperature": "10 degC", "minimum": "PT20H", "maximum": "PT96H"},
            {"temperature": "20 degC", "minimum": "PT10H", "maximum": "PT48H"},
        ],
        **members,
    }


def times(cool: str, warm: str) -> list[Document]:
    return [
        {"temperature": "10 degC", "duration": cool},
        {"temperature": "20 degC", "duration": warm},
    ]


def one_part(name: str, role: str) -> Document:
    return {
        "id": name,
        "name": f"Quay {name}",
        "supplier": "Quay Coatings (demo data)",
        "role": role,
        "parts": [{"name": "grains", "ratio_by_volume": 1, "density": "2.65 kg/L"}],
    }


def kit(name: str, of: str, litres: int) -> Document:
    contents = [
        {"part": "a", "volume": f"{2 * litres} L"},
        {"part": "b", "volume": f"{litres} L"},
    ]
    return {"id": name, "product": of, "name": f"Kit {name}", "contents": contents}


def price(pack: str, amount: str, since: str = "2026-01-01", currency: str = "USD") -> Document:
    return {"pack": pack, "amount": amount, "currency": currency, "effective_from": since}


def document() -> Document:
    """Everything in it fits together; nothing needs the product "spare"."""
    return {
        "name": "Quay catalogue (demo data)",
        "products": [
            product("primer", "primer"),
            product("body"),
            product("filler", "crack_filler"),
            one_part("quartz", "broadcast_aggregate"),
            product("spare"),
        ],
        "packs": [
            kit("primer-3l", "primer", 1),
            kit("body-3l", "body", 1),
            kit("body-15l", "body", 5),
            kit("filler-3l", "filler", 1),
            {
                "id": "quartz-25kg",
                "product": "quartz",
                "name": "Bag",
                "contents": [{"part": "grains", "mass": "25 kg"}],
            },
        ],
        "prices": [
            price("primer-3l", "61.00"),
            price("body-3l", "80.10"),
            price("body-15l", "371.25"),
            price("filler-3l", "40.00"),
            price("quartz-25kg", "12.3456"),
        ],
        "systems": [_system()],
        "rate_books": [_rate_book()],
        "consumables": [_consumable()],
        "taxes": [_tax()],
    }


def _system() -> Document:
    return {
        "id": "two-coat",
        "name": "Two coats",
        "preparation": ["set_up"],
        "layers": [
            {"id": "first", "name": "Primer", "product": "primer", "dry_film": "100 um"},
            {
                "id": "second",
                "name": "Body",
                "product": "body",
                "wet_film": "400 um",
                "vertical": "200 um",
                "broadcast": {"product": "quartz", "rate": "2 kg/m2"},
            },
        ],
        "repairs": {"crack_filler": "filler", "fill_aggregate": "quartz"},
    }


def _rate_book() -> Document:
    return {
        "id": "rates",
        "name": "Rates",
        "currency": "USD",
        "classes": [
            {"id": "finisher", "name": "Finisher", "wage": "30.00", "burden_percent": "30"},
            {"id": "helper", "name": "Helper", "wage": "20.00", "burden_percent": "30"},
        ],
        "productions": [
            {
                "task": "machine_grind",
                "method": "grinder",
                "driver": "machine_grind_area",
                "area_rate": "20 m2/h",
                "equipment": ["grinder"],
            },
            {
                "task": "fill_cracks",
                "method": "by cup",
                "driver": "crack_length",
                "length_rate": "20 m/h",
            },
        ],
        "equipment": [
            {"id": "grinder", "name": "Grinder", "day_rate": "100.00"},
            {"id": "vacuum", "name": "Vacuum", "day_rate": "40.00"},
        ],
        "travel": {"mobilisation": "100.00", "hours_per_worker": "PT1H"},
    }


def _consumable() -> Document:
    return {
        "id": "tape",
        "name": "Tape",
        "kind": "consumable",
        "stage": "mask",
        "driver": "tape_length",
        "per_length": "50 m",
        "unit_price": "7.00",
        "currency": "USD",
    }


def _tax() -> Document:
    return {
        "id": "sales",
        "name": "Sales tax",
        "place": "Quayside",
        "category": "standard",
        "base": "sale",
        "rate_percent": "7.25",
        "effective_from": "2026-01-01",
    }


def authored(source: Document) -> Authored:
    return read(msgspec.json.encode(source))


async def load_document(
    database: Database, source: Document, organisation: str = ORGANISATION
) -> LoadReport:
    return await load(database, organisation, authored(source), "a test")
