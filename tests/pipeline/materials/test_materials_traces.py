"""Every figure can be computed again from its trace: the rule's equation on the inputs shown."""

import math
from collections.abc import Callable, Mapping
from decimal import ROUND_HALF_UP, Decimal
from operator import mul
from typing import Any

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from materials_cases import (
    LITRE,
    MINUTE,
    USD,
    Case,
    area,
    kit,
    layer,
    life,
    pack,
    part,
    product,
    system,
    takeoff,
)

from filmbuild.estimates.rulebook import rulebook
from filmbuild.money import NonNegativeExact
from filmbuild.pipeline.results import AreaTakeoff, Coat, Materials
from filmbuild.pipeline.site import Substrate
from filmbuild.pipeline.specification import Absorption, Broadcast, ConsumableRule, Repairs
from filmbuild.quantities import (
    Duration,
    MassPerArea,
    PositiveArea,
    PositiveSpreadRate,
    PositiveThickness,
    PositiveVolume,
    Thickness,
)

Inputs = Mapping[str, Any]
Shares = list[list[float]]
LIMITS = {
    "working_life": life(15 * MINUTE),
    "container": PositiveVolume(15 * LITRE),
    "container_residue": PositiveVolume(0.1 * LITRE),
}
PRIMER = product(
    "pier-primer",
    role="primer",
    volume_solids=0.5,
    absorption=Absorption(low=Thickness(1e-5), medium=Thickness(2e-5), high=Thickness(4e-5)),
    **LIMITS,
)
BODY = product("harbour-200", volume_solids=0.9, **LIMITS)
FILLER = product("slip-filler", role="crack_filler", largest_mix=PositiveVolume(0.3 * LITRE))
SAND = product(
    "quay-sand",
    role="broadcast_aggregate",
    parts=(part("sand", 1.0, 2650.0),),
    working_life=(),
    grain_size=PositiveThickness(6e-4),
    void_fraction=0.4,
)
PRODUCTS = (PRIMER, BODY, FILLER, SAND)
RULE = ConsumableRule(
    id="discs",
    name="Discs",
    kind="consumable",
    stage="coat",
    driver="floor_area",
    per_area=PositiveArea(7.0),
    quantity=1.5,
    minimum=3,
    unit_price=NonNegativeExact("9.90"),
    currency=USD,
    charged_fraction=0.3,
    tasks=("abrade",),
)


@st.composite
def jobs(draw: st.DrawFn) -> Case:
    areas = tuple(
        area(
            f"bay-{n}",
            draw(st.floats(1.0, 90.0)),
            n,
            cut_in=draw(st.floats(0.0, 1.0)),
            vertical=draw(st.sampled_from((0.0, 2.5))),
            crack_length=4.0,
            crack_volume=draw(st.floats(0.1, 2.0)) * LITRE,
            substrate=Substrate(
                porosity=draw(st.sampled_from(("low", "medium", "high"))),
                texture_depth=draw(st.sampled_from((None, Thickness(1e-4)))),
            ),
        )
        for n in range(1, draw(st.integers(1, 4)) + 1)
    )
    up = draw(st.sampled_from((None, PositiveThickness(5e-5))))
    sand = draw(
        st.sampled_from(
            (
                Broadcast(product=SAND.id, rate=MassPerArea(1.5), reclaimed_fraction=0.2),
                Broadcast(
                    product=SAND.id, to_refusal=True, swept_fraction=0.3, reclaimed_fraction=0.1
                ),
            )
        )
    )
    filled = draw(st.sampled_from((None, 0.6)))
    again = Broadcast(product=SAND.id, rate=MassPerArea(1.0))
    layers = (
        layer(PRIMER, "prime", dry_film=PositiveThickness(75e-6), vertical=up, loss_fraction=0.1),
        layer(BODY, "flood", wet_film=PositiveThickness(5e-4), vertical=up, broadcast=sand),
        layer(
            BODY,
            "grout",
            spread_rate=PositiveSpreadRate(2500.0),
            broadcast=again,
            grain_fill=filled,
        ),
        layer(BODY, "seal", dry_film=PositiveThickness(1e-4), before=("abrade",)),
    )
    layers = (*layers[:-1], msgspec.structs.replace(layers[-1], thinner_fraction=0.1))
    repairs = Repairs(crack_filler=FILLER.id, fill_aggregate=SAND.id, aggregate_fill_fraction=0.4)
    small = [pack(PRIMER.id, f"{name}-can", "31.40", volumes={name: 2.0}) for name in ("a", "b")]
    return Case(
        areas=areas,
        system=system(*layers, repairs=repairs),
        products=PRODUCTS,
        packs={
            PRIMER.id: (kit(PRIMER, 12.0, "210"), *small),
            BODY.id: (kit(BODY, 12.0, "250"), kit(BODY, 3.0, "70")),
            FILLER.id: (kit(FILLER, 1.0, "60"),),
            SAND.id: (pack(SAND.id, "sand-25", "12", masses={"sand": 25.0}),),
        },
        soak=0.25 * LITRE,
        consumables=(RULE,),
    )


