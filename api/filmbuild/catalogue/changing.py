"""Changes of single records, checked against the whole catalogue by looking at what they touch."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import msgspec

from filmbuild.catalogue.contents import CatalogueSnapshot
from filmbuild.catalogue.store import KINDS, Kind
from filmbuild.catalogue.validate import Whole, check_part
from filmbuild.catalogue.validate.systems import used_products
from filmbuild.catalogue.wire import CatalogueFile
from filmbuild.errors import Fault, Faults, InvalidInput
from filmbuild.pipeline.specification import Pack, PackPrice, Product, Record, Supplier

Key = tuple[str, str]
"""A kind's name and a record's id."""


class Edit(msgspec.Struct, frozen=True, kw_only=True):
    """What becomes of one record: `record` with its canonical `text`, or nothing if it retires.

    `was` is its text so far, where it is there. `place` is a JSON Pointer to the record in what the
    caller sent.
    """

    kind: Kind
    id: str
    place: str = ""
    was: str | None = None
    record: Record | None = None
    text: str | None = None

    @property
    def key(self) -> Key:
        return self.kind.name, self.id


class _Catalogue:
    """The records of each kind as they are after the edits, by id."""

    def __init__(self, snapshot: CatalogueSnapshot, edits: Iterable[Edit]) -> None:
        self.snapshot = snapshot
        self.put: dict[str, dict[str, Any]] = {kind.name: {} for kind in KINDS}
        self.gone: dict[str, set[str]] = {kind.name: set() for kind in KINDS}
        for edit in edits:
            if edit.record is None:
                self.gone[edit.kind.name].add(edit.id)
            else:
                self.put[edit.kind.name][edit.id] = edit.record

    def touched(self, kind: str) -> set[str]:
        return self.gone[kind] | self.put[kind].keys()

    def after(self, kind: str) -> dict[str, Any]:
        before = self.snapshot.records(kind).by_id
        if not self.put[kind] and not self.gone[kind]:
            return before
        records = {**before, **self.put[kind]}
        for name in self.gone[kind]:
            records.pop(name, None)
        return records


def check_edits(
    snapshot: CatalogueSnapshot, edits: Sequence[Edit], prices: Sequence[PackPrice] = ()
) -> None:
    """Raises `InvalidInput`.

    Faults of an edited record stand at its place, and those that an edit makes elsewhere at the
    whole of what was sent, naming the record. Prices stand at /prices.
    """
    catalogue = _Catalogue(snapshot, edits)
    part, whole = _neighbourhood(catalogue, prices)
    faults = Faults()
    check_part(part, whole, faults)
    if len(faults):
        places = {edit.key: edit.place for edit in edits}
        placed = tuple(_placed(fault, part, places) for fault in faults.found)
        raise InvalidInput("The catalogue would not be valid.", placed)


def _neighbourhood(
    catalogue: _Catalogue, prices: Sequence[PackPrice]
) -> tuple[CatalogueFile, Whole]:
    """The edited records with all that refer to them, and what those may refer to."""
    products: dict[str, Product] = catalogue.after("products")
    packs: dict[str, Pack] = catalogue.after("packs")
    suppliers: dict[str, Supplier] = catalogue.after("suppliers")
    shipping = {one.name for one in suppliers.values() if one.freight}
    touched = catalogue.touched("products")
    beside = _packs_of(catalogue, packs, products, shipping)
    named = _suppliers_checked(catalogue)
    part = CatalogueFile(
        name="the records to be checked",
        products=tuple(catalogue.put["products"].values()),
        packs=tuple(packs[name] for name in sorted(beside)),
        prices=tuple(prices),
        systems=_naming(
            catalogue, "systems", touched, lambda one: {n for n, *_ in used_products(one)}
        ),
        rate_books=tuple(catalogue.put["rate_books"].values()),
        consumables=_naming(catalogue, "consumables", touched, lambda one: {one.product}),
        taxes=tuple(catalogue.put["taxes"].values()),
        suppliers=tuple(suppliers.values()) if named else (),
    )
    used = {one.supplier for one in products.values()} if named else set[str]()
    return part, Whole(products, packs.keys(), used, shipping)


def _naming(catalogue: _Catalogue, kind: str, products: set[str], named: Any) -> tuple[Any, ...]:  # noqa: ANN401 - a function of a record of the kind
    """Those that are edited, and those that name one of the products."""
    put, records = catalogue.put[kind], catalogue.after(kind)
    if not products:
        return tuple(put.values())
    return tuple(
        one for name, one in records.items() if name in put or not products.isdisjoint(named(one))
    )


def _packs_of(
    catalogue: _Catalogue,
    packs: Mapping[str, Pack],
    products: Mapping[str, Product],
    shipping: set[str],
) -> set[str]:
    """Packs that are edited, of products that are, and of suppliers that begin to ask for freight."""
    chosen = set(catalogue.put["packs"])
    before = catalogue.snapshot
    touched = catalogue.touched("products")
    already = {one.name for one in before.suppliers.by_id.values() if one.freight}
    begun = shipping - already
    if begun:
        touched |= {one.id for one in products.values() if one.supplier in begun}
    for product in touched:
        chosen |= {one.id for one in before.packs_of.get(product, ())}
    return chosen & packs.keys()


def _suppliers_checked(catalogue: _Catalogue) -> bool:
    """Whether a supplier may have got the name of another, or no product that names it."""
    before = catalogue.snapshot.products.by_id
    put = catalogue.put["products"]
    return bool(catalogue.put["suppliers"]) or any(
        name in before and (name not in put or put[name].supplier != before[name].supplier)
        for name in catalogue.touched("products")
    )


def _placed(fault: Fault, part: CatalogueFile, places: Mapping[Key, str]) -> Fault:
    _, kind, index, *rest = (*fault.pointer.split("/"), "", "")
    if kind in {"", "prices"}:
        return fault
    rest = rest[:-2]
    name = getattr(part, kind)[int(index)].id
    tail = "".join(f"/{token}" for token in rest)
    place = places.get((kind, name))
    if place is not None:
        return Fault(place + tail, fault.code, fault.detail)
    return Fault("", fault.code, f"{kind} {name} at {tail or 'the whole of it'}: {fault.detail}")
