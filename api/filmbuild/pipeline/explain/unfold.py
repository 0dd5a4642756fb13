"""Every figure of the materials stage as a sentence: from its trace, and those that it rests on."""

import math
from collections.abc import Iterator, Mapping
from typing import Any

from filmbuild.pipeline.explain.expressions import (
    ONE,
    Expression,
    Find,
    applied,
    figure,
    named,
    steps,
    worked,
    written,
)
from filmbuild.pipeline.explain.formulas import FORMULAS, INSIDE, PART_MASS, PART_VOLUME
from filmbuild.pipeline.results import (
    AggregateAmount,
    Coat,
    ConsumableLine,
    Explanation,
    Materials,
    Purchase,
)
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Quantity, UnitSystem

AGREES = 1e-9
_COAT = (
    "floor",
    "vertical",
    "wet_film",
    "dry_film",
    "spread_rate",
    "film_volume",
    "texture_volume",
    "absorption_volume",
    "grain_volume",
    "void_volume",
    "net_volume",
    "loss_fraction",
    "residue",
    "soak",
    "ordered_volume",
)
_AGGREGATE = ("placed", "retained", "swept", "reclaimed", "ordered")


def explanations(materials: Materials, units: UnitSystem) -> tuple[Explanation, ...]:
    """In the order of the answer of /v1/materials; what is zero or not there needs none."""
    return tuple(_Told(units).of(materials))


class _Told:
    def __init__(self, units: UnitSystem) -> None:
        self._units = units

    def of(self, materials: Materials) -> Iterator[Explanation]:
        for index, coat in enumerate(materials.coats):
            yield from self._coat(coat, f"/materials/coats/{index}")
        for index, amount in enumerate(materials.aggregates):
            yield from self._aggregate(amount, f"/materials/aggregates/{index}")
        for index, purchase in enumerate(materials.purchases):
            yield from self._purchase(purchase, materials, f"/materials/purchases/{index}")
        for index, line in enumerate(materials.consumables):
            yield from self._consumable(line, f"/materials/consumables/{index}")

    def _coat(self, coat: Coat, at: str) -> Iterator[Explanation]:
        for field in _COAT:
            value, trace = getattr(coat, field), coat.traces.get(field)
            if value and trace is not None:
                expression = _of_coat(coat, field)
                yield self._said(f"{at}/{field}", coat.name, field, trace, value, expression)
        trace = coat.traces["parts"]
        for index, part in enumerate(coat.parts):
            find = _part(coat, trace, part.part)
            for field, formula in (("volume", PART_VOLUME), ("mass", PART_MASS)):
                yield self._said(
                    f"{at}/parts/{index}/{field}",
                    coat.name,
                    f"{field} of {part.part}",
                    trace,
                    getattr(part, field),
                    worked(formula, find),
                )

    def _aggregate(self, amount: AggregateAmount, at: str) -> Iterator[Explanation]:
        subject = f"{amount.product} of {amount.layer}"
        formulas = FORMULAS.get(amount.trace.rule, {})
        found: dict[str, object] = {
            **amount.trace.inputs,
            **{field: getattr(amount, field) for field in _AGGREGATE},
            **({} if amount.rate is None else {"rate": amount.rate}),
        }
        for field in _AGGREGATE:
            value = getattr(amount, field)
            if value:
                expression = _formula(formulas.get(field), found)
                yield self._said(f"{at}/{field}", subject, field, amount.trace, value, expression)

    def _purchase(self, purchase: Purchase, materials: Materials, at: str) -> Iterator[Explanation]:
        contents = purchase.trace.inputs.get("contents", {})
        for part, needed in purchase.needed.items():
            bought = purchase.bought.get(part)
            yield self._said(
                f"{at}/needed/{_escaped(part)}",
                purchase.name,
                f"needed of {part}",
                purchase.trace,
                needed,
                _needs(purchase.product, part, type(needed), materials),
            )
            if bought is None:
                continue
            yield self._said(
                f"{at}/bought/{_escaped(part)}",
                purchase.name,
                f"bought of {part}",
                purchase.trace,
                bought,
                _packs(purchase, part, contents),
            )
            surplus = purchase.surplus.get(part)
            if surplus:
                left = applied("subtract", (named("bought", bought), named("needed", needed)))
                yield self._said(
                    f"{at}/surplus/{_escaped(part)}",
                    purchase.name,
                    f"surplus of {part}",
                    purchase.trace,
                    surplus,
                    left,
                )

    def _consumable(self, line: ConsumableLine, at: str) -> Iterator[Explanation]:
        formula = FORMULAS.get(line.trace.rule, {}).get("count")
        expression = None if formula is None else worked(formula, _counted(line.trace.inputs))
        yield self._said(f"{at}/count", line.name, "count", line.trace, line.count, expression)

    def _said(
        self,
        pointer: str,
        subject: str,
        name: str,
        trace: Trace,
        value: float,
        expression: Expression | None,
    ) -> Explanation:
        """A figure that its formula does not give is only stated, with its rule."""
        if expression is None or not _agrees(expression.value, value):
            expression = named(None, value)
        label = name.replace("_", " ")
        text = f"{subject}: {label} = "
        if expression.operation != "value":
            text += f"{written(expression, self._units)} = "
        elif expression.name not in (None, label):
            text += f"{expression.name} "
        quantity = value if isinstance(value, Quantity) else None
        return Explanation(
            pointer=pointer,
            subject=subject,
            name=label,
            rule=trace.rule,
            quantity=quantity,
            number=None if quantity is not None else float(value),
            text=text + figure(value, self._units),
            steps=steps(expression, value),
        )


