"""A quotation's content as words and figures in its language."""

from collections.abc import Iterator, Sequence
from datetime import datetime

from babel.lists import format_list

from filmbuild.money import Money, rounded
from filmbuild.organisations.parties import Address, Party
from filmbuild.pipeline.offering import with_options
from filmbuild.pipeline.results.offer import Offer, OfferLine, OfferOption, OfferTax, PaymentStage
from filmbuild.quotations.content import Alternate, Decision, QuotationContent, QuotationState
from filmbuild.quotations.documents.figures import figure
from filmbuild.quotations.documents.shown import (
    AreaShown,
    Banner,
    Block,
    CautionShown,
    ChoiceShown,
    Fact,
    LineShown,
    OfferShown,
    OptionShown,
    PaymentShown,
    Sender,
    Sums,
    TaxShown,
)
from filmbuild.quotations.documents.writer import LUMP_SUM, WORDS, Writer, writer_of

BLOCKS = ("scope", "exclusions", "conditions", "before", "after", "payment")
"""The texts of a quotation, in the order in which they stand."""
_GIVEN = ("area:", "extra:", "option:")
"""How ids of lines begin whose description is a name or a sentence of the caller."""
_MATERIALS = ", materials"
"""How the description of a line ends that is split from another, for taxes on materials alone."""
PAPERS = {"us": "us-letter", "si": "a4"}


def offer_shown(
    content: QuotationContent, state: QuotationState, decision: Decision | None
) -> OfferShown:
    writer = writer_of(content.language, content.time_zone)
    label = writer.language
    kind = label[content.kind]
    return OfferShown(
        language=writer.tag,
        title=kind if content.number is None else f"{kind} {content.number}",
        kind=kind,
        mark=label["draft"] if state == "draft" else "",
        seller=party(content.seller, writer),
        buyer=party(content.buyer, writer),
        facts=tuple(_facts(content, writer)),
        banner=_banner(content, state, decision, writer),
        introduction=content.texts.introduction,
        choices=tuple(
            _choice(one, place, content, decision, writer)
            for place, one in enumerate(content.alternates, 1)
        ),
        blocks=tuple(_blocks(content, writer)),
        cautions=tuple(_cautions(content.alternates, writer)),
        labels=dict(label.labels),
        paper=PAPERS[content.alternates[0].units],
    )


def party(one: Party, writer: Writer) -> Sender:
    label = writer.language
    lines = list(address(one.address, writer))
    contact = one.contact
    if contact is not None:
        lines += [text for text in (contact.name, contact.telephone, contact.email) if text]
    for key, number in (
        ("vat_number", one.vat_number),
        ("tax_registration", one.tax_registration),
        ("registration", one.registration),
    ):
        if number:
            lines.append(f"{label[key]}: {number}")
    return Sender(name=one.name, lines=tuple(lines))


def address(one: Address, writer: Writer) -> Iterator[str]:
    yield from one.lines
    place = " ".join(text for text in (one.postal_code, one.city) if text)
    if one.region:
        place = ", ".join(text for text in (place, one.region) if text)
    if place:
        yield place
    yield writer.locale.territories.get(one.country, one.country)


def _facts(content: QuotationContent, writer: Writer) -> Iterator[Fact]:
    label = writer.language
    if content.issued_on is not None:
        yield Fact(label=label["issued_on"], value=writer.day(content.issued_on))
    yield Fact(label=label["valid_until"], value=writer.day(content.valid_until))
    yield Fact(label=label["site"], value=content.site)
    if content.place is not None:
        yield Fact(label=label["place"], value=", ".join(address(content.place, writer)))
    if content.reference:
        yield Fact(label=label["reference"], value=content.reference)
    if content.changes:
        yield Fact(label=label["changes"], value=content.changes)
    if content.agreed_total is not None:
        yield from _owed(content.agreed_total, content.alternates[0].offer.total, writer)
    yield Fact(label=label["currency"], value=_currency(content.currency, writer))


def _owed(agreed: Money, change: Money, writer: Writer) -> Iterator[Fact]:
    whole = rounded(agreed.amount + change.amount, agreed.currency)
    yield Fact(label=writer.language["agreed_total"], value=writer.money(agreed))
    yield Fact(label=writer.language["changed_total"], value=writer.money(whole))


def _currency(code: str, writer: Writer) -> str:
    name = writer.locale.currencies.get(code)
    return f"{name} ({code})" if name else code


