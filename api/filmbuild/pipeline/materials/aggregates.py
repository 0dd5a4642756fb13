"""Dry aggregate thrown into wet coats."""

from filmbuild.pipeline.materials.coats import Context
from filmbuild.pipeline.results import AggregateAmount
from filmbuild.pipeline.specification import Broadcast, Layer
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Mass


def broadcast_aggregates(context: Context) -> list[AggregateAmount]:
    """Rate x floor for each broadcast coat.

    What is swept off and reclaimed comes too late for its own coat: it goes into later ones.
    """
    reclaimed: dict[str, float] = {}
    found = []
    for layer in context.selection.system.layers:
        broadcast = layer.broadcast
        if broadcast is None or not broadcast.rate > 0:
            continue
        if context.product(broadcast.product, f"layer {layer.id}") is None:
            continue
        amount = _amount(layer, broadcast, reclaimed.get(broadcast.product, 0.0), context)
        left = reclaimed.get(broadcast.product, 0.0) - (amount.placed - amount.ordered)
        reclaimed[broadcast.product] = left + amount.reclaimed
        found.append(amount)
    return found


def _amount(
    layer: Layer, broadcast: Broadcast, in_hand: float, context: Context
) -> AggregateAmount:
    floor = context.ground.totals.floor
    placed = broadcast.rate * floor
    return AggregateAmount(
        layer=layer.id,
        product=broadcast.product,
        rate=broadcast.rate,
        placed=Mass(placed),
        reclaimed=Mass(placed * broadcast.reclaimed_fraction),
        ordered=Mass(max(placed - in_hand, 0.0)),
        trace=Trace(
            "materials.broadcast",
            {
                "rate": broadcast.rate,
                "floor": floor,
                "reclaimed_fraction": broadcast.reclaimed_fraction,
                "reclaimed_before": Mass(min(in_hand, placed)),
            },
            context.catalogue.revision,
        ),
    )
