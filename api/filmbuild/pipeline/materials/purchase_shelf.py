"""A product's packs side by side: what each holds of each part, and what it costs."""

from collections.abc import Sequence
from functools import lru_cache

import msgspec

from filmbuild.pipeline.materials.parts import content_mass, content_volume
from filmbuild.pipeline.packs import PackOption
from filmbuild.pipeline.specification import Part, PricedPack
from filmbuild.quantities import Mass, Quantity, Volume

Amounts = dict[str, float]


class Shelf(msgspec.Struct, frozen=True):
    """A product's packs side by side.

    `kinds` says how each part is counted, `contents` are in that measure and `shares` the part of
    the pack's volume, of all parts; `options` hold the contents of the parts that are needed, and
    `masses` are gross, or of the contents where no gross mass is stated.
    """

    kinds: dict[str, type[Quantity]]
    contents: tuple[dict[str, Quantity], ...]
    shares: tuple[Amounts, ...]
    options: tuple[PackOption, ...]
    masses: tuple[float, ...]


@lru_cache(maxsize=4_096)
def shelf_of(
    packs: tuple[PricedPack, ...], parts: tuple[Part, ...], needed: tuple[str, ...]
) -> Shelf:
    """Remembered: the same few products serve every job."""
    kinds = _kinds(packs)
    by_name = {part.name: part for part in parts}
    contents = tuple(_contents(one, by_name, kinds) for one in packs)
    options = tuple(
        PackOption(
            one.pack.id,
            tuple([float(held.get(part, 0.0)) for part in needed]),
            one.price,
            tuple([(step.from_packs, step.amount) for step in one.breaks]),
            one.pack.minimum_order,
        )
        for one, held in zip(packs, contents, strict=True)
    )
    return Shelf(
        kinds,
        contents,
        tuple(volume_shares(one, by_name) for one in packs),
        options,
        tuple(_gross_mass(one, by_name) for one in packs),
    )


def volume_shares(priced: PricedPack, parts: dict[str, Part]) -> Amounts:
    """Of the volume in a pack, the share of each part."""
    volumes = {
        content.part: content_volume(content, parts[content.part])
        for content in priced.pack.contents
        if content.part in parts
    }
    whole = sum(volumes.values())
    return {name: volume / whole for name, volume in volumes.items()}


def _gross_mass(priced: PricedPack, parts: dict[str, Part]) -> float:
    if priced.pack.gross_mass is not None:
        return priced.pack.gross_mass
    return sum(
        content_mass(content, parts[content.part])
        for content in priced.pack.contents
        if content.part in parts
    )


def _kinds(packs: Sequence[PricedPack]) -> dict[str, type[Quantity]]:
    """How each part is counted: by mass where all its packs state a mass, else by volume."""
    kinds: dict[str, type[Quantity]] = {}
    for priced in packs:
        for content in priced.pack.contents:
            if content.mass is None:
                kinds[content.part] = Volume
            else:
                kinds.setdefault(content.part, Mass)
    return kinds


def _contents(
    priced: PricedPack, parts: dict[str, Part], kinds: dict[str, type[Quantity]]
) -> dict[str, Quantity]:
    amounts = {}
    for content in priced.pack.contents:
        part = parts.get(content.part)
        if part is not None:
            kind = kinds[content.part]
            measure = content_mass if kind is Mass else content_volume
            amounts[content.part] = kind(measure(content, part))
    return amounts
