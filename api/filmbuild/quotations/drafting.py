"""Makes drafts: reads the estimates, the profile and the texts, and lays out what will be shown."""

import asyncio
from collections.abc import Sequence
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import msgspec

from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.db import Database
from filmbuild.edge.encoding import encode
from filmbuild.errors import Fault, Faults, InvalidInput, NotFound
from filmbuild.estimates.records import LoadedRevision
from filmbuild.estimates.service import EstimateService
from filmbuild.money import Exact
from filmbuild.organisations.defaults import default_texts
from filmbuild.organisations.profile import OrganisationProfile, OrganisationTexts
from filmbuild.organisations.service import profile_of, texts_of
from filmbuild.pipeline.offering import PaymentPlan, check_plan, make_offer
from filmbuild.quotations import store
from filmbuild.quotations.build import Ingredients, alternates_of, costs_of, texts_for
from filmbuild.quotations.content import QuotationContent, QuotationKind
from filmbuild.quotations.store import StoredQuotation
from filmbuild.quotations.wire import (
    AlternateRequest,
    ChangeOrderRequest,
    QuotationRequest,
)

END_OF_DAY = timedelta(days=1)
LONGEST_VALIDITY = timedelta(days=5 * 365)
Terms = QuotationRequest | ChangeOrderRequest


class Seller(msgspec.Struct, frozen=True, kw_only=True):
    """What the organisation says of itself, in the language of the quotation."""

    profile: OrganisationProfile
    language: str
    texts: OrganisationTexts


class Drafting:
    def __init__(
        self, database: Database, estimates: EstimateService, snapshots: CatalogueSnapshots
    ) -> None:
        self._database = database
        self._estimates = estimates
        self._snapshots = snapshots

    async def seller(self, organisation: str, language: str | None) -> Seller:
        """Raises InvalidInput where the organisation has no profile, or no words in the language."""
        async with self._database.reader(organisation) as connection:
            profile = await profile_of(connection, organisation)
            language = language or profile.language
            texts = await texts_of(connection, organisation, language)
        if texts is None:
            detail = (
                f"there are no texts in {language}: PUT /v1/organisation/texts/{language} first, "
                f"or choose one of {', '.join(sorted(default_texts()))}"
            )
            fault = Fault("/language", "no-texts-in-language", detail)
            raise InvalidInput("The request is not valid.", (fault,))
        return Seller(profile=profile, language=language, texts=texts)

    async def offer(
        self, organisation: str, request: QuotationRequest, now: datetime
    ) -> StoredQuotation:
        """The draft, not stored yet. Raises InvalidInput with all that is wrong."""
        seller = await self.seller(organisation, request.language)
        faults = Faults()
        valid = check_terms(request, seller.profile, now, faults)
        loaded = await self._load(organisation, request.estimates, faults)
        plan = seller.profile.payments if request.payments is None else request.payments
        faults.raise_if_any()
        chosen = [
            await self.prepare(organisation, one, revision, plan)
            for one, revision in zip(request.estimates, loaded, strict=True)
            if revision is not None
        ]

        def lay_out() -> QuotationContent:
            return QuotationContent(
                kind="offer",
                number=None,
                language=seller.language,
                currency=chosen[0].offer.currency,
                time_zone=seller.profile.time_zone,
                issued_on=None,
                valid_until=valid,
                seller=seller.profile.seller,
                buyer=request.buyer,
                place=request.place,
                site=chosen[0].document.takeoff.site,
                reference=request.reference,
                texts=texts_for(seller.texts, request.texts, seller.profile.payment_instructions),
                alternates=alternates_of(chosen, seller.language, seller.texts.cautions),
            )

        content = await asyncio.to_thread(lay_out)
        return draft_of(content, chosen, now, valid_days(request, seller.profile))

    async def _load(
        self, organisation: str, asked: Sequence[AlternateRequest], faults: Faults
    ) -> list[LoadedRevision | None]:
        found: list[LoadedRevision | None] = []
        seen: set[str] = set()
        for place, one in enumerate(asked):
            at = faults.at("estimates", place)
            if one.id in seen:
                at.add("repeated-id", "each alternate needs an id of its own", "id")
            seen.add(one.id)
            found.append(await self.load(organisation, one.estimate, one.revision, at))
        first = next((one.document.price.currency for one in found if one is not None), None)
        for place, revision in enumerate(found):
            if revision is not None and revision.document.price.currency != first:
                detail = f"alternates have one currency: the first is in {first}"
                faults.add("other-currency", detail, "estimates", place, "estimate")
        return found

    async def load(
        self, organisation: str, estimate: str, revision: int | None, faults: Faults
    ) -> LoadedRevision | None:
        """None where there is no such estimate or revision, which is then a fault."""
        try:
            return await self._estimates.load(organisation, estimate, revision)
        except NotFound as missing:
            where = "estimate" if revision is None else "revision"
            faults.add("unknown-estimate", missing.detail, where)
            return None

    async def prepare(
        self, organisation: str, asked: AlternateRequest, loaded: LoadedRevision, plan: PaymentPlan
    ) -> Ingredients:
        """Raises InvalidInput at /payments where the plan does not fit the estimate."""
        request, document = loaded.request, loaded.document
        offer = await asyncio.to_thread(make_offer, document, request, asked.presentation, plan)
        catalogue = await self._snapshots.at(organisation, loaded.stored.catalogue_revision)
        return Ingredients(
            id=asked.id,
            label=asked.label,
            estimate=asked.estimate,
            revision=loaded.stored.revision,
            request=request,
            document=document,
            offer=offer,
            system=catalogue.systems.by_id[request.job.system],
            products=catalogue.products.by_id,
        )


