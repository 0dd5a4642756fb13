"""Enquiries as they are answered."""

import msgspec

from filmbuild.edge.decoding import decode
from filmbuild.enquiries.asking import FloorQuestion, Person
from filmbuild.enquiries.store import StoredEnquiry
from filmbuild.enquiries.wire import Enquiry, EnquiryReceipt, GivenConsent, PriceRange
from filmbuild.money import Currency, Money


def tag(found: StoredEnquiry) -> str:
    return f'"{found.version}"'


def receipt(found: StoredEnquiry) -> EnquiryReceipt:
    return EnquiryReceipt(id=found.id, price=_price(found))


def enquiry_answer(found: StoredEnquiry) -> Enquiry:
    content = found.question.encode()
    return Enquiry(
        id=found.id,
        created_at=found.created_at,
        updated_at=found.updated_at,
        state=found.state,
        language=found.language,
        question=decode(FloorQuestion, content, max_bytes=len(content)),
        person=msgspec.json.decode(found.person, type=Person) if found.person else None,
        consent=msgspec.json.decode(found.consent, type=GivenConsent),
        estimate=found.estimate_id,
        price=_price(found),
    )


def _price(found: StoredEnquiry) -> PriceRange | None:
    if found.currency is None or found.lowest is None or found.highest is None:
        return None
    currency = Currency(found.currency)
    return PriceRange(
        lowest=Money(found.lowest, currency),
        highest=Money(found.highest, currency),
        tax_included=bool(found.tax_included),
    )
