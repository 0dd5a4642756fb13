"""A quotation as linked data: an Offer of schema.org, or an AggregateOffer over the alternates."""

from collections.abc import Iterator
from typing import Any

from filmbuild.edge.encoding import encode
from filmbuild.money import Money, exact_text
from filmbuild.organisations.parties import Address, Party
from filmbuild.pipeline.results.offer import Offer, OfferLine, OfferOption, OfferTax
from filmbuild.quotations.content import Alternate, QuotationContent

CONTEXT = "https://schema.org/"
Json = dict[str, Any]


def offer_json_ld(content: QuotationContent, *, link: str | None = None) -> bytes:
    """Terms of schema.org alone. The parts of a compound price add up to it, taxes and all."""
    offers = [_offer(one, content) for one in content.alternates]
    if len(offers) == 1:
        whole = offers[0]
    else:
        totals = sorted(one.offer.total.amount for one in content.alternates)
        whole = {
            "@type": "AggregateOffer",
            "offerCount": len(offers),
            "lowPrice": exact_text(totals[0]),
            "highPrice": exact_text(totals[-1]),
            "priceCurrency": content.currency,
            "offers": offers,
            **_shared(content),
        }
    if link is not None:
        whole["url"] = link
    return encode({"@context": CONTEXT, **whole}, "us")


def _shared(content: QuotationContent) -> Json:
    found: Json = {
        "name": content.site,
        "validThrough": content.valid_until.isoformat(),
        "offeredBy": _party(content.seller),
    }
    if content.number is not None:
        found["identifier"] = content.number
    if content.issued_on is not None:
        found["validFrom"] = content.issued_on.isoformat()
    return found


def _offer(one: Alternate, content: QuotationContent) -> Json:
    offer = one.offer
    with_vat, without_vat = _of_vat(offer)
    found: Json = {
        "@type": "Offer",
        **_shared(content),
        "alternateName": one.label,
        "businessFunction": "http://purl.org/goodrelations/v1#ProvideService",
        "itemOffered": _service(one, content),
        "price": _text(offer.total),
        "priceCurrency": offer.currency,
        "priceSpecification": {
            "@type": "CompoundPriceSpecification",
            "price": _text(offer.total),
            "priceCurrency": offer.currency,
            **with_vat,
            "priceComponent": [
                *(_line(line) | without_vat for line in offer.lines),
                *(_tax(tax) for tax in offer.taxes),
            ],
        },
    }
    if offer.options:
        found["addOn"] = [_option(option, without_vat) for option in offer.options]
    return found


def _of_vat(offer: Offer) -> tuple[Json, Json]:
    """What is said of prices with and without it; nothing where other taxes are taken, or none."""
    if not any(tax.scheme == "vat" for tax in offer.taxes):
        return {}, {}
    return {"valueAddedTaxIncluded": True}, {"valueAddedTaxIncluded": False}


def _service(one: Alternate, content: QuotationContent) -> Json:
    found: Json = {
        "@type": "Service",
        "name": one.system,
        "serviceType": one.system,
        "description": " ".join(content.texts.scope) or one.system,
        "provider": _party(content.seller),
    }
    if content.place is not None:
        found["areaServed"] = {
            "@type": "Place",
            "name": content.site,
            "address": _address(content.place),
        }
    return found


def _line(line: OfferLine) -> Json:
    """`price` is for the whole `referenceQuantity`."""
    return {
        "@type": "UnitPriceSpecification",
        "name": line.description,
        "price": _text(line.net),
        "priceCurrency": line.net.currency,
        "referenceQuantity": {
            "@type": "QuantitativeValue",
            "value": exact_text(line.quantity),
            "unitCode": line.unit,
        },
    }


def _tax(tax: OfferTax) -> Json:
    return {
        "@type": "PriceSpecification",
        "name": tax.name,
        "price": _text(tax.amount),
        "priceCurrency": tax.amount.currency,
    }


def _option(option: OfferOption, without_vat: Json) -> Json:
    return {
        "@type": "Offer",
        "identifier": option.id,
        "name": option.label,
        "description": option.description,
        "priceSpecification": {
            "@type": "PriceSpecification",
            "price": _text(option.net),
            "priceCurrency": option.net.currency,
            **without_vat,
        },
    }


def _party(one: Party) -> Json:
    found: Json = {"@type": "Organization", "name": one.name, "address": _address(one.address)}
    if one.vat_number is not None:
        found["vatID"] = one.vat_number
    if one.tax_registration is not None:
        found["taxID"] = one.tax_registration
    contact = one.contact
    if contact is not None:
        points = dict(_contact(contact.name, contact.telephone, contact.email))
        if points:
            found["contactPoint"] = {"@type": "ContactPoint", **points}
    return found


def _contact(
    name: str | None, telephone: str | None, email: str | None
) -> Iterator[tuple[str, str]]:
    for key, value in (("name", name), ("telephone", telephone), ("email", email)):
        if value is not None:
            yield key, value


def _address(one: Address) -> Json:
    found: Json = {"@type": "PostalAddress", "addressCountry": one.country}
    for key, value in (
        ("streetAddress", ", ".join(one.lines) or None),
        ("addressLocality", one.city),
        ("postalCode", one.postal_code),
        ("addressRegion", one.region),
    ):
        if value is not None:
            found[key] = value
    return found


def _text(money: Money) -> str:
    return exact_text(money.amount)
