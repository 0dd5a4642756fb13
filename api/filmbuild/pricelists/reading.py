"""Which price of a pack holds and why, and what price lists there are."""

from datetime import date

from filmbuild.catalogue.pricing import USUAL, Dated, PriceList, in_force
from filmbuild.catalogue.snapshot import CatalogueSnapshot
from filmbuild.errors import NotFound
from filmbuild.money import Currency, NonNegativeExact, UnitPrice
from filmbuild.pricelists.wire import ListedPrice, PackPrices, PriceListRecord

_NONE = PriceList({}, {})


def pack_prices(
    snapshot: CatalogueSnapshot, pack: str, currency: Currency, tier: str, day: date
) -> PackPrices:
    """Raises NotFound."""
    record = snapshot.packs.by_id.get(pack)
    if record is None:
        raise NotFound(f'The catalogue has no pack "{pack}".')
    lists = snapshot.prices.lists(record.product).get(currency, _NONE)
    held = lists.one(pack, day, tier)
    winner = None if held is None else held[:2]
    listed = tuple(
        one
        for name in dict.fromkeys((tier, USUAL))
        for one in _listed(name, lists.tiers.get(name, {}).get(pack, {}), day, winner)
    )
    return PackPrices(
        pack=pack,
        catalogue_revision=snapshot.revision,
        currency=currency,
        tier=tier,
        on=day,
        price=None if held is None else UnitPrice(NonNegativeExact(held[2].amount), currency),
        breaks=() if held is None else held[2].breaks,
        price_since=None if held is None else held[1],
        price_tier=None if held is None else held[0],
        explanation=_explanation(currency, tier, day, held[:2] if held else None),
        listed=listed,
    )


def _listed(
    tier: str, dated: Dated, day: date, winner: tuple[str, date] | None
) -> tuple[ListedPrice, ...]:
    since = in_force(dated, day)
    return tuple(
        ListedPrice(
            tier=tier,
            effective_from=one,
            amount=NonNegativeExact(offer.amount),
            breaks=offer.breaks,
            revision=offer.revision,
            verdict=_verdict(tier, one, since, day, winner),
        )
        for one, offer in sorted(dated.items(), reverse=True)
    )


def _verdict(
    tier: str, one: date, since: date | None, day: date, winner: tuple[str, date] | None
) -> str:
    if winner == (tier, one):
        return "holds"
    if one > day:
        return "begins later"
    if one != since:
        return f"replaced on {since}"
    return "the tier's list goes before the usual one"


def _explanation(currency: str, tier: str, day: date, held: tuple[str, date] | None) -> str:
    usual = "the usual list"
    if held is None:
        looked = f'neither the list of tier "{tier}" nor {usual} has' if tier else f"{usual} has no"
        return (
            f"On {day} {looked} price in {currency}."
            if not tier
            else (f"On {day} {looked} a price in {currency}.")
        )
    name, since = held
    rule = f"the latest price from a day up to {day} holds: that from {since}"
    if name:
        return f'In the list of tier "{name}" {rule}.'
    if tier:
        return f'The list of tier "{tier}" has no price in {currency} on {day}; in {usual} {rule}.'
    return f"In {usual} {rule}."


def list_records(snapshot: CatalogueSnapshot, currency: str | None) -> list[PriceListRecord]:
    """In order of currency and tier; a list whose prices are all withdrawn is none."""
    return [
        PriceListRecord(
            currency=code,
            tier=tier,
            packs=len(by_pack),
            prices=sum(map(len, by_pack.values())),
            first_effective=min(map(min, by_pack.values())),
            last_effective=max(map(max, by_pack.values())),
        )
        for code, lists in sorted(snapshot.price_lists.items())
        if currency in (None, code)
        for tier, by_pack in lists.tiers.items()
        if by_pack
    ]