def _banner(
    content: QuotationContent,
    state: QuotationState,
    decision: Decision | None,
    writer: Writer,
) -> Banner | None:
    """Nothing where the offer simply stands open."""
    if state == "issued":
        return None
    label = writer.language
    lines = [label[f"{state}_means"].format(until=writer.day(content.valid_until))]
    if decision is not None and decision.kind == state:
        lines = list(_decided(content, decision, writer))
    tone = "good" if state == "accepted" else "plain" if state == "draft" else "closed"
    return Banner(tone=tone, title=label[f"state_{state}"], lines=tuple(lines))


def _decided(content: QuotationContent, decision: Decision, writer: Writer) -> Iterator[str]:
    label = writer.language
    at = writer.to_the_minute(decision.at)
    yield label[f"{decision.kind}_by"].format(name=decision.name, at=at)
    chosen = next((one for one in content.alternates if one.id == decision.alternate), None)
    if chosen is not None:
        if len(content.alternates) > 1:
            yield f"{label['choice']}: {chosen.label}"
        ticked = [one.label for one in chosen.offer.options if one.id in decision.options]
        if ticked:
            yield f"{label['with_options']}: {format_list(ticked, locale=writer.locale)}"
        total = with_options(chosen.offer, decision.options).total
        yield f"{label['accepted_total']}: {writer.money(total)}"
    if decision.reason:
        yield f"{label['reason']}: {decision.reason}"


def _blocks(content: QuotationContent, writer: Writer) -> Iterator[Block]:
    for name in BLOCKS:
        paragraphs = getattr(content.texts, name)
        if paragraphs:
            yield Block(id=name, title=writer.language[name], paragraphs=paragraphs)


def _choice(
    one: Alternate,
    place: int,
    content: QuotationContent,
    decision: Decision | None,
    writer: Writer,
) -> ChoiceShown:
    label = writer.language
    accepted = decision is not None and decision.kind == "accepted"
    chosen = accepted and decision is not None and decision.alternate == one.id
    ticked = decision.options if chosen and decision is not None else ()
    several = len(content.alternates) > 1
    key = f"choice-{place}"
    return ChoiceShown(
        id=one.id,
        key=key,
        label=one.label,
        heading=label["choice_of"].format(number=place, label=one.label) if several else one.label,
        system=one.system,
        gains=one.gains,
        layers=tuple(
            layer.name if layer.name == layer.product else f"{layer.name}: {layer.product}"
            for layer in one.layers
        ),
        areas=tuple(_areas(one, writer)),
        rates=tuple(_rates(one, writer)),
        sums=sums(one, ticked, writer),
        options=tuple(_option(each, one, ticked, writer) for each in one.offer.options),
        payments=payments(with_options(one.offer, ticked), writer),
        dates=tuple(_dates(one, writer)),
        figures=(
            figure(one.drawing, f"{key}-plan-", label["drawing"], writer),
            figure(one.chart, f"{key}-days-", label["chart"], writer),
        ),
        chosen=chosen and several,
    )


def sums(one: Alternate, ticked: Sequence[str], writer: Writer) -> Sums:
    """With the ticked options among the lines."""
    offer = with_options(one.offer, ticked)
    return Sums(
        lines=tuple(_line(each, writer) for each in offer.lines),
        net=writer.money(offer.net),
        taxes=tuple(_tax(each, writer) for each in offer.taxes),
        total=writer.money(offer.total),
    )


def _line(line: OfferLine, writer: Writer) -> LineShown:
    measure = ""
    says_more = line.quantity != 1 or line.unit not in WORDS
    if line.quantity > 0 and says_more and line.unit != LUMP_SUM:
        amount = f"{writer.number(line.quantity)}\u00a0{writer.unit(line.unit)}"
        price = writer.unit_price(line.net, line.quantity)
        measure = writer.language["quantity_at"].format(
            quantity=amount, price=price, unit=writer.unit(line.unit)
        )
    return LineShown(
        description=_described(line, writer), measure=measure, net=writer.money(line.net)
    )


def _described(line: OfferLine, writer: Writer) -> str:
    """Names that callers gave stay as they are; words of the pipeline are translated."""
    name, split, _ = line.description.rpartition(_MATERIALS)
    if line.id.removeprefix("change:").startswith(_GIVEN):
        said = name if split else line.description
    else:
        said = writer.language.said(name if split else line.description)
    return writer.language["of_materials"].format(line=said) if split else said


