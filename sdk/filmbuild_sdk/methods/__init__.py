"""All calls as methods.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

from filmbuild_sdk.methods.catalogue import AsyncCatalogueMethods, CatalogueMethods
from filmbuild_sdk.methods.estimates import AsyncEstimatesMethods, EstimatesMethods
from filmbuild_sdk.methods.invoices import AsyncInvoicesMethods, InvoicesMethods
from filmbuild_sdk.methods.keys import AsyncKeysMethods, KeysMethods
from filmbuild_sdk.methods.offers import AsyncOffersMethods, OffersMethods
from filmbuild_sdk.methods.organisation import AsyncOrganisationMethods, OrganisationMethods
from filmbuild_sdk.methods.prices import AsyncPricesMethods, PricesMethods
from filmbuild_sdk.methods.quotations import AsyncQuotationsMethods, QuotationsMethods
from filmbuild_sdk.methods.repricings import AsyncRepricingsMethods, RepricingsMethods
from filmbuild_sdk.methods.rules import AsyncRulesMethods, RulesMethods
from filmbuild_sdk.methods.service import AsyncServiceMethods, ServiceMethods
from filmbuild_sdk.methods.stages import AsyncStagesMethods, StagesMethods


class Methods(
    CatalogueMethods,
    EstimatesMethods,
    InvoicesMethods,
    KeysMethods,
    OffersMethods,
    OrganisationMethods,
    PricesMethods,
    QuotationsMethods,
    RepricingsMethods,
    RulesMethods,
    ServiceMethods,
    StagesMethods,
):
    """One method for each call; `send` waits."""


class AsyncMethods(
    AsyncCatalogueMethods,
    AsyncEstimatesMethods,
    AsyncInvoicesMethods,
    AsyncKeysMethods,
    AsyncOffersMethods,
    AsyncOrganisationMethods,
    AsyncPricesMethods,
    AsyncQuotationsMethods,
    AsyncRepricingsMethods,
    AsyncRulesMethods,
    AsyncServiceMethods,
    AsyncStagesMethods,
):
    """One method for each call; `send` is awaited."""
