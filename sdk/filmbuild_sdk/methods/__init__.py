"""All calls as methods.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

from filmbuild_sdk.methods.catalogue import AsyncCatalogueMethods, CatalogueMethods
from filmbuild_sdk.methods.consumable_rules import (
    AsyncConsumableRulesMethods,
    ConsumableRulesMethods,
)
from filmbuild_sdk.methods.enquiries import AsyncEnquiriesMethods, EnquiriesMethods
from filmbuild_sdk.methods.estimates import AsyncEstimatesMethods, EstimatesMethods
from filmbuild_sdk.methods.invoices import AsyncInvoicesMethods, InvoicesMethods
from filmbuild_sdk.methods.keys import AsyncKeysMethods, KeysMethods
from filmbuild_sdk.methods.offers import AsyncOffersMethods, OffersMethods
from filmbuild_sdk.methods.organisation import AsyncOrganisationMethods, OrganisationMethods
from filmbuild_sdk.methods.packs import AsyncPacksMethods, PacksMethods
from filmbuild_sdk.methods.prices import AsyncPricesMethods, PricesMethods
from filmbuild_sdk.methods.products import AsyncProductsMethods, ProductsMethods
from filmbuild_sdk.methods.quotations import AsyncQuotationsMethods, QuotationsMethods
from filmbuild_sdk.methods.rate_books import AsyncRateBooksMethods, RateBooksMethods
from filmbuild_sdk.methods.repricings import AsyncRepricingsMethods, RepricingsMethods
from filmbuild_sdk.methods.rules import AsyncRulesMethods, RulesMethods
from filmbuild_sdk.methods.service import AsyncServiceMethods, ServiceMethods
from filmbuild_sdk.methods.stages import AsyncStagesMethods, StagesMethods
from filmbuild_sdk.methods.suppliers import AsyncSuppliersMethods, SuppliersMethods
from filmbuild_sdk.methods.systems import AsyncSystemsMethods, SystemsMethods
from filmbuild_sdk.methods.tax_rules import AsyncTaxRulesMethods, TaxRulesMethods
from filmbuild_sdk.methods.webhooks import AsyncWebhooksMethods, WebhooksMethods


class Methods(
    CatalogueMethods,
    ConsumableRulesMethods,
    EnquiriesMethods,
    EstimatesMethods,
    InvoicesMethods,
    KeysMethods,
    OffersMethods,
    OrganisationMethods,
    PacksMethods,
    PricesMethods,
    ProductsMethods,
    QuotationsMethods,
    RateBooksMethods,
    RepricingsMethods,
    RulesMethods,
    ServiceMethods,
    StagesMethods,
    SuppliersMethods,
    SystemsMethods,
    TaxRulesMethods,
    WebhooksMethods,
):
    """One method for each call; `send` waits."""


class AsyncMethods(
    AsyncCatalogueMethods,
    AsyncConsumableRulesMethods,
    AsyncEnquiriesMethods,
    AsyncEstimatesMethods,
    AsyncInvoicesMethods,
    AsyncKeysMethods,
    AsyncOffersMethods,
    AsyncOrganisationMethods,
    AsyncPacksMethods,
    AsyncPricesMethods,
    AsyncProductsMethods,
    AsyncQuotationsMethods,
    AsyncRateBooksMethods,
    AsyncRepricingsMethods,
    AsyncRulesMethods,
    AsyncServiceMethods,
    AsyncStagesMethods,
    AsyncSuppliersMethods,
    AsyncSystemsMethods,
    AsyncTaxRulesMethods,
    AsyncWebhooksMethods,
):
    """One method for each call; `send` is awaited."""
