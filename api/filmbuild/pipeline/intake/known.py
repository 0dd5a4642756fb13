"""Whether the catalogue still has what a document handed in names."""

import msgspec

from filmbuild.pipeline.intake.coats import REPAIR
from filmbuild.pipeline.intake.marks import Marks
from filmbuild.pipeline.labour import REPAIR_PRODUCTS
from filmbuild.pipeline.results import Coat, Labour, Materials
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import Catalogue, Layer, Product
from filmbuild.quantities import Thickness

_REPAIRS: dict[str, str] = dict(REPAIR_PRODUCTS.items())


class Known(msgspec.Struct, frozen=True):
    """What names are compared with; `same_revision` is whether the document was computed on it.

    On another revision a record may have changed with good reason: then it need only exist.
    """

    selection: Selection
    catalogue: Catalogue
    same_revision: bool
    layers: dict[str, Layer]

    @classmethod
    def of(cls, selection: Selection, catalogue: Catalogue, revision: int | None) -> "Known":
        layers = {layer.id: layer for layer in selection.system.layers}
        return cls(selection, catalogue, revision == catalogue.revision, layers)

    def product_of(self, coat: Coat) -> str | None:
        """What the system takes for this coat; None where it has no such coat."""
        if coat.kind != REPAIR:
            layer = self.layers.get(coat.layer)
            return None if layer is None else layer.product
        field = _REPAIRS.get(coat.layer)
        name: str | None = field and getattr(self.selection.system.repairs, field)
        return name


def check_materials_known(materials: Materials, known: Known, marks: Marks) -> None:
    """`marks` stands at the materials."""
    for index, coat in enumerate(materials.coats):
        _check_coat(coat, known, marks.at("coats", index))
    coated = {coat.layer for coat in materials.coats if coat.kind != REPAIR}
    for name in known.layers:
        if name not in coated:
            detail = f"system {known.selection.system.id} has a layer {name}, and no coat is of it"
            marks.add("missing-layer", detail, "coats")
    for index, one in enumerate(materials.aggregates):
        at = marks.at("aggregates", index)
        if one.layer not in known.layers and one.layer not in _REPAIRS:
            _unknown_layer(one.layer, known, at)
        _product(one.product, known, at)
    for index, purchase in enumerate(materials.purchases):
        at = marks.at("purchases", index)
        packs = known.catalogue.packs.get(purchase.product, ())
        names = {one.pack.id for one in packs}
        if _product(purchase.product, known, at) is not None and known.same_revision:
            for place, line in enumerate(purchase.packs):
                if line.pack not in names:
                    detail = f"packs of {purchase.product}: {', '.join(sorted(names)) or 'none'}"
                    at.add("unknown-pack", detail, "packs", place, "pack")


def _check_coat(coat: Coat, known: Known, marks: Marks) -> None:
    expected = known.product_of(coat)
    if expected is None:
        _unknown_layer(coat.layer, known, marks)
        return
    product = _product(coat.product, known, marks)
    if product is None or not known.same_revision:
        return
    if coat.product != expected:
        detail = f"system {known.selection.system.id} takes {expected} here"
        marks.add("product-mismatch", detail, "product")
        return
    layer = None if coat.kind == REPAIR else known.layers[coat.layer]
    thinner = 0.0 if layer is None else layer.thinner_fraction
    _check_parts(coat, product, thinner, marks)
    if layer is not None:
        _check_film(coat, product, thinner, marks)


def _check_parts(coat: Coat, product: Product, thinner: float, marks: Marks) -> None:
    if [part.part for part in coat.parts] != [part.name for part in product.parts]:
        names = ", ".join(part.name for part in product.parts)
        marks.add("parts-mismatch", f"{product.id} is mixed of {names}, in this order", "parts")
        return
    unit = coat.ordered_volume / (1 + thinner) / sum(one.ratio_by_volume for one in product.parts)
    for index, (found, part) in enumerate(zip(coat.parts, product.parts, strict=True)):
        at = marks.at("parts", index)
        volume = unit * part.ratio_by_volume
        rule = f"{part.name} is {part.ratio_by_volume:g} parts of the mix by volume"
        at.same(found.volume, volume, "parts-mismatch", rule, "volume")
        rule = "the mass is the volume times the density"
        at.same(found.mass, found.volume * part.density, "parts-mismatch", rule, "mass")


def _check_film(coat: Coat, product: Product, thinner: float, marks: Marks) -> None:
    if coat.wet_film is None or coat.dry_film is None or product.volume_solids is None:
        return
    dry = Thickness(coat.wet_film * product.volume_solids / (1 + thinner))
    rule = "the dry film is the volume solids of the wet film, less its thinner"
    marks.same(coat.dry_film, dry, "parts-mismatch", rule, "dry_film")


def check_labour_known(labour: Labour, known: Known, marks: Marks) -> None:
    """`marks` stands at the labour."""
    for field in ("tasks", "activities"):
        for index, one in enumerate(getattr(labour, field)):
            if one.layer is not None and one.layer not in known.layers:
                _unknown_layer(one.layer, known, marks.at(field, index))


def _unknown_layer(name: str, known: Known, marks: Marks) -> None:
    system = known.selection.system.id
    detail = f"system {system} has no {name}; it has the layers {', '.join(known.layers)}"
    marks.add("unknown-layer", detail, "layer")


def _product(name: str, known: Known, marks: Marks) -> Product | None:
    product = known.catalogue.products.get(name)
    if product is None:
        marks.add("unknown-product", f"the catalogue has no product {name}", "product")
    return product
