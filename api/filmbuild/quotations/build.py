"""Makes what a customer is shown of estimates; pure, and slow enough to be given a thread."""

from collections.abc import Iterator, Sequence
from decimal import Decimal

import msgspec

from filmbuild.organisations.profile import CautionWords, OrganisationTexts
from filmbuild.pipeline.drawing import takeoff_drawing
from filmbuild.pipeline.estimate import takeoff_document
from filmbuild.pipeline.options import with_chosen
from filmbuild.pipeline.requests import EstimateRequest, TakeoffRequest
from filmbuild.pipeline.results import EstimateDocument, Offer
from filmbuild.pipeline.site import Site
from filmbuild.pipeline.specification import Product, System
from filmbuild.pipeline.timeline import schedule_chart
from filmbuild.pipeline.trace import Caution
from filmbuild.quotations.content import (
    Alternate,
    OfferDates,
    OfferedArea,
    OfferedLayer,
    Texts,
)
from filmbuild.quotations.gains import Compared, gains_of
from filmbuild.quotations.wire import AlternateCosts, TextsGiven


class Ingredients(msgspec.Struct, frozen=True, kw_only=True):
    """One alternate before it is laid out: a revision of an estimate, and what is asked for it."""

    id: str
    label: str
    estimate: str
    revision: int
    request: EstimateRequest
    document: EstimateDocument
    offer: Offer
    system: System
    products: dict[str, Product]


def alternates_of(
    chosen: Sequence[Ingredients], language: str, words: Sequence[CautionWords]
) -> tuple[Alternate, ...]:
    gains = gains_of([_compared(one) for one in chosen], language, chosen[0].request.units)
    return tuple(
        _alternate(one, f"a{place}-", gains[place], words) for place, one in enumerate(chosen)
    )


def texts_for(
    kept: OrganisationTexts, given: TextsGiven | None, instructions: tuple[str, ...]
) -> Texts:
    """The organisation's words, but for those that the quotation has of its own.

    How to pay, which the profile says, follows the organisation's words on payment.
    """
    found = {name: getattr(kept, name) for name in Texts.__struct_fields__}
    found["payment"] = (*kept.payment, *instructions)
    own = {} if given is None else msgspec.structs.asdict(given)
    return Texts(**found | {name: words for name, words in own.items() if words is not None})


def costs_of(one: Ingredients) -> AlternateCosts:
    price = one.document.price
    return AlternateCosts(
        alternate=one.id,
        estimate=one.estimate,
        revision=one.revision,
        catalogue_revision=one.document.catalogue_revision,
        cost=price.cost,
        net=price.net,
        margin_percent=Decimal(price.margin_percent),
    )


def _alternate(
    one: Ingredients, prefix: str, gains: tuple[str, ...], words: Sequence[CautionWords]
) -> Alternate:
    document, units = one.document, one.request.units
    return Alternate(
        id=one.id,
        label=one.label,
        estimate=one.estimate,
        estimate_revision=one.revision,
        units=units,
        system=one.system.name,
        layers=_layers(one),
        areas=tuple(
            OfferedArea(
                id=area.id,
                name=area.name,
                floor=area.floor,
                verticals=area.vertical,
                running=area.running_length,
            )
            for area in document.takeoff.areas
        ),
        offer=one.offer,
        dates=_dates(document),
        gains=gains,
        cautions=tuple(_cautions(document.cautions, words)),
        drawing=takeoff_drawing(_site(one.request), document.takeoff, units, prefix),
        chart=schedule_chart(document, prefix),
    )


def _site(request: EstimateRequest) -> Site:
    """What the takeoff of the estimate is of: the areas that are not optional."""
    if not request.options:
        return request.site
    whole = takeoff_document(TakeoffRequest(site=request.site)).takeoff
    return with_chosen(request, (), whole)[0].site


def _layers(one: Ingredients) -> tuple[OfferedLayer, ...]:
    return tuple(
        OfferedLayer(name=layer.name, product=one.products[layer.product].name)
        for layer in one.system.layers
    )


def _dates(document: EstimateDocument) -> OfferDates:
    schedule = document.schedule
    return OfferDates(
        first_day=schedule.first_day,
        last_day=schedule.last_day,
        visits=len({day.visit for day in schedule.days}),
        foot_traffic_from=schedule.foot_traffic_from,
        vehicle_traffic_from=schedule.vehicle_traffic_from,
        full_cure_at=schedule.full_cure_at,
    )


def _cautions(found: Sequence[Caution], words: Sequence[CautionWords]) -> Iterator[Caution]:
    """One for each wording that the job calls for; products and tasks mean nothing to a customer."""
    for one in words:
        called = [caution for caution in found if caution.code == one.code]
        if called:
            sources = dict.fromkeys(caution.source for caution in called)
            yield Caution(
                code=one.code, title=one.title, detail=one.detail, source="; ".join(sources)
            )


def _compared(one: Ingredients) -> Compared:
    schedule = one.document.schedule
    return Compared(
        offer=one.offer,
        film=sum(coat.dry_film or 0.0 for coat in one.document.materials.coats if coat.floor),
        last_day=schedule.last_day,
        foot_traffic_from=schedule.foot_traffic_from,
        vehicle_traffic_from=schedule.vehicle_traffic_from,
    )
