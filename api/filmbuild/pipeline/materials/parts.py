"""Parts of a product: by volume, by mass, and how much of the product a pack makes."""

from functools import lru_cache

from filmbuild.pipeline.results import PartAmount
from filmbuild.pipeline.specification import Content, Pack, Part, Product
from filmbuild.quantities import Mass, Volume

KIT_TOLERANCE = 0.02
"""How far a kit's parts may lie from the ratio; kits sold by mass are filled to rounded masses."""


def split(product: Product, volume: float) -> tuple[PartAmount, ...]:
    """A volume [m3] of product in its parts: by ratio, and by density to masses [kg]."""
    unit = volume / sum([part.ratio_by_volume for part in product.parts])
    return tuple(
        [
            PartAmount(
                part=part.name,
                volume=Volume(unit * part.ratio_by_volume),
                mass=Mass(unit * part.ratio_by_volume * part.density),
            )
            for part in product.parts
        ]
    )


def content_volume(content: Content, part: Part) -> float:
    """[m3]."""
    if content.volume is not None:
        return content.volume
    return content.mass / part.density if content.mass is not None else 0.0


def content_mass(content: Content, part: Part) -> float:
    """[kg]."""
    if content.mass is not None:
        return content.mass
    return content.volume * part.density if content.volume is not None else 0.0


@lru_cache(maxsize=16_384)
def kit_volume(pack: Pack, product: Product) -> float | None:
    """What a pack makes [m3], if it holds every part of the product in the mix ratio.

    Remembered: the same few packs serve every job.
    """
    contents = {content.part: content for content in pack.contents}
    if len(contents) != len(product.parts):
        return None
    volumes = []
    for part in product.parts:
        content = contents.get(part.name)
        if content is None:
            return None
        volumes.append(content_volume(content, part))
    total = sum(volumes)
    ratios = sum(part.ratio_by_volume for part in product.parts)
    for part, volume in zip(product.parts, volumes, strict=True):
        if abs(volume * ratios - total * part.ratio_by_volume) > KIT_TOLERANCE * (
            total * part.ratio_by_volume
        ):
            return None
    return total
