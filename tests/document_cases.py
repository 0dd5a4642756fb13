"""Quotations of invented firms over the demo catalogue, for documents to be made of."""

import json
from collections.abc import Sequence
from datetime import UTC, date, datetime
from functools import cache
from pathlib import Path
from typing import Any, Literal

import msgspec
from demo import priced_demo

import filmbuild
from filmbuild.edge.decoding import decode
from filmbuild.money import Percent
from filmbuild.organisations.parties import Address, Contact, Party
from filmbuild.pipeline.drawing import takeoff_drawing
from filmbuild.pipeline.estimate import estimate_document
from filmbuild.pipeline.offering import PaymentPlan, PaymentTerm, Presentation, make_offer
from filmbuild.pipeline.requests import EstimateRequest
from filmbuild.pipeline.results import EstimateDocument
from filmbuild.pipeline.results.offer import PaymentOccasion
from filmbuild.pipeline.specification import Catalogue
from filmbuild.pipeline.timeline import schedule_chart
from filmbuild.quantities import Area, Length
from filmbuild.quotations.content import (
    Alternate,
    Decision,
    OfferDates,
    OfferedArea,
    OfferedLayer,
    QuotationContent,
    Texts,
)

DAY = date(2026, 6, 15)
STUDIO: dict[str, Any] = json.loads(
    Path(filmbuild.__file__).with_name("quickstart_request.json").read_bytes()
)
DISCOUNT = {"reason": "Off season", "amount": "100.07"}
OPTIONS = [
    {
        "id": "stripe",
        "label": "Walkway stripe",
        "description": "Yellow, along the wall of the kilns",
        "extras": [
            {
                "id": "stripe-layer",
                "description": "Line marking",
                "quantity": "21.5",
                "unit": "FOT",
                "unit_cost": "3.71",
            }
        ],
    },
    {
        "id": "lockers",
        "label": "Lockers moved by us",
        "extras": [{"id": "movers", "description": "Movers", "unit_cost": "411.77"}],
    },
]
SELLER = Party(
    name="Saltmarsh Floors (demo)",
    address=Address(
        lines=("14 Quay Street",),
        city="Port Example",
        postal_code="00014",
        region="ME",
        country="US",
    ),
    contact=Contact(name="Ada Marsh", telephone="+1 555 0100", email="office@saltmarsh.example"),
    tax_registration="DEMO-4471",
)
BUYER = Party(
    name="Pottery of the Tides (demo)",
    address=Address(lines=("2 Kiln Lane",), city="Port Example", country="US"),
)
TEXTS = Texts(
    introduction=("Thank you for letting us look at your floor. This is what we propose.",),
    scope=("Grinding of the concrete, repairs, and the coats named below.",),
    exclusions=("Moving of kilns and shelves.", "Work outside of working hours."),
    conditions=("Electric supply near the rooms, water, and heating to 16 degrees.",),
    before=("Clear the rooms the day before.",),
    after=("Keep off the floor until the dates above.",),
    payment=("By bank transfer to the account on the invoice.",),
)
SPANISH = Texts(
    introduction=("Gracias por dejarnos ver su suelo. Esto es lo que proponemos.",),
    scope=("Desbaste del hormigón, reparaciones y las capas indicadas.",),
    exclusions=("Traslado de hornos y estanterías.",),
    conditions=("Corriente eléctrica cerca de las salas, agua y calefacción a 16 grados.",),
    before=("Despejar las salas el día anterior.",),
    after=("No pisar el suelo hasta las fechas indicadas.",),
    payment=("Por transferencia bancaria.",),
)


@cache
def catalogue(currency: str = "USD") -> Catalogue:
    return priced_demo(currency, DAY)


def request_of(
    system: str = "harbour-broadcast", units: str = "us", site: dict[str, Any] | None = None
) -> EstimateRequest:
    terms = {**STUDIO["job"]["terms"], "discounts": [DISCOUNT]}
    job = {**STUDIO["job"], "system": system, "terms": terms}
    body = {"units": units, "site": site or STUDIO["site"], "job": job, "options": OPTIONS}
    return decode(EstimateRequest, json.dumps(body).encode())


@cache
def estimated(
    system: str = "harbour-broadcast", units: str = "us"
) -> tuple[EstimateRequest, EstimateDocument]:
    request = request_of(system, units)
    return request, estimate_document(request, catalogue())


