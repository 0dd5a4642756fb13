"""Three jobs worked by hand: a broadcast floor with cove, a thin-film corridor, a mortar repair.

Two people, each of whom places with a roller that soaks up 0.25 L. Liquids are mixed in kits of
12 L, in containers of 12 L that keep 0.1 L each.

Broadcast floor of 40 m2 with 2 m2 of verticals and 20 m of cove, 25 mm in radius:
    cove     0.025^2 x (1 - pi / 4) x 20 m                               =  2.6825 L of void
    mortar   of each 3 L of liquid: 2.2 + 1.0 + 3 x 6 = 21.2 kg in 3 + 18 / 2.5 = 10.2 L,
             which is 2.0784 kg/L as mixed; 2.0 kg fill each litre of void
             2.6825 x 2.0 / 2.0784                                       =  2.5813 L net
             / 0.90 + 0.1                                                =  2.9681 L
             sand: 7.2 / 10.2 of it, at 2.5 kg/L                         =  5.2378 kg
    body     40 x 0.5 + 2 x 0.2 = 20.4; / 0.95 + 2 x 0.25 = 21.9737;
             / 11.9 = 1.85, so 2 mixes                                   = 22.1737 L
    grains   0.5 / 0.4 x 0.6 x 2.65 = 1.9875 kg/m2 held; / 0.75 = 2.65 kg/m2 thrown
             x 40 = 106 kg, of which 26.5 kg is swept off: 5 bags of 25 kg
    grout    40 x 0.15 + 0.8 x 0.4 x 0.5 x 40 = 6.0 + 6.4 = 12.4; / 0.95 + 0.5 = 13.5526;
             / 11.9 = 1.14, so 2 mixes                                   = 13.7526 L
    topcoat  60 um x 1.1 / 0.6 = 110 um; 42 x 0.110 = 4.62; / 0.92 + 0.5 + 0.1 = 5.6217 L,
             of which 5.6217 / 1.1 = 5.1107 L is product

Corridor of 30 m x 2 m, 0.1 mm of texture, medium porosity:
    primer   75 um / 0.75 = 100 um: 6.0; texture 0.5 x 0.1 x 60 = 3.0; absorption 0.03 x 60 = 1.8;
             10.8 / 0.95 + 0.5 = 11.8684; / 11.9, so 1 mix               = 11.9684 L
    finish   5 m2/L: 12.0; / 0.95 + 0.5 = 13.1316; / 11.9, so 2 mixes    = 13.3316 L

Spalls of 0.5 m2, 20 mm deep, and so 10 L of void:
    mortar   of each 3 L of liquid: 2.24 + 1.01 + 3 x 6.5 = 22.75 kg in 3 + 19.5 / 2.65 =
             10.3585 L, which is 2.1963 kg/L as mixed; 2.05 kg fill each litre of void
             20.5 kg / 2.1963 = 9.3340; / 0.90 = 10.3711; / (5.2 - 0.1) = 2.03, so 3 mixes
                                                                         = 10.6711 L
             a batch of 3.5570 L, 7.8122 kg, yields 7.8122 / 2.05 = 3.8108 L of void
"""

import math

import pytest
from materials_cases import (
    LITRE,
    Case,
    area,
    kit,
    layer,
    pack,
    product,
    system,
)

from filmbuild.pipeline.results import Coat, Materials
from filmbuild.pipeline.site import Substrate
from filmbuild.pipeline.specification import Absorption, Broadcast, Part, Product, Repairs
from filmbuild.quantities import (
    PositiveDensity,
    PositiveSpreadRate,
    PositiveThickness,
    PositiveVolume,
    Thickness,
)

KEPT = {"container_residue": PositiveVolume(0.1 * LITRE)}
POT = {"container": PositiveVolume(12 * LITRE), **KEPT}
BODY = product("quay-body", **POT)
TOP = product("quay-top", role="topcoat", volume_solids=0.6, **POT)
PRIMER = product(
    "quay-primer",
    role="primer",
    volume_solids=0.75,
    absorption=Absorption(low=Thickness(1e-5), medium=Thickness(3e-5), high=Thickness(6e-5)),
    **POT,
)
GRAINS = product(
    "quay-grains",
    role="broadcast_aggregate",
    parts=(Part(name="grains", ratio_by_volume=1.0, density=PositiveDensity(2650.0)),),
    working_life=(),
    grain_size=PositiveThickness(0.8e-3),
    void_fraction=0.4,
)


def mortar(
    name: str,
    densities: tuple[float, float, float],
    sand: float,
    laid: float,
    **given: object,
) -> Product:
    """Resin and hardener 2:1, and so much sand by mass [kg/L] in each litre of both."""
    resin, hardener, grain = (PositiveDensity(one) for one in densities)
    return product(
        name,
        role="patch_mortar",
        volume_solids=None,
        parts=(
            Part(name="resin", ratio_by_volume=2.0, density=resin),
            Part(name="hardener", ratio_by_volume=1.0, density=hardener),
            Part(name="sand", mass_per_liquid=PositiveDensity(sand / LITRE), density=grain),
        ),
        laid_density=PositiveDensity(laid),
        **KEPT,
        **given,
    )


