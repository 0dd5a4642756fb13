"""Grains thrown into wet coats: to a rate or to refusal, in lifts, and the coat that fills them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from materials_cases import (
    LITRE,
    POUND,
    SQUARE_FOOT,
    SQUARE_YARD,
    Case,
    area,
    kit,
    layer,
    pack,
    part,
    product,
    system,
)

from filmbuild.errors import InvalidInput
from filmbuild.pipeline.results import Materials
from filmbuild.pipeline.specification import Broadcast, Layer, Product
from filmbuild.quantities import MassPerArea, PositiveSpreadRate, PositiveThickness

BINDER = product("quay-binder", parts=(part("a"), part("b")))  # 1100 kg/m3 mixed
POUND_PER_SQUARE_YARD = POUND / SQUARE_YARD
GRAIN_DENSITY = 2650.0


def grains(size: float | None = None, voids: float | None = None) -> Product:
    return product(
        "quay-grains",
        role="broadcast_aggregate",
        parts=(part("grains", density=GRAIN_DENSITY),),
        working_life=(),
        volume_solids=None,
        grain_size=None if size is None else PositiveThickness(size),
        void_fraction=voids,
    )


def plan(of: Product, *layers: Layer, floor: float = 100.0) -> Materials:
    return Case(
        areas=(area(floor=floor),),
        system=system(*layers),
        products=(BINDER, of),
        packs={
            BINDER.id: (kit(BINDER, 12.0, "250"),),
            of.id: (pack(of.id, "bag", "12", masses={"grains": 50 * POUND}),),
        },
    ).plan()


def coat(name: str, wet: float = 1e-3, grain_fill: float | None = None, **thrown: object) -> Layer:
    """1 mm wet, with what is `thrown` into it."""
    broadcast = Broadcast(product="quay-grains", **thrown) if thrown else None  # type: ignore[arg-type]  # by name
    film = PositiveThickness(wet)
    return layer(BINDER, name, wet_film=film, broadcast=broadcast, grain_fill=grain_fill)


def test_bags_of_a_broadcast() -> None:
    # computed: 14 lb/yd2 on 5,000 ft2 is 7,777.8 lb, in 156 bags of 50 lb
    rate = MassPerArea(14 * POUND_PER_SQUARE_YARD)
    found = plan(grains(), coat("body", rate=rate), floor=5000 * SQUARE_FOOT)
    assert found.aggregates[0].ordered / POUND == pytest.approx(7777.8, abs=0.05)
    bought = next(one for one in found.purchases if one.product == "quay-grains")
    assert [line.count for line in bought.packs] == [156]


def overlay(of: Product, **thrown: object) -> Materials:
    """Binder at 2 and at 4 lb/yd2, each with a broadcast."""
    layers = []
    for name, binder, rate in (("first", 2, 10), ("second", 4, 14)):
        spread = PositiveSpreadRate(1100.0 / (binder * POUND_PER_SQUARE_YARD))
        given = thrown or {"rate": MassPerArea(rate * POUND_PER_SQUARE_YARD)}
        broadcast = Broadcast(product=of.id, **given)  # type: ignore[arg-type]  # by name
        layers.append(layer(BINDER, name, spread_rate=spread, broadcast=broadcast))
    return plan(of, *layers, floor=1.0)


def test_two_lifts_of_a_published_overlay() -> None:
    # NCHRP Synthesis 423 p. 36: binder 2 and 4 lb/yd2 (1.1 and 2.2 kg/m2), aggregate 10 and 14
    # lb/yd2 (5.4 and 7.6 kg/m2); printed metric values are rounded to 0.1
    found = overlay(grains())
    binder = [sum(one.mass for one in lift.parts) for lift in found.coats]
    assert binder == pytest.approx([1.1, 2.2], abs=0.05)
    assert [one.placed for one in found.aggregates] == pytest.approx([5.4, 7.6], abs=0.05)


def test_grains_to_refusal_make_the_published_overlay_as_thick_as_printed() -> None:
    # NCHRP Synthesis 423 p. 36: the two lifts finish about 0.25 in (6.4 mm) thick. Grains and
    # binder that stay, with 45 % voids and 1100 kg/m3 of binder from memory, come within a tenth.
    found = overlay(grains(voids=0.45), to_refusal=True)
    binder = sum(lift.film_volume for lift in found.coats)
    held = sum(one.retained for one in found.aggregates) / GRAIN_DENSITY
    assert (binder + held) * 1e3 == pytest.approx(6.4, rel=0.1)


def test_to_refusal_the_film_fills_the_voids_of_a_bed() -> None:
    # by hand: 1 mm over 0.40 voids is a bed of 2.5 mm; 1.5 mm of it is grain at 2650 kg/m3, which
    # is 3.975 kg/m2; with a quarter of all that is thrown swept off, 5.3 kg/m2 is thrown
    thrown = {"to_refusal": True, "swept_fraction": 0.25, "reclaimed_fraction": 0.20}
    found = plan(grains(voids=0.40), coat("body", **thrown))
    (one,) = found.aggregates
    assert one.rate == pytest.approx(5.3)
    assert (one.placed, one.retained, one.swept, one.reclaimed) == pytest.approx(
        (530.0, 397.5, 132.5, 106.0)
    )
    assert one.ordered == pytest.approx(530.0)
    # the liquid that the grains take up is not lost: the coat takes what it does without them
    bare = plan(grains(), coat("body"))
    assert found.coats[0].ordered_volume == bare.coats[0].ordered_volume


def test_what_the_first_lift_gives_back_goes_into_the_second() -> None:
    thrown = {"rate": MassPerArea(5.0), "swept_fraction": 0.3, "reclaimed_fraction": 0.2}
    first, second = plan(grains(), coat("one", **thrown), coat("two", **thrown)).aggregates
    assert (first.ordered, second.ordered) == pytest.approx((500.0, 500.0 - 0.2 * 500.0))
    assert second.retained == pytest.approx(350.0)


def test_swept_off_is_reclaimed_where_nothing_else_is_stated() -> None:
    (one,) = plan(grains(), coat("a", rate=MassPerArea(5.0), reclaimed_fraction=0.2)).aggregates
    assert (one.swept, one.retained) == pytest.approx((100.0, 400.0))


def test_a_grout_coat_fills_the_voids_among_the_grains() -> None:
    # common practice, no source: 0.9 mm of grain, 0.42 voids, 60 % filled on 100 m2 take
    # 0.9 x 0.42 x 0.6 x 100 = 22.68 L, over a film of 0.2 mm and so 20 L
    _, grout = plan(
        grains(0.9e-3, 0.42), coat("body", rate=MassPerArea(5.0)), coat("grout", 0.2e-3, 0.6)
    ).coats
    assert grout.grain_volume / LITRE == pytest.approx(22.68)
    assert grout.film_volume / LITRE == pytest.approx(20.0)
    assert grout.net_volume == pytest.approx(grout.film_volume + grout.grain_volume)
    assert sum(mix.covers for mix in grout.mixes) == pytest.approx(100.0)


@given(size=st.floats(0.2e-3, 3e-3), factor=st.floats(1.0, 3.0))
def test_coarser_grains_take_a_larger_grout_coat(size: float, factor: float) -> None:
    fine, coarse = (
        plan(
            grains(each, 0.4), coat("body", rate=MassPerArea(5.0)), coat("grout", 0.2e-3, 0.5)
        ).coats[1]
        for each in (size, size * factor)
    )
    assert coarse.grain_volume == pytest.approx(factor * fine.grain_volume)
    assert coarse.ordered_volume >= fine.ordered_volume * (1 - 1e-9)


@pytest.mark.parametrize(
    ("code", "layers", "of"),
    [
        ("no-grains-below", (coat("grout", grain_fill=0.5),), grains(1e-3, 0.4)),
        (
            "grain-size-missing",
            (coat("body", rate=MassPerArea(5.0)), coat("grout", grain_fill=0.5)),
            grains(voids=0.4),
        ),
        ("void-fraction-missing", (coat("body", to_refusal=True),), grains(1e-3)),
        ("broadcast-not-stated", (coat("body", swept_fraction=0.1),), grains(1e-3, 0.4)),
        (
            "broadcast-not-stated",
            (coat("body", rate=MassPerArea(5.0), to_refusal=True),),
            grains(1e-3, 0.4),
        ),
    ],
)
def test_what_a_broadcast_lacks_is_refused(
    code: str, layers: tuple[Layer, ...], of: Product
) -> None:
    with pytest.raises(InvalidInput) as refused:
        plan(of, *layers)
    assert [(one.pointer, one.code) for one in refused.value.faults] == [("/job/system", code)]