AGAIN: dict[str, Callable[[Inputs], float]] = {
    "materials.wet-film": lambda i: (
        i["dry_film"] * (1 + i["thinner_fraction"]) / i["volume_solids"]
    ),
    "materials.wet-film-stated": lambda i: i["wet_film"],
    "materials.wet-film-from-spread-rate": lambda i: 1 / i["spread_rate"],
    "materials.dry-film": lambda i: (
        i["wet_film"] * i["volume_solids"] / (1 + i["thinner_fraction"])
    ),
    "materials.dry-film-stated": lambda i: i["dry_film"],
    "materials.spread-rate": lambda i: 1 / i["wet_film"],
    "materials.spread-rate-stated": lambda i: i["spread_rate"],
    "materials.film-volume": lambda i: (
        i["floor"] * i["wet_film"] + i.get("vertical", 0.0) * i.get("vertical_wet_film", 0.0)
    ),
    "materials.texture": lambda i: i["mean_texture_depth"] * i["floor"] * i["texture_fill"],
    "materials.absorption": lambda i: sum(
        i[name] * i[f"{name}_surface"] for name in ("low", "medium", "high") if name in i
    ),
    "materials.net-volume": lambda i: (
        i["floor_film"] + i["vertical_film"] + i["texture"] + i["absorption"] + i["grains"]
    ),
    "materials.grain-voids": lambda i: (
        i["grain_size"] * i["void_fraction"] * i["grain_fill"] * i["floor"]
    ),
    "materials.void-volume": lambda i: i["void_volume"] * (1 - i["aggregate_fill_fraction"]),
    "materials.soak": lambda i: i["applicator_soak"] * i["applicators"],
    "materials.residue": lambda i: i["container_residue"] * i["mixes"],
    "materials.ordered-volume": lambda i: (
        i["net_volume"] / (1 - i["loss_fraction"]) + i["residue"] + i["soak"]
    ),
}
FIELDS = (
    "dry_film",
    "wet_film",
    "spread_rate",
    "film_volume",
    "texture_volume",
    "absorption_volume",
    "grain_volume",
    "net_volume",
    "residue",
    "soak",
    "ordered_volume",
)


def check_mix_sizes(coat: Coat, net: list[float], times: list[float], shares: Shares) -> None:
    """`net` and `times` of the areas, and for each mix what share of each of them it takes."""
    found = coat.traces["mixes"].inputs
    volumes = [mix.volume for mix in coat.mixes]
    residue, base = found["container_residue"], found["base_volume"]
    left = found["working_life"] - found["mixing_time"]
    stated = [found[name] for name in ("container", "product_largest_mix") if name in found]
    most = min((*stated, math.inf))
    full = found.get("whole_kit_volume", most) - residue
    if found["whole_kit"] is None and found["full_mix"] - residue < base * (1 - 1e-9):
        full = found["full_mix"] - residue
    more = base / coat.net_volume
    pairs = zip(net, times, strict=True)
    efforts = [max(time / left, more * volume / full) for volume, time in pairs]
    last = found["last_mixes"]
    count = max(1, math.ceil(sum(efforts) - 1e-9)) - (last == "joined")
    assert found["mixes"] == len(volumes) == count
    assert sum(volumes) == pytest.approx(base + count * residue)
    assert max(volumes) <= most * (1 + 1e-9)
    assert max(mix.placing_time for mix in coat.mixes) <= left * (1 + 1e-9)
    taken = [sum(map(mul, parts, efforts)) for parts in shares]
    alike = {"remainder": 1, "joined": 1, "halved": 2, "equal": count, "equal_efforts": count}[last]
    rest = sum(efforts) - (count - alike)
    again = [1.0] * (count - alike) + [rest / alike] * alike
    assert taken == pytest.approx(again, abs=1e-6)
    if last == "equal":
        assert volumes == pytest.approx([volumes[0]] * count)
    for mix in coat.mixes:
        assert mix.whole_kit is None or mix.volume == found["whole_kit_volume"]


