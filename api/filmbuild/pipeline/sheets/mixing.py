"""The mixes of a job, coat by coat."""

from filmbuild.pipeline.results import Coat, Materials, MixingSheet, SheetCoat, Takeoff
from filmbuild.pipeline.specification import Catalogue


def mixing_sheet(takeoff: Takeoff, materials: Materials, catalogue: Catalogue) -> MixingSheet:
    return MixingSheet(
        site=takeoff.site,
        system=catalogue.systems[materials.system].name,
        areas={area.id: area.name for area in takeoff.areas},
        coats=tuple(_coat(coat, catalogue) for coat in materials.coats),
    )


def _coat(coat: Coat, catalogue: Catalogue) -> SheetCoat:
    product = catalogue.products[coat.product]
    return SheetCoat(
        layer=coat.layer,
        name=coat.name,
        kind=coat.kind,
        product=coat.product,
        product_name=product.name,
        parts=tuple(part.name for part in product.parts),
        ratio=tuple(part.ratio_by_volume for part in product.parts),
        wet_film=coat.wet_film,
        floor=coat.floor,
        vertical=coat.vertical,
        ordered_volume=coat.ordered_volume,
        mixes=coat.mixes,
        placers=coat.placers,
    )
