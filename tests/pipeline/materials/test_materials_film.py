"""Film thickness, spread rate and volumes of coats."""

import pytest
from materials_cases import (
    GALLON,
    LITRE,
    MICROMETRE,
    MIL,
    SQUARE_FOOT,
    area,
    case,
    layer,
    part,
    product,
    with_layers,
)

from filmbuild.errors import InvalidInput
from filmbuild.pipeline.results import Coat
from filmbuild.pipeline.site import Substrate
from filmbuild.pipeline.specification import Absorption, Layer
from filmbuild.pipeline.trace import Note
from filmbuild.quantities import PositiveSpreadRate, PositiveThickness, Thickness

SQUARE_FEET_PER_GALLON = SQUARE_FOOT / GALLON


def only_coat(solids: float = 1.0, floor: float = 50.0, **given: object) -> Coat:
    of = product(volume_solids=solids)
    return case(of, areas=[area(floor=floor)], **given).plan().coats[0]


@pytest.mark.parametrize(("mils", "published"), [(1, 1600), (2, 800), (4, 400)])
def test_spread_rate_of_solid_material(mils: float, published: float) -> None:
    # UFC 3-190-06 section 2.1.5 a), which rounds 1604.17 to 1600: hence 0.3 %
    coat = only_coat(dry_film=PositiveThickness(mils * MIL))
    assert coat.spread_rate == pytest.approx(published * SQUARE_FEET_PER_GALLON, rel=3e-3)


@pytest.mark.parametrize(("mils", "published"), [(2, 400), (4, 200), (1, 800)])
def test_spread_rate_at_half_solids(mils: float, published: float) -> None:
    # UFC 3-190-06 section 2.1.5 b); for 1 mil a stored copy of the page prints 600, which its own
    # formula and its other lines contradict: 800 follows from them
    coat = only_coat(0.5, dry_film=PositiveThickness(mils * MIL))
    assert coat.spread_rate == pytest.approx(published * SQUARE_FEET_PER_GALLON, rel=3e-3)


@pytest.mark.parametrize(("inches", "published"), [(4, 22), (6, 33), (8, 44)])
def test_gallons_per_mile_of_line(inches: float, published: float) -> None:
    # Ohio DOT Construction and Material Specifications 2010, item 646.05: a 20 mil wet epoxy line
    mile_of_line = 5280 * inches / 12 * SQUARE_FOOT
    coat = only_coat(floor=mile_of_line, wet_film=PositiveThickness(20 * MIL))
    assert coat.net_volume / GALLON == pytest.approx(published, abs=0.5)


def test_area_that_a_spread_rate_covers() -> None:
    # FAA AC 150/5370-10G item P-620: 5 gal at 115 ft2/gal cover at most 575 ft2
    rate = PositiveSpreadRate(115 * SQUARE_FEET_PER_GALLON)
    coat = only_coat(floor=575 * SQUARE_FOOT, spread_rate=rate)
    assert coat.net_volume == pytest.approx(5 * GALLON, rel=1e-12)
    assert coat.wet_film is not None
    # computed: 1604.17 / 115 mil
    assert coat.wet_film / MIL == pytest.approx(13.95, abs=0.005)


def test_spread_rate_at_65_percent_solids() -> None:
    # computed: ft2/gal = 1604.17 VS / mil; m2/L = 10 VS% / um
    us = only_coat(0.65, dry_film=PositiveThickness(5 * MIL))
    assert us.spread_rate == pytest.approx(208.54 * SQUARE_FEET_PER_GALLON, rel=2.5e-5)
    metric = only_coat(0.65, dry_film=PositiveThickness(125 * MICROMETRE))
    assert metric.spread_rate == pytest.approx(5.20 / LITRE, rel=1e-12)


def test_thinner_makes_the_wet_film_thicker() -> None:
    # computed: WFT = DFT (1 + t) / VS, after the duty stated in UFC 3-190-06 section 2.1.5
    coat = only_coat(0.60, dry_film=PositiveThickness(5 * MIL), thinner_fraction=0.10)
    assert coat.wet_film is not None
    assert coat.wet_film / MIL == pytest.approx(9.167, abs=0.0005)
    assert 5 * MIL / coat.wet_film == pytest.approx(0.5455, abs=0.00005)


def test_thinner_is_not_bought_as_product() -> None:
    notes: list[Note] = []
    of = product(volume_solids=0.6)
    thinned = case(of, dry_film=PositiveThickness(1e-4), thinner_fraction=0.25).plan(notes).coats[0]
    plain = case(of, dry_film=PositiveThickness(1e-4)).plan().coats[0]
    assert thinned.ordered_volume == pytest.approx(1.25 * plain.ordered_volume)
    assert [one.volume for one in thinned.parts] == pytest.approx(
        [one.volume for one in plain.parts]
    )
    assert "thinner-not-bought" in {note.code for note in notes}