def check_mixes(coat: Coat, areas: list[AreaTakeoff]) -> None:
    """What each mix covers [m2] and how long it takes [s], area after area."""
    shared, paces = coat.traces["mix_covers"].inputs, coat.traces["mix_placing_time"].inputs
    fields = {"floor_area": "floor", "cut_in_area": "cut_in", "vertical_area": "vertical"}
    net, covers, times = [], [], []
    for one in areas:
        if coat.kind == "repair":
            void = coat.traces["net_volume"].inputs
            net.append(one.crack_volume * (1 - void["aggregate_fill_fraction"]))
            covers.append(0.0)
            length = paces["fill_cracks"]
            times.append(one.crack_length / (length["rate"] * length["gangs"]))
            continue
        film = coat.traces["film_volume"].inputs
        vertical = one.vertical if coat.vertical else 0.0
        volume = one.floor * film["wet_film"] + vertical * film.get("vertical_wet_film", 0.0)
        if "texture_volume" in coat.traces:
            fill = coat.traces["texture_volume"].inputs["texture_fill"]
            volume += fill * (one.substrate.texture_depth or 0.0) * one.floor
        if "absorption_volume" in coat.traces:
            depth = coat.traces["absorption_volume"].inputs[one.substrate.porosity]
            volume += depth * (one.floor + vertical)
        if "grain_volume" in coat.traces:
            voids = coat.traces["grain_volume"].inputs
            volume += AGAIN["materials.grain-voids"](voids | {"floor": one.floor})
        net.append(volume)
        covers.append(one.floor + vertical)
        times.append(
            sum(
                getattr(one, fields[pace["driver"]]) / (pace["rate"] * pace["gangs"])
                for task, pace in paces.items()
                if task != "place_vertical" or coat.vertical
            )
        )
    starts = [sum(net[:index]) for index in range(len(net))]
    begin, found = 0.0, []
    for mix in coat.mixes:
        brings = (mix.volume - shared["container_residue"]) * shared["net_volume"]
        end = begin + brings / shared["base_volume"]
        parts = [
            max(0.0, min(end, start + own) - max(begin, start)) / own
            for start, own in zip(starts, net, strict=True)
        ]
        found.append(parts)
        begin = end
    covered = [sum(map(mul, parts, covers)) for parts in found]
    placed = [sum(map(mul, parts, times)) for parts in found]
    assert [mix.covers for mix in coat.mixes] == pytest.approx(covered, abs=1e-6)
    assert [mix.placing_time for mix in coat.mixes] == pytest.approx(placed, abs=1e-6)
    check_mix_sizes(coat, net, times, found)


def check_coat(coat: Coat, areas: list[AreaTakeoff]) -> None:
    if coat.kind != "repair":
        assert {"floor", "vertical"} <= coat.traces.keys()
        assert coat.floor == pytest.approx(sum(one.floor for one in areas))
    assert "loss_fraction" in coat.traces
    for field in FIELDS:
        value = getattr(coat, field)
        assert (field in coat.traces) >= bool(value), field
        if field in coat.traces:
            trace = coat.traces[field]
            assert AGAIN[trace.rule](trace.inputs) == pytest.approx(value), field
    if "vertical_dry_film" in (film := coat.traces.get("film_volume", coat.traces["mixes"]).inputs):
        wet = film["vertical_dry_film"] * coat.wet_film / coat.dry_film
        assert film["vertical_wet_film"] == pytest.approx(wet)
    parts = coat.traces["parts"].inputs
    thinner = parts.get("thinner_fraction", 0.0)
    product_volume = parts["ordered_volume"] / (1 + thinner)
    assert parts.get("thinner", 0.0) == pytest.approx(product_volume * thinner)
    ratios = parts["ratio_by_volume"]
    for one in coat.parts:
        volume = product_volume * ratios[one.part] / sum(ratios.values())
        assert one.volume == pytest.approx(volume)
        assert one.mass == pytest.approx(volume * parts["density"][one.part])
    check_mixes(coat, areas)