def bought(*products: Product) -> dict[str, object]:
    packs = {one.id: (kit(one, 12.0, "250"),) for one in products if one is not GRAINS}
    packs[GRAINS.id] = (pack(GRAINS.id, "bag", "12", masses={"grains": 25.0}),)
    return {"products": products, "packs": packs, "soak": 0.25 * LITRE}


def broadcast_floor() -> Materials:
    cove = mortar("quay-cove", (1100.0, 1000.0, 2500.0), 6.0, 2000.0)
    thrown = Broadcast(product=GRAINS.id, to_refusal=True, swept_fraction=0.25)
    up = PositiveThickness(60e-6)
    layers = (
        layer(
            BODY,
            "body",
            wet_film=PositiveThickness(5e-4),
            vertical=PositiveThickness(2e-4),
            loss_fraction=0.05,
            broadcast=thrown,
        ),
        layer(
            BODY,
            "grout",
            wet_film=PositiveThickness(1.5e-4),
            loss_fraction=0.05,
            grain_fill=0.5,
        ),
        layer(TOP, "top", dry_film=up, vertical=up, loss_fraction=0.08, thinner_fraction=0.1),
    )
    floor = area(
        floor=40.0,
        vertical=2.0,
        cove_length=20.0,
        cove_volume=0.025**2 * (1 - math.pi / 4) * 20,
        cove_face=math.pi / 2 * 0.025 * 20,
    )
    return Case(
        areas=(floor,),
        system=system(*layers, repairs=Repairs(cove_mortar=cove.id, loss_fraction=0.1)),
        **bought(BODY, TOP, GRAINS, cove),  # type: ignore[arg-type]  # fields of a case
    ).plan()


def litres(coat: Coat, *fields: str) -> list[float]:
    return [getattr(coat, field) / LITRE for field in fields]


def test_a_broadcast_floor_with_cove() -> None:
    plan = broadcast_floor()
    cove, body, grout, top = plan.coats
    assert litres(cove, "void_volume", "net_volume", "ordered_volume") == pytest.approx(
        [2.6825, 2.5813, 2.9681], abs=5e-5
    )
    assert cove.parts[2].mass == pytest.approx(5.2378, abs=5e-5)
    assert litres(body, "net_volume", "residue", "ordered_volume") == pytest.approx(
        [20.4, 0.2, 22.1737], abs=5e-5
    )
    assert litres(grout, "film_volume", "grain_volume", "ordered_volume") == pytest.approx(
        [6.0, 6.4, 13.7526], abs=5e-5
    )
    assert litres(top, "net_volume", "ordered_volume") == pytest.approx([4.62, 5.6217], abs=5e-5)
    assert sum(one.volume for one in top.parts) / LITRE == pytest.approx(5.1107, abs=5e-5)
    assert [len(one.mixes) for one in plan.coats] == [1, 2, 2, 1]


def test_the_grains_of_a_broadcast_floor() -> None:
    plan = broadcast_floor()
    (one,) = plan.aggregates
    assert (one.placed, one.retained, one.swept) == pytest.approx((106.0, 79.5, 26.5))
    purchase = next(each for each in plan.purchases if each.product == GRAINS.id)
    assert [line.count for line in purchase.packs] == [5]


def test_a_thin_film_corridor() -> None:
    concrete = Substrate(porosity="medium", texture_depth=Thickness(1e-4))
    plan = Case(
        areas=(area("corridor", 60.0, substrate=concrete),),
        system=system(
            layer(
                PRIMER,
                "prime",
                dry_film=PositiveThickness(75e-6),
                texture_fill=0.5,
                loss_fraction=0.05,
            ),
            layer(BODY, "finish", spread_rate=PositiveSpreadRate(5 / LITRE), loss_fraction=0.05),
        ),
        **bought(PRIMER, BODY),  # type: ignore[arg-type]  # fields of a case
    ).plan()
    prime, finish = plan.coats
    assert litres(
        prime, "film_volume", "texture_volume", "absorption_volume", "ordered_volume"
    ) == pytest.approx([6.0, 3.0, 1.8, 11.9684], abs=5e-5)
    assert litres(finish, "net_volume", "ordered_volume") == pytest.approx(
        [12.0, 13.3316], abs=5e-5
    )
    assert finish.wet_film == pytest.approx(200e-6)
    assert [len(one.mixes) for one in plan.coats] == [1, 2]


def test_a_mortar_repair() -> None:
    most = PositiveVolume(5.2 * LITRE)
    patch = mortar("quay-patch", (1120.0, 1010.0, 2650.0), 6.5, 2050.0, largest_mix=most)
    plan = Case(
        areas=(area(floor=30.0, spall_area=0.5, spall_volume=10 * LITRE),),
        system=system(layer(BODY), repairs=Repairs(patch_mortar="quay-patch", loss_fraction=0.1)),
        **bought(BODY, patch),  # type: ignore[arg-type]  # fields of a case
    ).plan()
    repair = plan.coats[0]
    assert litres(repair, "void_volume", "net_volume", "ordered_volume") == pytest.approx(
        [10.0, 9.3340, 10.6711], abs=5e-5
    )
    assert [mix.volume / LITRE for mix in repair.mixes] == pytest.approx([3.5570] * 3, abs=5e-5)
    mass = sum(one.mass for one in repair.mixes[0].parts)
    assert mass == pytest.approx(7.8122, abs=5e-5)
    assert mass / 2.05 == pytest.approx(3.8108, abs=1e-4)
