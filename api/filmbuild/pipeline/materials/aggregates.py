"""Dry aggregate thrown into wet coats."""

from collections.abc import Mapping

from filmbuild.pipeline.materials.coats import Context
from filmbuild.pipeline.results import AggregateAmount
from filmbuild.pipeline.specification import Broadcast, Layer, Product
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Mass, MassPerArea, Thickness

Inputs = dict[str, object]


def broadcast_aggregates(
    context: Context, films: Mapping[str, Thickness | None]
) -> list[AggregateAmount]:
    """Rate x floor for each broadcast coat; `films` are their wet films by layer.

    What is swept off and reclaimed comes too late for its own coat: it goes into later ones.
    """
    reclaimed: dict[str, float] = {}
    found = []
    for layer in context.selection.system.layers:
        broadcast = layer.broadcast
        if broadcast is None:
            continue
        product = context.product(broadcast.product, f"layer {layer.id}")
        if product is None:
            continue
        rated = _rate(layer, broadcast, product, films.get(layer.id), context)
        if rated is None or not rated[0] > 0:
            continue
        amount = _amount(layer, broadcast, reclaimed.get(product.id, 0.0), rated, context)
        left = reclaimed.get(product.id, 0.0) - (amount.placed - amount.ordered)
        reclaimed[product.id] = left + amount.reclaimed
        found.append(amount)
    return found


def _rate(
    layer: Layer,
    broadcast: Broadcast,
    product: Product,
    wet: Thickness | None,
    context: Context,
) -> tuple[MassPerArea, str, Inputs] | None:
    """What is thrown on each area, by which rule; None with the reason among the faults.

    To refusal the wet film fills the voids of a bed of grains: its depth is the film over the void
    fraction, and the rest of it is grain. The liquid stays in the floor: none of it is lost.
    """
    if (broadcast.rate is None) != broadcast.to_refusal:
        detail = f"layer {layer.id}: state a broadcast's rate, or that it goes to refusal"
        context.faults.add("broadcast-not-stated", detail, "system")
        return None
    if broadcast.rate is not None:
        return broadcast.rate, "materials.broadcast", {"rate": broadcast.rate}
    if product.void_fraction is None:
        detail = f"layer {layer.id} is broadcast to refusal: {product.id} needs a void fraction"
        context.faults.add("void-fraction-missing", detail, "system")
        return None
    if wet is None:
        return None
    density, voids = product.parts[0].density, product.void_fraction
    inputs: Inputs = {"wet_film": wet, "void_fraction": voids, "density": density}
    held = wet / voids * (1 - voids) * density
    return MassPerArea(held / (1 - broadcast.swept)), "materials.broadcast-to-refusal", inputs


def _amount(
    layer: Layer,
    broadcast: Broadcast,
    in_hand: float,
    rated: tuple[MassPerArea, str, Inputs],
    context: Context,
) -> AggregateAmount:
    rate, rule, inputs = rated
    floor = context.ground.totals.floor
    placed = rate * floor
    swept = placed * broadcast.swept
    return AggregateAmount(
        layer=layer.id,
        product=broadcast.product,
        rate=rate,
        placed=Mass(placed),
        retained=Mass(placed - swept),
        swept=Mass(swept),
        reclaimed=Mass(placed * broadcast.reclaimed_fraction),
        ordered=Mass(max(placed - in_hand, 0.0)),
        trace=Trace(
            rule,
            {
                **inputs,
                "floor": floor,
                "swept_fraction": broadcast.swept,
                "reclaimed_fraction": broadcast.reclaimed_fraction,
                "reclaimed_before": Mass(min(in_hand, placed)),
            },
            context.catalogue.revision,
        ),
    )