def check_purchases(plan: Materials) -> None:
    parts = {coat.layer: {one.part: one for one in coat.parts} for coat in plan.coats}
    for purchase in plan.purchases:
        found = purchase.trace.inputs
        bought = dict.fromkeys(purchase.needed, 0.0)
        used = 0.0
        for line in purchase.packs:
            for name, content in found["contents"][line.pack].items():
                bought[name] += line.count * content
            assert line.amount.amount == line.unit_price.amount * line.count
        assert dict(purchase.bought) == pytest.approx(bought)
        for line in purchase.packs:
            used += float(line.amount.amount) * sum(
                share * purchase.needed[name] / bought[name]
                for name, share in found["volume_shares"][line.pack].items()
            )
        assert float(purchase.used_share.amount) == pytest.approx(used, abs=0.006)
        assert purchase.cost.amount == sum(line.amount.amount for line in purchase.packs)
        for name, needed in purchase.needed.items():
            assert purchase.surplus[name] == pytest.approx(bought[name] - needed, abs=1e-9)
            users = found["needed_for"]
            if purchase.product == SAND.id:
                amounts = [float(one.ordered) for one in plan.aggregates]
                assert list(users) == [one.layer for one in plan.aggregates]
            else:
                amounts = [float(parts[user][name].volume) for user in users]
            assert needed == pytest.approx(sum(amounts))


def check_aggregates(plan: Materials) -> None:
    in_cracks, *thrown = plan.aggregates
    found = in_cracks.trace.inputs
    placed = found["void_volume"] * found["aggregate_fill_fraction"] * found["density"]
    assert in_cracks.placed == pytest.approx(placed)
    assert in_cracks.ordered == pytest.approx(placed / (1 - found["loss_fraction"]))
    for one in thrown:
        found = one.trace.inputs
        rate = found.get("rate")
        if rate is None:
            bed = found["wet_film"] / found["void_fraction"]
            held = bed * (1 - found["void_fraction"]) * found["density"]
            rate = held / (1 - found["swept_fraction"])
        placed = rate * found["floor"]
        assert one.placed == pytest.approx(placed)
        assert one.swept == pytest.approx(placed * found["swept_fraction"])
        assert one.retained == pytest.approx(placed - one.swept)
        assert one.reclaimed == pytest.approx(placed * found["reclaimed_fraction"])
        assert one.ordered == pytest.approx(placed - found["reclaimed_before"])
    assert thrown[1].trace.inputs["reclaimed_before"] == pytest.approx(
        min(thrown[0].reclaimed, thrown[1].placed)
    )


def check_consumables(plan: Materials) -> None:
    (line,) = plan.consumables
    found = line.trace.inputs
    need = found["driver_quantity"] * found["occasions"] / found["per"] * found["quantity"]
    assert found["need"] == pytest.approx(need)
    assert line.count == max(math.ceil(need - 1e-9), found["minimum"])
    each = found["unit_price"] * Decimal(str(found["charged_fraction"]))
    assert line.unit_price.amount == each
    amount = (line.count * each).quantize(Decimal("0.01"), ROUND_HALF_UP)
    assert line.amount.amount == amount


@settings(max_examples=50, deadline=None)
@given(jobs())
def test_every_figure_follows_from_its_trace(job: Case) -> None:
    plan = job.plan()
    assert [coat.layer for coat in plan.coats] == ["fill_cracks", "prime", "flood", "grout", "seal"]
    areas = sorted(takeoff(*job.areas).areas, key=lambda one: one.placing_order)
    for coat in plan.coats:
        check_coat(coat, areas)
    check_purchases(plan)
    check_aggregates(plan)
    check_consumables(plan)


@given(jobs())
@settings(max_examples=5, deadline=None)
def test_every_rule_that_is_named_is_published_with_its_equation(job: Case) -> None:
    plan = job.plan()
    published = rulebook()
    named = {trace.rule for coat in plan.coats for trace in coat.traces.values()}
    named |= {one.trace.rule for one in plan.aggregates}
    named |= {one.trace.rule for one in plan.purchases}
    named |= {one.trace.rule for one in plan.consumables}
    assert all(published[name].equation for name in named)
    assert isinstance(plan.coats[1].traces["mixes"].inputs["working_life"], Duration)