def _agrees(found: float, value: float) -> bool:
    return math.isclose(found, value, rel_tol=AGREES, abs_tol=1e-15)


def _of_coat(coat: Coat, field: str) -> Expression | None:
    trace = coat.traces[field]
    formula = FORMULAS.get(trace.rule, {}).get(field)
    own = {
        "floor_of_all_areas": coat.floor,
        "verticals_of_all_areas": coat.vertical,
        "loss_fraction": coat.loss_fraction,
        "void_volume": coat.void_volume,
    }
    return None if formula is None else worked(formula, _inside(coat, {**own, **trace.inputs}))


def _inside(coat: Coat, inputs: Mapping[str, Any]) -> Find:
    """An input that another trace of the coat explains is worked from that one."""

    def find(name: str) -> Expression | None:
        value = _number(inputs.get(name))
        if value is None:
            return None
        known = INSIDE.get(name)
        if known is not None and value:
            field, part = known
            trace = coat.traces.get(field)
            formula = part or (trace and FORMULAS.get(trace.rule, {}).get(field))
            if trace is not None and formula:
                found = worked(formula, _inside(coat, trace.inputs))
                if found is not None and _agrees(found.value, value):
                    return found
        return named(_label(name), value)

    return find


def _part(coat: Coat, trace: Trace, part: str) -> Find:
    ratios = trace.inputs["ratio_by_volume"]
    values: dict[str, object] = {
        "ordered_volume": coat.ordered_volume,
        "thinner_fraction": trace.inputs.get("thinner_fraction"),
        "part_ratio": float(ratios[part]),
        "sum_of_ratios": float(sum(ratios.values())),
        "part_density": trace.inputs["density"][part],
    }
    return _among(values)


def _formula(formula: str | None, inputs: Mapping[str, Any]) -> Expression | None:
    return None if formula is None else worked(formula, _among(inputs))


def _among(inputs: Mapping[str, Any]) -> Find:
    def find(name: str) -> Expression | None:
        value = _number(inputs.get(name))
        return None if value is None else named(_label(name), value)

    return find


def _counted(inputs: Mapping[str, Any]) -> Find:
    """What is one, and so changes nothing, is not said; the driver goes by its own name."""
    find = _among(inputs)

    def plainly(name: str) -> Expression | None:
        found = find(name)
        if found is None or found.value == 1:
            return ONE if found else None
        if name == "driver_quantity":
            return named(_label(str(inputs["driver"])), found.value)
        if name in ("per", "minimum"):
            return named(None, found.value)
        return named("carton", float(found.value)) if name == "sold_in" else found

    return plainly


def _number(value: object) -> float | None:
    """Numbers and quantities, as they are; an input that is a word or a table is none."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    return value


def _label(name: str) -> str:
    return name.replace("_", " ")


def _needs(
    product: str, part: str, kind: type[Quantity], materials: Materials
) -> Expression | None:
    """The part in all coats of the product, and the product as aggregate."""
    names = {coat.layer: coat.name for coat in materials.coats}
    field = "mass" if kind.measure.dimension == "mass" else "volume"
    terms = [
        named(coat.name, getattr(one, field))
        for coat in materials.coats
        if coat.product == product
        for one in coat.parts
        if one.part == part
    ]
    if field == "mass":
        terms += [
            named(names.get(one.layer, one.layer), one.ordered)
            for one in materials.aggregates
            if one.product == product
        ]
    return _summed(terms)


def _packs(purchase: Purchase, part: str, contents: Mapping[str, Any]) -> Expression | None:
    terms = []
    for pack in purchase.packs:
        content = _number(contents.get(pack.pack, {}).get(part))
        if content:
            count = named("packs", pack.count)
            terms.append(applied("multiply", (count, named(None, content))))
    return _summed(terms)


def _summed(terms: list[Expression]) -> Expression | None:
    if not terms:
        return None
    return terms[0] if len(terms) == 1 else applied("add", tuple(terms))


def _escaped(part: str) -> str:
    """As RFC 6901 writes it."""
    return part.replace("~", "~0").replace("/", "~1")
