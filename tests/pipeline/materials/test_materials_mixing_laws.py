"""What holds of every mix plan."""

import math
import random

import msgspec
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from materials_cases import (
    HOUR,
    MINUTE,
    Case,
    area,
    case,
    kit,
    life,
    pack,
    part,
    product,
    with_layers,
)

from filmbuild.pipeline.materials.parts import kit_volume
from filmbuild.pipeline.results import AreaTakeoff, Coat
from filmbuild.pipeline.specification import PricedPack, Product
from filmbuild.quantities import (
    Area,
    PositiveThickness,
    PositiveVolume,
)

AREAS = st.lists(
    st.tuples(st.floats(0.5, 400.0), st.floats(0.0, 30.0), st.floats(0.0, 1.0)),
    min_size=1,
    max_size=12,
).map(
    lambda sizes: tuple(
        area(f"bay-{n}", floor, n, vertical=vertical, cut_in=share * floor)
        for n, (floor, vertical, share) in enumerate(sizes, 1)
    )
)


@st.composite
def mixed(draw: st.DrawFn) -> Product:
    """Products of one to three parts, that mix in any container for any time."""
    ratios = draw(st.lists(st.floats(0.2, 20.0), min_size=1, max_size=3))
    return product(
        parts=tuple(part(f"p{n}", ratio) for n, ratio in enumerate(ratios)),
        working_life=life(draw(st.floats(15 * MINUTE, 10 * HOUR))),
        container=draw(st.none() | st.floats(1e-3, 0.05).map(PositiveVolume)),
        container_residue=draw(st.none() | st.floats(1e-6, 5e-4).map(PositiveVolume)),
        largest_mix=draw(st.none() | st.floats(1e-3, 0.05).map(PositiveVolume)),
    )


@st.composite
def jobs(draw: st.DrawFn) -> Case:
    of = draw(mixed())
    return case(
        of,
        *[kit(of, litres, "100") for litres in draw(st.sampled_from([[3.0], [10.0, 3.0], [2.0]]))],
        areas=draw(AREAS),
        vertical=draw(st.none() | st.just(PositiveThickness(150e-6))),
        loss_fraction=draw(st.floats(0.0, 0.4)),
        soak=draw(st.floats(0.0, 5e-4)),
    )


BODY = product().id


def loose_parts(of: Product) -> tuple[PricedPack, ...]:
    return tuple(pack(of.id, f"{one.name}-can", "50", volumes={one.name: 5.0}) for one in of.parts)


def covered(coat: Coat, areas: tuple[AreaTakeoff, ...]) -> float:
    return sum(one.floor + (one.vertical if coat.vertical else 0.0) for one in areas)


@settings(max_examples=60, deadline=None)
@given(jobs())
def test_mixes_make_up_the_coat_and_keep_within_every_limit(job: Case) -> None:
    coat = job.plan().coats[0]
    of = job.products[0]
    assert sum(mix.volume for mix in coat.mixes) == pytest.approx(coat.ordered_volume, rel=1e-9)
    assert sum(mix.covers for mix in coat.mixes) == pytest.approx(
        covered(coat, job.areas), rel=1e-6
    )
    for mix in coat.mixes:
        assert mix.volume <= min(of.container or 1.0, of.largest_mix or 1.0) * (1 + 1e-8)
        assert mix.mixing_time + mix.placing_time <= mix.working_life * (1 + 1e-8)
        assert mix.volume > (of.container_residue or 0.0)
        assert mix.areas
        unit = [
            one.volume / own.ratio_by_volume for one, own in zip(mix.parts, of.parts, strict=True)
        ]
        assert unit == pytest.approx([unit[0]] * len(unit))
    served = list(dict.fromkeys(name for mix in coat.mixes for name in mix.areas))
    assert served == [one.id for one in job.areas]


@settings(max_examples=60, deadline=None)
@given(jobs())
def test_a_last_mix_is_no_dribble_unless_time_allows_no_more(job: Case) -> None:
    coat = job.plan().coats[0]
    if len(coat.mixes) == 1:
        return
    residue = job.products[0].container_residue or 0.0
    before, last = coat.mixes[-2:]
    if last.volume < max(before.volume / 4, min(2 * residue, before.volume / 2)):
        assert last.placing_time > (last.working_life - last.mixing_time) / 8


