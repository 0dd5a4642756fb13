"""The demo catalogue is sound, covers what it is for, and is marked as invented."""

import re
from collections import Counter
from typing import get_args

import pytest

from filmbuild.catalogue.loader import load
from filmbuild.catalogue.validate import validate, warnings_of
from filmbuild.catalogue.wire import CatalogueFile, demo, read
from filmbuild.db import Database
from filmbuild.pipeline.cautions import flammable_category
from filmbuild.pipeline.materials.parts import kit_volume
from filmbuild.pipeline.specification import Product, TaskCode
from filmbuild.quantities import Duration

FLUID_OUNCE = 231 / 128 * 0.0254**3  # a gallon is 231 in3, NIST Handbook 44 appendix C
TABLE_1 = {  # names of rows of 29 CFR 1926.1153 Table 1
    "Walk-behind milling machines and floor grinders",
    "Handheld grinders for uses other than mortar removal",
}


@pytest.fixture(scope="module")
def file() -> CatalogueFile:
    return read(demo()).file


@pytest.fixture(scope="module")
def products(file: CatalogueFile) -> dict[str, Product]:
    return {one.id: one for one in file.products}


def test_it_fits_together_and_every_product_used_can_be_bought(file: CatalogueFile) -> None:
    validate(file)
    assert warnings_of(file) == ()


async def test_it_loads_once(database: Database) -> None:
    document = read(demo())
    first = await load(database, "main", document, "demo")
    second = await load(database, "main", document, "demo")
    assert (first.revision, second.revision) == (1, None)


def test_every_record_says_that_it_is_invented(file: CatalogueFile) -> None:
    kinds = ("products", "packs", "systems", "rate_books", "consumables", "taxes")
    unmarked = [
        one.id for kind in kinds for one in getattr(file, kind) if "demo data" not in one.name
    ]
    assert unmarked == []
    assert "demo data" in file.name
    assert {one.supplier for one in file.products} == {"Harbour Floor Supply (demo data)"}


def test_the_range_of_products(file: CatalogueFile) -> None:
    roles = Counter(one.role for one in file.products)
    assert roles >= Counter(
        primer=1,
        body_coat=2,
        topcoat=2,
        crack_filler=1,
        patch_mortar=1,
        cove_mortar=1,
        joint_filler=1,
        broadcast_aggregate=1,
        solvent=2,
    )
    sold = Counter(one.product for one in file.packs)
    assert {one.id for one in file.products if sold[one.id] < 2} == set()
    assert len(file.systems) == 6
    assert max(len(one.layers) for one in file.systems) == 5
    assert min(len(one.layers) for one in file.systems) == 2


def test_the_crack_filler_is_fast_and_mixed_by_the_cup(products: dict[str, Product]) -> None:
    filler = next(one for one in products.values() if one.role == "crack_filler")
    assert [part.ratio_by_volume for part in filler.parts] == [1, 1]
    life = {float(one.temperature): float(one.duration) for one in filler.working_life}
    assert life[20.0] == 120.0
    assert filler.largest_mix == pytest.approx(8 * FLUID_OUNCE)


def test_clear_and_pigmented_body_coats_are_mixed_two_to_one(products: dict[str, Product]) -> None:
    bodies = [one for one in products.values() if one.role == "body_coat"]
    unfilled = [one for one in bodies if len(one.parts) == 2]
    assert [[part.ratio_by_volume for part in one.parts] for one in unfilled] == [[2, 1], [2, 1]]


def test_a_filled_body_coat_and_a_mortar_are_measured_by_mass(products: dict[str, Product]) -> None:
    # 100 kg at 1.13 kg/L and 45 kg at 1 kg/L, and 0.9 kg at 2.65 kg/L in each litre of both
    resin, hardener, filler = (one.ratio_by_volume for one in products["harbour-160"].parts)
    assert resin / hardener == pytest.approx(100 / 1.13 / 45)
    assert filler / (resin + hardener) == pytest.approx(0.9 / 2.65)
    *liquids, sand = (one.ratio_by_volume for one in products["harbour-48"].parts)
    assert sand / sum(liquids) == pytest.approx(6.5 / 2.65)


def test_a_system_is_broadcast_to_refusal_in_two_lifts_and_grouted(file: CatalogueFile) -> None:
    system = next(one for one in file.systems if one.id == "harbour-double-broadcast")
    lifts = [one.broadcast for one in system.layers if one.broadcast is not None]
    assert [one.to_refusal for one in lifts] == [True, True]
    assert [one.grain_fill for one in system.layers if one.id == "grout"] == [0.6]


def test_liquids_and_mortars_have_plausible_densities(products: dict[str, Product]) -> None:
    for product in products.values():
        total = sum(part.ratio_by_volume for part in product.parts)
        density = sum(part.ratio_by_volume * part.density for part in product.parts) / total
        if "mortar" in product.role:
            assert 1900 < density < 2200, product.id
        elif product.role in ("primer", "body_coat", "topcoat", "crack_filler", "joint_filler"):
            most = 1300 if len(product.parts) == 2 else 1600  # kg/m3: filled coats are heavier
            assert 950 < density < most, product.id


def test_the_alcohol_is_a_category_2_flammable_liquid(products: dict[str, Product]) -> None:
    """29 CFR 1910.1200 Appendix B.6: flash point below 23 degC, boiling above 35 degC."""
    hazards = products["harbour-90"].hazards
    assert hazards.flash_point == pytest.approx((55 - 32) / 1.8)
    assert hazards.initial_boiling_point == pytest.approx((173 - 32) / 1.8)
    assert hazards.flash_point is not None
    assert flammable_category(hazards.flash_point, hazards.initial_boiling_point) == 2


