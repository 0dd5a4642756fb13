"""What holds of every mix plan where a larger mix sets faster."""

import math

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from materials_cases import HOUR, LITRE, MINUTE, Case, area, case, kit, life, pack, part, product
from scipy.optimize import brentq, minimize_scalar

from filmbuild.errors import Infeasible
from filmbuild.pipeline.materials.life import Life
from filmbuild.pipeline.results import Coat
from filmbuild.pipeline.specification import Product, WorkingLifeSample
from filmbuild.quantities import Duration, PositiveVolume

SAMPLES = st.builds(
    lambda litres, exponent, shortest, longest: WorkingLifeSample(
        volume=PositiveVolume(litres * LITRE),
        exponent=exponent,
        shortest_share=shortest,
        longest_share=longest,
    ),
    st.floats(0.1, 20.0),
    st.floats(0.0, 1.0),
    st.floats(0.1, 1.0),
    st.floats(1.0, 3.0),
)
AREAS = st.lists(st.tuples(st.floats(0.5, 200.0), st.floats(0.0, 1.0)), min_size=1, max_size=8).map(
    lambda rooms: tuple(
        area(f"bay-{n}", floor, n, cut_in=share * floor)
        for n, (floor, share) in enumerate(rooms, 1)
    )
)


@st.composite
def products(draw: st.DrawFn) -> Product:
    return product(
        parts=(part("a", draw(st.floats(0.5, 9.0))), part("b")),
        working_life=life(draw(st.floats(12 * MINUTE, 2 * HOUR))),
        working_life_sample=draw(SAMPLES),
        premix_time=Duration(draw(st.sampled_from((0.0, 90.0)))),
        container=draw(st.none() | st.floats(1e-3, 0.03).map(PositiveVolume)),
        container_residue=draw(st.none() | st.floats(1e-6, 3e-4).map(PositiveVolume)),
    )


@st.composite
def jobs(draw: st.DrawFn, *, kits: bool = True) -> Case:
    of = draw(products())
    packs = [pack(of.id, f"{name}-can", "50", volumes={name: 5.0}) for name in ("a", "b")]
    if kits and draw(st.booleans()):
        packs = [kit(of, litres, "100") for litres in (10.0, 3.0)]
    return case(of, *packs, areas=draw(AREAS), workers=draw(st.integers(1, 4)))


def coat_of(job: Case) -> Coat | None:
    """None where no crew can place it."""
    try:
        return job.plan().coats[0]
    except Infeasible:
        return None


@settings(max_examples=60, deadline=None)
@given(jobs())
def test_mixes_keep_to_their_ratio_their_container_and_their_own_life(job: Case) -> None:
    coat = coat_of(job)
    if coat is None:
        return
    of = job.products[0]
    assert sum(mix.volume for mix in coat.mixes) == pytest.approx(coat.ordered_volume, rel=1e-9)
    floor = sum(one.floor for one in job.areas)
    assert sum(mix.covers for mix in coat.mixes) == pytest.approx(floor, rel=1e-6)
    for mix in coat.mixes:
        assert mix.volume <= (of.container or 1.0) * (1 + 1e-8)
        assert mix.mixing_time + mix.placing_time <= mix.working_life * (1 + 1e-8)
        unit = [
            one.volume / own.ratio_by_volume for one, own in zip(mix.parts, of.parts, strict=True)
        ]
        assert unit == pytest.approx([unit[0]] * len(unit))
    sizes = sorted(coat.mixes, key=lambda mix: mix.volume)
    lives = [mix.working_life for mix in sizes]
    assert lives == sorted(lives, reverse=True)


@settings(max_examples=60, deadline=None)
@given(jobs())
def test_by_the_timer_no_mix_waits_and_none_is_late(job: Case) -> None:
    coat = coat_of(job)
    if coat is None:
        return
    premix = job.products[0].premix_time
    assert coat.mixes[0].starts_at == premix
    down = 0.0
    for mix in coat.mixes:
        placed_from = mix.starts_at + mix.mixing_time
        assert placed_from >= down - 1e-6
        down = placed_from + mix.placing_time
        assert down <= mix.down_by * (1 + 1e-8)
        assert mix.down_by == pytest.approx(mix.starts_at + mix.working_life)


@settings(max_examples=60, deadline=None)
@given(jobs(kits=False))
def test_more_gangs_never_take_more_mixes(job: Case) -> None:
    few = coat_of(job)
    many = coat_of(msgspec.structs.replace(job, workers=job.workers + 1))
    if few is None:
        return
    assert many is not None
    assert len(many.mixes) <= len(few.mixes)