def rooms(count: int) -> dict[str, Any]:
    """So many rooms beside one another."""
    areas = []
    for number in range(count):
        origin = {"x": f"{number % 4 * 6} m", "y": f"{number // 4 * 5} m"}
        outline = {"kind": "rectangle", "length": "6 m", "width": "5 m", "origin": origin}
        areas.append({"id": f"room-{number}", "name": f"Room {number + 1}", "outline": outline})
    return {**STUDIO["site"], "name": "Demo store", "areas": areas}


def plan() -> PaymentPlan:
    def term(
        name: str, label: str, occasion: PaymentOccasion, percent: str | None, due: int
    ) -> PaymentTerm:
        return PaymentTerm(
            id=name,
            label=label,
            occasion=occasion,
            percent=None if percent is None else Percent(percent),
            due_days=due,
        )

    return (
        term("deposit", "Deposit", "on_acceptance", "30", 7),
        term("visit", "Each visit", "per_visit", "30", 0),
        term("end", "Completion", "on_completion", None, 14),
        term("held", "Retention", "retention", "5", 90),
    )


def alternate_of(
    name: str,
    label: str,
    system: str,
    *,
    gains: Sequence[str] = (),
    made: tuple[EstimateRequest, EstimateDocument] | None = None,
    lines: Literal["lump_sum", "by_area", "by_work"] = "by_area",
) -> Alternate:
    request, document = made or estimated(system)
    schedule, takeoff = document.schedule, document.takeoff
    book = catalogue(document.price.currency)
    return Alternate(
        id=name,
        label=label,
        estimate="est_" + "0" * 26,
        estimate_revision=1,
        units=request.units,
        system=book.systems[system].name,
        layers=tuple(
            OfferedLayer(name=one.name, product=book.products[one.product].name)
            for one in document.materials.coats
            if one.kind != "repair"
        ),
        areas=tuple(
            OfferedArea(
                id=one.id,
                name=one.name,
                floor=one.floor,
                verticals=Area(one.vertical),
                running=Length(one.wall_length),
            )
            for one in takeoff.areas
        ),
        offer=make_offer(document, request, Presentation(lines=lines), plan()),
        dates=OfferDates(
            first_day=schedule.first_day,
            last_day=schedule.last_day,
            visits=schedule.visits,
            foot_traffic_from=schedule.foot_traffic_from,
            vehicle_traffic_from=schedule.vehicle_traffic_from,
            full_cure_at=schedule.full_cure_at,
        ),
        gains=tuple(gains),
        cautions=document.cautions,
        drawing=takeoff_drawing(request.site, takeoff, request.units),
        chart=schedule_chart(document),
    )


def content_of(*alternates: Alternate, **changed: Any) -> QuotationContent:
    whole = QuotationContent(
        kind="offer",
        number="Q-2026-0017",
        language="en-US",
        currency="USD",
        time_zone="America/New_York",
        issued_on=date(2026, 5, 4),
        valid_until=date(2026, 6, 3),
        seller=SELLER,
        buyer=BUYER,
        place=Address(lines=("2 Kiln Lane",), city="Port Example", region="ME", country="US"),
        site=STUDIO["site"]["name"],
        reference="PO 881",
        texts=TEXTS,
        alternates=alternates,
    )
    return msgspec.structs.replace(whole, **changed)


@cache
def one_way() -> QuotationContent:
    return content_of(alternate_of("broadcast", "Broadcast floor", "harbour-broadcast"))


@cache
def two_ways() -> QuotationContent:
    return content_of(
        alternate_of(
            "thin",
            "Thin film",
            "harbour-thin-film",
            gains=("Costs less.", "Open five days sooner."),
        ),
        alternate_of(
            "broadcast",
            "Broadcast floor",
            "harbour-broadcast",
            gains=("A thicker floor with grip.",),
        ),
    )


def spanish(content: QuotationContent, tag: str = "es-ES") -> QuotationContent:
    return msgspec.structs.replace(content, language=tag, texts=SPANISH)


def accepted(content: QuotationContent, options: tuple[str, ...] = ("stripe",)) -> Decision:
    return Decision(
        kind="accepted",
        name="Rosa Tide",
        at=datetime(2026, 5, 6, 14, 30, tzinfo=UTC),
        alternate=content.alternates[-1].id,
        options=options,
    )


DECLINED = Decision(
    kind="declined",
    name="Rosa Tide",
    at=datetime(2026, 5, 6, 14, 30, tzinfo=UTC),
    reason="We have changed our plans.",
)
DRAFT: dict[str, Any] = {"number": None, "issued_on": None}
