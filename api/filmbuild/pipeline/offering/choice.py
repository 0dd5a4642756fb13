"""What is owed when a customer takes some of the options."""

from collections.abc import Sequence

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.offering.payments import parts_again, staged
from filmbuild.pipeline.offering.taxes import net_of, taxed, total_of
from filmbuild.pipeline.results import Offer


def with_options(offer: Offer, chosen: Sequence[str]) -> Offer:
    """The chosen options as lines, in the order of the offer; those not chosen stay open.

    Taxes are taken again on the new sums, and payments redone in the same shares. The prices per
    area and per running length stay those of the work without options. Raises InvalidInput, with
    pointers under "options", for an option that is not there or is chosen twice.
    """
    _check(offer, chosen)
    taken = set(chosen)
    added = [line for one in offer.options if one.id in taken for line in one.lines]
    lines = (*offer.lines, *added)
    net = net_of(lines, offer.currency)
    taxes = taxed(offer.taxes, lines)
    chosen_offer = msgspec.structs.replace(
        offer,
        lines=lines,
        net=net,
        taxes=taxes,
        total=total_of(net, taxes),
        options=tuple([one for one in offer.options if one.id not in taken]),
    )
    return staged(chosen_offer, parts_again(offer.payments))


def _check(offer: Offer, chosen: Sequence[str]) -> None:
    faults = Faults()
    known = {one.id for one in offer.options}
    seen: set[str] = set()
    for index, name in enumerate(chosen):
        if name not in known:
            names = ", ".join(one.id for one in offer.options) or "none"
            faults.add("unknown-option", f"options of this offer: {names}", "options", index)
        elif name in seen:
            faults.add("duplicate", f"{name} is chosen already", "options", index)
        seen.add(name)
    faults.raise_if_any()