@settings(max_examples=60, deadline=None)
@given(SAMPLES, st.floats(12 * MINUTE, 2 * HOUR), st.floats(5.0, 40.0), st.floats(0.0, 15.0))
def test_hotter_never_lasts_longer(
    sample: WorkingLifeSample, minutes: float, degrees: float, warmer: float
) -> None:
    of = product(working_life=life(minutes), working_life_sample=sample, mixing_time=Duration(0.0))
    of = msgspec.structs.replace(
        of, outside_table=msgspec.structs.replace(of.outside_table, rule="halving")
    )
    room = [area(floor=4.0)]
    lives = []
    for temperature in (degrees, degrees + warmer):
        coat = coat_of(case(of, kit(of, 1.0, "30"), areas=room, temperature=temperature))
        lives.append(None if coat is None else coat.traces["mix_working_life"].inputs)
    cool, warm = lives
    if warm is not None:
        assert cool is not None
        assert warm["working_life"] <= cool["working_life"] * (1 + 1e-12)


@given(SAMPLES, st.floats(60.0, 6 * HOUR), st.floats(1e-4, 0.1), st.floats(1.0, 50.0))
def test_a_larger_mix_never_lasts_longer_and_none_beyond_its_bounds(
    sample: WorkingLifeSample, tabled: float, volume: float, larger: float
) -> None:
    of = Life(
        tabled,
        "table",
        20.0,
        8 * HOUR,
        sample.volume,
        sample.exponent or 0.0,
        sample.shortest_share,
        sample.longest_share,
    )
    assert of.of(volume * larger) <= of.of(volume) * (1 + 1e-12)
    for one in (volume, volume * larger):
        assert sample.shortest_share * tabled <= of.of(one) * (1 + 1e-12) or of.of(one) == 8 * HOUR
        assert of.of(one) <= min(8 * HOUR, sample.longest_share * tabled)


@settings(max_examples=40, deadline=None)
@given(st.floats(0.1, 1.0), st.floats(0.2, 10.0), st.floats(12.0, 120.0), st.floats(0.0, 0.3))
def test_the_largest_mix_is_the_root_that_scipy_finds(
    exponent: float, litres: float, minutes: float, residue: float
) -> None:
    sample = WorkingLifeSample(
        volume=PositiveVolume(litres * LITRE), exponent=exponent, shortest_share=1e-6
    )
    of = product(
        working_life=life(minutes * MINUTE),
        working_life_sample=sample,
        container_residue=PositiveVolume(residue * LITRE) if residue > 1e-3 else None,
    )
    cans = [pack(of.id, f"{name}-can", "50", volumes={name: 5.0}) for name in ("a", "b")]
    coat = case(of, *cans, areas=[area(floor=2000.0)]).plan().coats[0]
    kept = coat.traces["mixes"].inputs["container_residue"]

    def over(brings: float) -> float:
        own = minutes * MINUTE * min(1.0, (litres * LITRE / (brings + kept)) ** exponent)
        return float(180 + brings / LITRE * 120 - own)

    root = brentq(over, 1e-9, 10.0, xtol=1e-14, rtol=1e-12)
    assert coat.traces["mixes"].inputs["largest_mix"] == pytest.approx(root + kept, rel=1e-8)
    base = coat.net_volume
    assert len(coat.mixes) == math.ceil(base / root * (1 - 1e-9))


@settings(max_examples=40, deadline=None)
@given(jobs(kits=False))
def test_no_other_size_of_full_mixes_takes_less_effort(job: Case) -> None:
    """Against a search over all sizes, by the equation of the rule."""
    coat = coat_of(job)
    if coat is None:
        return
    of, found = job.products[0], coat.traces["mixes"].inputs
    own = coat.traces["mix_working_life"].inputs
    residue, net = found["container_residue"], coat.net_volume
    paces = coat.traces["mix_placing_time"].inputs
    fields = {"floor_area": "floor", "cut_in_area": "cut_in"}
    times = [
        sum(
            getattr(one, fields[pace["driver"]]) / (pace["rate"] * pace["gangs"])
            for pace in paces.values()
        )
        for one in job.areas
    ]
    volumes = [net * one.floor / sum(each.floor for each in job.areas) for one in job.areas]
    most = min((of.container or 1.0) - residue, net)

    def effort(full: float) -> float:
        ratio = (own["reference_volume"] / (full + residue)) ** own["exponent"]
        share = min(own["longest_share"], max(own["shortest_share"], ratio))
        left = min(own["shift"], own["working_life"] * share) - of.mixing_time
        if left <= 0:
            return math.inf
        pairs = zip(times, volumes, strict=True)
        return sum([max(time / left, volume / full) for time, volume in pairs], 0.0)

    tried = [effort(most * n / 400) for n in range(1, 401)]
    best = 1 + tried.index(min(tried))
    near = minimize_scalar(
        effort,
        bounds=(most * max(best - 1, 0.5) / 400, most * min(best + 1, 400) / 400),
        method="bounded",
    )
    least = min(*tried, float(near.fun))
    assert len(coat.mixes) <= math.ceil(least * (1 + 1e-6))