def at_one_pace(job: Case) -> Case:
    """The same on floor alone, none of which is cut in."""
    areas = tuple(msgspec.structs.replace(one, cut_in=Area(0.0)) for one in job.areas)
    on_floor = with_layers(job, msgspec.structs.replace(job.system.layers[0], vertical=None))
    return msgspec.structs.replace(on_floor, areas=areas)


@settings(max_examples=60, deadline=None)
@given(jobs())
def test_number_of_mixes_at_one_pace_is_what_counting_up_from_none_finds(job: Case) -> None:
    coat = at_one_pace(job).plan().coats[0]
    of = job.products[0]
    residue = of.container_residue or 0.0
    base = coat.net_volume / (1 - coat.loss_fraction) + coat.soak
    pace = base / sum(mix.placing_time for mix in coat.mixes)
    in_time = (coat.mixes[0].working_life - of.mixing_time) * pace + residue
    size = min(in_time, of.container or 1.0, of.largest_mix or 1.0)
    kits = [kit_volume(one.pack, of) or 0.0 for one in job.packs[of.id]]
    size = max((kit for kit in kits if residue < kit <= size), default=size)
    mixes = 0
    while base + mixes * residue > mixes * size * (1 + 1e-8):
        mixes += 1
    joined = coat.traces["mixes"].inputs["last_mixes"] == "joined"
    assert len(coat.mixes) == mixes - joined


@settings(max_examples=60, deadline=None)
@given(jobs())
def test_mixes_are_as_few_as_time_and_size_allow(job: Case) -> None:
    """Without kits: between what all of the time and volume need, and what the slowest area asks."""
    of = job.products[0]
    assume(len(of.parts) > 1)
    loose = msgspec.structs.replace(job, packs={BODY: loose_parts(of)})
    coat = loose.plan().coats[0]
    residue = of.container_residue or 0.0
    base = coat.net_volume / (1 - coat.loss_fraction) + coat.soak
    left = coat.mixes[0].working_life - of.mixing_time
    size = min(of.container or 1.0, of.largest_mix or 1.0) - residue
    time = sum(mix.placing_time for mix in coat.mixes)
    assert len(coat.mixes) >= math.ceil(max(time / left, base / size) - 1e-6)
    alone = [
        msgspec.structs.replace(loose, areas=(one,), soak=0.0).plan().coats[0]
        for one in loose.areas
    ]
    paces = [
        one.net_volume / sum(mix.placing_time for mix in one.mixes) / (1 - one.loss_fraction)
        for one in alone
    ]
    assert len(coat.mixes) <= math.ceil(base / min(size, left * min(paces)) + 1e-6)


@settings(max_examples=40, deadline=None)
@given(jobs(), st.floats(1.0, 3.0))
def test_more_floor_never_needs_or_costs_less(job: Case, factor: float) -> None:
    on_floor = at_one_pace(job)
    larger = tuple(
        msgspec.structs.replace(one, floor=Area(one.floor * factor)) for one in on_floor.areas
    )
    before = on_floor.plan()
    after = msgspec.structs.replace(on_floor, areas=larger).plan()
    assert after.coats[0].ordered_volume >= before.coats[0].ordered_volume * (1 - 1e-12)
    assert after.purchases[0].cost.amount >= before.purchases[0].cost.amount


@settings(max_examples=60, deadline=None)
@given(jobs(), st.randoms(use_true_random=False))
def test_order_of_areas_moves_no_total(job: Case, rng: random.Random) -> None:
    shuffled = rng.sample(job.areas, len(job.areas))
    turned = tuple(
        msgspec.structs.replace(one, placing_order=n) for n, one in enumerate(shuffled, 1)
    )
    one_way = job.plan()
    other_way = msgspec.structs.replace(job, areas=turned).plan()
    assert len(other_way.coats[0].mixes) == len(one_way.coats[0].mixes)
    assert other_way.coats[0].ordered_volume == pytest.approx(one_way.coats[0].ordered_volume)
    assert other_way.purchases[0].cost == one_way.purchases[0].cost
    served = [name for mix in other_way.coats[0].mixes for name in mix.areas]
    assert list(dict.fromkeys(served)) == [one.id for one in turned]


@given(st.floats(0.0, 0.9))
def test_ordered_volume_is_net_over_what_is_not_lost(loss: float) -> None:
    coat = case(product(), loss_fraction=loss).plan().coats[0]
    assert coat.ordered_volume * (1 - loss) == pytest.approx(coat.net_volume)
