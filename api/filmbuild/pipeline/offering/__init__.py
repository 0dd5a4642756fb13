"""Offers: an estimate's price as a customer sees it, with options, payments and changes."""

from filmbuild.pipeline.offering.changes import change_between
from filmbuild.pipeline.offering.choice import with_options
from filmbuild.pipeline.offering.make import make_offer
from filmbuild.pipeline.offering.payments import check_plan
from filmbuild.pipeline.offering.terms import PaymentPlan, PaymentTerm, Presentation

__all__ = [
    "PaymentPlan",
    "PaymentTerm",
    "Presentation",
    "change_between",
    "check_plan",
    "make_offer",
    "with_options",
]
