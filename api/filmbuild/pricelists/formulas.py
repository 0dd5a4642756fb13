"""New prices from those that hold, by a formula over a selection of packs."""

from collections.abc import Generator
from datetime import date
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Context, Decimal

from filmbuild.catalogue.pricing import in_force
from filmbuild.catalogue.snapshot import CatalogueSnapshot
from filmbuild.errors import Faults
from filmbuild.money import exact_text, minor_units
from filmbuild.pipeline.specification import Pack
from filmbuild.pricelists.entries import Entry
from filmbuild.pricelists.wire import PriceFormula, Selector

_LOWEST, _HIGHEST = -100, 1_000
_ROUNDINGS = {"half_up": ROUND_HALF_UP, "up": ROUND_CEILING, "down": ROUND_FLOOR}
# no product of two accepted decimals has more digits
_WIDE = Context(prec=60)


def check_formula(formula: PriceFormula, snapshot: CatalogueSnapshot) -> None:
    """Raises InvalidInput."""
    faults = Faults()
    given = [name for name in ("percent", "amount") if getattr(formula, name) is not None]
    if len(given) != 1:
        faults.add("exactly-one", "give exactly one of percent, amount", *given[1:2])
    if formula.percent is not None and not _LOWEST <= formula.percent <= _HIGHEST:
        detail = f"accepted: {_LOWEST} to {_HIGHEST}"
        faults.add("out-of-range", detail, "percent")
    if formula.round_to is not None and formula.round_to % _minor(formula):
        detail = f"must be a multiple of {_minor(formula):f} in {formula.currency}"
        faults.add("too-precise", detail, "round_to")
    _check_names(formula.selector, snapshot, faults.at("selector"))
    faults.raise_if_any()


def rows(
    formula: PriceFormula, day: date, snapshot: CatalogueSnapshot
) -> Generator[Entry, None, None]:
    """In order of pack id; packs without a price in the list have none."""
    lists = snapshot.price_lists.get(formula.currency)
    tier = formula.tier or ""
    held = lists.tiers.get(tier, {}) if lists is not None else {}
    wanted = _Wanted(formula.selector, snapshot)
    text, currency = day.isoformat(), str(formula.currency)
    for number, (name, dated) in enumerate(held.items(), 1):
        since = in_force(dated, day)
        if since is None or not wanted.has(snapshot.packs.by_id[name]):
            continue
        offer = dated[since]
        steps = tuple((one.from_packs, applied(formula, one.amount)) for one in offer.breaks)
        amount = applied(formula, offer.amount)
        yield number, name, amount, currency, tier, text, steps


def applied(formula: PriceFormula, amount: Decimal) -> str:
    step = formula.round_to or _minor(formula)
    if formula.percent is not None:
        raised = _WIDE.multiply(amount, _WIDE.add(Decimal(1), formula.percent / 100))
    else:
        raised = _WIDE.add(amount, formula.amount or Decimal(0))
    units = _WIDE.divide(raised, step).to_integral_value(_ROUNDINGS[formula.rounding])
    return exact_text(_WIDE.multiply(units, step).quantize(_minor(formula), context=_WIDE))


def _minor(formula: PriceFormula) -> Decimal:
    return Decimal(1).scaleb(-minor_units(formula.currency))


class _Wanted:
    def __init__(self, selector: Selector, snapshot: CatalogueSnapshot) -> None:
        self._suppliers, self._products = set(selector.suppliers), set(selector.products)
        self._roles, self._packs = set(selector.roles), set(selector.packs)
        self._by_id = snapshot.products.by_id

    def has(self, pack: Pack) -> bool:
        product = self._by_id[pack.product]
        return (
            (not self._packs or pack.id in self._packs)
            and (not self._products or pack.product in self._products)
            and (not self._roles or product.role in self._roles)
            and (not self._suppliers or product.supplier in self._suppliers)
        )


def _check_names(selector: Selector, snapshot: CatalogueSnapshot, faults: Faults) -> None:
    """A name that selects nothing is a mistake."""
    suppliers = {one.supplier for one in snapshot.products.by_id.values()}
    for index, name in enumerate(selector.suppliers):
        if name not in suppliers:
            faults.add("unknown-supplier", f'no product is of "{name}"', "suppliers", index)
    for index, name in enumerate(selector.products):
        if name not in snapshot.products.by_id:
            detail = f'there is no product "{name}"'
            faults.add("unknown-product", detail, "products", index)
    for index, name in enumerate(selector.packs):
        if name not in snapshot.packs.by_id:
            faults.add("unknown-pack", f'there is no pack "{name}"', "packs", index)