def test_urethanes_warn_of_isocyanate_and_epoxies_of_sensitisation(
    products: dict[str, Product],
) -> None:
    for product in products.values():
        if product.role == "topcoat":
            assert product.hazards.isocyanate, product.id
            assert product.hazards.isocyanate_kind == "hdi", product.id
        if "epoxy" in product.name:
            assert product.hazards.skin_sensitiser, product.id


def test_no_dust_of_concrete_or_quartz_is_swept_dry(file: CatalogueFile) -> None:
    """29 CFR 1926.1153(f)(1)."""
    for book in file.rate_books:
        for one in book.productions:
            assert not re.search("broom|sweep|brush off", one.method), one.method
        methods = {one.task: one.method for one in book.productions}
        assert "HEPA" in methods["vacuum"]
        assert "HEPA" in methods["sweep_broadcast"]
    aggregates = [one for one in file.products if one.role == "broadcast_aggregate"]
    assert all(one.hazards.crystalline_silica for one in aggregates)


def test_preparation_is_in_an_order_that_can_be_worked(file: CatalogueFile) -> None:
    """Common practice, no source: no filler on dust, no water on dust, no coat on a wet floor."""
    for system in file.systems:
        order: list[str] = list(system.preparation)
        vacuums = [place for place, code in enumerate(order) if code == "vacuum"]
        for dusty, clean in (("chase_cracks", "fill_cracks"), ("grind_repairs", "wash")):
            between = range(order.index(dusty), order.index(clean))
            assert any(place in between for place in vacuums), (system.id, dusty)
    for book in file.rate_books:
        washing = next(one for one in book.productions if one.task == "wash")
        assert washing.dry_for > 0
        grinding = next(one for one in book.productions if one.task == "grind_repairs")
        assert grinding.driver == "repair_area"


def test_some_products_come_as_kits_and_one_in_parts(
    file: CatalogueFile, products: dict[str, Product]
) -> None:
    whole = {one.product for one in file.packs if kit_volume(one, products[one.product])}
    apart = {one.product for one in file.packs} - whole
    assert len(whole) > 5
    assert [products[name].role for name in apart] == ["topcoat"]
    parts = {one.contents[0].part for one in file.packs if one.product in apart}
    assert parts == {part.name for name in apart for part in products[name].parts}


def test_every_pack_has_a_price_and_some_a_later_one(file: CatalogueFile) -> None:
    dates = Counter(one.pack for one in file.prices if one.currency == "USD")
    assert set(dates) == {one.id for one in file.packs}
    assert max(dates.values()) == 2


def test_one_system_with_its_repairs_can_be_bought_in_euro(file: CatalogueFile) -> None:
    in_euro = {one.pack for one in file.prices if one.currency == "EUR"}
    sold = {one.product for one in file.packs if one.id in in_euro}
    complete = [
        system.id
        for system in file.systems
        if {layer.product for layer in system.layers} <= sold
        and not any(layer.broadcast for layer in system.layers)
    ]
    assert "harbour-high-build" in complete
    repairs = file.systems[0].repairs
    assert {repairs.crack_filler, repairs.patch_mortar, repairs.joint_filler} <= sold


def test_the_rate_books_cover_every_task(file: CatalogueFile) -> None:
    assert {str(one.currency) for one in file.rate_books} == {"USD", "EUR"}
    for book in file.rate_books:
        assert {one.task for one in book.productions} == set(get_args(TaskCode))
        assert len(book.classes) == 3
        silica = {one.silica_entry for one in book.equipment if one.silica_entry}
        assert silica == TABLE_1


def test_primer_body_coat_and_topcoat_are_placed_at_rates_of_their_own(file: CatalogueFile) -> None:
    for book in file.rate_books:
        rates = {
            one.roles: one.area_rate or 0.0 for one in book.productions if one.task == "place_field"
        }
        assert set(rates) == {(), ("primer",), ("topcoat",)}
        assert rates["primer",] > rates[()] > rates["topcoat",]
        assert book.minimum_paid_day == Duration(4 * 3600.0)


def test_at_least_twenty_consumables_and_tools_in_each_currency(file: CatalogueFile) -> None:
    for currency in ("USD", "EUR"):
        rules = [one for one in file.consumables if one.currency == currency]
        assert len(rules) >= 20
        assert {one.kind for one in rules} == {"consumable", "tool", "protective_equipment"}
        assert len({one.driver for one in rules}) >= 10


def test_places_tax_the_sale_its_materials_or_their_cost(file: CatalogueFile) -> None:
    assert {(one.place, one.scheme, one.base) for one in file.taxes} == {
        ("Port Alder", "sales_tax", "sale"),
        ("Northmoor", "sales_tax", "materials_cost"),
        ("Eastwharf", "sales_tax", "sale_of_materials"),
        ("Velmara", "vat", "sale"),
    }


def test_one_place_shows_each_kind_of_vat(file: CatalogueFile) -> None:
    """Category codes of UNTDID 5305."""
    codes = [one.code for one in file.taxes if one.scheme == "vat"]
    assert set(codes) == {"S", "Z", "E", "AE"}
    assert codes.count("S") == 3


def test_a_urethane_goes_on_an_abraded_and_wiped_coat(
    file: CatalogueFile, products: dict[str, Product]
) -> None:
    """Common practice, no source."""
    tops = [
        layer
        for system in file.systems
        for layer in system.layers
        if products[layer.product].role == "topcoat"
    ]
    assert len(tops) == 5
    for layer in tops:
        assert {"abrade", "solvent_wipe"} <= set(layer.before)
