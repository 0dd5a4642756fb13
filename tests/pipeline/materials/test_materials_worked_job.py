"""One small job, worked by hand.

A corridor of 10 m2 with 2 m2 of base wall, coated first, and a store of 40 m2. Texture 0.1 and
0.2 mm, half of it filled by the primer; porosity medium, which takes 20 um. Two people, who place
60 m2/h of floor and 15 m2/h of wall each. Containers of 15 L keep 0.1 L; a roller soaks up 0.25 L.

Primer, 150 um wet on floors and 100 um on walls, 10 % lost, 1:1 in cans of 5 L:
    film        50 x 0.150 + 2 x 0.100               =  7.700 L
    texture     0.5 x (40 x 0.2 + 10 x 0.1)          =  4.500 L
    absorption  0.020 x (50 + 2)                     =  1.040 L
    net                                              = 13.240 L
    base        13.240 / 0.90 + 2 x 0.25             = 15.2111 L
    mixes       15.2111 / (15 - 0.1) = 1.02, so 2; with 2 x 0.1 left behind 15.4111 L
    each part   7.7056 L: 2 cans of each at 40       = 160.00
Body coat, 300 um dry at 60 % solids and so 500 um wet, 5 % lost, 2:1 in kits of 12 L:
    net         50 x 0.500                           = 25.000 L
    base        25 / 0.95 + 2 x 0.25                 = 26.8158 L
    mixes       26.8158 / (12 - 0.1) = 2.25, so 3; with 3 x 0.1 left behind 27.1158 L
    kits        12 + 12 + 3.1158 L measured: 3 at 250 = 750.00, used 27.1158 / 36 of it = 564.91
    first mix   (12 - 0.1) / 26.8158 of 50 m2 = 22.188 m2, in 22.188 / 120 h = 665.7 s
Sand, 1 kg/m2 on 50 m2: 50 kg, 2 bags of 25 kg at 12 = 24.00
"""

from decimal import Decimal

import pytest
from materials_cases import (
    HOUR,
    LITRE,
    REVISION,
    Case,
    area,
    kit,
    layer,
    life,
    pack,
    part,
    product,
    system,
)

from filmbuild.estimates.rulebook import rulebook
from filmbuild.pipeline.results import Materials
from filmbuild.pipeline.site import Substrate
from filmbuild.pipeline.specification import Absorption, Broadcast
from filmbuild.quantities import MassPerArea, PositiveThickness, PositiveVolume, Thickness

LIMITS = {
    "working_life": life(HOUR),
    "container": PositiveVolume(15 * LITRE),
    "container_residue": PositiveVolume(0.1 * LITRE),
}
PRIMER = product(
    "pier-primer",
    role="primer",
    parts=(part("a"), part("b")),
    absorption=Absorption(low=Thickness(1e-5), medium=Thickness(2e-5), high=Thickness(4e-5)),
    **LIMITS,
)
BODY = product("harbour-200", volume_solids=0.6, **LIMITS)
SAND = product("quay-sand", role="broadcast_aggregate", parts=(part("sand"),), working_life=())
JOB = Case(
    areas=(
        area("store", 40.0, 2, substrate=Substrate(texture_depth=Thickness(0.2e-3))),
        area("corridor", 10.0, 1, vertical=2.0, substrate=Substrate(texture_depth=Thickness(1e-4))),
    ),
    system=system(
        layer(
            PRIMER,
            "prime",
            wet_film=PositiveThickness(150e-6),
            vertical=PositiveThickness(100e-6),
            texture_fill=0.5,
            loss_fraction=0.10,
        ),
        layer(
            BODY,
            "flood",
            dry_film=PositiveThickness(300e-6),
            loss_fraction=0.05,
            broadcast=Broadcast(product=SAND.id, rate=MassPerArea(1.0)),
        ),
    ),
    products=(PRIMER, BODY, SAND),
    packs={
        PRIMER.id: tuple(
            pack(PRIMER.id, f"primer-{name}", "40", volumes={name: 5.0}) for name in ("a", "b")
        ),
        BODY.id: (kit(BODY, 12.0, "250", "body-12"),),
        SAND.id: (pack(SAND.id, "sand-25", "12", masses={"sand": 25.0}),),
    },
    soak=0.25 * LITRE,
)


@pytest.fixture(name="plan")
def planned() -> Materials:
    return JOB.plan()


def test_primer(plan: Materials) -> None:
    prime = plan.coats[0]
    litres = [
        one / LITRE
        for one in (
            prime.film_volume,
            prime.texture_volume,
            prime.absorption_volume,
            prime.net_volume,
            prime.soak,
            prime.residue,
            prime.ordered_volume,
        )
    ]
    assert litres == pytest.approx([7.7, 4.5, 1.04, 13.24, 0.5, 0.2, 15.4111], abs=5e-5)
    assert [one.volume / LITRE for one in prime.parts] == pytest.approx([7.7056] * 2, abs=5e-5)
    assert [mix.volume / LITRE for mix in prime.mixes] == pytest.approx([7.7056] * 2, abs=5e-5)
    assert sum(mix.covers for mix in prime.mixes) == pytest.approx(52.0)


def test_body_coat(plan: Materials) -> None:
    flood = plan.coats[1]
    assert flood.wet_film == pytest.approx(500e-6)
    assert flood.ordered_volume / LITRE == pytest.approx(27.1158, abs=5e-5)
    assert [mix.volume / LITRE for mix in flood.mixes] == pytest.approx(
        [12.0, 12.0, 3.1158], abs=5e-5
    )
    assert [mix.whole_kit for mix in flood.mixes] == ["body-12", "body-12", None]
    first = flood.mixes[0]
    assert first.areas == ("corridor", "store")
    assert first.covers == pytest.approx(22.188, abs=5e-4)
    assert first.placing_time == pytest.approx(665.7, abs=0.05)


def test_what_is_bought(plan: Materials) -> None:
    costs = {one.product: one.cost.amount for one in plan.purchases}
    assert costs == {
        PRIMER.id: Decimal("160.00"),
        BODY.id: Decimal("750.00"),
        SAND.id: Decimal("24.00"),
    }
    used = {one.product: one.used_share.amount for one in plan.purchases}
    assert used[BODY.id] == Decimal("564.91")
    assert used[SAND.id] == Decimal("24.00")


def test_every_figure_names_a_published_rule(plan: Materials) -> None:
    published = set(rulebook())
    for coat in plan.coats:
        for figure in ("film_volume", "ordered_volume", "parts", "mixes", "wet_film"):
            assert figure in coat.traces
        assert {trace.rule for trace in coat.traces.values()} <= published
    assert plan.coats[0].traces["texture_volume"].inputs["mean_texture_depth"] == pytest.approx(
        0.18e-3
    )
    assert plan.coats[1].traces["wet_film"].catalogue_revision == REVISION
    assert {one.trace.rule for one in plan.aggregates} <= published
    assert {one.trace.rule for one in plan.purchases} <= published