def check_terms(
    request: Terms, profile: OrganisationProfile, now: datetime, faults: Faults
) -> date:
    """The last day on which the offer would be open, were it issued now."""
    if request.payments is not None:
        check_plan(request.payments, faults.at("payments"))
    today = now.astimezone(ZoneInfo(profile.time_zone)).date()
    if request.valid_until is None:
        return today + timedelta(days=valid_days(request, profile) or 0)
    if request.valid_days is not None:
        detail = "give the last day, or the number of days, not both"
        faults.add("two-validities", detail, "valid_days")
    latest = today + LONGEST_VALIDITY
    if not today <= request.valid_until <= latest:
        code = "in-the-past" if request.valid_until < today else "too-far-ahead"
        faults.add(code, f"accepted: {today} to {latest}", "valid_until")
        return today
    return request.valid_until


def valid_days(request: Terms, profile: OrganisationProfile) -> int | None:
    """None where the last day is fixed."""
    if request.valid_until is not None:
        return None
    return profile.valid_days if request.valid_days is None else request.valid_days


def draft_of(
    content: QuotationContent, chosen: Sequence[Ingredients], now: datetime, days: int | None
) -> StoredQuotation:
    units = chosen[0].request.units
    kind: QuotationKind = content.kind
    return StoredQuotation(
        id=store.new_quotation_id(),
        kind=kind,
        state="draft",
        version=1,
        number=None,
        created_at=now,
        updated_at=now,
        issued_at=None,
        valid_until=content.valid_until,
        valid_days=days,
        expires_at=end_of(content.valid_until, content.time_zone),
        buyer_name=content.buyer.name,
        site_name=content.site,
        reference=content.reference,
        currency=content.currency,
        total=Exact(content.alternates[0].offer.total.amount),
        supersedes=None,
        changes=None,
        nonce=None,
        digest=None,
        content=encode(content, units).decode(),
        costs=encode(tuple(costs_of(one) for one in chosen), units).decode(),
        agreed=None,
        starts_from=None,
        decision=None,
    )


def end_of(day: date, time_zone: str) -> datetime:
    """The first moment after the day, by the clock of the time zone."""
    following = day + END_OF_DAY
    zone = ZoneInfo(time_zone)
    return datetime(following.year, following.month, following.day, tzinfo=zone)