def test_loss_divides() -> None:
    # computed: 200 m2 x 250 um / 0.80 / (1 - 0.20) = 78.125 L, and not 62.5 L x 1.20 = 75 L
    coat = only_coat(0.80, 200.0, dry_film=PositiveThickness(250e-6), loss_fraction=0.20)
    assert coat.ordered_volume / LITRE == pytest.approx(78.125)


def test_texture_is_filled_once() -> None:
    # computed: a mean texture depth of 0.50 mm over 100 m2, filled to the top, takes 50 L
    rough = area(floor=100.0, substrate=Substrate(texture_depth=Thickness(0.5e-3)))
    job = case(product(), areas=[rough])
    first, second = with_layers(job, layer(product(), "one"), layer(product(), "two")).plan().coats
    assert first.texture_volume / LITRE == pytest.approx(50.0)
    assert first.net_volume == pytest.approx(first.film_volume + first.texture_volume)
    assert second.texture_volume == 0.0


def test_texture_that_was_not_measured_is_said_so_once() -> None:
    notes: list[Note] = []
    areas = [area(f"bay-{n}", order=n, substrate=Substrate()) for n in (1, 2, 3)]
    coat = case(product(), areas=areas).plan(notes).coats[0]
    assert coat.texture_volume == 0.0
    assert [note.code for note in notes].count("texture-not-measured") == 1


def test_absorption_follows_each_areas_porosity() -> None:
    depths = Absorption(low=Thickness(1e-5), medium=Thickness(2e-5), high=Thickness(4e-5))
    dense = area("dense", 10.0, 1, substrate=Substrate(porosity="low"))
    open_ = area("open", 20.0, 2, vertical=5.0, substrate=Substrate(porosity="high"))
    of = product(absorption=depths)
    on_floor = case(of, areas=[dense, open_]).plan().coats[0]
    assert on_floor.absorption_volume == pytest.approx(10 * 1e-5 + 20 * 4e-5)
    everywhere = case(of, areas=[dense, open_], vertical=PositiveThickness(2e-4)).plan().coats[0]
    assert everywhere.absorption_volume == pytest.approx(10 * 1e-5 + 25 * 4e-5)


def test_verticals_are_dry_film_where_the_layer_is() -> None:
    job = case(
        product(volume_solids=0.5),
        areas=[area(floor=10.0, vertical=4.0)],
        dry_film=PositiveThickness(100e-6),
        vertical=PositiveThickness(50e-6),
    )
    coat = job.plan().coats[0]
    assert coat.vertical == 4.0
    assert coat.film_volume == pytest.approx(10 * 200e-6 + 4 * 100e-6)


def test_a_coat_that_stays_off_verticals_needs_nothing_there() -> None:
    with_wall = case(product(), areas=[area(vertical=4.0)]).plan().coats[0]
    assert with_wall.vertical == 0.0
    assert with_wall.net_volume == case(product()).plan().coats[0].net_volume


@pytest.mark.parametrize(("wet", "fits"), [(149e-6, False), (150e-6, True), (301e-6, False)])
def test_wet_film_outside_the_products_range_is_refused(wet: float, fits: bool) -> None:
    of = product(
        wet_film_minimum=PositiveThickness(150e-6), wet_film_maximum=PositiveThickness(300e-6)
    )
    job = case(of, wet_film=PositiveThickness(wet))
    if fits:
        assert job.plan().coats[0].wet_film == wet
        return
    with pytest.raises(InvalidInput) as refused:
        job.plan()
    (fault,) = refused.value.faults
    assert (fault.pointer, fault.code) == ("/job/system", "film-out-of-range")
    assert "at least 150 um and at most 300 um" in fault.detail


def test_all_layers_that_cannot_be_used_are_named_at_once() -> None:
    vague = Layer(id="vague", name="Vague", product="harbour-100")
    unknown = Layer(id="lost", name="Lost", product="no-such", wet_film=PositiveThickness(1e-4))
    job = case(product(volume_solids=None), dry_film=PositiveThickness(1e-4))
    with pytest.raises(InvalidInput) as refused:
        with_layers(job, *job.system.layers, vague, unknown).plan()
    assert {fault.code for fault in refused.value.faults} == {
        "volume-solids-missing",
        "film-not-stated",
        "unknown-product",
    }


def test_one_part_products_have_no_ratio_to_keep() -> None:
    coat = case(product(parts=(part("a", 3.0, 900.0),))).plan().coats[0]
    (only,) = coat.parts
    assert only.volume == pytest.approx(coat.ordered_volume)
    assert only.mass == pytest.approx(900 * coat.ordered_volume)
