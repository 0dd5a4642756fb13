"""An offer made of an estimate."""

from decimal import Decimal

from filmbuild.errors import Faults
from filmbuild.pipeline.offering.lines import measured, under_taxes, work_lines
from filmbuild.pipeline.offering.payments import Occasions, parts_of, staged
from filmbuild.pipeline.offering.taxes import net_of, taxed, total_of
from filmbuild.pipeline.offering.terms import PaymentPlan, Presentation
from filmbuild.pipeline.requests import EstimateRequest, OptionalWork
from filmbuild.pipeline.results import (
    EstimateDocument,
    Offer,
    OfferLine,
    OfferOption,
    OfferTax,
    OptionPrice,
    TaxLine,
)


def make_offer(
    document: EstimateDocument,
    request: EstimateRequest,
    presentation: Presentation,
    payments: PaymentPlan = (),
) -> Offer:
    """The estimate's price as its customer sees it, in lines that add up to its net price.

    Ids of lines are "work" for all of the work, "area:" and "work:" with the area or the kind of
    work ("preparation", "repairs", "floor", "verticals"), "extra:" with the subcontract, "discount:"
    with its number, "minimum", "rounding", and "option:" with the option; the materials of a line
    that are taxed apart have "/materials" after it. Raises InvalidInput where the plan of payments,
    rooted at "payments", does not come to the whole.
    """
    price = document.price
    everything = tuple([tax.rule for tax in price.taxes if not tax.of_materials])
    materials = tuple([tax.rule for tax in price.taxes if tax.of_materials])
    of_materials = price.materials_net or price.net
    lines = tuple(
        under_taxes(work_lines(document, presentation), of_materials, everything, materials)
    )
    net = net_of(lines, price.currency)
    taxes = taxed([_tax(tax) for tax in price.taxes], lines)
    asked = {one.id: one for one in request.options}
    offer = Offer(
        currency=price.currency,
        lines=lines,
        net=net,
        taxes=taxes,
        total=total_of(net, taxes),
        per_square_metre=price.per_square_metre,
        per_square_foot=price.per_square_foot,
        per_running_metre=price.per_running_metre,
        per_running_foot=price.per_running_foot,
        options=tuple(
            [
                _option(one, asked.get(one.id), document, everything, materials)
                for one in document.options
            ]
        ),
    )
    parts = parts_of(payments, Occasions.of(document.schedule), Faults().at("payments"))
    return staged(offer, parts)


def _tax(tax: TaxLine) -> OfferTax:
    return OfferTax(
        rule=tax.rule,
        name=tax.name,
        category=tax.code,
        rate_percent=tax.rate_percent,
        base=tax.base,
        amount=tax.amount,
        exemption_reason=tax.exemption_reason,
        scheme=tax.scheme,
    )


def _option(
    option: OptionPrice,
    asked: OptionalWork | None,
    document: EstimateDocument,
    everything: tuple[str, ...],
    materials: tuple[str, ...],
) -> OfferOption:
    if option.areas:
        quantity, unit = measured(option.surface, "area", "us" if document.units == "us" else "si")
    elif asked is not None and len(asked.extras) == 1:
        quantity, unit = Decimal(asked.extras[0].quantity), str(asked.extras[0].unit)
    else:
        quantity, unit = Decimal(1), "LS"
    line = OfferLine(
        id=f"option:{option.id}",
        kind="option",
        description=option.label,
        quantity=quantity,
        unit=unit,
        net=option.net,
        areas=option.areas,
    )
    return OfferOption(
        id=option.id,
        label=option.label,
        description=option.description,
        lines=tuple(under_taxes([line], option.materials_net, everything, materials)),
        net=option.net,
    )
