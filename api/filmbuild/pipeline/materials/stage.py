"""The materials stage: coats and their mixes, aggregates, packs and consumables."""

from filmbuild.errors import Faults, Infeasible
from filmbuild.pipeline.job import Job
from filmbuild.pipeline.materials.aggregates import broadcast_aggregates
from filmbuild.pipeline.materials.coats import Context, Draft, draft_layer, finish
from filmbuild.pipeline.materials.consumables import (
    Work,
    areas_by_hardness,
    consumable_lines,
    driver_quantities,
    mixes_of_repairs,
    removed_from,
)
from filmbuild.pipeline.materials.crew import Crew
from filmbuild.pipeline.materials.film import Ground
from filmbuild.pipeline.materials.kits import with_bought_kits
from filmbuild.pipeline.materials.occasions import occasions
from filmbuild.pipeline.materials.orders import buy, unproven_orders
from filmbuild.pipeline.materials.product_tables import check_tables
from filmbuild.pipeline.materials.purchasing import check_packs, needs_of
from filmbuild.pipeline.materials.repairs import crack_aggregate, draft_repairs
from filmbuild.pipeline.materials.stock import stock_on_hand
from filmbuild.pipeline.results import AggregateAmount, Coat, Materials, Purchase, Takeoff
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import Catalogue, Product
from filmbuild.pipeline.tasks_present import task_codes
from filmbuild.pipeline.trace import Note


def plan_materials(
    takeoff: Takeoff,
    job: Job,
    selection: Selection,
    catalogue: Catalogue,
    faults: Faults,
    notes: list[Note],
) -> Materials:
    """What the job takes; `faults` is rooted at the job. Raises InvalidInput and Infeasible.

    Coats are in the order of the work: repairs first, then the system's layers.
    """
    context = Context(
        job, selection, catalogue, Ground.of(takeoff), Crew(selection, faults), faults
    )
    if not (takeoff.totals.floor > 0 and any(context.ground.floor)):
        faults.add("nothing-to-coat", "send a takeoff whose areas and totals have floor to coat")
        faults.raise_if_any()
    drafts = _drafts(context)
    aggregates = _aggregates(context, drafts)
    check_tables((draft.batch.product for draft in drafts), selection.conditions, faults)
    used = {draft.batch.product.id: draft.batch.label for draft in drafts}
    used |= {one.product: f"aggregate of {one.layer}" for one in aggregates}
    check_packs(used, catalogue, faults)
    stock = stock_on_hand(job, catalogue, faults)
    faults.raise_if_any()
    coats = _coats(drafts, catalogue.revision, faults, notes)
    bought, orders = buy(needs_of(coats, aggregates, catalogue), catalogue, stock)
    notes.extend(_notes(context, coats))
    notes.extend(_unproven(bought))
    notes.extend(_at_usual_prices(bought, catalogue))
    notes.extend(unproven_orders(orders))
    work = Work(
        driver_quantities(takeoff, coats, selection.workers),
        occasions(selection.system, task_codes(takeoff, selection.system)),
        mixes_of_repairs(coats),
        areas_by_hardness(takeoff),
        removed_from(takeoff),
    )
    return Materials(
        system=selection.system.id,
        coats=with_bought_kits(coats, bought),
        aggregates=aggregates,
        purchases=bought,
        orders=orders,
        consumables=consumable_lines(
            catalogue.consumables,
            work,
            catalogue.currency,
            catalogue.revision,
            shift_driven=False,
        ),
    )


def _drafts(context: Context) -> list[Draft]:
    drafts = draft_repairs(context)
    below: Product | None = None
    for index, layer in enumerate(context.selection.system.layers):
        draft = draft_layer(layer, context, below, first=index == 0)
        if draft is not None:
            drafts.append(draft)
        if layer.broadcast is not None:
            below = context.catalogue.products.get(layer.broadcast.product)
    return drafts


def _aggregates(context: Context, drafts: list[Draft]) -> tuple[AggregateAmount, ...]:
    in_cracks = crack_aggregate(context)
    films = {draft.layer: draft.film.wet for draft in drafts if draft.film is not None}
    return (*([in_cracks] if in_cracks else []), *broadcast_aggregates(context, films))


def _coats(
    drafts: list[Draft], revision: int, faults: Faults, notes: list[Note]
) -> tuple[Coat, ...]:
    planned = [finish(draft, revision, faults, notes) for draft in drafts]
    faults.raise_if_any("The job cannot be mixed and placed as it stands.", Infeasible)
    return tuple(coat for coat in planned if coat is not None)


def _notes(context: Context, coats: tuple[Coat, ...]) -> list[Note]:
    notes = []
    areas = context.ground.areas
    unmeasured = sum(area.texture_depth is None for area in areas)
    if unmeasured:
        notes.append(
            Note(
                "texture-not-measured",
                f"No texture depth was given for {unmeasured} of {len(areas)} areas: nothing is "
                "added there for filling the surface texture.",
            )
        )
    assumed = sum(
        one.rule == "takeoff.texture-assumed"
        for area in areas
        if (one := area.traces.get("texture_depth")) is not None
    )
    if assumed:
        notes.append(
            Note(
                "texture-assumed",
                f"The texture depth of {assumed} of {len(areas)} areas is assumed from the surface "
                "profile, without a published source: a sand patch reading replaces it.",
            )
        )
    first = context.selection.system.layers[0]
    if context.catalogue.products[first.product].absorption is None:
        notes.append(
            Note(
                "absorption-not-stated",
                f"{first.product} states no absorption: nothing is added for what the concrete "
                "draws in.",
            )
        )
    thinned = {one.id for one in context.selection.system.layers if one.thinner_fraction > 0}
    notes.extend(
        Note(
            "thinner-not-bought",
            f"Layer {coat.layer} takes {1000 * _thinner(coat):.2f} L of thinner, which names no "
            "product: it is not among the purchases.",
        )
        for coat in coats
        if coat.layer in thinned
    )
    return notes


def _unproven(bought: tuple[Purchase, ...]) -> list[Note]:
    return [
        Note(
            "purchase-not-proven",
            f"{one.name}: the search for the least-cost packs was cut off. The packs named cover "
            "the need, but a cheaper order may exist.",
        )
        for one in bought
        if not one.proven
    ]


def _at_usual_prices(bought: tuple[Purchase, ...], catalogue: Catalogue) -> list[Note]:
    """Packs that the list of the customer's tier does not price."""
    if not catalogue.tier:
        return []
    usual = [
        line.pack
        for one in bought
        for line in one.packs
        if any(not each.tier and each.pack.id == line.pack for each in catalogue.packs[one.product])
    ]
    if not usual:
        return []
    detail = (
        f'The price list of tier "{catalogue.tier}" has no price in {catalogue.currency} on '
        f"{catalogue.priced_on} for {', '.join(usual)}: the usual price is taken."
    )
    return [Note("usual-price", detail)]


def _thinner(coat: Coat) -> float:
    return coat.ordered_volume - sum(part.volume for part in coat.parts)
