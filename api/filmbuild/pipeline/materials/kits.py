"""Which mixes are whole kits, once it is known which packs are bought."""

from collections import Counter
from collections.abc import Sequence

import msgspec

from filmbuild.pipeline.results import Coat, Mix, Purchase


def with_bought_kits(coats: Sequence[Coat], purchases: Sequence[Purchase]) -> tuple[Coat, ...]:
    """A mix keeps the name of its kit while one is left; after that it is measured from others.

    The least-cost packs need not be the kits that suit the mixes: a mix of one small kit may be
    drawn from a larger one.
    """
    wanted = Counter(mix.whole_kit for coat in coats for mix in coat.mixes if mix.whole_kit)
    left = {line.pack: line.count for purchase in purchases for line in purchase.packs}
    if all(left.get(kit, 0) >= count for kit, count in wanted.items()):
        return tuple(coats)
    return tuple(
        msgspec.structs.replace(coat, mixes=tuple(_named(mix, left) for mix in coat.mixes))
        for coat in coats
    )


def _named(mix: Mix, left: dict[str, int]) -> Mix:
    if mix.whole_kit is None:
        return mix
    if left.get(mix.whole_kit, 0) > 0:
        left[mix.whole_kit] -= 1
        return mix
    return msgspec.structs.replace(mix, whole_kit=None)