def _tax(tax: OfferTax, writer: Writer) -> TaxShown:
    return TaxShown(
        name=writer.language["tax_on"].format(
            name=tax.name, rate=writer.percent(tax.rate_percent), base=writer.money(tax.base)
        ),
        reason=tax.exemption_reason or "",
        amount=writer.money(tax.amount),
    )


def _option(
    option: OfferOption, one: Alternate, ticked: Sequence[str], writer: Writer
) -> OptionShown:
    return OptionShown(
        id=option.id,
        label=option.label,
        description=option.description,
        net=writer.money(option.net),
        adds=writer.money(_added(option.id, one)),
        chosen=option.id in ticked,
    )


def _added(option: str, one: Alternate) -> Money:
    with_it = with_options(one.offer, (option,)).total
    return rounded(with_it.amount - one.offer.total.amount, with_it.currency)


def payments(offer: Offer, writer: Writer) -> tuple[PaymentShown, ...]:
    return tuple(_payment(each, writer) for each in offer.payments)


def _payment(stage: PaymentStage, writer: Writer) -> PaymentShown:
    tax = sum((one.amount.amount for one in stage.taxes), start=stage.net.amount * 0)
    return PaymentShown(
        label=stage.label,
        when=" \u00b7 ".join(_when(stage, writer)),
        net=writer.money(stage.net),
        tax=writer.money(rounded(tax, stage.net.currency)),
        total=writer.money(stage.total),
    )


def _when(stage: PaymentStage, writer: Writer) -> Iterator[str]:
    label = writer.language
    yield label[f"occasion_{stage.occasion}"].format(visit=stage.visit or 1)
    if stage.expected_on is not None:
        yield label["expected_on"].format(day=writer.day(stage.expected_on))
    if stage.due_days:
        yield label.counted("due_days", stage.due_days)


def _areas(one: Alternate, writer: Writer) -> Iterator[AreaShown]:
    for area in one.areas:
        yield AreaShown(
            name=area.name,
            floor=writer.quantity(area.floor, one.units),
            verticals=writer.quantity(area.verticals, one.units) if area.verticals else "",
            running=writer.quantity(area.running, one.units) if area.running else "",
        )


def _rates(one: Alternate, writer: Writer) -> Iterator[Fact]:
    """Before taxes, in the units of the site alone."""
    offer = one.offer
    found = (
        (("per_square_foot", offer.per_square_foot), ("per_running_foot", offer.per_running_foot))
        if one.units == "us"
        else (
            ("per_square_metre", offer.per_square_metre),
            ("per_running_metre", offer.per_running_metre),
        )
    )
    for key, money in found:
        if money is not None:
            yield Fact(label=writer.language[key], value=writer.money(money))


def _dates(one: Alternate, writer: Writer) -> Iterator[Fact]:
    label, dates = writer.language, one.dates
    yield Fact(label=label["first_day"], value=writer.weekday(dates.first_day))
    yield Fact(label=label["last_day"], value=writer.weekday(dates.last_day))
    yield Fact(label=label["visits"], value=writer.number(dates.visits))
    moments: tuple[tuple[str, datetime | None], ...] = (
        ("foot_traffic_from", dates.foot_traffic_from),
        ("vehicle_traffic_from", dates.vehicle_traffic_from),
        ("full_cure_at", dates.full_cure_at),
    )
    for key, moment in moments:
        if moment is not None:
            yield Fact(label=label[key], value=writer.opening(moment))


def _cautions(alternates: Sequence[Alternate], writer: Writer) -> Iterator[CautionShown]:
    """Each once, with the alternates that it is about where it is not about all of them."""
    said: dict[tuple[str, str], tuple[dict[str, str], dict[str, None]]] = {}
    for one in alternates:
        for caution in one.cautions:
            about, sources = said.setdefault((caution.title, caution.detail), ({}, {}))
            about[one.id] = one.label
            sources[caution.source] = None
    for (title, detail), (about, sources) in said.items():
        some = len(about) < len(alternates)
        yield CautionShown(
            title=writer.language.said(title),
            detail=writer.language.said(detail),
            source="; ".join(_not_in_others(list(sources))),
            applies_to=format_list(list(about.values()), locale=writer.locale) if some else "",
        )


def _not_in_others(sources: Sequence[str]) -> Iterator[str]:
    """Several sources of one caution are joined by semicolons already."""
    for one in sources:
        if not any(f"; {one}; " in f"; {other}; " for other in sources if other != one):
            yield one
