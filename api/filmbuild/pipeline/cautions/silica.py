"""Silica dust: from machines on concrete, by the name of the machine, and from the materials."""

from collections.abc import Iterator

from filmbuild.pipeline.cautions.common import DEFERS
from filmbuild.pipeline.results import Labour
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import Catalogue, Equipment, Product, Production
from filmbuild.pipeline.trace import Caution

_HANDHELD = "Handheld grinders for uses other than mortar removal"
_WALK_BEHIND = "Walk-behind milling machines and floor grinders"
_FOUR_HOURS = 4 * 3600.0
_TABLE = "29 CFR 1926.1153, Table 1"


def machine_silica(
    present: frozenset[str], labour: Labour | None, selection: Selection, catalogue: Catalogue
) -> Iterator[Caution]:
    machines = {one.id: one for one in selection.rate_book.equipment}
    used: dict[str, dict[str, None]] = {}
    for production in _productions(selection, catalogue):
        if production.task in present:
            for name in production.equipment:
                machine = machines.get(name)
                if machine is not None and machine.silica_entry is not None:
                    used.setdefault(name, {})[production.task] = None
    held = frozenset(
        code
        for name, tasks in used.items()
        if machines[name].silica_entry == _HANDHELD
        for code in tasks
    )
    for name, tasks in used.items():
        yield _machine(machines[name], tuple(tasks), handheld_hours(held, labour))


def _productions(selection: Selection, catalogue: Catalogue) -> Iterator[Production]:
    """Those that any work of the system may take, in the order of the rate book."""
    passes = selection.passes
    layers = {
        passes[layer.id].layer if layer.id in passes else layer.id
        for layer in selection.system.layers
    }
    named = [catalogue.products.get(layer.product) for layer in selection.system.layers]
    roles = {product.role for product in named if product is not None}
    for one in selection.rate_book.productions:
        fits_layer = not one.layers or not layers.isdisjoint(one.layers)
        if fits_layer and (not one.roles or not roles.isdisjoint(one.roles)):
            yield one


def _machine(machine: Equipment, tasks: tuple[str, ...], hours: str) -> Caution:
    entry = machine.silica_entry
    if entry == _HANDHELD:
        detail = (
            "Use a shroud and a dust collector of at least 25 cfm per inch of wheel diameter with "
            "a filter of at least 99 % and a cyclone or filter cleaning. Indoors or in an enclosed "
            "area, more than 4 hours in a shift call for a respirator of assigned protection "
            "factor 10." + hours
        )
    elif entry == _WALK_BEHIND:
        detail = (
            "Use the machine's water feed, or its maker's dust collector with a filter of at least "
            "99 % and filter cleaning; indoors or in an enclosed area, vacuum loose dust with a "
            "HEPA filter between passes."
        )
    else:
        detail = f"Follow the controls and respirators that Table 1 lists for: {entry}."
    return Caution(
        code="respirable-silica",
        title=f"Respirable crystalline silica: {machine.name}",
        detail=detail + DEFERS,
        source=f"{_TABLE}, entry {entry!r}",
        applies_to=tasks,
    )


def handheld_hours(tasks: frozenset[str], labour: Labour | None) -> str:
    """A sentence where the plan's work with handheld grinders passes four hours, else nothing.

    The limit is on a worker's shift, whatever tasks and machines fill it. Hours are added over the
    whole plan, as if one person did them in one shift: the stricter case.
    """
    if labour is None:
        return ""
    total = sum(task.duration for task in labour.tasks if task.code in tasks)
    if total <= _FOUR_HOURS:
        return ""
    return (
        f" This plan has {total / 3600:.1f} hours of such work: plan the respirators, or the "
        "change of operator."
    )


def material_silica(products: list[Product]) -> Iterator[Caution]:
    dusty = tuple(one.id for one in products if _holds_silica(one))
    if dusty:
        yield Caution(
            code="silica-in-materials",
            title="Respirable crystalline silica: aggregates and fillers",
            detail="Pouring and mixing them, broadcasting, taking up what is loose and abrading "
            "what holds them raise silica dust. No dry sweeping or dry brushing where it could add "
            "to exposure, unless wet sweeping, HEPA-filtered vacuuming and other methods that keep "
            "dust down are infeasible; no compressed air for cleaning unless ventilation catches "
            "the dust, or nothing else is feasible. Table 1 does not list this work: its exposure "
            "is for the employer to assess." + DEFERS,
            source="29 CFR 1926.1153(f)(1) and (f)(2), housekeeping; (d), work outside Table 1",
            applies_to=dusty,
        )


def _holds_silica(product: Product) -> bool:
    stated = product.hazards.crystalline_silica
    return product.role == "broadcast_aggregate" if stated is None else stated
